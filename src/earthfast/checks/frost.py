"""Frost: how much of the frost-susceptible ground freezes in the coldest winter, and does it lift unevenly?"""

from __future__ import annotations

import numpy as np
from scipy.constants import day

from earthfast.checks.build_up import Material
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.frost import (
    GrainKind,
    ThermalMaterial,
    ThermalProperties,
    conductivity_cote_konrad,
    frost_depth_berggren_layered,
    typical_thermal,
    volumetric_heat_capacity,
    volumetric_latent_heat,
)
from earthfast.sources import source_note

SEASON_PER_ROOT = 4.5  # days for the root of one K·day
NEVER_FROZEN_STRENGTH = 2.0e6  # Pa, bound mixtures above it show no heave
MODEL_ERROR = lognormal(1.10, 0.12)  # modified Berggren came out 4 to 17 % shallow
INDEX_NODES = 17
MOST_KNOWN = 20000  # columns kept
REACH_STEP = 1.25  # tables reach to a power of it, so that batches share them
UNEVEN = 0.5
EXPANSION, FREEZING_EXPANSION = 1.09, 334.0e6
QUARTZ = 0.3
ALLOWED = {
    Material.BLOCKS: 0.010,
    Material.FLAGS: 0.005,
    Material.CONCRETE: 0.005,
    Material.BEDDING_SAND: 0.010,
}
THERMAL = {
    Material.BLOCKS: ThermalMaterial.BLOCKS,
    Material.FLAGS: ThermalMaterial.CONCRETE,
    Material.CONCRETE: ThermalMaterial.CONCRETE,
    Material.BEDDING_SAND: ThermalMaterial.BEDDING_SAND,
    Material.CRUSHED_STONE: ThermalMaterial.CRUSHED_STONE,
    Material.TREATED_SOIL: ThermalMaterial.TREATED_SOIL,
}
ORDER = tuple(THERMAL)


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
    frozen_ground: FloatLike,
    frozen_treated: FloatLike,
    treated_share: FloatLike,
    segregation_potential: FloatLike,
    latent_heat: FloatLike,
    frozen_conductivity: FloatLike,
) -> Floats:
    """Lift of the surface from ice lenses in the ground that froze.

    Parameters
    ----------
    frozen_ground : array-like
        Thickness of natural ground frozen. [m]
    frozen_treated : array-like
        Thickness of treated soil frozen. [m]
    treated_share : array-like
        Susceptibility left in the treated soil. [-]
    segregation_potential : array-like
        Water drawn to the front per gradient. [m²/(K·s)]
    latent_heat : array-like
        Volumetric latent heat of the ground. [J/m³]
    frozen_conductivity : array-like
        Of the frozen ground. [W/(m·K)]

    Returns
    -------
    heave : array-like
        Lift of the surface. [m]

    Notes
    -----
    h = r (z_g + s z_t), r = 1.09 SP L/(k_f − 334·10⁶ SP), with z_g, z_t, s, SP, L, k_f in the order of the arguments: the closed
    form of the segregation potential without heat from below. It is the lower bound; a full heat balance gives 6 to 30 % more.

    References
    ----------
    konrad_morgenstern_1981, segregation potential [S]
    definition, closed form for any temperature history [C]
    """
    potential = np.asarray(segregation_potential, dtype=np.float64)
    ratio = EXPANSION * potential * latent_heat / (frozen_conductivity - FREEZING_EXPANSION * potential)
    return np.asarray(ratio * (np.asarray(frozen_ground) + np.asarray(treated_share) * frozen_treated))


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
    return np.clip(1.0 - np.asarray(compressive_strength) / NEVER_FROZEN_STRENGTH, 0.0, 1.0)


