"""What a trial is asked: strength, confidence, way of treating, mixing, and what a wrong dose costs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial

import numpy as np
from scipy.constants import day

from earthfast.checks import Method
from earthfast.estimate import Band, Meaning, Origin, Quantity, Trail
from earthfast.estimate.quantity import Z_BAND
from earthfast.ground import StratumDraws, max_dry_density_from_plastic_limit, zero_air_dry_density
from earthfast.job import BinderEntry, BinderKind, Job, JobProblems, LoadedJob, Problem, stated_doses
from earthfast.mixes import (
    DoseCosts,
    FieldPlace,
    Mixing,
    StrengthBelief,
    StrengthFactor,
    ages_within,
    field_factor,
    local_log_sd,
    mean_dose_exponent,
)
from earthfast.mixes.field_strength import FIELD_LOG_SD, FIELD_MEDIAN
from earthfast.sources import SourceNote, source_note
from earthfast.stages.choose import Choice
from earthfast.stages.costing import COMPACTED_TO, FABRIC_FINES, WETTER_THAN_OPTIMUM, plan_of
from earthfast.stages.pricing import price_list_of
from earthfast.stages.setting import mixing_of
from earthfast.stages.trial_design import DesignNeed
from earthfast.stages.trials import Trial
from earthfast.works import Goods, goods_row

USUAL_TARGET, USUAL_AGE, USUAL_CONFIDENCE = 1.5e6, 28.0 * day, 0.90
USUAL_DEPTH = 0.15
COMPARED = 2  # strengths shown: one to go by, one to compare with
LIME_FIRST = 0.03  # P: hydrated lime mixed in a day before the cement
AIR_AT_OPTIMUM = 0.05
PERCENT = 100.0
STONE_DENSITY = 2100.0  # kg/m³, compacted
REDONE = (
    2.0  # P: digging out a poor layer and carting it away costs about as much as the stone that replaces it
)
TYPICAL_SPOT = 0.5
PROPOSED = source_note("earthfast_proposal, no publication [P]")
WINDOW = (
    source_note("earthfast_proposal, 1.5 to 3 MPa is the useful window under a small base [P]"),
    source_note("irc_37, cementitious subbase from 1.5 MPa [S]"),
)


@dataclass(frozen=True, slots=True)
class MixTarget:
    """How specimens and layer are compacted: dry densities, kg/m³, and water of all dry mass."""

    specimen_density: float
    layer_density: float
    water: float
    field_water: float


class Spot(StrEnum):
    """Which spots of the finished layer a strength is asked of."""

    ANY = "a spot picked at random"
    WEAKEST = "the weakest twentieth of the layer"


class AskedBy(StrEnum):
    """Who asks for a strength."""

    JOB = "the job file"
    DESIGN = "the design"
    USUAL = "usual practice"


@dataclass(frozen=True, slots=True)
class StrengthAsked:
    """A strength somebody asks of the layer.

    Attributes
    ----------
    asked_by, because : who, and what for.
    strength : soaked, slenderness 1, Pa.
    spot : which spots shall have it.
    confidence : chance wanted that they do.
    """

    asked_by: AskedBy
    because: str
    strength: Quantity
    spot: Spot
    confidence: Quantity

    @property
    def target(self) -> float:
        """Strength asked, Pa."""
        return float(np.median(self.strength.values))

    @property
    def chance(self) -> float:
        """Chance wanted."""
        return float(self.confidence.values)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a trial, in SI, with the figures it came from.

    Attributes
    ----------
    method : way of treating.
    strengths : strengths asked, the one that governs first.
    target_age : when it is wanted.
    place : how the layer is mixed and what a load feels of it.
    mixing : how the layer is mixed.
    present_dose : as the job states it; None where it does not.
    mix : densities and water.
    lime_dose : lime mixed in before the cement; 0 for none.
    design : the treated layer that the trial serves; None where none is weighed.
    ages : at which the specimens of a mix are to be broken, within the time left, s.
    depth, area : of the treated layer.
    inputs : the figures, for the trail.
    """

    method: Method
    strengths: tuple[StrengthAsked, ...]
    target_age: float
    place: FieldPlace
    mixing: Mixing
    present_dose: float | None
    mix: MixTarget
    lime_dose: float
    design: DesignNeed | None
    ages: tuple[float, ...]
    depth: float
    area: float
    inputs: tuple[Quantity, ...]

    @property
    def design_dose(self) -> float | None:
        """Dose as Choose has it; None where no treated soil passes its checks."""
        return self.design.course.dose if self.design and self.design.passes else None

    @property
    def governs(self) -> StrengthAsked:
        """The strength that the answer goes by."""
        return self.strengths[0]

    @property
    def target(self) -> float:
        """Strength that the answer goes by, Pa."""
        return self.governs.target

    @property
    def confidence(self) -> float:
        """Chance wanted of reaching it."""
        return self.governs.chance


