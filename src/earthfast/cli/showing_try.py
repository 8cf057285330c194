"""`try` as terminal text: the sentence, the specimens, small charts, what to make next."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from earthfast.cli.showing import NARROWEST_TRIAL, _heading, _notes, _opening, _table, bar, console
from earthfast.stages.answers import PlanSetup, StrengthCurve, TryAnswer

WIDE, HIGH = 64, 13  # cells
SPOT, WITHIN, MIDDLE, TARGET = "·", "░", "━", "┄"
STATES = {"soaked": "●", "not soaked": "○", "not said": "◌"}
BOUNDS = {"at least": "▲", "at most": "▼"}
DOSES, DAYS = range(0, 41, 2), (1, 3, 7, 14, 28, 60, 180)
MOST_RUNGS = 8
SEVERAL = 12  # specimens shown in the terminal


def show_try(answer: TryAnswer) -> None:
    """Print the plan, or what the specimens say."""
    out = console(NARROWEST_TRIAL)
    _opening(out, answer)
    _show_wanted(out, answer)
    if answer.used:
        _show_specimens(out, answer)
        _show_chart(out, answer.strength_by_dose)
        _show_doses(out, answer)
        _show_chart(out, answer.strength_by_age)
        _show_ladder(out, answer)
        _show_next(out, answer)
    else:
        _show_plan(out, answer)
        _show_doses(out, answer)
    for sentence in answer.says:
        out.print(Padding(f"· {sentence}", (0, 0, 0, 2)))
    _notes(out, answer)


def _show_wanted(out: Console, answer: TryAnswer) -> None:
    _heading(out, "What is asked of the layer")
    for sentence in answer.design:
        out.print(Padding(f"· {sentence}", (0, 0, 0, 2)))
    table = _table("asked by", "strength on site", "of", "chance wanted", "takes", right=(3, 4))
    for line in answer.wanted:
        table.add_row(
            f"{line.asked_by} ({line.because})",
            line.strength.text,
            line.spot,
            f"{line.chance * 100.0:.3g} %",
            line.dose.text if line.is_reached else "more than 20 %",
            style="" if line.governs else "dim",
        )
    out.print(Padding(table, (1, 0, 0, 2)))
    out.print(Padding(answer.goes_by, (0, 0, 0, 2)))


def _show_specimens(out: Console, answer: TryAnswer) -> None:
    _heading(out, f"Specimens, {answer.used} of {len(answer.specimens)} with a result that counts")
    table = _table("", "made of", "age", "", "strength", "at 28 days, soaked", "remark", right=(4, 5))
    for line in answer.specimens[-SEVERAL:]:
        table.add_row(
            line.name,
            line.made_of,
            f"{line.age_days:.3g} days",
            line.soaked,
            line.said(line.strength_mpa),
            line.said(line.strength_28_days_mpa),
            line.remark,
        )
    out.print(Padding(table, (0, 0, 0, 2)))
    left = len(answer.specimens) - SEVERAL
    if left > 0:
        out.print(f"  and {left} before these: see --json")
    out.print("  Strengths as high as wide; corrections and their sources: see --json or the sheet.")


def _show_doses(out: Console, answer: TryAnswer) -> None:
    sure = f"{answer.confidence * 100.0:.3g} %"
    _heading(out, f"Doses, in MPa; site is {answer.spot}, wanted {answer.target.text} with {sure}")
    table = _table(
        "dose", "laboratory 28 days", "laboratory 60 days", "site 28 days", "chance", "", right=(0, 4)
    )
    for line in answer.doses:
        figures = (line.laboratory_28, line.laboratory_60, line.site_28)
        strengths = (figure.text.replace(" MPa", "", 1) for figure in figures)
        table.add_row(f"{line.dose_percent:.3g} %", *strengths, line.chance.as_chance, line.remark)
    out.print(Padding(table, (0, 0, 1, 2)))


def _show_chart(out: Console, curve: StrengthCurve) -> None:
    _heading(out, curve.title)
    for row in text_chart(curve):
        out.print(Text("  " + row))


def text_chart(curve: StrengthCurve) -> tuple[str, ...]:
    """Draw a curve in text: strength on a log scale, the laboratory's band, specimens, the target."""
    ats = np.array([point.at for point in curve.points])
    columns = (
        np.geomspace(ats[0], ats[-1], WIDE) if "age" in curve.across else np.linspace(ats[0], ats[-1], WIDE)
    )
    low, middle, high = (
        np.interp(columns, ats, [getattr(point, f"laboratory{end}_mpa") for point in curve.points])
        for end in ("_low", "", "_high")
    )
    beyond = np.interp(columns, ats, [float(point.is_extrapolated) for point in curve.points]) > 0.0
    seen = [mark.strength_mpa for mark in curve.marks if mark.strength_mpa > 0.0]
    edges = np.geomspace(
        0.8 * min(*seen, low.min(), curve.target_mpa) if seen else 0.8 * min(low.min(), curve.target_mpa),
        1.1 * max(*seen, high.max(), curve.target_mpa) if seen else 1.1 * max(high.max(), curve.target_mpa),
        HIGH + 1,
    )
    cells = [[" "] * WIDE for _ in range(HIGH)]
    target = _row(curve.target_mpa, edges)
    for place in range(WIDE):
        for row in range(_row(low[place], edges), _row(high[place], edges) + 1):
            cells[row][place] = SPOT if beyond[place] else WITHIN
        cells[target][place] = TARGET
        cells[_row(middle[place], edges)][place] = MIDDLE
    for mark in curve.marks:
        place = int(np.argmin(np.abs(columns - mark.at)))
        cells[_row(max(mark.strength_mpa, edges[0]), edges)][place] = (
            BOUNDS.get(mark.known_as) or STATES[mark.state]
        )
    return (*_labelled(cells, edges, target), *_foot(curve, columns))


