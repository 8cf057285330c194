"""What the numbers say, in sentences, where they contradict common belief."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from earthfast.checks import BuildUp, CheckName, Method, acts_of
from earthfast.checks.build_up import UNITS
from earthfast.choice import (
    GO_WITH_STRENGTH,
    THICKEST_SLAB,
    THICKEST_STONE,
    Candidate,
    Found,
    Merit,
    Setting,
    level_value,
    weaker_ground_to_win,
    weakest_ground,
    weighted_cost,
)
from earthfast.elastic import cone_stress_circle
from earthfast.estimate import Caution, CautionCode
from earthfast.ground import Season
from earthfast.job import Choosing
from earthfast.mixes import StatedDose, TreatedGround, compare_doses
from earthfast.stages.edging_saying import edging_sentence
from earthfast.stages.judged import JudgedWay, governing_act
from earthfast.stages.limits import within_limits
from earthfast.stages.showing import digits, with_unit
from earthfast.stages.slab_saying import slab_edge_sentence
from earthfast.stages.surroundings import footing_cautions
from earthfast.stages.treatment import hard_stop, stops_of
from earthfast.stages.trials import beyond_trials
from earthfast.stages.understanding import Area, Understanding
from earthfast.stages.wording import PERCENT, capitalised, listed
from earthfast.works import (
    levelling_haul,
    price_cautions,
    published_minimums,
    treatment_caution,
)

CONE_45, CONE_2_TO_1 = 1.0, 0.5
KILOMETRE = 1000.0
MILLI = 1000.0
FEW_DRAWS = 1024  # for a sentence
PAIR = 2
BY_LOAD = {"bearing", "softening", "cracking", "rutting"}
BELIEVABLE = 5.0  # a price further off than this is no condition worth naming
LIGHT_USES = ("patio", "walk", "house drive", "garden shed")


def area_sentences(
    area: Area,
    ways: Sequence[JudgedWay],
    chosen: JudgedWay | None,
    understanding: Understanding,
    on_strength: str,
) -> tuple[str, ...]:
    """Sentences on one area; `on_strength` is the one on weaker and firmer ground."""
    stone = next((way for way in ways if way.way.method is Method.STONE), None)
    treated = next((way for way in ways if way.way.build_up.treated is not None), None)
    sentences = [
        _limits(area, ways, understanding),
        _barred(understanding),
        _level_on_price(ways, chosen),
        on_strength,
        _carbon(area, stone, treated),
        _spread(area, chosen or stone),
        slab_edge_sentence(area, chosen),
        edging_sentence(area),
        _minimums(chosen),
        _topsoil(understanding, treated),
        _season(understanding),
    ]
    return tuple(sentence for sentence in sentences if sentence)


def keeps_within(area: Area, ways: Sequence[JudgedWay], limits: Choosing | None) -> bool:
    """Whether any of an area's ways keeps within the limits of the job."""
    density = area.costing.ground.bank_density
    return any(within_limits(way.way, way.cost.merit, limits, density) for way in ways)


def _limits(area: Area, ways: Sequence[JudgedWay], understanding: Understanding) -> str:
    if keeps_within(area, ways, understanding.loaded.job.choose):
        return ""
    return (
        f"No way of building {area.entry.name} keeps within the limits of the job; they are set aside here."
    )


def _barred(understanding: Understanding) -> str:
    stop = hard_stop(stops_of(understanding.loaded.job, understanding.profile))
    if stop is None:
        return ""
    return f"Treating the soil in place is not offered ({stop.rule.value}): {stop.reason} {stop.remedy}"