def asked_of(
    choice: Choice, trial: Trial, need: DesignNeed | None, confidence: float | None, trail: Trail
) -> Asked:
    """What the job and its design ask of the trial; every default is entered as assumed."""
    loaded, ground = choice.understanding.loaded, choice.understanding.profile.bearing_stratum.estimate.draws
    job = loaded.job
    _refuse_nothing(loaded)
    typed = job.trial
    strengths = _strengths(choice, need, confidence, trail)
    age = _given(trail, "target_age", Meaning("Age at which it is wanted", "s", "days"),
                 typed.target_age.centre if typed and typed.target_age else None,
                 USUAL_AGE, "strength is usually told at 28 days; say it as trial.target_age",
                 (source_note("common_practice, 28 days [CP]"),))  # fmt: skip
    mixing, place = mixing_of(job), choice.understanding.areas[0].setting.mix.place
    mix = _mix_target(job.binder, ground, trail)
    depth = _depth(job, need, trail)
    method = method_of(job, trial) or (need.way.way.method if need else Method.CEMENT)
    return Asked(
        method=method,
        strengths=strengths,
        target_age=float(age.values),
        place=place,
        mixing=mixing,
        present_dose=_present_dose(job.binder, mix.layer_density, depth),
        mix=mix,
        lime_dose=_lime_dose(method, need, trail),
        design=need,
        ages=ages_within(typed.time_left.low if typed and typed.time_left else USUAL_AGE),
        depth=depth,
        area=float(sum(plan_of(area).area for area in job.plan.areas)),
        inputs=(
            strengths[0].strength,
            age,
            strengths[0].confidence,
            *_site_leaves(mixing, place.scatter.dose_cov, trail),
        ),
    )


def _strengths(
    choice: Choice, need: DesignNeed | None, confidence: float | None, trail: Trail
) -> tuple[StrengthAsked, ...]:
    """What the job file asks, else a design with treated soil that passes, else what is usual; another to compare with."""
    typed = choice.understanding.loaded.job.trial
    asked: list[Callable[[float | None], StrengthAsked]] = []
    if typed and typed.target_strength:
        asked.append(partial(_of_the_job, typed.target_strength.centre, trail))
    by_design = need is not None and (need.passes or need.is_beside_another)
    if need is not None and by_design:
        asked.append(partial(_of_the_design, need, choice, trail))
    if len(asked) < COMPARED:
        asked.append(partial(_usual, trail))
    if need is not None and not by_design and len(asked) < COMPARED:
        asked.append(partial(_of_the_design, need, choice, trail))
    first, *others = asked
    return (first(confidence), *(one(None) for one in others))


def _of_the_job(typed: float, trail: Trail, confidence: float | None) -> StrengthAsked:
    meaning = Meaning("Strength wanted on site, soaked", "Pa", "MPa")
    strength = trail.enter("target", meaning, typed, Origin.GIVEN, "as asked")
    sure = _sure(trail, "confidence", confidence, USUAL_CONFIDENCE, "nine spots in ten")
    return StrengthAsked(AskedBy.JOB, "trial.target_strength", strength, Spot.ANY, sure)


def _of_the_design(need: DesignNeed, choice: Choice, trail: Trail, confidence: float | None) -> StrengthAsked:
    missing = need.check.target
    words = f"the design puts up with a {missing * PERCENT:.3g} % chance of missing it; ask otherwise with --confidence"
    sure = _sure(trail, "design_confidence", confidence, 1.0 - missing, words)
    failing = (
        "; no dose of this way passes every check"
        if need.is_beside_another
        else "; no dose passes every check"
    )
    because = need.check.governed_by + ("" if need.passes else failing)
    return StrengthAsked(AskedBy.DESIGN, because, need.strength(choice), Spot.WEAKEST, sure)