@check(CheckName.FROST, "Does frost lift it unevenly?", "frost would lift it unevenly")
def frost(case: Case, trail: Trail) -> CheckResult:
    """Judge uneven lift in the coldest winter of the design life against what the surface stands."""
    steps = trail.under("frost")
    soil = _frozen_soil(case)
    depth_factor = steps.enter(
        "model_error",
        Meaning("True over computed frost depth", "-", "-"),
        case.draws.of("frost model", MODEL_ERROR),
        Origin.ASSUMED,
        "the method came out 4 to 17 % shallow against full heat flow",
        (source_note("definition, comparison with full heat-flow solutions [C]"),),
    )
    frozen = _frozen(case, soil, depth_factor.values)
    winters = case.winters
    steps.conclude(
        "depth",
        Meaning("Frost depth in the coldest winter of the design life", "m", "mm"),
        frozen[2],
        (case.winters.freezing_index, case.winters.season, case.winters.surface_factor, depth_factor),
        frost_depth_berggren_layered,
    )
    ground = steps.conclude(
        "frozen_ground",
        Meaning("Frost-susceptible ground frozen in the coldest winter", "m", "mm"),
        frozen[0],
        (winters.freezing_index, winters.season, winters.surface_factor, depth_factor),
        frost_depth_berggren_layered,
    )
    left = steps.derive(
        "susceptibility_left",
        Meaning("Frost susceptibility left in treated soil", "-", "%"),
        susceptibility_left,
        {"compressive_strength": case.mix.strength},
    )
    treated = (left,) if case.thickness(Material.TREATED_SOIL).any() else ()
    heave = steps.conclude(
        "heave",
        Meaning("Lift by frost", "m", "mm"),
        frost_heave(
            ground.values,
            frozen[1],
            left.values,
            case.ground.segregation_potential.values,
            soil.latent_heat,
            soil.frozen_conductivity,
        ),
        (ground, *treated, case.ground.segregation_potential),
        frost_heave,
    )
    uneven = steps.enter(
        "uneven",
        Meaning("Share of the lift that is uneven", "-", "%"),
        UNEVEN,
        Origin.ASSUMED,
        "where the ground is variable; a quarter where it is uniform",
        (source_note("earthfast_proposal, working limits [P]"),),
    )
    allowed = _allowed(case, steps)
    demand = steps.derive(
        "uneven_lift",
        Meaning("Uneven lift over 3 m", "m", "mm"),
        uneven_lift,
        {"heave": heave, "share": uneven},
    )
    shape = (len(case.ways), case.draws.count)
    return CheckResult(
        Quantity(demand.key, np.broadcast_to(demand.values, shape)),
        Quantity(allowed.key, np.broadcast_to(allowed.values, shape)),
        tuple("the coldest winter" for _ in case.ways),
        np.ones(len(case.ways)),
    )


def uneven_lift(heave: FloatLike, share: FloatLike) -> FloatLike:
    """Difference of lift between neighbouring places.

    Parameters
    ----------
    heave : array-like
        Lift where it is largest. [m]
    share : array-like
        Share of it that neighbouring places do not have. [-]

    Returns
    -------
    difference : array-like
        Difference over about 3 m. [m]

    Notes
    -----
    d = s h, with h and s in the order of the arguments.

    References
    ----------
    earthfast_proposal, half on variable ground, a quarter on uniform ground [P]
    """
    return np.asarray(np.asarray(share) * np.asarray(heave))


def _allowed(case: Case, steps: Trail) -> Quantity:
    surfaces = [way.build_up.courses[0].material for way in case.ways]
    return steps.enter(
        "allowed",
        Meaning("Uneven lift that the surface stands", "m", "mm"),
        np.array([ALLOWED[surface] for surface in surfaces])[:, None],
        Origin.ASSUMED,
        "10 mm over 3 m for blocks and bare bases, 5 mm for flags on sand and for thin slabs",
        (source_note("earthfast_proposal, from surface regularity limits [P]"),),
    )