def _row(strength: float, edges: np.ndarray[tuple[int], np.dtype[np.float64]]) -> int:
    return int(np.clip(np.searchsorted(edges, strength, side="right") - 1, 0, HIGH - 1))


def _labelled(
    cells: Sequence[Sequence[str]], edges: np.ndarray[tuple[int], np.dtype[np.float64]], target: int
) -> list[str]:
    rows = []
    for row in reversed(range(HIGH)):
        middle = float(np.sqrt(edges[row] * edges[row + 1]))
        label = (
            f"{middle:5.2g} MPa" if row % 3 == 0 and row != target else ("   wanted" if row == target else "")
        )
        rows.append(f"{label:>9} │{''.join(cells[row])}")
    return rows


def _foot(curve: StrengthCurve, columns: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[str]:
    ticks = [" "] * (WIDE + 6)
    for tick in DAYS if "age" in curve.across else DOSES:
        if columns[0] <= tick <= columns[-1]:
            place = int(np.argmin(np.abs(columns - tick)))
            ticks[place : place + len(f"{tick}")] = f"{tick}"
    return [
        f"{'':>9} └{'─' * WIDE}",
        f"{'':>11}{''.join(ticks).rstrip()}",
        f"{'':>11}{curve.across}; {MIDDLE} median, {WITHIN} 5 to 95 % in the laboratory,",
        f"{'':>11}{SPOT} the same beyond what was tried; ● soaked, ○ not, ◌ not said;",
        f"{'':>11}▲ at least, ▼ at most",
    ]


def _show_ladder(out: Console, answer: TryAnswer) -> None:
    _heading(out, "Among known bound materials, at 28 days and as high as wide")
    out.print(Padding(answer.ladder_says, (0, 0, 0, 2)))
    reached = [rung for rung in answer.ladder if rung.is_reached]
    table = _table("material", "MPa at 28 days", "told as")
    for rung in reached[:MOST_RUNGS]:
        table.add_row(rung.material, f"{rung.low_mpa:.2g} to {rung.high_mpa:.2g}", rung.told_as)
    out.print(Padding(table, (0, 0, 0, 2)))


def _show_next(out: Console, answer: TryAnswer) -> None:
    _heading(out, "Make this one next, from a new mix")
    most = max((line.saving.value for line in answer.next_specimens), default=0.0)
    for line in answer.next_specimens:
        share = line.saving.value / most if most > 0.0 else 0.0
        words = f"{line.dose_percent:.3g} %, broken at {line.age_days:.0f} days"
        out.print(f"  {bar(share)} {words}: saves {line.saving.text} of the cost of a wrong dose, on average")


def _show_plan(out: Console, answer: TryAnswer) -> None:
    plan = answer.plan
    _heading(out, f"Make {plan.count} specimens")
    out.print(
        f"  Pack to a dry density of {plan.dry_density.text} at {plan.water.text} of water in all dry mass."
    )
    out.print(f"  {plan.ages_words}")
    for setup in plan.setups:
        _show_setup(out, setup)
    _heading(out, "What the plan will leave uncertain")
    for sentence in plan.leaves:
        out.print(Padding(f"· {sentence}", (0, 0, 0, 2)))


def _show_setup(out: Console, setup: PlanSetup) -> None:
    _heading(out, f"At the {setup.name}: moulds {setup.mould}; masses for one mix")
    has_lime = any(line.lime_g for line in setup.lines)
    names = ["dose", "mixes", "soil as dug", *(["lime"] if has_lime else []), "cement", "water"]
    names += [
        "pack each",
        f"breaks at {setup.load_age_days:.0f} days",
        *([] if setup.has_press else ["or hung at 10:1"]),
    ]
    table = _table(*names, right=tuple(range(len(names))))
    for line in setup.lines:
        table.add_row(
            f"{line.dose_percent:.3g} %",
            f"{line.mixes}",
            f"{line.moist_soil_g:,.0f} g",
            *([f"{line.lime_g:.0f} g"] if has_lime else []),
            f"{line.binder_g:.0f} g",
            line.water_words,
            f"{line.pack_g:,.0f} g",
            line.expected_load.text,
            *([] if setup.has_press else [line.lever_words]),
        )
    out.print(Padding(table, (0, 0, 1, 2)))
    for number, step in enumerate(setup.steps, start=1):
        out.print(Padding(f"{number}. {step}", (0, 0, 0, 2)))
