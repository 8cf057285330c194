"""Build: what do I buy, set out and do on the day?"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast import __version__
from earthfast.checks import UNBOUND, Material, Method, Way
from earthfast.checks.build_up import LOOSE, UNITS
from earthfast.estimate import Band, Caution, CautionCode, Meaning, Trail
from earthfast.job import Job, LoadedJob, NoWayPasses, Problem
from earthfast.mixes import Mixing
from earthfast.stages.answers import (
    AreaBuild,
    BuildAnswer,
    ClockLine,
    Figure,
    SafetyLine,
    ShoppingLine,
    StepLine,
)
from earthfast.stages.choose import AreaDecision, Choice, choose_for, rests_on
from earthfast.stages.compacting import compaction_of
from earthfast.stages.judged import JudgedWay
from earthfast.stages.naming import DRAWN_TO, strata_lines
from earthfast.stages.profile import GroundProfile
from earthfast.stages.rare import checks_with_tails
from earthfast.stages.season import season_of, season_sentences
from earthfast.stages.setting import mixing_of
from earthfast.stages.setting_out import (
    COMPACTING,
    FIXED_TIME,
    WET_MIXING,
    SetOut,
    bay_lines,
    bays_for,
    corner_lines,
    levels_words,
    reach_of,
    set_out,
)
from earthfast.stages.shopping import shopping_of
from earthfast.stages.showing import assumption_lines, caution_lines, digits, figure
from earthfast.stages.strip_logs import soundings_answer
from earthfast.stages.understanding import Area, seed_of
from earthfast.stages.wording import (
    MILLI,
    PERCENT,
    UNDATED,
    capitalised,
    failing_words,
    listed,
    millimetres,
    named_together,
)
from earthfast.works import (
    BayAmounts,
    BinderSpread,
    Goods,
    Spoil,
    WorkStep,
    take_off,
    work_cautions,
    work_steps,
    working_clock,
)
from earthfast.works.plan import shape_of

CLOCK_AIR = (5.0, 10.0, 15.0, 20.0, 25.0)
MINUTE = 60.0
LEAST_STAYING = 0.05  # m³, told of
TILLS = 3
FORMATION_FALLS_1_IN = 40  # as German paving guides ask of a formation
LAID_ON = re.compile(r"[Tt]he bed\b|loose layer on top")  # steps that lay sand or gravel on the base


@dataclass(frozen=True, slots=True)
class Built:
    """The answer, with the choice behind it."""

    choice: Choice
    answer: BuildAnswer


@dataclass(frozen=True, slots=True)
class _AreaWork:
    """One area with what belongs to it."""

    line: AreaBuild
    decision: AreaDecision
    way: JudgedWay
    cautions: tuple[Caution, ...]


def build_for(loaded: LoadedJob) -> Built:
    """The build sheet's answer for the chosen way of every area."""
    choice = choose_for(loaded)
    missing = [decision.area.entry.name for decision in choice.decisions if decision.chosen is None]
    if missing:
        keys = dict.fromkeys(w.line.key for d in choice.decisions if d.chosen is None for w in d.ways)
        accepted = (
            "a way that passes; to build one all the same, `way` under [choose] with its key, one of "
            + ", ".join(keys)
        )
        found = f"no way that passes every check on {', '.join(missing)}"
        problem = Problem("choose.way", found, accepted, loaded.line("choose"))
        raise NoWayPasses(choice.answer.headline, [problem], str(loaded.path or ""))
    works = [_area_work(decision, choice) for decision in choice.decisions]
    return Built(choice, _answer(choice, works))


