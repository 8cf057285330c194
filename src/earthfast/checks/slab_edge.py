"""How much harder a slab presses on its ground at an edge than in its middle."""

from __future__ import annotations

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.build_up import Material
from earthfast.checks.situation import Case
from earthfast.estimate import FloatLike, Floats

MOST = 2.5  # pressure at an edge over that in the middle, less one, under a load on one point
REACH = 0.8  # m; a load as wide as that spans what an edge tells


def slab_edge_share(load_radius: FloatLike) -> Floats:
    """Pressure on the ground under the edge of a slab over that under its middle.

    Parameters
    ----------
    load_radius : array-like
        Radius over which the load stands on the slab. [m]

    Returns
    -------
    share : array-like
        Edge over middle. [-]

    Notes
    -----
    k = 1 + 2.5 max(0, 1 − a/0.8 m), a the radius: a straight line through the deflections of slabs on springs at an edge and in
    the middle, 3.5 times under a point and less under wide loads; 0.8 m is the reach of slabs of 100 to 200 mm on soft ground. A
    layered solution has no edges.

    References
    ----------
    westergaard_1926, deflection at an edge against that in the middle [C]
    earthfast_proposal, a straight line through them, one reach for all [P]
    """
    radius = np.asarray(load_radius, dtype=np.float64)
    return np.asarray(1.0 + MOST * np.maximum(0.0, 1.0 - radius / REACH))


def at_edge(case: Case, act: Act) -> FloatLike:
    """Pressure at the edge of the slabs of a case over that in their middle; 1 where there are none."""
    return slab_edge_share(act.radius) if case.thickness(Material.CONCRETE).any() else 1.0