def _usual(trail: Trail, confidence: float | None) -> StrengthAsked:
    usual = trail.enter(
        "usual_strength",
        Meaning("Strength usual under feet and light wheels", "Pa", "MPa"),
        USUAL_TARGET,
        Origin.ASSUMED,
        "for feet and light wheels; say trial.target_strength",
        WINDOW,
    )
    sure = _sure(trail, "usual_confidence", confidence, USUAL_CONFIDENCE, "nine spots in ten")
    return StrengthAsked(AskedBy.USUAL, "a bound base for feet and light wheels", usual, Spot.ANY, sure)


def _sure(trail: Trail, key: str, asked: float | None, usual: float, because: str) -> Quantity:
    meaning = Meaning("Chance wanted of reaching the strength", "-", "%")
    return _given(trail, key, meaning, asked, usual, because, (PROPOSED,))


def method_of(job: Job, trial: Trial) -> Method | None:
    """The way most specimens speak for; before any, the binder the job names; None for none or lime alone."""
    counts = {method: len(trial.used_for(method)) for method in (Method.CEMENT, Method.LIME_CEMENT)}
    if any(counts.values()):
        return max(counts, key=lambda method: counts[method])
    kind = job.binder.kind if job.binder else None
    if kind is None or kind is BinderKind.LIME:
        return None
    return Method.LIME_CEMENT if kind is BinderKind.LIME_CEMENT else Method.CEMENT


def _lime_dose(method: Method, need: DesignNeed | None, trail: Trail) -> float:
    """Lime to mix in before the cement: as the design has it."""
    if method is not Method.LIME_CEMENT:
        return 0.0
    designed = need.course.lime_dose if need is not None else 0.0
    lime = trail.enter(
        "lime_dose",
        Meaning("Hydrated lime mixed in before the cement", "-", "%"),
        designed or LIME_FIRST,
        Origin.ASSUMED,
        "as Choose has it" if designed else "enough to make a plastic clay crumble",
        (source_note("earthfast_proposal, lime before cement [P]"),),
    )
    return float(lime.values)


def _refuse_nothing(loaded: LoadedJob) -> None:
    """A strength of nothing, or strength at no age, is no target."""
    typed = loaded.job.trial
    zeros = [
        (name, quantity)
        for name in ("target_strength", "target_age")
        for quantity in (getattr(typed, name, None),)
        if quantity is not None and quantity.low <= 0.0
    ]
    if zeros:
        problems = [
            Problem(f"trial.{name}", f"'{quantity}'", "a value above 0", loaded.line("trial", name))
            for name, quantity in zeros
        ]
        raise JobProblems(problems, str(loaded.path or ""))


def _site_leaves(mixing: Mixing, dose_cov: float, trail: Trail) -> tuple[Quantity, ...]:
    """What is assumed of the way from the laboratory to a spot on site."""
    scatter = trail.enter(
        "dose_scatter",
        Meaning(f"Scatter of the dose, mixed with {mixing.value}", "-", "%"),
        dose_cov,
        Origin.ASSUMED,
        "spread and depth together; no published figure for hand or tiller mixing was found",
        (source_note("earthfast_proposal, assumed scatter [P]"),),
    )
    spread = Z_BAND * FIELD_LOG_SD
    site = trail.enter(
        "site_ratio",
        Meaning("Strength on site over strength in the laboratory", "-", "%"),
        FIELD_MEDIAN,
        Origin.ASSUMED,
        "15 road jobs mixed in place; the scatter from job to job is ours",
        (source_note("melancon_shah_1976, field over design strength [S]"),),
        Band(FIELD_MEDIAN * float(np.exp(-spread)), FIELD_MEDIAN, FIELD_MEDIAN * float(np.exp(spread))),
    )
    return (scatter, site)


def _given(
    trail: Trail,
    key: str,
    meaning: Meaning,
    typed: float | None,
    usual: float,
    because: str,
    sources: tuple[SourceNote, ...],
) -> Quantity:
    if typed is not None:
        return trail.enter(key, meaning, typed, Origin.GIVEN, "as asked")
    return trail.enter(key, meaning, usual, Origin.ASSUMED, because, sources)


