"""Answers as readable terminal text: sentences first, tables second; colour only on a terminal."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from pathlib import Path
from shlex import quote

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from earthfast.stages.answers import (
    Answer,
    AreaBuild,
    AreaChoice,
    BuildAnswer,
    ChooseAnswer,
    GroupChance,
    LookAnswer,
    NextTestLine,
    NextTests,
    SoundingsAnswer,
    StratumAnswer,
    TrailStep,
    WayLine,
    WhyAnswer,
)
from earthfast.stages.showing import digits, money_words, source_words
from earthfast.stages.wording import said_once, shared_words, target_words

BAR_CELLS = 10
NARROWEST, NARROWEST_TRIAL = 60, 80


def console(narrowest: int = NARROWEST) -> Console:
    """The place answers are printed: as wide as the terminal, but never so narrow that tables break."""
    plain = Console(highlight=False, soft_wrap=False, markup=False)
    return plain if plain.width >= narrowest else Console(highlight=False, width=narrowest, markup=False)


def bar(share: float) -> str:
    """A share of 1 as a small bar."""
    full = round(min(max(share, 0.0), 1.0) * BAR_CELLS)
    return "█" * full + "·" * (BAR_CELLS - full)


def _table(*columns: str, right: tuple[int, ...] = ()) -> Table:
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0))
    for index, name in enumerate(columns):
        table.add_column(name, justify="right" if index in right else "left", overflow="fold")
    return table


def _heading(out: Console, text: str) -> None:
    out.print()
    out.print(Text(text, style="bold"))


def _notes(out: Console, answer: Answer, said: Container[str] = ()) -> None:
    """Cautions, but for those already said, and assumptions."""
    cautions = [caution.text for caution in answer.cautions if caution.text not in said]
    if cautions:
        _heading(out, "Cautions")
        for text in cautions:
            out.print(Padding(f"! {text}", (0, 0, 0, 2)))
    if answer.assumptions:
        _heading(out, "Assumed (replace in the job file), most telling first")
        table = _table("what", "taken as", "moves the answer", "why")
        for line in answer.assumptions[:12]:
            effect = bar(line.effect) if line.effect is not None else ""
            table.add_row(line.figure.label, line.figure.text, effect, line.because)
        out.print(Padding(table, (0, 0, 0, 2)))
        left = len(answer.assumptions) - 12
        if left > 0:
            out.print(f"  and {left} more: see the sheets, or --json")


def _opening(out: Console, answer: Answer) -> None:
    out.print(Text(answer.headline, style="bold"))
    if answer.demonstration:
        out.print("The figures of this job are invented for demonstration.", style="italic")


WEAKEST_SHOWN = 3


def show_look(answer: LookAnswer) -> None:
    """Print what the observations say."""
    out = console()
    _opening(out, answer)
    for stratum in answer.strata:
        _show_stratum(out, stratum)
    if answer.soundings:
        _show_soundings(out, answer.soundings)
    _show_next_tests(out, answer.next_tests)
    _heading(out, "Can the soil be treated where it lies?")
    for stop in answer.stops:
        if stop.verdict != "clear":
            out.print(Padding(f"{stop.verdict}: {stop.name}. {stop.reason} {stop.action}", (0, 0, 0, 2)))
    clear = [stop.name for stop in answer.stops if stop.verdict == "clear"]
    if clear:
        out.print(Padding(f"clear: {', '.join(clear)}.", (0, 0, 0, 2)))
    _notes(out, answer, {f"{stratum.name}: {flag}" for stratum in answer.strata for flag in stratum.flags})


def _show_stratum(out: Console, stratum: StratumAnswer) -> None:
    band = f" ({stratum.top_band_mm[0]:.0f} to {stratum.top_band_mm[1]:.0f})" if stratum.top_band_mm else ""
    below = "and below" if stratum.bottom_mm is None else f"to {stratum.bottom_mm:.0f} mm"
    stripped = ", stripped whatever is built" if stratum.is_topsoil else ""
    _heading(out, f"{stratum.name}, {stratum.top_mm:.0f} mm{band} {below}{stripped}")
    seen = ", ".join(f"{one.count} {one.kind}" for one in stratum.seen)
    out.print(Padding(f"seen: {seen}" if seen else "seen: nothing", (0, 0, 0, 2)))
    if stratum.is_topsoil and not seen:
        return
    for group in stratum.groups[:4]:
        out.print(f"  {bar(group.chance)} {group.chance:4.0%}  {group.symbol:<6} {group.name}")
    for flag in stratum.flags:
        out.print(Padding(f"! {flag}", (0, 0, 0, 2)))
    if stratum.is_topsoil:
        return
    _show_classes(out, stratum)
    table = _table("estimate", "median (5 to 95 %)", "moved most by")
    for line in stratum.estimates:
        table.add_row(line.figure.label, line.figure.text, ", ".join(line.moved_by))
    out.print(Padding(table, (1, 0, 0, 2)))
    _show_spots(out, stratum)


def _show_spots(out: Console, stratum: StratumAnswer) -> None:
    """The weakest spots, each with its place, and how readings scatter at one spot."""
    if not stratum.spots:
        return
    heading = f"weakest of {len(stratum.spots)} spots"
    table = _table(heading, "CBR as found", "CBR once wet", "over stratum", "weakest")
    for spot in stratum.spots[:WEAKEST_SHOWN]:
        at = "" if spot.x_m is None else f"{spot.x_m:g} m, {spot.y_m:g} m"
        name = f"{spot.name} ({at})" if spot.name and at else spot.name or at
        bands = (_band(one) for one in (spot.cbr_now, spot.cbr_wet, spot.over_stratum))
        table.add_row(name, *bands, f"{spot.weakest:.0%}")
    out.print(Padding(table, (1, 0, 0, 2)))
    for one in stratum.repeats:
        seen = "" if one.seen is None else f", seen {one.seen:.0%} in {one.repeats} repeats"
        words = f"Scatter at one spot, {one.kind}: taken as {one.assumed:.0%}{seen}."
        out.print(Padding(words, (0, 0, 0, 2)))


def _band(band: tuple[float, float, float]) -> str:
    low, median, high = (f"{value:.2g}" for value in band)
    return f"{median} ({low} to {high})"


def _show_classes(out: Console, stratum: StratumAnswer) -> None:
    table = Table(box=None, pad_edge=False, show_header=False, padding=(0, 2, 0, 0))
    binder = stratum.binder
    table.add_row("AASHTO M 145", f"{_likeliest(stratum.aashto)}; group index {stratum.group_index.text}")
    table.add_row("ISO 14688", _likeliest(stratum.iso))
    table.add_row("frost group", _likeliest(stratum.frost_groups))
    table.add_row("shrink-swell", _likeliest(stratum.shrink_swell))
    table.add_row(
        "binder", f"{binder.route} (cement suits {binder.cement:.0%}, lime has clay enough {binder.lime:.0%})"
    )
    out.print(Padding(table, (1, 0, 0, 2)))


def _show_soundings(out: Console, found: SoundingsAnswer) -> None:
    """Print a strip log of all soundings together: the further the bar, the softer the ground."""
    count = len(found.soundings)
    _heading(out, f"Cone sounding{'s' if count > 1 else ''} by depth, {count} in all")
    most = max(line.most_mm_per_blow for line in found.by_depth)
    table = _table("depth, mm", "mm a blow", "", "least to most", "CBR", right=(0, 2, 4))
    for line in found.by_depth:
        table.add_row(
            f"{line.top_mm:.0f} to {line.bottom_mm:.0f}",
            bar(line.mm_per_blow / most),
            f"{line.mm_per_blow:.0f}",
            f"{line.least_mm_per_blow:.0f} to {line.most_mm_per_blow:.0f}",
            f"{digits(line.cbr_percent)} %",
        )
        for boundary in found.boundaries:
            if line.top_mm <= boundary.depth_mm < line.bottom_mm:
                band = f"{boundary.low_mm:.0f} to {boundary.high_mm:.0f}"
                table.add_row(f"╌ {boundary.depth_mm:.0f}", "╌" * BAR_CELLS, "", band, "")
    out.print(Padding(table, (0, 0, 0, 2)))
    out.print(Padding(f"{found.because}.", (0, 0, 0, 2)))


def _likeliest(groups: Sequence[GroupChance]) -> str:
    return ", ".join(
        f"{group.symbol} {group.chance:.0%}"
        + (f" ({group.name})" if place == 0 and group.name != group.symbol else "")
        for place, group in enumerate(groups[:3])
    )


def _show_next_tests(out: Console, tests: NextTests) -> None:
    _heading(out, "Next test worth doing")
    out.print(Padding(tests.sentence, (0, 0, 0, 2)))
    worth = [line for line in tests.lines if line.is_worth_it][:3]
    for place, line in enumerate(worth):
        words = f"{line.kind} in the {line.stratum}"
        times = f"{line.readings} readings, " if line.readings > 1 else ""
        wait = f", {_days(line.days)} to wait" if line.days else ""
        paid = money_words(line.money, tests.currency)
        out.print()
        out.print(Text(f"  {'→' if place == 0 else '·'} {words}", style="bold" if place == 0 else ""))
        out.print(Padding(f"{times}{line.minutes:.0f} min, {paid}{wait}", (0, 0, 0, 4)))
        out.print(Padding(f"expected saving {line.saving.text}", (0, 0, 0, 4)))
        for turn in line.turns[:2]:
            changes = f"may turn {turn.area} from {turn.now} to {turn.then} ({turn.chance:.0%})"
            out.print(Padding(changes, (0, 0, 0, 4)))
        if place == 0:
            out.print(Padding(line.how, (0, 0, 0, 4)))
    if tests.trial is not None and tests.trial not in worth:
        out.print(Padding(_trial_words(tests.trial, tests.currency), (1, 0, 0, 2)))
    if tests.lines:
        out.print(Padding(tests.weighed_by, (1, 0, 0, 2)), style="dim")


def _trial_words(trial: NextTestLine, currency: str) -> str:
    """What a trial would save, against its trouble."""
    saved = trial.saving.text if trial.saving.value else "nothing"
    return (
        f"A trial of {trial.readings} specimens is expected to save {saved}; in time and money it takes about "
        f"{money_words(trial.trouble, currency)}, and {_days(trial.days)}."
    )


def _days(days: float) -> str:
    return "a day" if days == 1.0 else f"{days:.0f} days"


def show_choose(answer: ChooseAnswer, path: Path) -> None:
    """Print the ways, ranked, and why the rejected ones fell."""
    out = console()
    _opening(out, answer)
    for area, says in zip(answer.areas, said_once(answer.areas), strict=True):
        _show_area(out, area, says, path)
    _notes(out, answer)


def _show_area(out: Console, area: AreaChoice, says: Sequence[str], path: Path) -> None:
    _heading(out, f"{area.name}, {area.area_m2:.1f} m² · {', '.join(area.stands_on_it)}")
    out.print(f"  {area.swept} ways checked; ranked by {area.ranked_by}.")
    for way in area.ways:
        mark = "→" if way.key == area.chosen else ("✓" if way.passes else "✗")
        weakest = next((check for check in way.checks if check.name == way.weakest), None)
        out.print()
        out.print(Text(f"  {mark} {way.title}", style="bold" if way.key == area.chosen else ""))
        figures = (way.price, way.carbon, way.trips, way.hours)
        out.print(
            Padding(" · ".join([*(one.text for one in figures), f"dig {way.dig_mm:.0f} mm"]), (0, 0, 0, 4))
        )
        if way.dose_words:
            out.print(Padding(way.dose_words, (0, 0, 0, 4)))
        if weakest:
            words = f"weakest: {weakest.name}, {weakest.chance_text}; that anything fails: {way.any_failure.sentence}"
            out.print(Padding(words, (0, 0, 0, 4)))
        out.print(Padding(way.because, (0, 0, 0, 4)))
    others = [f'"{way.key}"' for way in area.ways if way.key != area.chosen]
    if others:
        named = f"To build another, write under [choose] in the job file: way = {' or '.join(others)}"
        out.print(Padding(named, (1, 0, 0, 2)))
    chosen = next((way for way in area.ways if way.key == area.chosen), None)
    if chosen:
        _show_checks(out, chosen, path)
    if area.front:
        out.print(Text("  Price against carbon, ways that no other beats on both:"))
        for point in area.front:
            out.print(f"    {point.price_text}  {point.carbon_kg:,.0f} kg CO2e  {point.title}")
    for sentence in says:
        out.print(Padding(f"· {sentence}", (0, 0, 0, 2)))


def _show_checks(out: Console, way: WayLine, path: Path) -> None:
    table = _table("check", "demand", "capacity", "chance of failure", "put up with")
    for check in way.checks:
        mark = "" if check.passes else " ✗"
        table.add_row(
            check.name,
            check.demand.text,
            check.capacity.text,
            check.chance_text + mark,
            target_words(check.target),
        )
    out.print(Padding(table, (1, 0, 0, 2)))
    weakest = next(check for check in way.checks if check.name == way.weakest)
    out.print("  Trace a figure with:")  # and the command on a line of its own, so that it can be copied
    out.print(f"    earthfast why {quote(str(path))} {quote(weakest.key)}", soft_wrap=True)
    out.print()


def show_build(answer: BuildAnswer) -> None:
    """Print what to buy and do."""
    out = console()
    _opening(out, answer)
    for area in answer.areas:
        wider = f", dug over {area.dug_area_m2:.1f} m²" if area.dug_area_m2 > area.area_m2 else ""
        _heading(out, f"{area.name}: {area.title}, {area.area_m2:.1f} m²{wider}")
        for words in (
            area.dose_words,
            area.water_words,
            area.mixing_words,
            area.compaction_words,
            area.season_words,
        ):
            if words:
                out.print(Padding(words, (0, 0, 0, 2)))
        _show_bays(out, area)
        if area.levels_words:
            out.print(Padding(area.levels_words, (1, 0, 0, 2)))
        if area.stays:
            out.print(Padding(f"Kept on the site of what is dug: {area.stays}.", (0, 0, 0, 2)))
        table = _table("corner", "ground", "finished", "formation", "dig", right=(1, 2, 3, 4))
        for corner in area.corners:
            table.add_row(
                corner.corner,
                f"{corner.ground_m:+.3f} m",
                f"{corner.finished_m:+.3f} m",
                f"{corner.formation_m:+.3f} m",
                f"{corner.dig_mm:.0f} mm",
            )
        out.print(Padding(table, (0, 0, 0, 2)))
    _show_shopping(out, answer)
    _notes(out, answer)
    show_files(answer.files)


def _show_bays(out: Console, area: AreaBuild) -> None:
    """Print what goes on each bay."""
    treated = [bay for bay in area.bays if bay.bags]
    if not treated:
        return
    limed = any(bay.lime for bay in treated)
    table = _table("bay", *(["lime first"] if limed else []), "cement", "spread", "water")
    for bay in treated:
        lime = [f"{bay.lime.bags}, {bay.lime.kg_per_m2:.1f} kg/m²" if bay.lime else ""] if limed else []
        size = f"{bay.bay}, {bay.length_m:.2f} x {bay.width_m:.2f} m"
        spread = f"{bay.spread_kg_per_m2:.1f} kg/m², {bay.spread_mm:.0f} mm"
        table.add_row(size, *lime, bay.bags, spread, f"{bay.water_l:.0f} L")
    out.print(Padding(table, (1, 0, 0, 2)))


def _show_shopping(out: Console, answer: BuildAnswer) -> None:
    _heading(out, "Shopping list")
    table = _table("what", "needed", "order", "spare", "price")
    for line in answer.shopping:
        star = "*" if line.price_is_invented else ""
        needed = f"{line.net} + {line.waste_percent:g}%" if line.waste_percent else line.net
        price = line.price.text + star if line.price else ""
        table.add_row(line.item, needed, line.order, line.spare, price)
    out.print(Padding(table, (0, 0, 0, 2)))
    invented = any(line.price_is_invented for line in answer.shopping)
    out.print(f"  Together {answer.total.text}{'*' if invented else ''}.")
    if shared := shared_words(len(answer.areas)):
        out.print(f"  {shared}")
    if invented:
        out.print("  * rests on invented example prices: put your own in before you buy.")


def show_files(files: Iterable[str]) -> None:
    """Say where sheets were written."""
    out = console()
    for name in files:
        out.print(f"Wrote {name}")


def show_why(answer: WhyAnswer) -> None:
    """Print a figure's trail."""
    out = console()
    out.print(Text(answer.sentence, style="bold"))
    out.print(
        Padding(
            f"Draw {answer.draw:,} lies in the middle: with its figures formulas can be worked by hand, save heat flow, "
            "stress in layers and the strength of treated soil.",
            (0, 0, 0, 2),
        )
    )
    there = {step.figure.key: step.example for step in answer.steps}
    for step in answer.steps:
        _show_step(out, step, there)
    if answer.influences:
        _heading(out, "Which input matters most")
        for line in answer.influences[:8]:
            way = "raises" if line.rising else "lowers"
            out.print(f"  {bar(line.share)} {line.share:4.0%}  {line.figure.label} {way} it when it rises")


def _show_step(out: Console, step: TrailStep, there: dict[str, str]) -> None:
    _heading(out, f"{step.figure.label}: {step.figure.text}; in that draw {step.example}")
    out.print(f"  {step.figure.key} · {step.origin}")
    for words in (step.because, step.relation, step.formula):
        if words:
            out.print(Padding(words, (0, 0, 0, 2)))
    for one in step.inputs:
        worked = f"; in that draw {there[one.key]}" if one.key in there else ""
        out.print(Padding(f"from {one.label}: {one.text}{worked}  [{one.key}]", (0, 0, 0, 4)))
    for source in step.sources:
        out.print(Padding(f"source: {source_words(source)}", (0, 0, 0, 4)))
