"""Earth that is pushed against."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def passive_thrust_rankine(unit_weight: FloatLike, height: FloatLike, friction_angle: FloatLike) -> Floats:
    """Push that level earth without cohesion gives back before it yields, along a wall that is pushed into it.

    Parameters
    ----------
    unit_weight : array-like
        Unit weight of the earth. [N/m³]
    height : array-like
        Height of earth against the wall. [m]
    friction_angle : array-like
        Effective friction angle. [deg]

    Returns
    -------
    thrust : array-like
        Force per length of wall, a third of the height above its foot. [N/m]

    Notes
    -----
    P = ½ γ h² tan²(45° + φ/2), with γ, h and φ in the order of the arguments: a smooth upright wall, level earth, no water.
    Real walls are rough and get more, once they have moved several per cent of their height.

    References
    ----------
    rankine_1857, passive state of level earth [M]
    """
    kp = np.tan(np.pi / 4.0 + 0.5 * np.deg2rad(np.asarray(friction_angle, dtype=np.float64))) ** 2
    return np.asarray(0.5 * np.asarray(unit_weight) * np.asarray(height) ** 2 * kp)