def _mix_target(binder: BinderEntry | None, ground: StratumDraws, trail: Trail) -> MixTarget:
    water = float(np.median(ground.optimum_water)) + WETTER_THAN_OPTIMUM
    if float(np.median(ground.fines)) > FABRIC_FINES:
        density = float(max_dry_density_from_plastic_limit(float(np.median(ground.plastic_limit))))
        note = source_note("sridharan_nagaraj_2005, 0.23 (93.3 - PL) [M]")
    else:
        density = float(zero_air_dry_density(water - WETTER_THAN_OPTIMUM, air=AIR_AT_OPTIMUM))
        note = source_note("earthfast_proposal, five per cent of air at the optimum [P]")
    dug = trail.enter(
        "field_water",
        Meaning("Water in the soil as it lies", "-", "%"),
        ground.water_content,
        Origin.OBSERVED,
        "from what was seen; weigh and dry a handful to know",
    )
    trail.enter("specimen_density", Meaning("Dry density to pack specimens to", "kg/m³", "kg/m³"),
                density, Origin.ASSUMED,
                "soil and binder; the standard maximum of such a soil", (note,))  # fmt: skip
    trail.enter("target_water", Meaning("Water of the mix, of all dry mass", "-", "%"), water,
                Origin.ASSUMED, "a point above the optimum of the soil",
                (source_note("from_memory, optimum to 2 points above [M]"),))  # fmt: skip
    typed = binder.soil_dry_density if binder else None
    layer = typed.centre if typed else COMPACTED_TO * density
    return MixTarget(density, layer, water, float(np.median(dug.values)))


def _depth(job: Job, need: DesignNeed | None, trail: Trail) -> float:
    typed = job.binder.mixing_depth if job.binder else None
    usual = need.course.thickness if need else USUAL_DEPTH
    because = "as Choose has it" if need else "what a small tiller reaches"
    depth = _given(trail, "depth", Meaning("Depth of the treated layer", "m", "mm"),
                   typed.centre if typed else None, usual, because, (PROPOSED,))  # fmt: skip
    return float(depth.values)


def _present_dose(binder: BinderEntry | None, soil_density: float, depth: float) -> float | None:
    if binder is None:
        return None
    if binder.dose is not None:
        return binder.dose.centre
    loose = binder.loose_density.centre if binder.loose_density else None
    bag = binder.bag_mass.centre if binder.bag_mass else None
    stated = stated_doses(binder, soil_density, loose, bag)
    return stated[0].areal_mass / (soil_density * depth) if stated else None


def site_factor(asked: Asked, belief: StrengthBelief, spot: Spot) -> StrengthFactor:
    """From the mean strength in the laboratory to a spot of the finished layer."""
    exponent = mean_dose_exponent(belief)
    if spot is Spot.WEAKEST:
        return field_factor(asked.place, exponent)
    typical = field_factor(replace(asked.place, weak_share=TYPICAL_SPOT), exponent)
    spots = float(local_log_sd(asked.place.scatter, exponent, asked.place.loaded_area))
    return StrengthFactor(typical.log_median, float(np.hypot(typical.log_sd, spots)))


@dataclass(frozen=True, slots=True)
class WrongDose:
    """What binder and a shortfall cost on the whole job, with the currency."""

    costs: DoseCosts
    currency: str


def wrong_dose(loaded: LoadedJob, asked: Asked, trail: Trail) -> WrongDose:
    """What a dose costs, and what it costs where the layer has to be dug out again, by the job's prices."""
    prices = price_list_of(loaded)
    cement, stone = prices.prices[Goods.CEMENT_BAG], prices.prices[Goods.STONE_LOOSE]
    volume = asked.area * asked.depth
    soil = volume * asked.mix.layer_density
    per_kilogram = cement.band.usual / goods_row(Goods.CEMENT_BAG).unit_size
    per_stone = stone.band.usual / goods_row(Goods.STONE_LOOSE).unit_size
    shortfall = trail.enter(
        "cost_of_shortfall",
        Meaning(
            "Cost of a layer that has to be dug out and replaced by stone", prices.currency, prices.currency
        ),
        REDONE * volume * STONE_DENSITY * per_stone,
        Origin.ASSUMED,
        "twice the price of the stone that would replace it",
        (PROPOSED,),
    )
    return WrongDose(DoseCosts(soil * per_kilogram, float(shortfall.values)), prices.currency)
