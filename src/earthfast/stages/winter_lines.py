"""Winters of the design life on each way shown: lift, frost depth, the front through a winter, and the rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from earthfast.checks import (
    BERGGREN_BAND,
    Case,
    Material,
    berggren_depth,
    column_of,
    frost_in_open,
    ground_under,
    layered_columns,
    lift_of,
)
from earthfast.checks.frost import STANDS
from earthfast.estimate import Floats, Trail
from earthfast.frost import FrozenHistory, allowable_movement, freeze_thaw_cycles, frozen_history
from earthfast.stages.answers import FrontRow, LiftRow, WinterLine
from earthfast.stages.frost_rules import disagreement, frost_rules
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area

MILLI, DAY = 1000.0, 86400.0
BAND = (0.05, 0.5, 0.95)
DRAWS = 512
SHALLOW_MM = 400.0
EVERY = 2  # days between rows of the front
ORDINARY = "an ordinary winter"
LEAST_NODE = 1.0 * DAY  # K·s below which an ordinary winter has no frost to follow
COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True, slots=True)
class _Followed:
    """One winter day by day under all ways of an area."""

    name: str
    winter: int
    history: FrozenHistory


def winter_lines(area: Area, ways: Sequence[JudgedWay], warmest_day: int) -> tuple[WinterLine, ...]:
    """One line a way shown."""
    setting = area.setting.first(min(DRAWS, area.setting.draws.count))
    silent = Trail(recording=False)
    cases = [next(setting.batches((way.way,), silent)).case for way in ways]
    followed = _followed(cases)
    lines = []
    for place, (way, case) in enumerate(zip(ways, cases, strict=True)):
        front = _front(followed, place, case, warmest_day)
        lines.append(_line(way, case, front, _cycles(case, followed, place)))
    return tuple(lines)


def _line(way: JudgedWay, case: Case, front: tuple[FrontRow, ...], cycles: int | None) -> WinterLine:
    winters = max(round(case.years), 1)
    frost_line = next(check for check in way.line.checks if check.name == "frost")
    counted = allowable_movement(STANDS[way.way.build_up.courses[0].material]).differential
    indices = case.winters.sample.at_rank((np.arange(winters) + 0.5) / winters)
    frosts = [frost_in_open(case, np.full(1, index)) for index in indices]
    lifts = np.array([lift_of(case, frost)[0] for frost in frosts])
    depths = np.array([np.median(frost.depth) for frost in frosts])
    over = float((lifts > counted).mean(axis=1).sum())
    mostly = frost_line.governed_by.partition(", ")[2]
    deepest = float(np.median(frost_in_open(case, case.winters.freezing_index.values).depth))
    check = berggren_depth(case)
    low, high = (1.0 - BERGGREN_BAND) * check, (1.0 + BERGGREN_BAND) * check
    return WinterLine(
        way=way.line.key,
        winters=winters,
        lift_counted_mm=counted * MILLI,
        winters_over=round(over, 2),
        mostly=mostly,
        sentence=lift_sentence(winters, counted, over, mostly),
        frost_depth_mm=round(deepest * MILLI),
        berggren_mm=round(check * MILLI),
        berggren_low_mm=round(low * MILLI),
        berggren_high_mm=round(high * MILLI),
        berggren_agrees=low <= deepest <= high,
        cycles_in_treated=cycles,
        lifts=_rows(indices, depths, lifts),
        front=front,
        rules=frost_rules(case, frost_line),
    )


def lift_sentence(winters: int, counted: float, over: float, mostly: str) -> str:
    """How often it would lift, as a person says it."""
    limit = f"more than {counted * MILLI:.0f} mm"
    if over < 0.05:
        return f"In {winters} winters it would hardly ever lift {limit}."
    if over < 0.75:
        often = f"in none or one (about {over:.1f} on average)"
        return f"In {winters} winters it would lift {limit} {often}; most of the unevenness comes {mostly}."
    count = COUNTS[round(over)] if round(over) < len(COUNTS) else f"{over:.0f}"
    return (
        f"In {winters} winters it would lift {limit} in about {count}; most of the unevenness comes {mostly}."
    )


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


def _followed(cases: Sequence[Case]) -> tuple[_Followed, ...]:
    """An ordinary winter and the coldest of the design life, day by day, under every way."""
    case = cases[0]
    sample = case.winters.sample
    if not sample.node_index.size:
        return ()
    columns = np.array([column_of(one.ways[0].build_up) for one in cases])
    factor = float(np.median(case.winters.surface_factor.values))
    ordinary = float(sample.at_rank(0.5))
    coldest = float(np.median(case.winters.freezing_index.values))
    named = {f"the coldest of {case.years:.0f} winters": coldest}
    if ordinary > LEAST_NODE:
        named = {ORDINARY: ordinary, **named}
    air = np.stack([sample.winter_near(index) for index in named.values()])
    surface = np.where(air < 0.0, factor * air, air)
    history = frozen_history(layered_columns(columns, ground_under(case)), surface, sample.start)
    return tuple(_Followed(name, winter, history) for winter, name in enumerate(named))


def _front(followed: Sequence[_Followed], place: int, case: Case, warmest_day: int) -> tuple[FrontRow, ...]:
    first = round(case.winters.sample.start.day)
    rows = []
    for winter in followed:
        depth = winter.history.frost_depth[:, winter.winter, place]
        for step in range(0, depth.size, EVERY):
            on = date(2001, 1, 1) + timedelta(days=(warmest_day - 1 + first + step) % 365)
            rows.append(
                FrontRow(
                    winter=winter.name,
                    day=first + step,
                    month_day=on.strftime("%m-%d"),
                    depth_mm=round(float(depth[step]) * MILLI),
                )
            )
    return tuple(rows)


def _cycles(case: Case, followed: Sequence[_Followed], place: int) -> int | None:
    """Freezings of the top of the treated layer in the coldest winter followed."""
    (way,) = case.ways
    treated = way.build_up.thickness_of(Material.TREATED_SOIL)
    if treated == 0.0:
        return None
    if not followed:
        return 0
    coldest = followed[-1]
    top = way.build_up.thickness - treated
    return int(freeze_thaw_cycles(coldest.history.temperature_at(top)[:, coldest.winter, place]))


def winter_sentences(lines: Sequence[WinterLine], shown: JudgedWay) -> tuple[str, ...]:
    """What the winters do to the way shown, the plain sentence first."""
    line = next(line for line in lines if line.way == shown.line.key)
    parted = disagreement(shown.line.title, line.rules) if line.frost_depth_mm else ""
    sentences = [line.sentence, parted, _cross_check(line), _state(shown)]
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
    words = {"in a spring thaw": "the spring thaw", "long-term wet": "the long-term wet state"}
    return f"Carrying is designed for {words.get(state, state)}, the weakest state of the ground here."