def _area_work(decision: AreaDecision, choice: Choice) -> _AreaWork:
    assert decision.chosen is not None
    job, area, judged = choice.understanding.loaded.job, decision.area, decision.chosen
    trail = area.trail.under(judged.line.key)
    out, amounts = set_out(job, area, judged.way, trail), bays_for(area, judged.way, trail)
    compaction = compaction_of(judged.way, judged.cost.take_off.make_up, area.costing.crew.kit.compactors)
    profile = choice.understanding.profile
    line = AreaBuild(
        name=area.entry.name,
        method=judged.way.method.value,
        title=judged.line.title,
        outline_m=tuple((round(p.x, 3), round(p.y, 3)) for p in area.costing.plan.corners),
        area_m2=round(area.costing.plan.area, 2),
        dug_area_m2=round(judged.cost.take_off.base_area, 2),
        courses=judged.line.courses,
        strata=strata_lines(profile),
        topsoil_mm=round(profile.topsoil * MILLI, 1),
        water_mm=_winter_water(profile),
        frost_mm=_frost(trail),
        checks=checks_with_tails(judged, area, seed_of(choice.understanding.loaded)),
        fall_1_in=round(out.fall.one_in, 1),
        fall_direction=out.towards,
        beyond_mm=round(reach_of(judged.way) * MILLI),
        levels_words=levels_words(job, out, judged.cost.take_off.till_depth),
        corners=corner_lines(out.corners, judged.cost.take_off.till_depth),
        mean_dig_mm=round(judged.cost.take_off.dig_depth * MILLI),
        dig_volume=_dig_volume(judged, trail),
        stays=_stays_words(judged.cost.take_off.spoil),
        bays=bay_lines(amounts),
        dose_words=_dose_words(judged.way, amounts),
        water_words=_water_words(judged, area),
        mixing_words=_mixing_words(judged),
        compaction_words=compaction.words,
        season_words=_season_words(judged, decision, choice),
        clock=_clock(judged.way),
        steps=_steps(judged, out, area),
        diagonal_m=_diagonal(decision),
    )
    return _AreaWork(line, decision, judged, (*compaction.cautions, *_mixing_cautions(job, line)))


def _season_words(judged: JudgedWay, decision: AreaDecision, choice: Choice) -> str:
    """When to build with a binder, in sentences."""
    weather = choice.understanding.weather
    generator = np.random.default_rng(seed_of(choice.understanding.loaded))
    season = season_of(judged.way, decision.area, weather, generator)
    return " ".join(season_sentences(season, weather))


def _mixing_cautions(job: Job, line: AreaBuild) -> tuple[Caution, ...]:
    """Doubts about mixing by hand, and about the clock on a warm day."""
    if not line.bays:
        return ()
    cautions = []
    if mixing_of(job) is Mixing.HAND:
        text = (
            f"{line.name}: mixing binder into clay with hand tools is heavy and uneven; the list hires a tiller: name it under "
            "[tools], and its more even mixing counts"
        )
        cautions.append(
            Caution(CautionCode.HEAVY_FOR_HAND_MIXING, text, where="tools", source="earthfast_proposal")
        )
    largest = max(bay.area_m2 for bay in line.bays)
    needed = (FIXED_TIME + largest * (WET_MIXING + COMPACTING)) / MINUTE
    short = next((row for row in line.clock if row.minutes < needed), None)
    if short is not None:
        text = (
            f"{line.name}: the largest bay takes about {needed:.0f} min by hand and cement gives {short.minutes:.0f} min at "
            f"{short.air_c:.0f} °C: halve the bay on a warm day or start early"
        )
        cautions.append(
            Caution(CautionCode.WORKING_WINDOW_SHORT, text, where="bays", source="earthfast_proposal")
        )
    return tuple(cautions)


def _winter_water(profile: GroundProfile) -> float | None:
    depth = float(np.median(profile.bearing_stratum.estimate.draws.winter_water_depth))
    return round(depth * MILLI) if depth < DRAWN_TO else None


def _frost(trail: Trail) -> float | None:
    traced = trail.figures.get(f"{trail.prefix}frost.depth")
    return round(traced.centre * MILLI) if traced and traced.centre > 0.0 else None


def _dig_volume(judged: JudgedWay, trail: Trail) -> Figure:
    spoil = judged.cost.take_off.spoil
    quantity = trail.conclude(
        "dig_volume",
        Meaning("Soil to dig, measured in the ground", "m³", "m³"),
        spoil.dug,
        (),
        take_off,
        Band(0.85 * spoil.dug, spoil.dug, 1.15 * spoil.dug),
    )
    return figure(trail.figures[quantity.key])


def _dose_words(way: Way, amounts: Sequence[BayAmounts]) -> str:
    """What is spread on a square metre; how many bags that makes stands with the bays."""
    treated = way.build_up.treated
    if treated is None or not amounts:
        return ""
    cement, lime = amounts[0].cement, amounts[0].lime
    words = f"cement {_by_area(treated.dose, cement)}"
    return capitalised(f"lime {_by_area(treated.lime_dose, lime)}; then {words}." if lime else f"{words}.")


def _by_area(dose: float, spread: BinderSpread) -> str:
    return f"{dose * PERCENT:.3g} % of dry soil = {spread.areal_mass:.1f} kg/m² = {millimetres(spread.thickness)} loose"


