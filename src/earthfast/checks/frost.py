"""Frost: how far do the winters of the design life lift the surface, and how unevenly?"""

from __future__ import annotations

from dataclasses import dataclass

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
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
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
    allowable_movement,
    coupled_front_gradient,
    differential_movement,
    frost_depth_berggren_layered,
    frozen_winters,
    in_place_heave,
    segregation_heave,
    segregation_potential_under,
)
from earthfast.frost.heave import EXPANSION
from earthfast.frost.rules import HEAVE_FREE_STRENGTH
from earthfast.ground.stratum_draws import GRAIN_DENSITY_RATIO
from earthfast.sources import source_note
from earthfast.sources.constants import WATER_DENSITY

SEASON_PER_ROOT = 4.5  # days for the root of one K·day
DEPTH_ERROR = lognormal(1.0, 0.12)
UNEVEN = lognormal_from_band(
    float(differential_movement(1.0, is_variable=False)), float(differential_movement(1.0, is_variable=True))
)
BERGGREN_BAND = 0.2
GRADIENT = "Temperature gradient at the front over the winter while in"
OVERBURDEN_SENSITIVITY = 6.0e-6  # 1/Pa
COVER_WEIGHT = 18.0e3  # N/m³
STANDS = {
    Material.BLOCKS: PavingKind.BLOCKS,
    Material.FLAGS: PavingKind.FLAGS_ON_SAND,
    Material.CONCRETE: PavingKind.MORTAR_BEDDED_FLAGS,
    Material.BEDDING_SAND: PavingKind.BLOCKS,
}
WHERE = (
    "between places 3 m apart",
    "between the middle and the edge against the verge",
    "between the open part and the part in shade",
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


def frost_heave(
    ground_gradient: FloatLike,
    treated_gradient: FloatLike,
    treated_share: FloatLike,
    segregation_potential: FloatLike,
    frozen_conductivity: FloatLike,
    overburden: FloatLike,
    pore_lift: FloatLike,
) -> Floats:
    """Lift of the surface by one winter.

    Parameters
    ----------
    ground_gradient : array-like
        Time integral of the temperature gradient at the front while it stood in natural ground. [K·s/m]
    treated_gradient : array-like
        The same while it stood in treated soil. [K·s/m]
    treated_share : array-like
        Susceptibility left in the treated soil. [-]
    segregation_potential : array-like
        Water drawn to the front per gradient, without overburden. [m²/(K·s)]
    frozen_conductivity : array-like
        Of the frozen ground. [W/(m·K)]
    overburden : array-like
        Weight on formation. [Pa]
    pore_lift : array-like
        Lift by pore water that freezes where it is. [m]

    Returns
    -------
    heave : array-like
        Lift of the surface. [m]

    Notes
    -----
    h = 1.09 SP (G_g + s G_t)/(1 − 334·10⁶ SP/k_f) + h_p with SP = SP₀ exp(−a σ), a 6 per MPa; G_g, G_t, s, SP₀, k_f, σ, h_p in
    the order of the arguments. G comes from heat flow through each winter without intake; the bracket allows for the heat of
    the water drawn in at equal frozen thickness, which errs towards more heave.

    References
    ----------
    konrad_morgenstern_1981, segregation potential [S]
    earthfast_proposal, allowance for the heat of the water drawn in [P]
    """
    potential = segregation_potential_under(segregation_potential, OVERBURDEN_SENSITIVITY, overburden)
    gradient = np.asarray(ground_gradient) + np.asarray(treated_share) * treated_gradient
    coupled = coupled_front_gradient(gradient, potential, frozen_conductivity)
    return np.asarray(segregation_heave(potential, coupled) + pore_lift)


def pore_lift(
    frozen_thickness: FloatLike, dry_density: FloatLike, water_content: FloatLike, drains: FloatLike
) -> Floats:
    """Lift by pore water that freezes where it is, as far as the pores have no room for it.

    Parameters
    ----------
    frozen_thickness : array-like
        Thickness of natural ground frozen. [m]
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water by dry mass. [-]
    drains : array-like
        1 where the ground lets its water go as it freezes, else 0. [-]

    Returns
    -------
    lift : array-like
        Lift of the surface. [m]

    Notes
    -----
    h = n (1.09 S − 1) X where that is above 0 and the ground does not drain: n = 1 − ρ_d/2680, S = ρ_d w/(1000 n) at most 1. Up
    to a saturation of 0.92 the ice finds room.

    References
    ----------
    definition, expansion of water on freezing into the air voids [C]
    """
    porosity = 1.0 - np.asarray(dry_density) / (GRAIN_DENSITY_RATIO * WATER_DENSITY)
    saturation = np.minimum(np.asarray(dry_density) * water_content / (WATER_DENSITY * porosity), 1.0)
    surplus = np.maximum(EXPANSION * saturation - 1.0, 0.0) / (EXPANSION - 1.0)
    held = np.where(np.asarray(drains) > 0.0, 0.0, surplus)
    return np.asarray(in_place_heave(porosity * held, frozen_thickness))


def susceptibility_left(compressive_strength: FloatLike) -> Floats:
    """Share of its frost susceptibility that treated soil keeps.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength, soaked. [Pa]

    Returns
    -------
    share : array-like
        1 for untreated soil, 0 from 2 MPa. [-]

    Notes
    -----
    s = max(0, 1 − q/2 MPa), q the strength. Bound mixtures show no measurable heave above 2 MPa; the line below is ours.

    References
    ----------
    uk_bound_mixture_frost_note, no heave above 2 MPa [S]
    earthfast_proposal, straight line below [P]
    """
    return np.clip(1.0 - np.asarray(compressive_strength) / HEAVE_FREE_STRENGTH, 0.0, 1.0)


def uneven_lift(heave: FloatLike, share: FloatLike, at_verge: FloatLike, in_shade: FloatLike) -> Floats:
    """Largest difference of lift between neighbouring places.

    Parameters
    ----------
    heave : array-like
        Lift in the open, away from edges. [m]
    share : array-like
        Share of it that a place 3 m away does not have. [-]
    at_verge : array-like
        Lift at the edge, where the cover of the verge keeps some of the cold out. [m]
    in_shade : array-like
        Lift in the shade of a building or trees. [m]

    Returns
    -------
    difference : array-like
        Difference over about 3 m. [m]

    Notes
    -----
    d = max(s h, h − h_v, h_s − h), with h, s, h_v, h_s in the order of the arguments: what the ground makes of it over 3 m,
    or the edge, or the shade.

    References
    ----------
    earthfast_proposal, edge and shade by their surface factors [P]
    """
    return np.asarray(np.max(_differences(heave, share, at_verge, in_shade), axis=0))


def _differences(heave: FloatLike, share: FloatLike, at_verge: FloatLike, in_shade: FloatLike) -> Floats:
    lift = np.asarray(heave)
    return np.stack(np.broadcast_arrays(np.asarray(share) * lift, lift - at_verge, in_shade - lift))


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
    by_factor = [frozen(case, freezing_index, factor.values, error) for factor in factors]
    lifts = [lift_of(case, one) for one in by_factor]
    return Lifts(lifts[0], case.draws.of("uneven share", UNEVEN), lifts[1], lifts[2], by_factor[0])


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
    )


