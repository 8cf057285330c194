"""How much harder a slab presses on its ground at an edge than in its middle."""

from __future__ import annotations

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.build_up import Material
from earthfast.checks.situation import Case
from earthfast.estimate import FloatLike, Floats

MOST = 2.5  # pressure at an edge over that in the middle, less one, under a load on one point
REACH = 6.0  # thicknesses of a slab within which its edge tells


def slab_edge_share(load_radius: FloatLike, thickness: FloatLike) -> Floats:
    """Pressure on the ground under the edge of a slab over that under its middle.

    Parameters
    ----------
    load_radius : array-like
        Radius over which the load stands on the slab. [m]
    thickness : array-like
        Thickness of the slab; 0 where there is none. [m]

    Returns
    -------
    share : array-like
        Edge over middle; 1 where there is no slab. [-]

    Notes
    -----
    k = 1 + 2.5 max(0, 1 − a/(6 h)), with a and h in the order of the arguments: a straight line through the deflections of slabs
    on springs at an edge and in the middle, 3.5 times under a point and less under wide loads; 6 h stands for their reach. A
    layered solution has no edges.

    References
    ----------
    westergaard_1926, deflection at an edge against that in the middle [C]
    earthfast_proposal, a straight line through them [P]
    """
    radius, slab = np.asarray(load_radius, dtype=np.float64), np.asarray(thickness, dtype=np.float64)
    width = np.divide(radius, REACH * slab, out=np.ones(np.broadcast(radius, slab).shape), where=slab > 0.0)
    return np.asarray(1.0 + MOST * np.maximum(0.0, 1.0 - width))


def at_edge(case: Case, act: Act) -> FloatLike:
    """Pressure at the edge of the slabs of a case over that in their middle, shape (ways, 1), or 1."""
    slab = case.thickness(Material.CONCRETE)[:, None]
    return slab_edge_share(act.radius, slab) if slab.any() else 1.0