def _carbon(area: Area, stone: JudgedWay | None, treated: JudgedWay | None) -> str:
    if stone is None or treated is None:
        return ""
    more = treated.cost.carbon.total.usual - stone.cost.carbon.total.usual
    cement = sum(
        line.production.usual + line.haul
        for line in treated.cost.carbon.lines
        if line.words in {"cement", "lime"}
    )
    share = cement / treated.cost.carbon.total.usual
    if more <= 0.0:
        return (
            f"Treating in place carries {-more:,.0f} kg CO2e less than stone here; "
            f"binder is {share:.0%} of what it carries."
        )
    hauled = [_hauled(way) for way in (stone, treated)]
    if hauled[0] <= hauled[1]:
        return f"Treating in place carries {more:,.0f} kg CO2e more than stone, and no haul would level it."
    factor = area.costing.carbon.haulage.by_mass_distance
    farther = levelling_haul(more, hauled[0] - hauled[1], factor) / KILOMETRE
    return (
        f"Treating in place carries {more:,.0f} kg CO2e more than stone: binder is {share:.0%} of what it carries. "
        f"Stone and spoil would have to travel {farther:,.0f} km farther to level it. "
        "What it saves is digging, lorries and tipping."
    )


def _level_on_price(ways: Sequence[JudgedWay], chosen: JudgedWay | None) -> str:
    """The price of one thing at which the next way that passes would cost the same as the chosen one."""
    others = [way for way in ways if way is not chosen and way.line.passes]
    if chosen is None or not others:
        return ""
    other = min(others, key=lambda way: way.cost.merit.price)
    gap = other.cost.merit.price - chosen.cost.merit.price
    marked_up = (1.0 + chosen.cost.bill.contingency) * (1.0 + chosen.cost.bill.tax)
    counts = {row.words: row.units for row in chosen.cost.bill.rows}
    best: tuple[float, str] | None = None
    for row in other.cost.bill.rows:
        more = row.units - counts.get(row.words, 0)
        level = level_value(row.unit_price.usual, gap, more * marked_up)
        if level.needed is None or level.factor is None or not 1.0 / BELIEVABLE <= level.factor <= BELIEVABLE:
            continue
        away = abs(np.log(level.factor))
        if best is None or away < best[0]:
            needed, now = (
                with_unit(digits(price), other.cost.bill.currency)
                for price in (level.needed, row.unit_price.usual)
            )
            words = f"with {row.words} at {needed} each rather than {now}"
            best = (float(away), words)
    if best is None:
        return ""
    return f"{capitalised(other.line.title)} would cost the same as the chosen way {best[1]}."


def level_on_strength(
    area: Area,
    ways: Sequence[JudgedWay],
    chosen: JudgedWay | None,
    candidates: Sequence[Candidate],
    found: Found,
    weights: Merit,
) -> str:
    """How weak the ground may be before the chosen way falls, what wins below, and whether firmer ground changes that."""
    if chosen is None or not chosen.line.passes:
        return ""
    setting = area.setting.first(FEW_DRAWS)
    weakest = weakest_ground(chosen.way, setting, area.usage.targets)
    said, on_weaker = "The chosen way would carry on ground a quarter as strong.", ""
    if weakest.factor is not None and weakest.falls_in is not None:
        down_to = f"{weakest.factor:.0%}"
        said = (
            f"On ground weaker than taken here the chosen way falls by {weakest.falls_in.value}: it has no room to spare."
            if down_to == f"{1:.0%}"
            else f"The chosen way carries on ground down to {down_to} of the strength taken here; on weaker ground it "
            f"falls by {weakest.falls_in.value}."
        )
        on_weaker = _winner_on_weaker_ground(area, setting, ways, candidates, found, weights)
    return " ".join(part for part in (said, on_weaker, _cheaper_on_firmer(ways, chosen)) if part)


def _winner_on_weaker_ground(
    area: Area,
    setting: Setting,
    ways: Sequence[JudgedWay],
    candidates: Sequence[Candidate],
    found: Found,
    weights: Merit,
) -> str:
    """What would win on weaker ground, and how weak it would have to be; nothing where no other method would."""
    if len(found.best) < PAIR or ways[0].way != candidates[found.best[0]].way:
        return ""
    first, other = found.best[:PAIR]
    cost = weighted_cost(candidates, weights)
    factor = weaker_ground_to_win(candidates, setting, area.usage.targets, cost, (first, other))
    if factor is None:
        return ""
    title = next(way.line.title for way in ways if way.way == candidates[other].way)
    return f"Fuller builds of the same kind come first down to {factor:.0%}; below that {title} would win."


