"""The response of layered ground to circular loads, batched over draws, ways and points."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from earthfast.elastic.half_space import half_space_integrals
from earthfast.elastic.hankel import Grid, Weights, grid_for, weights
from earthfast.elastic.layered_ground import CircularLoad, LayeredGround, Points
from earthfast.elastic.reflection import Stack, Waves, layer_waves
from earthfast.elastic.response import Integrals, Response, Surroundings
from earthfast.estimate import FloatLike, Floats

_VALUES_AT_ONCE = 2**14  # a block of kernel values that stays in a core's own cache
_POINTS_AT_ONCE = 32
_OFFSETS_KEPT = 64
_SHALLOWEST = 1e-3  # radii; a thinner cover than this is not resolved further


def layered_response(
    ground: LayeredGround, load: CircularLoad, points: Points, accuracy: float = 1e-6
) -> Response:
    """Stresses, strains and displacements in layered ground under a uniformly loaded circle.

    Parameters
    ----------
    ground : LayeredGround
        Layers on a half-space, with their interfaces. [-]
    load : CircularLoad
        Radius, pressure and place. [-]
    points : Points
        Where the response is wanted. [-]
    accuracy : float
        Error aimed at, relative to the response below the load; 1e-4 is enough for design. [-]

    Returns
    -------
    response : Response
        Arrays of the batch's shape with a last axis of points. [-]

    Notes
    -----
    Axisymmetric elasticity by Hankel transform: for each wave number the layers are solved by reflection from
    below (two waves down, two waves up, only decaying exponentials), then transformed back as
    σz = q a ∫ S(m) J0(mr) J1(ma) dm and its like. In the top layer the half-space of its own material is
    left out of the integral and added in closed form. Interfaces are bonded, frictionless or slip in
    proportion to the shear stress. Thickness over radius 0.01 to 100, modulus ratio 1e-4 to 1e4, Poisson's
    ratio up to 0.5.

    References
    ----------
    burmister_1943, the problem; solution derived anew and checked by two other methods [C]
    """
    offset = offset_of(load, points)
    integrals = _integrals(ground, load.radius, offset, points, accuracy)
    shear = ground.modulus / (2.0 * (1.0 + ground.poisson_ratio))
    layer = list(points.layer)
    return Surroundings(
        radius=np.asarray(load.radius)[..., None],
        pressure=np.asarray(load.pressure)[..., None],
        offset=offset,
        shear_modulus=shear[..., layer],
        poisson_ratio=ground.poisson_ratio[..., layer],
        top_shear_modulus=shear[..., :1],
    ).response(integrals)


def offset_of(load: CircularLoad, points: Points) -> Floats:
    """Distance of points from a load's centre, (..., P)."""
    along_x = np.asarray(points.x) - np.asarray(load.x)[..., None]
    return np.asarray(np.hypot(along_x, np.asarray(points.y) - np.asarray(load.y)[..., None]))


@dataclass(frozen=True, slots=True)
class _Problem:
    """Layers and points in units of the radius, every array padded to the batch's rank but not spread out.

    Point arrays carry their points on a leading axis.
    """

    shape: tuple[int, ...]
    stack: Stack
    offset: Floats
    depth: Floats
    below_top: Floats
    above_underside: Floats
    layer: tuple[int, ...]

    @property
    def varied(self) -> tuple[int, ...]:
        """The batch's shape, with 1 along axes that only move the points in plan (several loads, say)."""
        stack, slips = self.stack, [slip for slip in self.stack.slip if slip is not None]
        layered = (*stack.thickness, *stack.shear_modulus, *stack.c, *slips)
        return np.broadcast_shapes(self.depth.shape[1:], *(array.shape for array in layered))

    def block(self, where: tuple[slice, ...]) -> _Problem:
        """The same problem for a part of the batch."""

        def part(array: Floats) -> Floats:
            lead = array.ndim - len(where)
            cut = [
                at if size > 1 else slice(None) for at, size in zip(where, array.shape[lead:], strict=True)
            ]
            return np.asarray(array[(slice(None),) * lead + tuple(cut)])

        stack = Stack(
            tuple(map(part, self.stack.thickness)),
            tuple(map(part, self.stack.shear_modulus)),
            tuple(map(part, self.stack.c)),
            tuple(None if slip is None else part(slip) for slip in self.stack.slip),
        )
        return replace(
            self,
            stack=stack,
            offset=part(self.offset),
            depth=part(self.depth),
            below_top=part(self.below_top),
            above_underside=part(self.above_underside),
        )


