"""What a trial is asked: strength, confidence, way of treating, mixing, and what a wrong dose costs."""

from __future__ import annotations

from dataclasses import dataclass

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
    field_factor,
    local_log_sd,
    mean_dose_exponent,
    mixing_scatter,
)
from earthfast.mixes.field_strength import FIELD_LOG_SD, FIELD_MEDIAN
from earthfast.sources import SourceNote, source_note
from earthfast.stages.costing import COMPACTED_TO, FABRIC_FINES, WETTER_THAN_OPTIMUM, plan_of
from earthfast.stages.pricing import price_list_of
from earthfast.stages.setting import LOADED_AREA, mixing_of
from earthfast.stages.trials import Trial
from earthfast.works import Goods, goods_row

USUAL_TARGET, USUAL_AGE, USUAL_CONFIDENCE = 1.5e6, 28.0 * day, 0.90
USUAL_DEPTH = 0.15
AIR_AT_OPTIMUM = 0.05
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


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a trial, in SI, with the figures it came from.

    Attributes
    ----------
    method : way of treating.
    target, target_age : strength wanted and when, slenderness 1, soaked.
    confidence : chance wanted that a spot of the layer reaches it.
    mixing : how the layer is mixed.
    present_dose : as the job states it; None where it does not.
    mix : densities and water.
    depth, area : of the treated layer.
    inputs : the figures, for the trail.
    """

    method: Method
    target: float
    target_age: float
    confidence: float
    mixing: Mixing
    present_dose: float | None
    mix: MixTarget
    depth: float
    area: float
    inputs: tuple[Quantity, ...]


def asked_of(
    loaded: LoadedJob, trial: Trial, ground: StratumDraws, confidence: float | None, trail: Trail
) -> Asked:
    """What the job asks of its trial; every default is entered as assumed."""
    job = loaded.job
    _refuse_nothing(loaded)
    typed = job.trial
    target = _given(trail, "target", Meaning("Strength wanted on site, soaked", "Pa", "MPa"),
                    typed.target_strength.centre if typed and typed.target_strength else None,
                    USUAL_TARGET, "for feet and light wheels; say trial.target_strength",
                    WINDOW)  # fmt: skip
    age = _given(trail, "target_age", Meaning("Age at which it is wanted", "s", "days"),
                 typed.target_age.centre if typed and typed.target_age else None,
                 USUAL_AGE, "strength is usually told at 28 days; say it as trial.target_age",
                 (source_note("common_practice, 28 days [CP]"),))  # fmt: skip
    sure = _given(trail, "confidence", Meaning("Chance wanted that a spot reaches it", "-", "%"),
                  confidence, USUAL_CONFIDENCE, "nine spots in ten; ask otherwise with --confidence",
                  (PROPOSED,))  # fmt: skip
    mixing = mixing_of(job)
    mix = _mix_target(job.binder, ground, trail)
    depth = _depth(job, trail)
    return Asked(
        method=_method(job, trial),
        target=float(target.values),
        target_age=float(age.values),
        confidence=float(sure.values),
        mixing=mixing,
        present_dose=_present_dose(job.binder, mix.layer_density, depth),
        mix=mix,
        depth=depth,
        area=float(sum(plan_of(area).area for area in job.plan.areas)),
        inputs=(target, age, sure, *_site_leaves(mixing, trail)),
    )


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


def _site_leaves(mixing: Mixing, trail: Trail) -> tuple[Quantity, ...]:
    """What is assumed of the way from the laboratory to a spot on site."""
    scatter = trail.enter(
        "dose_scatter",
        Meaning(f"Scatter of the dose, mixed with {mixing.value}", "-", "%"),
        mixing_scatter(mixing).dose_cov,
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


def _method(job: Job, trial: Trial) -> Method:
    """The way most specimens speak for; before any, the binder the job names."""
    counts = {method: len(trial.used_for(method)) for method in (Method.CEMENT, Method.LIME_CEMENT)}
    if any(counts.values()):
        return max(counts, key=lambda method: counts[method])
    kind = job.binder.kind if job.binder else None
    return Method.LIME_CEMENT if kind is BinderKind.LIME_CEMENT else Method.CEMENT


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


def _depth(job: Job, trail: Trail) -> float:
    typed = job.binder.mixing_depth if job.binder else None
    if typed is None and job.tools and job.tools.tiller:
        typed = job.tools.tiller.depth
    depth = _given(trail, "depth", Meaning("Depth of the treated layer", "m", "mm"),
                   typed.centre if typed else None, USUAL_DEPTH, "what a small tiller reaches",
                   (PROPOSED,))  # fmt: skip
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


def site_factor(asked: Asked, belief: StrengthBelief) -> StrengthFactor:
    """From the mean strength in the laboratory to a spot of the finished layer picked at random."""
    scatter = mixing_scatter(asked.mixing)
    exponent = mean_dose_exponent(belief)
    typical = field_factor(FieldPlace(scatter, LOADED_AREA, TYPICAL_SPOT), exponent)
    spots = float(local_log_sd(scatter, exponent, LOADED_AREA))
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