def _cheaper_on_firmer(ways: Sequence[JudgedWay], chosen: JudgedWay) -> str:
    cheaper = [way for way in ways if not way.line.passes and way.cost.merit.price < chosen.cost.merit.price]
    if not cheaper:
        return ""
    other = min(cheaper, key=lambda way: way.cost.merit.price)
    failed = [check.name for check in other.line.checks if not check.passes]
    title = capitalised(other.line.title)
    barred = [name for name in failed if name not in GO_WITH_STRENGTH]
    if barred:
        return f"{title} would cost less, but no firmer ground lets it win: it falls by {listed(barred)}."
    return f"{title} would cost less and needs firmer ground: it falls by {listed(failed)}."


def _hauled(way: JudgedWay) -> float:
    masses = way.cost.take_off.masses
    return masses.stone + masses.sand + masses.cement + masses.lime + way.cost.take_off.spoil.mass_away


def _spread(area: Area, way: JudgedWay | None) -> str:
    if way is None:
        return ""
    check = next((c for c in way.line.checks if c.name == "softening"), None)
    if check is None or "punching" in check.governed_by:
        return ""
    act = governing_act(check, [act for load in area.usage.loads for act in acts_of(load, area.setting.unit)])
    if act is None or len(act.circles) > 1:
        return ""
    depth = _spreading_depth(way.way.build_up)
    pressures = [
        float(cone_stress_circle(act.pressure, act.radius, depth, slope)) / KILOMETRE
        for slope in (CONE_45, CONE_2_TO_1)
    ]
    elastic = check.demand.value
    verdict = "above" if elastic > pressures[0] else "below"
    return (
        f"Under the {act.words.replace(', ', ' ')}, the layered answer puts {digits(elastic)} kPa on the ground at its "
        f"peak; the 45 degree rule gives {digits(pressures[0])} and the 2:1 rule {digits(pressures[1])} kPa as averages. "
        f"The peak is {verdict} the 45 degree figure."
    )


def _spreading_depth(build_up: BuildUp) -> float:
    return sum(c.thickness for c in build_up.courses if c.material not in UNITS)


def _minimums(chosen: JudgedWay | None) -> str:
    if chosen is None or chosen.way.method not in {Method.STONE, Method.SAND_BED}:
        return ""
    rows = published_minimums().rows
    patios = sorted(
        {row.base_mm for row in rows if "patio" in row.use or "terrace" in row.use or "path" in row.use}
    )
    if not patios:
        return ""
    why = (
        "the load decides"
        if chosen.line.weakest in BY_LOAD
        else f"{chosen.line.weakest} decides, not the load"
    )
    return (
        f"Published least base thicknesses for light paving run from {patios[0]:.0f} to {patios[-1]:.0f} mm; "
        f"the spread is frost and drainage, not load. Here {why}."
    )


def _topsoil(understanding: Understanding, treated: JudgedWay | None) -> str:
    if treated is None or understanding.profile.topsoil == 0.0:
        return ""
    return "Topsoil is stripped whatever is built: its organic matter holds cement back."


def _season(understanding: Understanding) -> str:
    profile = understanding.profile
    kinds = {row.__class__.__name__ for stratum in profile.strata for row in stratum.observations}
    if profile.season is Season.DRY and any("Cone" in kind for kind in kinds):
        return (
            "The cone was driven in dry ground: in clay it can read two to five times the strength "
            "it will have when wet."
        )
    return ""