def _problem(ground: LayeredGround, radius: FloatLike, offset: Floats, points: Points) -> _Problem:
    radius = np.asarray(radius, dtype=float)
    depth, layer = np.atleast_1d(points.depth), list(points.layer)
    tops = ground.tops
    layered = (ground.thickness, ground.modulus, ground.poisson_ratio, np.atleast_1d(ground.slip))
    shape = np.broadcast_shapes(radius.shape, *(array.shape[:-1] for array in (*layered, depth, offset)))

    def by_layer(array: Floats) -> tuple[Floats, ...]:
        padded = array.reshape((1,) * (len(shape) + 1 - array.ndim) + array.shape)
        return tuple(padded[..., number] for number in range(array.shape[-1]))

    def by_point(array: Floats) -> Floats:
        array = array / radius[..., None]
        array = array.reshape((1,) * (len(shape) + 1 - array.ndim) + array.shape)
        if array.shape[-1] != len(layer):
            array = np.broadcast_to(array, (*array.shape[:-1], len(layer)))
        return array.transpose(-1, *range(len(shape)))

    shear = ground.modulus / (2.0 * (1.0 + ground.poisson_ratio))
    stack = Stack(
        thickness=by_layer(ground.thickness / radius[..., None]),
        shear_modulus=by_layer(shear),
        c=by_layer(1.0 - 2.0 * ground.poisson_ratio),
        slip=_slips(ground, shear, radius, by_layer),
    )
    below_top = depth - tops[..., layer]
    last = ground.layers - 1
    above_underside = np.where(
        np.equal(layer, last), np.inf, tops[..., [min(one + 1, last) for one in layer]] - depth
    )
    return _Problem(
        shape,
        stack,
        by_point(offset),
        by_point(depth),
        by_point(np.maximum(below_top, 0.0)),
        by_point(np.maximum(above_underside, 0.0)),
        points.layer,
    )


def _slips(
    ground: LayeredGround, shear: Floats, radius: Floats, by_layer: Callable[[Floats], tuple[Floats, ...]]
) -> tuple[Floats | None, ...]:
    """Slip of each interface, None where it is bonded."""
    if not np.any(ground.slip):
        return (None,) * (ground.layers - 1)
    slip = np.asarray(ground.slip, dtype=float)
    slip = np.broadcast_to(slip, (*slip.shape[:-1], ground.layers - 1))
    slips = by_layer(2.0 * shear[..., :-1] * slip / radius[..., None])
    return tuple(one if np.any(one) else None for one in slips)


