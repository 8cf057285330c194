"""Heat flow with freezing in the build-ups of many ways, worked out once at a few winters and read in between."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.checks.build_up import BuildUp, Material
from earthfast.checks.situation import Case, UsualGround
from earthfast.checks.winters import WinterSample
from earthfast.estimate import FloatLike, Floats
from earthfast.frost import (
    GrainKind,
    LayeredColumns,
    ThermalMaterial,
    ThermalProperties,
    conductivity_cote_konrad,
    frozen_winters,
    typical_thermal,
    volumetric_heat_capacity,
    volumetric_latent_heat,
)

MOST_KNOWN = 20000  # columns kept
QUARTZ = 0.3
COARSE_FINES = 0.35
GROUND_BELOW = 99.0  # m, the ground goes on
THERMAL = {
    Material.BLOCKS: ThermalMaterial.BLOCKS,
    Material.FLAGS: ThermalMaterial.CONCRETE,
    Material.CONCRETE: ThermalMaterial.CONCRETE,
    Material.GRAVEL: ThermalMaterial.CRUSHED_STONE,
    Material.BEDDING_SAND: ThermalMaterial.BEDDING_SAND,
    Material.CRUSHED_STONE: ThermalMaterial.CRUSHED_STONE,
    Material.INSULATION_BOARD: ThermalMaterial.INSULATION_BOARD,
    Material.TREATED_SOIL: ThermalMaterial.TREATED_SOIL,
}
ORDER = tuple(THERMAL)
TREATED = ORDER.index(Material.TREATED_SOIL)


@dataclass(frozen=True, slots=True)
class Frozen:
    """What frost does in every way and draw, shape (ways, draws).

    Attributes
    ----------
    depth : frost depth below the surface, m.
    ground, treated : thickness of natural ground and of treated soil frozen, m.
    ground_gradient, treated_gradient : time integral of the gradient at the front while it stood there, K·s/m.
    """

    depth: Floats
    ground: Floats
    treated: Floats
    ground_gradient: Floats
    treated_gradient: Floats


@dataclass(frozen=True, slots=True)
class _Tables:
    """Tables of the ways of a case.

    Attributes
    ----------
    columns : thickness of each material of `ORDER`, shape (ways, materials), m.
    factor : the surface factor they were worked out at.
    nodes : roots of the air index, shape (nodes,).
    values : depth, treated and ground gradient, shape (3, ways, nodes).
    """

    columns: Floats
    factor: float
    nodes: Floats
    values: Floats


def frozen(
    case: Case, freezing_index: FloatLike, surface_factor: FloatLike, depth_factor: FloatLike
) -> Frozen:
    """Frost in every way under air freezing indices (K·s), by the tables of its build-up.

    Indices are one a draw; with winters in a first axis, shape (winters, 1) or (winters, draws), all results
    have shape (ways, winters, draws).
    """
    tables = _tables_of(case)
    nodes = tables.nodes
    # depth goes with the root of the index, so an error of depth is an error of the root
    roots = np.sqrt(np.asarray(freezing_index) * surface_factor / tables.factor) * depth_factor
    roots = np.broadcast_to(roots, np.broadcast_shapes(roots.shape, (case.draws.count,)))
    left = np.clip(np.searchsorted(nodes, roots, side="right") - 1, 0, nodes.size - 2)
    part = np.clip((roots - nodes[left]) / (nodes[left + 1] - nodes[left]), 0.0, 1.0)
    depth, treated_gradient, ground_gradient = (
        tables.values[..., left] * (1.0 - part) + tables.values[..., left + 1] * part
    )
    each = (len(case.ways), *(1,) * roots.ndim)
    cover = tables.columns.sum(axis=1).reshape(each)
    treated = tables.columns[:, TREATED].reshape(each)
    return Frozen(
        depth,
        np.maximum(depth - cover, 0.0),
        np.clip(depth - (cover - treated), 0.0, treated),
        ground_gradient,
        treated_gradient,
    )


def _tables_of(case: Case) -> _Tables:
    def work() -> _Tables:
        factor = case.winters.usual_factor
        columns = np.array([column_of(way.build_up) for way in case.ways])
        nodes, values = frost_tables(columns, case.winters.sample, factor, ground_under(case))
        return _Tables(columns, factor, nodes, values)

    return case.once("frost tables", work)


def prepare_frost(soon: Sequence[Case], later: Sequence[Case]) -> None:
    """Work out the tables of build-ups in one run of the solver for each ground, and put off those of others."""
    for sample, factor, soil, columns in _by_ground(soon):
        _work_out(_keys(columns, sample, factor, soil), sample)
    for sample, factor, soil, columns in _by_ground(later):
        keys = _keys(columns, sample, factor, soil)
        _PUT_OFF.setdefault(keys[0][1:], {}).update(dict.fromkeys(keys))


def _by_ground(
    cases: Sequence[Case],
) -> Iterator[tuple[WinterSample, float, ThermalProperties, Floats]]:
    """Winters, surface factor, ground and build-ups that go together."""
    by_ground: dict[ThermalProperties, list[Case]] = {}
    for case in cases:
        by_ground.setdefault(ground_under(case), []).append(case)
    for soil, standing in by_ground.items():
        winters = standing[0].winters
        columns = np.array([column_of(way.build_up) for case in standing for way in case.ways])
        yield winters.sample, winters.usual_factor, soil, np.unique(columns, axis=0)


def share_of_winters_below(case: Case, depth: Floats, depth_factor: FloatLike) -> Floats:
    """Share of all winters in which frost goes below a depth (m) in each way, shape (ways, draws)."""
    factor = _tables_of(case).factor / case.winters.surface_factor.values
    index = (_root_reaching(case, depth)[:, None] / depth_factor) ** 2 * factor
    return np.asarray(np.broadcast_to(_share_colder(case, index), (len(case.ways), case.draws.count)))


def usual_share_of_winters_below(case: Case, depth: Floats) -> Floats:
    """The same in each way at the usual surface factor and no error of the model, shape (ways,)."""
    return _share_colder(case, _root_reaching(case, depth) ** 2)


def _root_reaching(case: Case, depth: Floats) -> Floats:
    """Root of the air index at which frost reaches a depth in each way, at the usual surface factor."""
    tables = _tables_of(case)
    return np.array(
        [
            np.interp(one, reached, tables.nodes, right=np.inf)
            for one, reached in zip(depth, tables.values[0], strict=True)
        ]
    )


def _share_colder(case: Case, index: Floats) -> Floats:
    every = case.winters.sample.freezing_index
    return np.asarray(1.0 - np.searchsorted(every, index, side="right") / every.size)


def column_of(build_up: BuildUp) -> tuple[float, ...]:
    """Thickness of each material in the order of `ORDER`, m."""
    return tuple(build_up.thickness_of(material) for material in ORDER)


def ground_under(case: Case) -> ThermalProperties:
    """The ground under formation at its median density and water content."""
    return case.once("thermal ground", lambda: _thermal_ground(case.ground.usual))


def _thermal_ground(ground: UsualGround) -> ThermalProperties:
    density, water = ground.dry_density, ground.water_content
    kind = GrainKind.FINE if ground.fines >= COARSE_FINES else GrainKind.COARSE
    conductivity = conductivity_cote_konrad(kind, density, water, QUARTZ)
    capacity = volumetric_heat_capacity(density, water)
    return ThermalProperties(
        float(conductivity.frozen),
        float(conductivity.unfrozen),
        float(capacity.frozen),
        float(capacity.unfrozen),
        float(volumetric_latent_heat(density, water)),
    )


def frost_tables(
    columns: Floats, sample: WinterSample, surface_factor: float, soil: ThermalProperties
) -> tuple[Floats, Floats]:
    """Roots of the air index at the nodes, and depth, treated and ground gradient, shape (3, columns, nodes)."""
    if not sample.node_index.size:
        return np.array([0.0, 1.0]), np.zeros((3, len(columns), 2))
    keys = _keys(columns, sample, surface_factor, soil)
    if any(key not in _KNOWN for key in keys):
        _work_out([*keys, *_PUT_OFF.pop(keys[0][1:], ())], sample)
    nodes = np.concatenate([[0.0], np.sqrt(sample.node_index)])
    return nodes, np.stack([_KNOWN[key] for key in keys], axis=1)


_Under = tuple[str, float, ThermalProperties]
_Key = tuple[tuple[float, ...], str, float, ThermalProperties]
_KNOWN: dict[_Key, Floats] = {}
_PUT_OFF: dict[_Under, dict[_Key, None]] = {}  # to be worked out with the next build-up that is asked for


def _keys(
    columns: Floats, sample: WinterSample, surface_factor: float, soil: ThermalProperties
) -> list[_Key]:
    return [(tuple(column), sample.key, surface_factor, soil) for column in columns.tolist()]


def _work_out(keys: Sequence[_Key], sample: WinterSample) -> None:
    """Tables of those not known yet, which share winters, surface factor and ground."""
    if len(_KNOWN) > MOST_KNOWN:
        _KNOWN.clear()
    new = list(dict.fromkeys(key for key in keys if key not in _KNOWN))
    if new and sample.node_index.size:
        _, _, surface_factor, soil = new[0]
        worked_out = _at_nodes(np.array([key[0] for key in new]), sample, surface_factor, soil)
        _KNOWN.update({key: worked_out[:, row] for row, key in enumerate(new)})


def _at_nodes(
    columns: Floats, sample: WinterSample, surface_factor: float, soil: ThermalProperties
) -> Floats:
    """Means over the winters of each node, with nothing frozen at an index of nought."""
    surface = np.where(sample.node_air < 0.0, surface_factor * sample.node_air, sample.node_air)
    result = frozen_winters(layered_columns(columns, soil), surface, sample.start)
    gradient = result.front_gradient
    every = np.stack([result.frost_depth, gradient[..., TREATED], gradient[..., -1]])
    found = np.zeros((3, len(columns), sample.node_index.size + 1))
    found[..., 1:] = every.reshape(*found.shape[:2], sample.node_index.size, -1).mean(axis=-1)
    roots = np.concatenate([[0.0], np.sqrt(sample.node_index)])
    return np.apply_along_axis(_rising, -1, found, roots)


def _rising(values: Floats, roots: Floats) -> Floats:
    """Values that rise with the root of the index: a colder winter never freezes less, but two of one index differ.

    Neighbours that fall are pooled at their middle; nothing frozen stays so up to the last node without frost.
    """
    levels: list[_Level] = []
    for value, root in zip(values.tolist(), roots.tolist(), strict=True):
        level = _Level(value, root, 1)
        while levels and level.value <= levels[-1].value:
            level = levels.pop().pooled(level)
        levels.append(level)
    return np.interp(roots, [level.root for level in levels], [level.value for level in levels])


@dataclass(frozen=True, slots=True)
class _Level:
    value: float
    root: float
    count: int

    def pooled(self, later: _Level) -> _Level:
        """Both at their middle, or the later where both are nought."""
        if self.value == later.value == 0.0:
            return later
        count = self.count + later.count
        return _Level(
            (self.value * self.count + later.value * later.count) / count,
            (self.root * self.count + later.root * later.count) / count,
            count,
        )


def layered_columns(columns: Floats, soil: ThermalProperties) -> LayeredColumns:
    """Columns as the solver takes them, a course that is not there with no thickness, on endless ground.

    Properties of the soil are single numbers, or one a column.
    """
    courses = [typical_thermal(material) for material in THERMAL.values()]

    def of_layers(name: str) -> Floats:
        found = np.empty((len(columns), len(courses) + 1))
        found[:, :-1] = [getattr(course, name) for course in courses]
        found[:, -1] = getattr(soil, name)
        return found

    names = ThermalProperties.__dataclass_fields__
    endless = np.full((len(columns), 1), GROUND_BELOW)
    return LayeredColumns(
        np.concatenate([columns, endless], axis=1),
        ThermalProperties(**{name: of_layers(name) for name in names}),
    )