def _water_words(judged: JudgedWay, area: Area) -> str:
    """Water to add to a square metre, or how much has to go before the soil can be treated."""
    treated = judged.way.build_up.treated
    if treated is None:
        return ""
    balance = area.costing.ground.water_balance(treated)
    if balance <= 0.0:
        share = -balance / (treated.thickness * area.costing.ground.layer_dry_density)
        return (
            f"No water to add: as things are known the soil holds {digits(-balance)} L/m² more than the mix wants "
            f"({share * PERCENT:.2g} % of its dry mass). Too wet it cannot be compacted and sets weak: turn it over and let sun "
            "and wind dry it until a squeezed handful holds together and breaks into a few lumps when dropped from the shoulder. "
            "Where water comes out of the handful, wait. Lime dries a wet clay; more cement does not help."
        )
    return (
        f"About {digits(balance)} L/m², in three goes; stop when a squeezed handful "
        "holds together and breaks into a few lumps when dropped from the shoulder. Rain of 1 mm is 1 L/m²."
    )


def _mixing_words(judged: JudgedWay) -> str:
    treated = judged.way.build_up.treated
    if treated is None:
        return ""
    till = judged.cost.take_off.till_depth
    twice = "Lime first; leave it to mellow, then cement. " if treated.lime_dose else ""
    return (
        f"{twice}Till {millimetres(till)} of the ground as it lies to finish {millimetres(treated.thickness)}: "
        f"{TILLS} passes dry, then {TILLS - 1} wet, until it is one colour right through. "
        "Level it 10 to 15 mm high and trim down; never top up."
    )


def _stays_words(spoil: Spoil) -> str:
    """What of the soil dug is taken to stay on the site; empty where none is."""
    left = (("topsoil", spoil.topsoil - spoil.topsoil_away), ("subsoil", spoil.subsoil - spoil.subsoil_away))
    return listed([f"{digits(volume)} m³ of {name}" for name, volume in left if volume > LEAST_STAYING])


def _clock(way: Way) -> tuple[ClockLine, ...]:
    if way.build_up.treated is None:
        return ()
    return tuple(
        ClockLine(air_c=row.air_temperature, minutes=round(row.window / MINUTE))
        for row in working_clock(np.array(CLOCK_AIR))
    )


def _steps(judged: JudgedWay, out: SetOut, area: Area) -> tuple[StepLine, ...]:
    way = judged.way
    top = way.build_up.loose_top
    bedded = way.build_up.thickness_of(*LOOSE) > 0.0
    outlet = way.build_up.treated is not None or (way.method is Method.SLAB and bedded)
    steps = [
        _edging_step(row, way, area)
        if row.key == "edging"
        else StepLine(number=0, step=row.step, hold=row.hold)
        for row in work_steps(
            way.method,
            stone=way.build_up.thickness_of(Material.CRUSHED_STONE) > 0.0,
            paved=bedded and top is None,
            topped=top is not None,
            edged=judged.cost.take_off.edge > 0.0,
            fabric=judged.cost.take_off.line(Goods.FABRIC) is not None,
        )
    ]
    if area.setting.drainage.formation_drains and way.method in UNBOUND:
        proved = next(i for i, step in enumerate(steps) if step.step.startswith("Prove the ground"))
        steps.insert(proved, _formation_fall(out))
    if outlet:
        row = StepLine(
            number=0,
            step=(
                f"Let water out of the bedding sand: fall the face of the base 1 in {out.fall.one_in:.0f} "
                f"towards the {out.towards} to a free edge, or core 75 mm weep holes at the low points."
            ),
            hold="water poured on the face runs off it",
        )
        before_bed = next((i for i, s in enumerate(steps) if LAID_ON.search(s.step)), len(steps))
        steps.insert(before_bed, row)
    return tuple(step.model_copy(update={"number": number}) for number, step in enumerate(steps, start=1))


def _edging_step(row: WorkStep, way: Way, area: Area) -> StepLine:
    """What is set, the sizes of its concrete, the room that it takes below and in the base, and care in lifting."""
    edging, build_up = area.costing.basis.edging, way.build_up
    said = [row.step.replace("edging", edging.upright).replace("on and against concrete", edging.words)]
    below = round((edging.depth - build_up.thickness) * MILLI)
    if below > 0:
        said.append(f"Dig a trench for it, {below} mm deeper than the formation.")
    bound = build_up.treated is not None or build_up.thickness_of(Material.CONCRETE) > 0.0
    if bound and edging.depth > build_up.thickness_of(*UNITS, *LOOSE, Material.CRUSHED_STONE):
        said.append("Keep the bound layer back from the strip it takes, or cut it out while fresh.")
    if edging.lifting:
        said.append(edging.lifting)
    return StepLine(number=0, step=" ".join(said), hold=row.hold.replace("edging", edging.upright))