def _integrals(
    ground: LayeredGround, radius: FloatLike, offset: Floats, points: Points, accuracy: float
) -> Integrals:
    """All integrals, (..., P), block by block so that memory is bounded by the result."""
    problem = _problem(ground, radius, offset, points)
    count = len(points.layer)
    found = Integrals(*np.zeros((6, count, *problem.shape)))
    if ground.layers > 1:
        grid = _grid(problem, accuracy)
        nodes = grid.nodes.reshape(-1, *(1,) * len(problem.shape))
        for where in _blocks(problem.varied, max(_VALUES_AT_ONCE // nodes.size, 1)):
            # the last block's waves live on until this one's are known, or memory goes back to the system each time
            _alive = _add_block(found, problem.block(where) if where else problem, grid, nodes, where)
    top = [number for number, layer in enumerate(points.layer) if layer == 0]
    if top:
        poisson_ratio = 0.5 * (1.0 - problem.stack.c[0])
        uniform = half_space_integrals(problem.offset[top], problem.depth[top], poisson_ratio)
        for whole, part in zip(found.rows, uniform.rows, strict=True):
            whole[top] += part
    points_last = (*range(1, len(problem.shape) + 1), 0)
    return Integrals(*(row.transpose(points_last) for row in found.rows))


def _grid(problem: _Problem, accuracy: float) -> Grid:
    stack = problem.stack
    # Over a softer bottom a layer acts as one of its cube-root share: the length of a plate on soft ground.
    reach = sum(
        height * np.maximum(np.cbrt(shear / stack.shear_modulus[-1]), 1.0)
        for height, shear in zip(stack.thickness, stack.shear_modulus[:-1], strict=True)
    )
    shallowest = min(
        float(np.min(problem.depth[number] if layer else 2.0 * stack.thickness[0] - problem.depth[number]))
        for number, layer in enumerate(problem.layer)
    )
    deepest = max(1.0, float(np.max(reach)), float(np.max(problem.depth)))
    # A thin soft layer on a stiff one moves far less than the half-space left out of it: aim at what is left.
    soft = stack.shear_modulus[0] < stack.shear_modulus[1]
    thin = np.where(soft, np.minimum(stack.thickness[0], 1.0), 1.0)
    if 0 in problem.layer:
        accuracy = accuracy * float(np.min(thin)) ** 2
    return grid_for(accuracy, max(shallowest, _SHALLOWEST), deepest)


def _blocks(shape: tuple[int, ...], size: int) -> Iterator[tuple[slice, ...]]:
    """Slices that cut a batch into parts of about `size`; axes of length 1 are taken whole."""
    if not shape:
        yield ()
        return
    rest = int(np.prod(shape[1:], dtype=int))
    step = max(size // max(rest, 1), 1)
    for low in range(0, shape[0], step):
        for others in _blocks(shape[1:], size):
            yield (slice(low, low + step) if shape[0] > 1 else slice(None), *others)


def _add_block(
    found: Integrals, problem: _Problem, grid: Grid, nodes: Floats, where: tuple[slice, ...]
) -> list[Waves]:
    waves = layer_waves(nodes, problem.stack, max(problem.layer))
    for layer in sorted(set(problem.layer)):
        there = [number for number, at in enumerate(problem.layer) if at == layer]
        for low in range(0, len(there), _POINTS_AT_ONCE):
            some = there[low : low + _POINTS_AT_ONCE]
            kernels = _kernels(
                nodes,
                waves[layer],
                problem.stack.c[layer],
                problem.below_top[some][:, None],
                problem.above_underside[some][:, None],
            )
            result = _transformed(kernels, grid, problem.offset[some])
            there_in_block: tuple[list[int] | slice, ...] = (some, *where)
            for whole, part in zip(found.rows, result.rows, strict=True):
                whole[there_in_block] = part
    return waves


@lru_cache(maxsize=128)
def _kept_weights(grid: Grid, offset: bytes, shape: tuple[int, ...]) -> Weights:
    return _weights_at(grid, np.frombuffer(offset).reshape(shape))


def _weights_at(grid: Grid, offset: Floats) -> Weights:
    """Weights at each point's offsets, (points, nodes, ...)."""
    places, back = np.unique(offset, return_inverse=True)
    table = weights(grid, places)
    chosen = (np.moveaxis(one[:, back.reshape(offset.shape)], 0, 1) for one in table.rows)
    return Weights(*chosen)


@dataclass(frozen=True, slots=True)
class _Kernels:
    """Waves at points, (points, nodes, ...)."""

    even: Floats
    slope: Floats
    odd: Floats
    sink: Floats


def _kernels(nodes: Floats, waves: Waves, c: Floats, below_top: Floats, above_underside: Floats) -> _Kernels:
    down, down_slope = _carried(waves.down, waves.down_slope, nodes * below_top)
    if np.isinf(above_underside).all():
        return _Kernels(down, down_slope, down, down + (1.0 + c) * down_slope)
    up, up_slope = _carried(waves.up, waves.up_slope, nodes * above_underside)
    odd = down - up
    return _Kernels(down + up, down_slope + up_slope, odd, odd + (1.0 + c) * (down_slope - up_slope))


def _carried(wave: Floats, slope: Floats, path: Floats) -> tuple[Floats, Floats]:
    """A pair of waves after a path."""
    if not path.any():
        return wave + path, slope + path
    decay = np.exp(-path)
    return decay * (wave + path * slope), decay * slope


def _transformed(kernels: _Kernels, grid: Grid, offset: Floats) -> Integrals:
    is_kept = offset.size <= _OFFSETS_KEPT
    table = _kept_weights(grid, offset.tobytes(), offset.shape) if is_kept else _weights_at(grid, offset)

    def against(weight: Floats, kernel: Floats) -> Floats:
        count, lead, batch = weight[0, 0].size, weight.shape[2:3], kernel.shape[2:]
        if count == 1 or (lead == (count,) and batch[0] == 1):
            # The usual case, all draws at the same offsets (of one load or several): a matrix product.
            rows = weight.reshape(*weight.shape[:2], count).swapaxes(1, 2)
            flat = rows @ kernel.reshape(*kernel.shape[:2], -1)
            return flat.reshape(len(flat), *(batch if count == 1 else (*lead, *batch[1:])))
        return np.asarray(np.einsum("pm...,pm...->p...", weight, kernel))

    even, slope = against(table.even, kernels.even), against(table.even, kernels.slope)
    sink = against(table.sink, kernels.sink)
    if not offset.any():
        return Integrals(even, slope, 0.5 * even, 0.5 * slope, np.zeros_like(even), sink)
    hoop, hoop_slope = against(table.hoop, kernels.even), against(table.hoop, kernels.slope)
    return Integrals(even, slope, hoop, hoop_slope, against(table.odd, kernels.odd), sink)