def area_cautions(
    area: Area, ways: Sequence[JudgedWay], chosen: JudgedWay | None, understanding: Understanding
) -> list[Caution]:
    """Doubts about the ways of one area."""
    on = understanding.loaded.job.heading.date
    stone = next((way for way in ways if way.way.method is Method.STONE), None)
    treated = next((way for way in ways if way.way.build_up.treated is not None), None)
    cautions = []
    treats = chosen is None or chosen.way.build_up.treated is not None
    if stone is not None and treated is not None and treats:
        doubt = treatment_caution(treated.cost.carbon, stone.cost.carbon)
        cautions += [replace(doubt, text=f"{area.entry.name}: {doubt.text}")] if doubt else []
    shown = chosen or next(iter(ways))
    on = on or max((row.dated for row in shown.cost.bill.rows if row.dated is not None), default=None)
    cautions += price_cautions(shown.cost.bill, on) if on else ()
    cautions += footing_cautions(understanding.loaded.job, area.entry.name, shown.cost.take_off.dig_depth)
    cautions += _stated_dose(area, understanding)
    cautions += _beyond_trials(area, shown)
    if chosen is None:
        text = _none_passes(area.entry.name, shown)
        cautions.append(
            Caution(CautionCode.STOP_AND_ASK, text, where=area.entry.name, source="earthfast_proposal")
        )
    return cautions


def _none_passes(name: str, nearest: JudgedWay) -> str:
    """What to do where no way passes: a steeper fall where that alone is missing, else more than is tried here."""
    if all(check.passes or check.name == CheckName.DRAINAGE for check in nearest.line.checks):
        return (
            f"no way passes every check on {name}, the nearest for its fall alone: the sentences on each way say which "
            "fall would do, or that it wants an outlet; a fall to set out is `wanted` under [site.falls]"
        )
    return (
        f"no way passes every check on {name}: change the use, the ground or the targets, or ask a licensed engineer; stone is "
        f"tried up to {THICKEST_STONE * MILLI:.0f} mm and slabs up to {THICKEST_SLAB * MILLI:.0f} mm, within the limits of the "
        "job, and thicker ones are not"
    )


def _beyond_trials(area: Area, way: JudgedWay) -> tuple[Caution, ...]:
    """Whether a treated way asks for more binder than was ever tried on this soil."""
    treated = way.way.build_up.treated
    belief = area.setting.mix.beliefs.get(way.way.method)
    if treated is None or belief is None:
        return ()
    if belief.highest_dose == 0.0:
        text = (
            f"{area.entry.name}: {treated.dose * PERCENT:.3g} % of cement rests on other soils of its group, since none has "
            "been tried on this one. Make a few specimens before buying binder: `earthfast try` says how."
        )
        return (Caution(CautionCode.DOSE_BEYOND_TRIALS, text, area.entry.name, "common_practice"),)
    return beyond_trials(belief, treated.dose, area.entry.name)


def _stated_dose(area: Area, understanding: Understanding) -> tuple[Caution, ...]:
    """What the job says of the dose in several languages, all brought to one."""
    binder = understanding.loaded.job.binder
    if binder is None or binder.mixing_depth is None:
        return ()
    stated = StatedDose(
        fraction=binder.dose.centre if binder.dose else None,
        areal_mass=binder.spread.centre if binder.spread else None,
        spread_thickness=binder.spread_depth.centre if binder.spread_depth else None,
        bags=float(binder.bags) if binder.bags else None,
        bag_area=binder.bags_over.centre if binder.bags_over else None,
    )
    if stated == StatedDose():
        return ()
    ground = TreatedGround(
        dry_density=binder.soil_dry_density.centre
        if binder.soil_dry_density
        else area.costing.ground.layer_dry_density,
        depth=binder.mixing_depth.centre,
        bag_mass=area.costing.cement.bag_mass,
        loose_density=area.costing.cement.loose_density,
    )
    told = {caution.code for caution in understanding.loaded.cautions}
    return tuple(c for c in compare_doses(stated, ground, 0.15).cautions if c.code not in told)