def _formation_fall(out: SetOut) -> StepLine:
    """The step that the job's care of formation promises under a base that lets rain through."""
    return StepLine(
        number=0,
        step=(
            f"Trim the formation to fall 1 in {FORMATION_FALLS_1_IN} towards the {out.towards} and lead its low edge to a drain, "
            "a ditch or a soakaway."
        ),
        hold="water poured on it runs to the outlet",
    )


def _diagonal(decision: AreaDecision) -> float | None:
    corners = decision.area.costing.plan.corners
    west, south, east, north = shape_of(decision.area.costing.plan).bounds
    box = (east - west) * (north - south)
    if len(corners) != 4 or abs(box - decision.area.costing.plan.area) > 1e-6 * box:
        return None
    return round(float(np.hypot(east - west, north - south)), 3)


def _safety(works: Sequence[_AreaWork]) -> tuple[SafetyLine, ...]:
    rows = {row.key: row for work in works for row in work_cautions(work.way.way.method)}
    return tuple(SafetyLine(hazard=row.hazard, text=row.text, source=row.source) for row in rows.values())


def _answer(choice: Choice, works: Sequence[_AreaWork]) -> BuildAnswer:
    understanding = choice.understanding
    loaded, trail = understanding.loaded, understanding.trail
    costing = works[0].decision.area.costing
    shopping = shopping_of([work.way.cost for work in works], costing, trail)
    total = figure(trail.figures["shopping.total"])
    named = [work.line.name for work in works]
    own = [caution for work in works for caution in work.cautions]
    cautions = caution_lines(named_together(own, named))
    assumptions = assumption_lines(trail, _effects(choice), _kept(choice, works))
    short = [work for work in works if not work.way.line.passes]
    alike: dict[str, list[str]] = {}
    for work in works:
        alike.setdefault(work.line.title, []).append(work.line.name)
    priced = _invented_words(shopping)
    names = "; ".join(f"{' and '.join(areas)}: {title}" for title, areas in alike.items())
    return BuildAnswer(
        verb="build",
        earthfast=__version__,
        job=loaded.job.heading.title,
        demonstration=bool(loaded.job.heading.invented),
        headline=(
            f"{choice.understanding.for_engineer}{choice.set_aside}{_short_words(short)}{capitalised(names)}. "
            f"Together {total.text}{priced}."
        ),
        cautions=tuple(
            dict.fromkeys((*caution_lines(_short_cautions(short)), *choice.answer.cautions, *cautions))
        ),
        assumptions=assumptions,
        exit_status=choice.answer.exit_status,
        areas=tuple(work.line for work in works),
        shopping=shopping,
        total=total,
        safety=_safety(works),
        date=_date(choice),
        soundings=soundings_answer(loaded.job, understanding.profile),
    )


def _invented_words(shopping: Sequence[ShoppingLine]) -> str:
    """Whether all or some of the prices are invented examples, for the headline."""
    priced = [line.price_is_invented for line in shopping if line.price is not None]
    if not any(priced):
        return ""
    return ", at invented prices" if all(priced) else ", partly at invented prices"


def _short_words(short: Sequence[_AreaWork]) -> str:
    """That ways named in the job fall short and by which checks, in a sentence before everything else."""
    if not short:
        return ""
    told = "; ".join(f"{work.line.name} fails {failing_words(work.line.checks)}" for work in short)
    return f"Falls short, built only because the job names it: {told}. "


def _short_cautions(short: Sequence[_AreaWork]) -> tuple[Caution, ...]:
    """The same as doubts, with what to do about it."""
    return tuple(
        Caution(
            CautionCode.STOP_AND_ASK,
            f"{work.line.name}: the way named in the job fails {failing_words(work.line.checks)}: take one that passes, or "
            "ask a licensed engineer before building it",
            where="choose.way",
            source="earthfast_proposal",
        )
        for work in short
    )


def _effects(choice: Choice) -> dict[str, float]:
    return {line.figure.key: line.effect for line in choice.answer.assumptions if line.effect is not None}


def _kept(choice: Choice, works: Sequence[_AreaWork]) -> set[str]:
    """What the chosen ways rest on, and what their setting out takes for granted."""
    trail = choice.understanding.trail
    kept: set[str] = set()
    for work in works:
        own = f"{work.decision.area.trail.prefix}{work.way.line.key}."
        kept |= rests_on(work.decision, work.way, trail)
        kept |= {f"{own}{name}" for name in ("ground_plane", "largest_bay")}
    return kept


def _date(choice: Choice) -> str:
    date = choice.understanding.loaded.job.heading.date
    return date.isoformat() if date else UNDATED
