"""Several circular loads on layered ground together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields

import numpy as np

from earthfast.elastic.layered import layered_response, offset_of
from earthfast.elastic.layered_ground import CircularLoad, LayeredGround, Points
from earthfast.elastic.response import CartesianResponse, Response
from earthfast.estimate import FloatLike, Floats


def superpose(
    ground: LayeredGround, loads: Sequence[CircularLoad], points: Points, accuracy: float = 1e-6
) -> CartesianResponse:
    """Stresses, strains and displacements in layered ground under several circular loads together.

    Parameters
    ----------
    ground : LayeredGround
        Layers on a half-space, with their interfaces. [-]
    loads : sequence of CircularLoad
        The wheels or feet, each with its place. [-]
    points : Points
        Where the response is wanted. [-]
    accuracy : float
        Error aimed at, relative to the response below one load. [-]

    Returns
    -------
    response : CartesianResponse
        Components along x, y and depth. [-]

    Notes
    -----
    Linear elasticity: each load's cylindrical components are turned into x, y and depth and added. Loads of
    one radius share the solution of the layers, whatever their number.

    References
    ----------
    definition, superposition of linear solutions [C]
    """
    parts = [
        _turned(layered_response(ground, group, points, accuracy), group, points)
        for group in _grouped(loads, _batch_rank(ground, loads, points))
    ]
    return CartesianResponse(
        *(
            sum(np.sum(getattr(part, field.name), axis=0) for part in parts)
            for field in fields(CartesianResponse)
        )
    )


def _batch_rank(ground: LayeredGround, loads: Sequence[CircularLoad], points: Points) -> int:
    layered = (ground.thickness, ground.modulus, ground.poisson_ratio, points.depth)
    ranks = [np.ndim(array) - 1 for array in (*layered, points.x, points.y)]
    placed = [value for load in loads for value in (load.radius, load.pressure, load.x, load.y)]
    return max([0, *ranks, *(np.ndim(value) for value in placed)])


def _grouped(loads: Sequence[CircularLoad], rank: int) -> Iterator[CircularLoad]:
    """Loads of equal radius as one load with a leading axis over them."""
    left = list(loads)
    while left:
        alike = [load for load in left if np.array_equal(load.radius, left[0].radius)]
        left = [load for load in left if not np.array_equal(load.radius, alike[0].radius)]

        def stacked(values: Sequence[FloatLike]) -> Floats:
            arrays = np.stack(np.broadcast_arrays(*map(np.asarray, values)))
            return arrays.reshape(len(values), *(1,) * (rank + 1 - arrays.ndim), *arrays.shape[1:])

        yield CircularLoad(
            radius=alike[0].radius,
            pressure=stacked([load.pressure for load in alike]),
            x=stacked([load.x for load in alike]),
            y=stacked([load.y for load in alike]),
        )


def _turned(response: Response, load: CircularLoad, points: Points) -> CartesianResponse:
    """Cylindrical components about a load, as components along x and y."""
    offset = offset_of(load, points)
    away = np.where(offset > 0.0, offset, 1.0)
    cos = np.where(offset > 0.0, (points.x - np.asarray(load.x)[..., None]) / away, 1.0)
    sin = np.where(offset > 0.0, (points.y - np.asarray(load.y)[..., None]) / away, 0.0)

    def plane(radial: Floats, tangential: Floats) -> tuple[Floats, Floats]:
        return 0.5 * (radial + tangential), 0.5 * (radial - tangential)

    stress, stress_spread = plane(response.radial_stress, response.tangential_stress)
    strain, strain_spread = plane(response.radial_strain, response.tangential_strain)
    double_cos, double_sin = cos**2 - sin**2, 2.0 * sin * cos
    return CartesianResponse(
        deflection=response.deflection,
        displacement_x=response.radial_displacement * cos,
        displacement_y=response.radial_displacement * sin,
        vertical_stress=response.vertical_stress,
        stress_x=stress + stress_spread * double_cos,
        stress_y=stress - stress_spread * double_cos,
        shear_xy=stress_spread * double_sin,
        shear_xz=response.shear_stress * cos,
        shear_yz=response.shear_stress * sin,
        vertical_strain=response.vertical_strain,
        strain_x=strain + strain_spread * double_cos,
        strain_y=strain - strain_spread * double_cos,
        strain_xy=strain_spread * double_sin,
    )
