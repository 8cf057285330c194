"""Winters of the design life on each way shown: lift, frost depth, the front through a winter, and the rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from itertools import islice

import numpy as np

from earthfast.checks import (
    STANDING,
    Case,
    Material,
    column_of,
    frost_in_open,
    ground_under,
    layered_columns,
    lift_of,
)
from earthfast.checks.bearing import WET
from earthfast.checks.frost import STANDS, WHERE
from earthfast.checks.thaw import SPRING
from earthfast.estimate import Floats, Traced
from earthfast.frost import (
    FrozenHistory,
    GroundStart,
    ThermalProperties,
    allowable_movement,
    freeze_thaw_cycles,
    frozen_history,
)
from earthfast.stages.answers import FrontRow, LiftRow, ReturnRow, WinterLine
from earthfast.stages.frost_rules import disagreement, frost_rules
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area
from earthfast.stages.weather import RETURN_PERIODS, frost_index_of_return

MILLI, DAY = 1000.0, 86400.0
BAND = (0.05, 0.5, 0.95)
DRAWS = 512
SHALLOW_MM = 400.0
EVERY = 2  # days between rows of the front
ORDINARY = "an ordinary winter"
LEAST_NODE = 1.0 * DAY  # K·s below which an ordinary winter has no frost to follow
COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True, slots=True)
class _Shown:
    """A way shown, alone on a few draws, and the figures recorded of it."""

    way: JudgedWay
    case: Case
    area: Area

    def figure(self, name: str) -> Traced:
        """A figure of its frost check."""
        trail = self.area.trail
        return trail.figures[f"{trail.prefix}{self.way.line.key}.frost.{name}"]


@dataclass(frozen=True, slots=True)
class _Followed:
    """A winter day by day: its name, and its place among the winters of the history."""

    name: str
    place: int


def winter_lines(
    areas: Sequence[tuple[Area, Sequence[JudgedWay]]], warmest_day: int
) -> tuple[tuple[WinterLine, ...], ...]:
    """One line a way shown, for each area; the heat flow of all is worked out in one run."""
    shown = [one for area, ways in areas for one in _shown(ways, area)]
    followed, history = _followed([one.case for one in shown])
    lines = iter(
        _line(one, _Winters(followed[place], history, place), warmest_day) for place, one in enumerate(shown)
    )
    return tuple(tuple(islice(lines, len(ways))) for _, ways in areas)


def _shown(ways: Sequence[JudgedWay], area: Area) -> list[_Shown]:
    few = area.setting.first(min(DRAWS, area.setting.draws.count))
    return [_Shown(way, few.alone(way.way), area) for way in ways]


def _line(one: _Shown, winters: _Winters, warmest_day: int) -> WinterLine:
    case, line = one.case, one.way.line
    count = max(round(case.years), 1)
    frost_line = next(check for check in line.checks if check.name == "frost")
    counted = allowable_movement(STANDS[one.way.way.build_up.courses[0].material]).differential
    indices = case.winters.sample.at_rank((np.arange(count) + 0.5) / count)
    frost = frost_in_open(case, indices[:, None])
    lifts = lift_of(case, frost)[0]
    depths = np.median(frost.depth[0], axis=1)
    over = float((lifts > counted).mean(axis=1).sum())
    mostly = frost_line.governed_by.partition(", ")[2]
    deepest, check = one.figure("depth").centre, one.figure("depth_berggren")
    return WinterLine(
        way=line.key,
        winters=count,
        lift_counted_mm=counted * MILLI,
        winters_over=round(over, 2),
        mostly=mostly,
        sentence=lift_sentence(count, counted, over, mostly),
        frost_depth_mm=round(deepest * MILLI),
        berggren_mm=round(check.centre * MILLI),
        berggren_low_mm=round(check.low * MILLI),
        berggren_high_mm=round(check.high * MILLI),
        berggren_agrees=check.low <= deepest <= check.high,
        cycles_in_treated=winters.cycles(case),
        returns=_returns(case),
        lifts=_rows(indices, depths, lifts),
        front=winters.front(case, warmest_day),
        rules=frost_rules(case, one.area.lie, frost_line),
    )


def _returns(case: Case) -> tuple[ReturnRow, ...]:
    indices = frost_index_of_return(
        case.winters.sample.freezing_index, np.array(RETURN_PERIODS, dtype=np.float64)
    )
    return tuple(
        ReturnRow(one_in=period, frost_index_c_day=round(float(index) / DAY, 1))
        for period, index in zip(RETURN_PERIODS, np.asarray(indices), strict=True)
    )


def _return_sentence(line: WinterLine) -> str:
    """The frost index by return period; nothing where even the rarest winter has no frost."""
    if line.returns[-1].frost_index_c_day == 0.0:
        return ""
    parts = [f"{row.frost_index_c_day:.0f} in one of {row.one_in}" for row in line.returns]
    return f"Frost index of a winter, in °C day: {', '.join(parts[:-1])} and {parts[-1]}."


def lift_sentence(winters: int, counted: float, over: float, mostly: str) -> str:
    """How often it would lift, as a person says it."""
    comes = (
        "all of it rises alike"
        if mostly == WHERE[-1]
        else f"most of the unevenness, which the check judges, comes {mostly}"
    )
    limit = f"more than {counted * MILLI:.0f} mm as a whole"
    if over < 0.05:
        return f"In {winters} winters it would hardly ever lift {limit}."
    if over < 0.75:
        often = f"in none or one (about {over:.1f} on average)"
        return f"In {winters} winters it would lift {limit} {often}; {comes}."
    count = COUNTS[round(over)] if round(over) < len(COUNTS) else f"{over:.0f}"
    return f"In {winters} winters it would lift {limit} in about {count}; {comes}."


def _rows(indices: Floats, depths: Floats, lifts: Floats) -> tuple[LiftRow, ...]:
    low, middle, high = np.quantile(lifts, BAND, axis=1) * MILLI
    return tuple(
        LiftRow(
            winter=place + 1,
            frost_index_c_day=round(float(index / DAY), 1),
            frost_depth_mm=round(float(depths[place] * MILLI)),
            lift_mm=round(float(middle[place]), 2),
            low_mm=round(float(low[place]), 2),
            high_mm=round(float(high[place]), 2),
        )
        for place, index in enumerate(indices)
    )


@dataclass(frozen=True, slots=True)
class _Winters:
    """The winters followed under one way; no history where there is no frost to follow."""

    followed: Sequence[_Followed]
    history: FrozenHistory | None
    column: int

    def front(self, case: Case, warmest_day: int) -> tuple[FrontRow, ...]:
        """Frost depth every other day of each winter."""
        if self.history is None:
            return ()
        first = round(case.winters.sample.start.day)
        steps = range(0, self.history.frost_depth.shape[0], EVERY)
        first_of_year = date(2001, 1, 1) + timedelta(days=warmest_day - 1 + first)
        days = [(first + step, (first_of_year + timedelta(days=step)).strftime("%m-%d")) for step in steps]
        rows = []
        for winter in self.followed:
            depths = self.history.frost_depth[::EVERY, winter.place, self.column] * MILLI
            rows += [
                FrontRow(winter=winter.name, day=day, month_day=month_day, depth_mm=round(depth))
                for (day, month_day), depth in zip(days, depths.tolist(), strict=True)
            ]
        return tuple(rows)

    def cycles(self, case: Case) -> int | None:
        """Freezings of the top of the treated layer in the coldest winter followed."""
        (way,) = case.ways
        treated = way.build_up.thickness_of(Material.TREATED_SOIL)
        if treated == 0.0:
            return None
        if self.history is None:
            return 0
        top = way.build_up.thickness - treated
        coldest = self.followed[-1].place
        return int(freeze_thaw_cycles(self.history.temperature_at(top)[:, coldest, self.column]))


def _followed(cases: Sequence[Case]) -> tuple[list[tuple[_Followed, ...]], FrozenHistory | None]:
    """An ordinary winter and the coldest of the design life, day by day, under every way on its own ground."""
    sample = cases[0].winters.sample
    if not sample.node_index.size:
        return [()] * len(cases), None
    surfaces: dict[tuple[float, float], Floats] = {}
    followed = []
    for case in cases:
        factor = float(np.median(case.winters.surface_factor.values))
        named = {
            ORDINARY: float(sample.at_rank(0.5)),
            f"the coldest of {case.years:.0f} winters": float(np.median(case.winters.freezing_index.values)),
        }
        winters = []
        for name, index in named.items():
            if name == ORDINARY and index <= LEAST_NODE:
                continue
            air = sample.winter_near(index)
            surfaces.setdefault((index, factor), np.where(air < 0.0, factor * air, air))
            winters.append(_Followed(name, list(surfaces).index((index, factor))))
        followed.append(tuple(winters))
    history = _history(
        tuple(column_of(case.ways[0].build_up) for case in cases),
        tuple(ground_under(case) for case in cases),
        tuple(tuple(surface.tolist()) for surface in surfaces.values()),
        sample.start,
    )
    return followed, history


@lru_cache(maxsize=16)  # the stages after Choose show the same ways
def _history(
    columns: tuple[tuple[float, ...], ...],
    grounds: tuple[ThermalProperties, ...],
    surfaces: tuple[tuple[float, ...], ...],
    start: GroundStart,
) -> FrozenHistory:
    names = ThermalProperties.__dataclass_fields__
    soils = ThermalProperties(**{name: np.array([getattr(one, name) for one in grounds]) for name in names})
    return frozen_history(layered_columns(np.array(columns), soils), np.array(surfaces), start)


def winter_sentences(lines: Sequence[WinterLine], shown: JudgedWay) -> tuple[str, ...]:
    """What the winters do to the way shown, the plain sentence first."""
    line = next(line for line in lines if line.way == shown.line.key)
    parted = disagreement(shown.line.title, line.rules) if line.frost_depth_mm else ""
    sentences = [line.sentence, parted, _return_sentence(line), _cross_check(line), _state(shown)]
    if line.cycles_in_treated:
        times = "once" if line.cycles_in_treated == 1 else f"{line.cycles_in_treated} times"
        sentences.append(
            f"In the coldest winter the top of the treated soil freezes {times}, counted by daily means."
        )
    return tuple(sentence for sentence in sentences if sentence)


def _cross_check(line: WinterLine) -> str:
    if line.berggren_agrees or line.frost_depth_mm == 0.0:
        return ""
    if line.frost_depth_mm > line.berggren_high_mm and line.berggren_mm < SHALLOW_MM:
        return (
            f"Heat flow takes frost {line.frost_depth_mm:.0f} mm deep in the coldest winter, modified Berggren only "
            f"{line.berggren_mm:.0f} mm (±20 %): it takes the ground as warm as the year's mean, and a short cold spell "
            "meets ground that autumn has cooled. Heat flow is used."
        )
    return (
        f"Heat flow takes frost {line.frost_depth_mm:.0f} mm deep in the coldest winter, modified Berggren "
        f"{line.berggren_mm:.0f} mm (±20 %): the two part, so look at the climate and the water content."
    )


def _state(shown: JudgedWay) -> str:
    """Which state of the ground carrying is designed for."""
    checks = {check.name: check for check in shown.line.checks}
    found, wet = checks.get("bearing"), checks.get("softening")
    if found is None or wet is None:
        return ""
    room = [check.capacity.value / max(check.demand.value, 1e-9) for check in (found, wet)]
    if room[0] <= room[1]:
        return "Carrying is designed for the ground as found, the weakest of its states here."
    state = wet.governed_by.rpartition(", ")[2]
    words = {
        SPRING: "the spring thaw",
        WET: "the long-term wet state",
        STANDING: "rain standing on formation",
    }
    return f"Carrying is designed for {words.get(state, state)}, the weakest state of the ground here."
