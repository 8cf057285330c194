"""Choose: which way of building is best on each area?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from earthfast import __version__
from earthfast.checks import Method
from earthfast.choice import Candidate, Found, Merit, find_ways, full_sweep, ways_of
from earthfast.estimate import Trail
from earthfast.ground import Stop
from earthfast.job import Choosing, FrostRule, JobProblems, LoadedJob, Problem
from earthfast.stages.answers import AreaChoice, ChooseAnswer, FrontPoint, WayLine, WinterLine
from earthfast.stages.board_saying import board_sentences
from earthfast.stages.clay_saying import clay_sentences
from earthfast.stages.fall_saying import fall_sentences
from earthfast.stages.frost_rules import meets_rule, rule_sentence, rules_caution
from earthfast.stages.judged import JudgedWay, judged_way
from earthfast.stages.limits import within_limits
from earthfast.stages.naming import strata_lines
from earthfast.stages.saying import area_cautions, area_sentences, keeps_within, level_on_strength
from earthfast.stages.showing import assumption_lines, caution_lines, with_unit
from earthfast.stages.treatment import hard_stop, stops_of
from earthfast.stages.understanding import Area, Understanding, understand
from earthfast.stages.wet_saying import wet_sentences
from earthfast.stages.winter_lines import winter_lines, winter_sentences
from earthfast.stages.wording import UNDATED, capitalised, listed, named_together, way_key, way_title

PLASTIC_FROM = 0.12  # plasticity index from which lime has something to react with
HAND_DEPTH, TILLER_DEPTH = 0.10, 0.15
TREATED = (Method.CEMENT, Method.LIME_CEMENT)
LEAST_SPOIL, TONNE, LEAST_DAYS = 100.0, 1000.0, 0.1
CHEAPEST = Merit(1.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class AreaDecision:
    """One area with the ways shown and the one chosen."""

    area: Area
    ways: tuple[JudgedWay, ...]
    chosen: JudgedWay | None
    line: AreaChoice


@dataclass(frozen=True, slots=True)
class Choice:
    """Everything `build` and `why` go on from."""

    understanding: Understanding
    decisions: tuple[AreaDecision, ...]
    answer: ChooseAnswer

    @property
    def set_aside(self) -> str:
        """That limits of the job were set aside, in a sentence before the ways; empty where they are kept."""
        limits = self.understanding.loaded.job.choose
        return _beyond_words(_beyond(self.decisions, limits))


def choose_for(loaded: LoadedJob) -> Choice:
    """Check and rank all ways for every area of a job."""
    understanding = understand(loaded)
    wanted = loaded.job.choose.way if loaded.job.choose else None
    judged = [_judge(area, understanding, wanted) for area in understanding.areas]
    winters = winter_lines([(one.area, one.ways) for one in judged], understanding.weather.warmest_day)
    decisions = tuple(_decided(one, its, understanding) for one, its in zip(judged, winters, strict=True))
    _refuse_unknown(wanted, decisions, loaded)
    return Choice(understanding, decisions, _answer(understanding, decisions))


def weights_of(loaded: LoadedJob) -> Merit:
    """How much each cost counts; the cheapest where nothing is said."""
    given = loaded.job.weights
    if given is None:
        return CHEAPEST
    weights = Merit(*(getattr(given, name) or 0.0 for name in ("price", "carbon", "spoil", "days")))
    return weights if any(weights.row) else CHEAPEST


def _ranked_by(weights: Merit) -> str:
    if weights == CHEAPEST:
        return "price: the cheapest that passes"
    names = ("price", "carbon", "spoil", "days")
    return "weights " + ", ".join(f"{name} {w:g}" for name, w in zip(names, weights.row, strict=True) if w)


def candidates_of(
    area: Area, understanding: Understanding, ends: Callable[[tuple[Stop, ...]], Stop | None] = hard_stop
) -> tuple[Candidate, ...]:
    """All ways of building on an area, with what they cost; none with treated soil where a stop ends that."""
    loaded, profile = understanding.loaded, understanding.profile
    sweep = full_sweep(mixing_depth(loaded), profile.topsoil)
    plasticity = float(np.median(profile.bearing_stratum.estimate.draws.plasticity_index))
    methods = [m for m in Method if m is not Method.LIME_CEMENT or plasticity >= PLASTIC_FROM]
    if area.usage.surface.is_slab:
        methods = [Method.SLAB]
    elif ends(stops_of(loaded.job, profile)):
        methods = [m for m in methods if m not in TREATED]
    surfaces = [replace(area.usage.surface, bedding_thickness=bed) for bed in area.usage.beds]
    ways = (way for method in methods for surface in surfaces for way in ways_of(method, surface, sweep))
    return tuple(Candidate(way, area.costing.cost(way).merit) for way in dict.fromkeys(ways))


def mixing_depth(loaded: LoadedJob) -> float:
    """How deep soil can be mixed with the tools at hand, m."""
    tools = loaded.job.tools
    if tools is None or tools.tiller is None:
        return HAND_DEPTH
    return tools.tiller.depth.centre if tools.tiller.depth else TILLER_DEPTH


@dataclass(frozen=True, slots=True)
class _Judged:
    """One area searched: the ways shown with their reasons, and the one chosen."""

    area: Area
    ways: tuple[JudgedWay, ...]
    chosen: JudgedWay | None
    front: tuple[FrontPoint, ...]
    swept: int
    on_strength: str

    @property
    def shown(self) -> JudgedWay:
        """The way chosen, or else the first."""
        return self.chosen or self.ways[0]


def _judge(area: Area, understanding: Understanding, wanted: str | None) -> _Judged:
    loaded = understanding.loaded
    weights = weights_of(loaded)
    candidates = candidates_of(area, understanding)
    allowed = allowed_of(candidates, area, loaded)
    found = find_ways(allowed, area.setting, area.usage.targets, weights)
    places = list(dict.fromkeys((*found.best, *found.nearest)))
    named = [i for i, c in enumerate(allowed) if way_key(c.way) == wanted]
    places = list(dict.fromkeys((*named, *places)))
    judged = [judged_way(allowed[place].way, area) for place in places]
    chosen = _chosen(judged, found, named)
    ways = tuple(_with_reason(way, chosen, weights) for way in judged)
    chosen = next((way for way in ways if chosen and way.line.key == chosen.line.key), None)
    front = _front(found, allowed, area.costing.prices.currency)
    is_soft = bool(understanding.profile.soft_strata)
    on_strength = "" if is_soft else level_on_strength(area, ways, chosen, allowed, found, weights)
    return _Judged(area, ways, chosen, front, len(candidates), on_strength)


def _decided(judged: _Judged, winters: tuple[WinterLine, ...], understanding: Understanding) -> AreaDecision:
    area, ways, chosen = judged.area, judged.ways, judged.chosen
    line = AreaChoice(
        name=area.entry.name,
        area_m2=round(area.costing.plan.area, 2),
        stands_on_it=area.usage.words,
        ways=tuple(way.line for way in ways),
        front=judged.front,
        chosen=chosen.line.key if chosen else None,
        ranked_by=_ranked_by(weights_of(understanding.loaded)),
        swept=judged.swept,
        says=(
            *_rules_first(area.entry.name, judged.shown.line, winters),
            *winter_sentences(winters, judged.shown),
            *rule_sentence(_rule_named(understanding.loaded), winters, judged.shown.line.key),
            *board_sentences(area, ways),
            *clay_sentences(area, judged.shown, understanding),
            *fall_sentences(area, ways, understanding),
            *wet_sentences(area, judged.shown),
            *area_sentences(area, ways, chosen, understanding, judged.on_strength),
        ),
        winters=winters,
    )
    return AreaDecision(area, ways, chosen, line)


def allowed_of(candidates: tuple[Candidate, ...], area: Area, loaded: LoadedJob) -> tuple[Candidate, ...]:
    """Those within the limits that the job sets; all where none is."""
    limits, density = loaded.job.choose, area.costing.ground.bank_density
    inside = tuple(c for c in candidates if within_limits(c.way, c.merit, limits, density)) or candidates
    return _meeting_rule(area, inside, loaded)


def _rules_first(name: str, shown: WayLine, winters: Sequence[WinterLine]) -> tuple[str, ...]:
    """The doubt about national frost rules, before everything else."""
    caution = rules_caution(name, shown, winters)
    return (f"{capitalised(caution.text)}.",) if caution else ()


def _meeting_rule(area: Area, candidates: tuple[Candidate, ...], loaded: LoadedJob) -> tuple[Candidate, ...]:
    """Those that meet the national frost rule the job names; all where it names none or none meets it."""
    rule = _rule_named(loaded)
    if rule is None:
        return candidates
    met = meets_rule(rule, area, [candidate.way for candidate in candidates])
    return tuple(one for one, meets in zip(candidates, met, strict=True) if meets) or candidates


def _rule_named(loaded: LoadedJob) -> FrostRule | None:
    return loaded.job.choose.frost_rule if loaded.job.choose else None


def _chosen(judged: Sequence[JudgedWay], found: Found, named: Sequence[int]) -> JudgedWay | None:
    if named:
        return judged[0]
    return judged[0] if found.best else None


def _with_reason(way: JudgedWay, chosen: JudgedWay | None, weights: Merit) -> JudgedWay:
    """Say why a way was chosen, came second, or fell."""
    line = way.line
    if chosen is not None and line.key == chosen.line.key:
        because = "chosen: " + (
            "the cheapest that passes" if weights == CHEAPEST else "ranks first by the weights"
        )
        if not line.passes:
            because = "named in the job, though it " + line.because
        return _reasoned(way, because)
    if line.passes and chosen is not None:
        return _reasoned(way, "passes, but " + _dearer(way, chosen))
    return way


def _dearer(way: JudgedWay, chosen: JudgedWay) -> str:
    """How a passing way compares with the chosen one on whatever it costs more or less of."""
    ours, theirs = way.cost.merit, chosen.cost.merit
    price = ours.price - theirs.price
    money = with_unit(f"{abs(price):,.0f}", chosen.cost.bill.currency)
    words = [f"costs {money} more" if price >= 0.0 else f"saves {money}"]
    carbon, spoil, days = ours.carbon - theirs.carbon, ours.spoil - theirs.spoil, ours.days - theirs.days
    words.append(f"carries {abs(carbon):,.0f} kg CO2e {'more' if carbon >= 0.0 else 'less'}")
    if abs(spoil) >= LEAST_SPOIL:
        words.append(f"sends away {abs(spoil) / TONNE:.1f} t {'more' if spoil >= 0.0 else 'less'} soil")
    if abs(days) >= LEAST_DAYS:
        words.append(f"takes {abs(days):.1f} days {'more' if days >= 0.0 else 'less'}")
    return ", ".join(words[:-1]) + " and " + words[-1]


def _reasoned(way: JudgedWay, because: str) -> JudgedWay:
    line: WayLine = way.line.model_copy(update={"because": because})
    return JudgedWay(way.way, way.cost, line)


def _front(found: Found, candidates: Sequence[Candidate], currency: str) -> tuple[FrontPoint, ...]:
    return tuple(
        FrontPoint(
            way=way_key(candidates[place].way),
            title=way_title(candidates[place].way),
            price=round(candidates[place].merit.price, 2),
            price_text=with_unit(f"{candidates[place].merit.price:,.0f}", currency),
            carbon_kg=round(candidates[place].merit.carbon, 1),
        )
        for place in found.front
    )


def _refuse_unknown(wanted: str | None, decisions: Sequence[AreaDecision], loaded: LoadedJob) -> None:
    if wanted is None or any(way.line.key == wanted for d in decisions for way in d.ways):
        return
    known = sorted({way.line.key for d in decisions for way in d.ways})
    accepted = f"the key of a way such as {', '.join(known)}"
    problem = Problem("choose.way", f"'{wanted}'", accepted, loaded.line("choose", "way"))
    raise JobProblems([problem], str(loaded.path or ""))


def _answer(understanding: Understanding, decisions: Sequence[AreaDecision]) -> ChooseAnswer:
    loaded = understanding.loaded
    trail = understanding.trail
    rules = [
        rules_caution(decision.line.name, (decision.chosen or decision.ways[0]).line, decision.line.winters)
        for decision in decisions
    ]
    cautions = [*(caution for caution in rules if caution), *understanding.cautions]
    effects: dict[str, float] = {}
    kept: set[str] = set()
    for decision in decisions:
        cautions += area_cautions(decision.area, decision.ways, decision.chosen, understanding)
        shown = decision.chosen or decision.ways[0]
        weakest = next(check for check in shown.line.checks if check.name == shown.line.weakest)
        for influence in trail.influences(weakest.key):
            effects[influence.key] = max(effects.get(influence.key, 0.0), influence.share)
        kept |= rests_on(decision, shown, trail)
    beyond = _beyond(decisions, loaded.job.choose)
    all_chosen = all(d.chosen is not None and d.chosen.line.passes for d in decisions)
    return ChooseAnswer(
        verb="choose",
        earthfast=__version__,
        job=loaded.job.heading.title,
        demonstration=bool(loaded.job.heading.invented),
        headline=f"{understanding.for_engineer}{_beyond_words(beyond)}{_headline(decisions)}",
        cautions=caution_lines(named_together(cautions, [one.line.name for one in decisions])),
        assumptions=assumption_lines(trail, effects, kept),
        exit_status=0 if all_chosen and not beyond else 1,
        areas=tuple(decision.line for decision in decisions),
        draws=decisions[0].area.setting.draws.count,
        currency=decisions[0].area.costing.prices.currency,
        price_date=_price_date(decisions[0].area),
        strata=strata_lines(understanding.profile),
    )


def rests_on(decision: AreaDecision, way: JudgedWay, trail: Trail) -> set[str]:
    """Keys of what a way's checks rest on, and of what the area's quantities, use and targets take for granted."""
    leaves = {leaf.key for check in way.line.checks for leaf in trail.leaves(check.key)}
    prefix = decision.area.trail.prefix
    names = ("works.", "design_life", "target.", "paving_", "bedding_", "site.", "tyre.")
    return leaves | {
        key for key in trail.figures if key.startswith(tuple(f"{prefix}{name}" for name in names))
    }


def _price_date(area: Area) -> str:
    dates = (price.dated for price in area.costing.prices.prices.values())
    first = min((dated for dated in dates if dated is not None), default=None)
    return first.isoformat() if first else UNDATED


def _beyond(decisions: Sequence[AreaDecision], limits: Choosing | None) -> list[str]:
    """Areas where no way keeps within the limits of the job."""
    return [one.line.name for one in decisions if not keeps_within(one.area, one.ways, limits)]


def _beyond_words(names: Sequence[str]) -> str:
    """That limits of the job were set aside, in a sentence before the ways."""
    if not names:
        return ""
    return f"No way of building {listed(names)} keeps within the limits of the job; they are set aside. "


def _headline(decisions: Sequence[AreaDecision]) -> str:
    parts = []
    for decision in decisions:
        chosen = decision.chosen
        if chosen is None:
            parts.append(f"{decision.area.entry.name}: no way passes every check")
        else:
            passes = "" if chosen.line.passes else " (named in the job; falls short)"
            parts.append(f"{decision.area.entry.name}: {chosen.line.title}, {chosen.line.price.text}{passes}")
    return capitalised("; ".join(parts) + ".")
