"""Frost: how far do the winters of the design life lift the surface, and how unevenly?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.constants import day

from earthfast.checks.build_up import Material
from earthfast.checks.frozen_columns import (
    Frozen,
    column_of,
    frozen,
    ground_under,
    layered_columns,
    prepare_frost,
)
from earthfast.checks.lift import (
    differences,
    frost_heave,
    pore_lift,
    susceptibility_left,
    uneven_lift,
    water_supply,
    whole_lift_stood,
)
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.checks.worst import capacity_that_governs, demand_that_governs
from earthfast.estimate import (
    Band,
    FloatLike,
    Floats,
    Meaning,
    Origin,
    Quantity,
    Trail,
    lognormal,
    lognormal_from_band,
)
from earthfast.frost import (
    PavingKind,
    ThermalProperties,
    allowable_movement,
    differential_movement,
    frost_depth_berggren_layered,
    frozen_winters,
)
from earthfast.loads import Motion
from earthfast.sources import source_note

SEASON_PER_ROOT = 4.5  # days for the root of one K·day
DEPTH_ERROR = lognormal(1.0, 0.12)
UNEVEN = lognormal_from_band(
    float(differential_movement(1.0, is_variable=False)), float(differential_movement(1.0, is_variable=True))
)
BERGGREN_BAND = 0.2
GRADIENT = "Temperature gradient at the front over the winter while in"
COVER_WEIGHT = 18.0e3  # N/m³
Read = Callable[[str, str, str, str, Floats], Quantity]
STANDS = {
    Material.BLOCKS: PavingKind.BLOCKS,
    Material.FLAGS: PavingKind.FLAGS_ON_SAND,
    Material.CONCRETE: PavingKind.MORTAR_BEDDED_FLAGS,
    Material.BEDDING_SAND: PavingKind.BLOCKS,
    Material.GRAVEL: PavingKind.BLOCKS,
}
WHERE = (
    "between places 3 m apart",
    "between the middle and the edge against the verge",
    "between the open part and the part in shade",
    "as a whole",
)


def freezing_season_length(freezing_index: FloatLike) -> Floats:
    """Length of a freezing season from its frost index.

    Parameters
    ----------
    freezing_index : array-like
        Air freezing index of the winter. [K·s]

    Returns
    -------
    season : array-like
        Length of the season. [s]

    Notes
    -----
    t = 4.5 √F days, F the index in K·day: fitted to worked examples from 120 K·day in 50 days to 1389 K·day in 160 days.
    A sine gives no season at all for mild winters, where single cold spells do the work.

    References
    ----------
    earthfast_proposal, fit to worked examples [P]
    """
    days = SEASON_PER_ROOT * np.sqrt(np.maximum(np.asarray(freezing_index, dtype=np.float64), 0.0) / day)
    return np.asarray(np.maximum(days, 1.0) * day)


@dataclass(frozen=True, slots=True)
class Lifts:
    """Lift in the open, at the edge and in the shade, shape (ways, draws), m, and the share that is uneven."""

    open: Floats
    uneven: Floats
    verge: Floats
    shade: Floats
    frozen: Frozen


def frost_in_open(case: Case, freezing_index: FloatLike) -> Frozen:
    """What frost does in the open in every way under air freezing indices (K·s), one a draw."""
    error = case.draws.of("frost model", DEPTH_ERROR)
    return frozen(case, freezing_index, case.winters.surface_factor.values, error)


def lifts_in(case: Case, freezing_index: FloatLike) -> Lifts:
    """Lift of every way under winters of given air freezing indices (K·s), one a draw."""
    winters, error = case.winters, case.draws.of("frost model", DEPTH_ERROR)
    factors = (winters.surface_factor, winters.verge_factor, winters.shade_factor)
    found: list[tuple[Frozen, Floats]] = []
    for place, factor in enumerate(factors):
        same = next((i for i in range(place) if np.array_equal(factors[i].values, factor.values)), None)
        if same is not None:  # nothing shades it
            found.append(found[same])
            continue
        one = frozen(case, freezing_index, factor.values, error)
        found.append((one, lift_of(case, one)))
    (first, in_open), (_, at_verge), (_, in_shade) = found
    return Lifts(in_open, case.draws.of("uneven share", UNEVEN), at_verge, in_shade, first)


def lift_of(case: Case, one: Frozen) -> Floats:
    """Lift of the surface in every way and draw, m."""
    ground = case.ground
    return frost_heave(
        one.ground_gradient,
        one.treated_gradient,
        susceptibility_left(case.mix.strength.values),
        ground.segregation_potential.values,
        ground_under(case).frozen_conductivity,
        _cover_weight(case),
        pore_lift(one.ground, ground.dry_density.values, ground.water_content.values, ground.drains.values),
        water_supply(ground.water_depth.values, one.depth, ground.capillary_rise.values),
    )


def _cover_weight(case: Case) -> Floats:
    return np.array([way.build_up.thickness for way in case.ways])[:, None] * COVER_WEIGHT


@check(
    CheckName.FROST,
    "Does frost lift it unevenly, or too far?",
    "frost would lift it unevenly or too far",
    prepare_frost,
)
def frost(case: Case, trail: Trail) -> CheckResult:
    """Judge lift in the coldest winter of the design life, uneven and as a whole, against what the surface stands."""
    steps = trail.under("frost")
    lifts = lifts_in(case, case.winters.freezing_index.values)
    if trail.recording:
        _record_berggren(case, steps)
    _record_depth(case, lifts, steps)
    share = steps.enter(
        "uneven",
        Meaning("Share of the lift that is uneven over 3 m", "-", "%"),
        lifts.uneven,
        Origin.ASSUMED,
        "a quarter on uniform ground, half on variable ground",
        (source_note("earthfast_proposal, share of the total [P]"),),
    )
    uneven = steps.follow(
        "uneven_lift",
        Meaning("Uneven lift over 3 m", "m", "mm"),
        uneven_lift(lifts.open, lifts.uneven, lifts.verge, lifts.shade),
        uneven_lift,
        lambda: _told_lifts(case, share, steps),
    )
    stood, applies = _allowed(case, steps), np.ones(len(case.ways))
    if _is_open_to_vehicles(case):
        return CheckResult(_for_all(uneven, case), _for_all(stood, case), _where(lifts, stood, None), applies)
    whole_stood = _allowed_whole(case, steps)
    heave = Quantity(f"{steps.prefix}heave", lifts.open)
    demand, capacity = _nearer(uneven, stood, heave, whole_stood, steps)
    return CheckResult(demand, capacity, _where(lifts, stood, whole_stood), applies)


def _nearer(
    uneven: Quantity, stood: Quantity, whole: Quantity, whole_stood: Quantity, steps: Trail
) -> tuple[Quantity, Quantity]:
    """Lift and limit, uneven or as a whole, whichever is nearer to its limit."""
    sides = {
        "first_demand": uneven,
        "first_capacity": stood,
        "second_demand": whole,
        "second_capacity": whole_stood,
    }
    judged = Meaning(
        "Lift judged, uneven over 3 m or as a whole, whichever is nearer to its limit", "m", "mm"
    )
    limit = Meaning("Lift of that kind that the surface stands", "m", "mm")
    return (
        steps.derive("lift_judged", judged, demand_that_governs, sides),
        steps.derive("lift_stood", limit, capacity_that_governs, sides),
    )


def _for_all(quantity: Quantity, case: Case) -> Quantity:
    return Quantity(quantity.key, np.broadcast_to(quantity.values, case.shape))


def _is_open_to_vehicles(case: Case) -> bool:
    """Whether vehicles use it away from walls: they do not mind that all of it rises alike."""
    wheels = any(load.needs_engineer and load.motion is Motion.ROLLING for load in case.loads)
    return wheels and not case.is_beside_building


def _where(lifts: Lifts, stood: Quantity, whole_stood: Quantity | None) -> tuple[str, ...]:
    """Where most of the lift comes from in the worst twentieth of draws of each way."""
    parts = differences(lifts.open, lifts.uneven, lifts.verge, lifts.shade) / stood.values
    if whole_stood is not None:
        parts = np.concatenate([parts, (lifts.open / whole_stood.values)[None]])
    count = max(parts.shape[-1] // 20, 1)
    worst = np.argsort(parts.max(axis=0), axis=-1)[:, -count:]
    means = np.take_along_axis(parts, worst[None], axis=-1).mean(axis=-1)
    return tuple(f"the coldest winter, {WHERE[index]}" for index in means.argmax(axis=0))


def _depth_error(case: Case, steps: Trail) -> Quantity:
    return steps.enter(
        "model_error",
        Meaning("True over computed frost depth", "-", "-"),
        case.draws.of("frost model", DEPTH_ERROR),
        Origin.ASSUMED,
        "winters of one index differ, and so does the water in the ground",
        (source_note("earthfast_proposal, log-standard deviation 0.12 [P]"),),
    )


def _record_depth(case: Case, lifts: Lifts, steps: Trail) -> None:
    """Record frost depth and the ground frozen."""
    winters = case.winters
    cold = (winters.freezing_index, winters.surface_factor, _depth_error(case, steps))
    for key, meaning, depth in (
        ("depth", "Frost depth in the coldest winter of the design life", lifts.frozen.depth),
        ("frozen_ground", "Frost-susceptible ground frozen in the coldest winter", lifts.frozen.ground),
    ):
        steps.conclude(key, Meaning(meaning, "m", "mm"), depth, cold, frozen_winters)


def _told_lifts(case: Case, share: Quantity, steps: Trail) -> dict[str, Quantity]:
    """Tell the lift in the open, at the edge, and in the shade where that differs, as `uneven_lift` takes them."""
    winters, error = case.winters, _depth_error(case, steps)
    in_open = _told_lift(case, winters.surface_factor, error, "in the open", steps)
    at_edge = _told_lift(case, winters.verge_factor, error, "at the edge", steps.under("edge"))
    shade = in_open
    if not np.array_equal(winters.shade_factor.values, winters.surface_factor.values):
        shade = _told_lift(case, winters.shade_factor, error, "in the shade", steps.under("shade"))
    return {"heave": in_open, "share": share, "at_verge": at_edge, "in_shade": shade}


def _told_lift(case: Case, factor: Quantity, error: Quantity, where: str, steps: Trail) -> Quantity:
    """Tell how the coldest winter lifts the surface under a surface factor."""
    ground = case.ground
    under = frozen(case, case.winters.freezing_index.values, factor.values, error.values)

    def read(key: str, label: str, unit: str, shown_in: str, values: Floats) -> Quantity:
        cold = (case.winters.freezing_index, factor, error)
        return steps.conclude(key, Meaning(f"{label}, {where}", unit, shown_in), values, cold, frozen_winters)

    in_pores = steps.derive(
        "pore_lift",
        Meaning(f"Lift by pore water that freezes where it is, {where}", "m", "mm"),
        pore_lift,
        {
            "frozen_thickness": read("frozen_ground", "Ground that heaves frozen", "m", "mm", under.ground),
            "dry_density": ground.dry_density,
            "water_content": ground.water_content,
            "drains": ground.drains,
        },
    )
    return steps.derive(
        "heave",
        Meaning(f"Lift by frost in the coldest winter, {where}", "m", "mm"),
        frost_heave,
        {
            "ground_gradient": read(
                "ground_gradient", f"{GRADIENT} natural ground", "K s/m", "K day/m", under.ground_gradient
            ),
            "treated_gradient": read(
                "treated_gradient", f"{GRADIENT} treated soil", "K s/m", "K day/m", under.treated_gradient
            ),
            "treated_share": _told_susceptibility(case, steps),
            "segregation_potential": ground.segregation_potential,
            "frozen_conductivity": _told_conductivity(case, steps),
            "overburden": _told_weight(case, steps),
            "pore_lift": in_pores,
            "supply": _told_supply(case, under.depth, where, read, steps),
        },
    )


def _told_supply(case: Case, depth: Floats, where: str, read: Read, steps: Trail) -> Quantity:
    front = read("front_depth", "Depth of the front", "m", "mm", depth)
    ground = case.ground
    return steps.derive(
        "water_supply",
        Meaning(f"Share of the water it would draw that reaches the front, {where}", "-", "%"),
        water_supply,
        {"water_depth": ground.water_depth, "front_depth": front, "capillary_rise": ground.capillary_rise},
    )


def _told_conductivity(case: Case, steps: Trail) -> Quantity:
    return steps.enter(
        "frozen_conductivity",
        Meaning("Conductivity of the frozen ground", "W/(m K)", "W/(m K)"),
        ground_under(case).frozen_conductivity,
        Origin.DERIVED,
        "from density, water and grains at their medians, by Côté and Konrad",
    )


def _told_weight(case: Case, steps: Trail) -> Quantity:
    meaning = Meaning("Weight on formation", "Pa", "kPa")
    because = "all courses of this way, at 18 kN/m³"
    return steps.enter("overburden", meaning, _cover_weight(case), Origin.DERIVED, because)


def _told_susceptibility(case: Case, steps: Trail) -> Quantity:
    meaning = Meaning("Frost susceptibility left in treated soil", "-", "%")
    if not case.thickness(Material.TREATED_SOIL).any():
        return steps.enter("susceptibility_left", meaning, 0.0, Origin.DERIVED, "nothing is treated")
    return steps.derive(
        "susceptibility_left", meaning, susceptibility_left, {"compressive_strength": case.mix.strength}
    )


def _record_berggren(case: Case, steps: Trail) -> None:
    """Record the depth that modified Berggren gives in the usual coldest winter, with the band it deserves."""
    depth = berggren_depth(case)
    steps.conclude(
        "depth_berggren",
        Meaning("Cross-check: frost depth by modified Berggren in that winter", "m", "mm"),
        depth,
        (case.winters.freezing_index, case.winters.season, case.winters.surface_factor),
        frost_depth_berggren_layered,
        Band((1.0 - BERGGREN_BAND) * depth, depth, (1.0 + BERGGREN_BAND) * depth),
    )


def berggren_depth(case: Case) -> float:
    """Frost depth by modified Berggren under the first way in the usual coldest winter of the design life, m."""
    index = float(np.median(case.winters.freezing_index.values))
    if index <= 0.0:
        return 0.0
    return _berggren_depth(
        column_of(case.ways[0].build_up),
        ground_under(case),
        index,
        index * float(np.median(case.winters.surface_factor.values)),
        float(np.median(case.winters.mean_annual_temperature.values)),
    )


@lru_cache(maxsize=1024)  # areas side by side share their ways
def _berggren_depth(
    column: tuple[float, ...],
    soil: ThermalProperties,
    air_index: float,
    surface_index: float,
    mean_annual_temperature: float,
) -> float:
    layers = layered_columns(np.array([column]), soil)

    def mean_of(property_name: str) -> Floats:
        frozen_value, thawed = (
            layers.layer_values(f"{state}_{property_name}")[0] for state in ("frozen", "unfrozen")
        )
        return np.asarray(0.5 * (frozen_value + thawed))

    return float(
        frost_depth_berggren_layered(
            surface_index,
            float(freezing_season_length(air_index)),
            mean_annual_temperature,
            layers.thickness[0],
            mean_of("conductivity"),
            mean_of("capacity"),
            layers.layer_values("latent_heat")[0],
        ).depth
    )


def _allowed(case: Case, steps: Trail) -> Quantity:
    surfaces = [way.build_up.courses[0].material for way in case.ways]
    return steps.enter(
        "allowed",
        Meaning("Uneven lift that the surface stands", "m", "mm"),
        np.array([allowable_movement(STANDS[surface]).differential for surface in surfaces])[:, None],
        Origin.ASSUMED,
        "over 3 m: 10 mm for blocks and bare bases, 5 mm for flags on sand, 3 mm for thin slabs",
        (source_note("earthfast_proposal, from surface regularity limits [P]"),),
    )


def _allowed_whole(case: Case, steps: Trail) -> Quantity:
    limits = [allowable_movement(STANDS[way.build_up.courses[0].material]) for way in case.ways]
    total, at_wall = (
        np.array([getattr(one, name) for one in limits])[:, None] for name in ("total", "at_threshold")
    )
    return steps.enter(
        "allowed_whole",
        Meaning("Lift as a whole that the surface stands", "m", "mm"),
        whole_lift_stood(total, at_wall, float(case.is_beside_building)),
        Origin.ASSUMED,
        "15 mm where it meets a wall or a threshold, else 25 mm; not judged under vehicles away from walls",
        (source_note("earthfast_proposal, working limits [P]"),),
    )
