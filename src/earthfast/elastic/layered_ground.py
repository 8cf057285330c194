"""What the layered solution is asked: the layers, the load on them, the points looked at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats


@dataclass(frozen=True, slots=True)
class CircularLoad:
    """A uniform pressure on a circle at the surface.

    Attributes
    ----------
    radius : radius of the circle, m; any shape that broadcasts with the batch.
    pressure : vertical pressure on it, Pa; likewise.
    x, y : place of its centre, m; likewise.
    """

    radius: FloatLike
    pressure: FloatLike
    x: FloatLike = 0.0
    y: FloatLike = 0.0


@dataclass(frozen=True, slots=True)
class LayeredGround:
    """Elastic layers on an elastic half-space, from the surface down; the last axis counts the layers.

    Leading axes are a batch (draws, ways) and broadcast against each other, so what all draws share is
    given once.

    Attributes
    ----------
    thickness : (..., n - 1), m; the last layer has no underside.
    modulus : (..., n), Pa.
    poisson_ratio : (..., n), above -1 and up to 0.5.
    slip : (..., n - 1), how far each interface shears per unit shear stress, m/Pa: 0 where layers
        are bonded, infinite where they slide without friction, anything between where they do so in part.
    """

    thickness: Floats
    modulus: Floats
    poisson_ratio: Floats
    slip: FloatLike = 0.0

    def __post_init__(self) -> None:
        for name in ("thickness", "modulus", "poisson_ratio"):
            object.__setattr__(self, name, np.atleast_1d(np.asarray(getattr(self, name), dtype=float)))
        interfaces = self.modulus.shape[-1] - 1
        if self.thickness.shape[-1] != interfaces or self.poisson_ratio.shape[-1] != interfaces + 1:
            raise ValueError("n moduli need n Poisson's ratios and n - 1 thicknesses along the last axis")
        if (
            np.any(self.thickness <= 0.0)
            or np.any(self.modulus <= 0.0)
            or np.any(np.asarray(self.slip) < 0.0)
        ):
            raise ValueError("thickness and modulus are above 0, slip is 0 or above")
        if np.any(self.poisson_ratio <= -1.0) or np.any(self.poisson_ratio > 0.5):
            raise ValueError("Poisson's ratio is above -1 and up to 0.5")

    @property
    def layers(self) -> int:
        """How many layers, the half-space included."""
        return int(self.modulus.shape[-1])

    @property
    def tops(self) -> Floats:
        """Depth of the top of each layer, (..., n), m."""
        found = np.zeros((*self.thickness.shape[:-1], self.layers))
        np.cumsum(self.thickness, axis=-1, out=found[..., 1:])
        return found


@dataclass(frozen=True, slots=True)
class Points:
    """Where the response is wanted; the last axis counts the points.

    Attributes
    ----------
    depth : (..., P), below the surface, m.
    layer : P layer numbers counted from 0; they say which side of an interface is meant.
    x, y : (..., P), m.
    """

    depth: Floats
    layer: tuple[int, ...]
    x: FloatLike = 0.0
    y: FloatLike = 0.0


def points_in_layers(
    ground: LayeredGround,
    layer: Sequence[int],
    share: Sequence[float],
    x: FloatLike = 0.0,
    y: FloatLike = 0.0,
) -> Points:
    """Points placed by layer and by share of its thickness, whatever the thicknesses of the batch.

    Parameters
    ----------
    ground : LayeredGround
        Layers whose thicknesses place the points. [-]
    layer : sequence of int
        Layer number of each point, from 0. [-]
    share : sequence of float
        How far down in its layer each point lies: 0 its top, 1 its underside; 0 in the lowest. [-]
    x : array-like
        Place of the points in plan. [m]
    y : array-like
        Likewise, square to x. [m]

    Returns
    -------
    points : Points
        Points with depths of the batch's shape. [-]

    Notes
    -----
    depth = top + share x thickness. The lowest layer is endless: only its top can be named this way.

    References
    ----------
    definition, depth in a layer [C]
    """
    places, shares = np.asarray(layer, dtype=int), np.asarray(share, dtype=float)
    if np.any(shares[places == ground.layers - 1] != 0.0):
        raise ValueError("the lowest layer has no underside: share 0 is its top")
    endless = [(0, 0)] * (ground.thickness.ndim - 1) + [(0, 1)]
    depth = ground.tops[..., places] + shares * np.pad(ground.thickness, endless)[..., places]
    return Points(depth, tuple(places.tolist()), x, y)