def _frozen_soil(case: Case) -> ThermalProperties:
    """The ground under formation at its median density and water content."""
    density = float(np.median(case.ground.dry_density.values))
    water = float(np.median(case.ground.water_content.values))
    conductivity = conductivity_cote_konrad(GrainKind.FINE, density, water, QUARTZ)
    capacity = volumetric_heat_capacity(density, water)
    return ThermalProperties(
        float(conductivity.frozen),
        float(conductivity.unfrozen),
        float(capacity.frozen),
        float(capacity.unfrozen),
        float(volumetric_latent_heat(density, water)),
    )


def _frozen(case: Case, soil: ThermalProperties, depth_factor: Floats) -> Floats:
    """Ground frozen, treated soil frozen and frost depth, shape (3, ways, draws), by a table over the frost index."""
    surface = (case.winters.freezing_index.values * case.winters.surface_factor.values).ravel()
    reach = int(np.ceil(np.log(max(np.sqrt(surface.max()), 1.0)) / np.log(REACH_STEP)))
    nodes = np.linspace(0.0, REACH_STEP**reach, INDEX_NODES)
    columns = np.array([[way.build_up.thickness_of(m) for m in ORDER] for way in case.ways])
    unique, place = np.unique(columns, axis=0, return_inverse=True)
    depths = _frost_depths(
        tuple(map(tuple, unique.tolist())),
        reach,
        float(np.median(case.winters.surface_factor.values)),
        float(np.median(case.winters.mean_annual_temperature.values)),
        soil,
    )
    reached = np.stack([np.interp(np.sqrt(surface), nodes, depth) for depth in depths])
    reached = reached[place.ravel()] * depth_factor
    cover = columns.sum(axis=1)[:, None]
    treated = columns[:, ORDER.index(Material.TREATED_SOIL)][:, None]
    below = np.maximum(reached - cover, 0.0)
    return np.stack([below, np.clip(reached - (cover - treated), 0.0, treated), reached])


def _frost_depths(
    columns: tuple[tuple[float, ...], ...], reach: int, factor: float, mean: float, soil: ThermalProperties
) -> Floats:
    """Frost depth of each column of courses at each node of the surface index, shape (columns, nodes)."""
    known = [_KNOWN_DEPTHS.get((column, reach, factor, mean, soil)) for column in columns]
    new = np.array([column for column, depth in zip(columns, known, strict=True) if depth is None])
    if len(new):
        if len(_KNOWN_DEPTHS) > MOST_KNOWN:
            _KNOWN_DEPTHS.clear()
            new = np.array(columns)
        for column, depth in zip(new.tolist(), _computed_depths(new, reach, factor, mean, soil), strict=True):
            _KNOWN_DEPTHS[tuple(column), reach, factor, mean, soil] = depth
    return np.stack([_KNOWN_DEPTHS[column, reach, factor, mean, soil] for column in columns])


_KNOWN_DEPTHS: dict[tuple[tuple[float, ...], int, float, float, ThermalProperties], Floats] = {}


def _computed_depths(
    columns: Floats, reach: int, factor: float, mean: float, soil: ThermalProperties
) -> Floats:
    thermal = [typical_thermal(THERMAL[m]) for m in ORDER] + [soil]
    indices = np.linspace(0.0, REACH_STEP**reach, INDEX_NODES) ** 2
    depths = np.empty((len(columns), INDEX_NODES))
    patterns = columns > 0.0
    for pattern in np.unique(patterns, axis=0):
        rows = np.flatnonzero((patterns == pattern).all(axis=1))
        layers = [thermal[i] for i in (*np.flatnonzero(pattern).tolist(), len(ORDER))]
        endless = np.ones((len(rows), 1))
        depths[rows] = frost_depth_berggren_layered(
            indices,
            freezing_season_length(indices / factor),
            mean,
            np.concatenate([columns[rows][:, pattern], endless], axis=1)[:, None, :],
            np.array([0.5 * (t.frozen_conductivity + t.unfrozen_conductivity) for t in layers]),
            np.array([0.5 * (t.frozen_capacity + t.unfrozen_capacity) for t in layers]),
            np.array([t.latent_heat for t in layers]),
        ).depth
    return depths