def _cover_weight(case: Case) -> Floats:
    return np.array([way.build_up.thickness for way in case.ways])[:, None] * COVER_WEIGHT


@check(CheckName.FROST, "Does frost lift it unevenly?", "frost would lift it unevenly", prepare_frost)
def frost(case: Case, trail: Trail) -> CheckResult:
    """Judge uneven lift in the coldest winter of the design life against what the surface stands."""
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
    demand = steps.follow(
        "uneven_lift",
        Meaning("Uneven lift over 3 m", "m", "mm"),
        uneven_lift(lifts.open, lifts.uneven, lifts.verge, lifts.shade),
        uneven_lift,
        lambda: _told_lifts(case, steps) | {"share": share},
    )
    allowed = _allowed(case, steps)
    shape = (len(case.ways), case.draws.count)
    return CheckResult(
        Quantity(demand.key, np.broadcast_to(demand.values, shape)),
        Quantity(allowed.key, np.broadcast_to(allowed.values, shape)),
        _where(lifts),
        np.ones(len(case.ways)),
    )


def _where(lifts: Lifts) -> tuple[str, ...]:
    """Where most of the unevenness comes from in the worst twentieth of draws of each way."""
    parts = _differences(lifts.open, lifts.uneven, lifts.verge, lifts.shade)
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


def _told_lifts(case: Case, steps: Trail) -> dict[str, Quantity]:
    """Tell the lift in the open, at the edge, and in the shade where that differs."""
    winters, error = case.winters, _depth_error(case, steps)
    in_open = _told_lift(case, winters.surface_factor, error, "in the open", steps)
    at_edge = _told_lift(case, winters.verge_factor, error, "at the edge", steps.under("edge"))
    shade = in_open
    if not np.array_equal(winters.shade_factor.values, winters.surface_factor.values):
        shade = _told_lift(case, winters.shade_factor, error, "in the shade", steps.under("shade"))
    return {"heave": in_open, "at_verge": at_edge, "in_shade": shade}


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
        },
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
    column = np.array([column_of(case.ways[0].build_up)])
    soil = ground_under(case)
    layers = layered_columns(column, soil)
    index = float(np.median(case.winters.freezing_index.values))
    if index <= 0.0:
        return 0.0

    def mean_of(property_name: str) -> Floats:
        frozen_value, thawed = (
            layers.layer_values(f"{state}_{property_name}")[0] for state in ("frozen", "unfrozen")
        )
        return np.asarray(0.5 * (frozen_value + thawed))

    return float(
        frost_depth_berggren_layered(
            index * float(np.median(case.winters.surface_factor.values)),
            float(freezing_season_length(index)),
            float(np.median(case.winters.mean_annual_temperature.values)),
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
