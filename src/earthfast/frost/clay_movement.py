"""Clays that shrink and swell with the seasons."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats

FOOT = 0.3048  # m
DECAY_DEPTH = 20.0 * FOOT  # m, in which the factor on expansiveness falls tenfold
SHRINKABLE_FINES = 0.35


class VolumeChange(StrEnum):
    """Volume change potential of a clay by its modified plasticity index."""

    NONE = "not shrinkable"
    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"


class Expansiveness(StrEnum):
    """Potential expansiveness in the Van der Merwe method."""

    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"
    VERY_HIGH = "very high"


_FOUNDATION_DEPTH = {
    VolumeChange.NONE: 0.45,
    VolumeChange.LOW: 0.75,
    VolumeChange.MEDIUM: 0.90,
    VolumeChange.HIGH: 1.0,
}
_UNIT_HEAVE = {
    Expansiveness.LOW: 0.0,
    Expansiveness.MEDIUM: 0.25 / 12.0,
    Expansiveness.HIGH: 0.5 / 12.0,
    Expansiveness.VERY_HIGH: 1.0 / 12.0,
}


def modified_plasticity_index(plasticity_index: FloatLike, finer_425_micron: FloatLike) -> Floats:
    """Plasticity index of the whole soil, coarse grains included.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index of the part finer than 0.425 mm, as a fraction. [-]
    finer_425_micron : array-like
        Mass finer than 0.425 mm. [-]

    Returns
    -------
    modified_index : ndarray
        Modified plasticity index as a fraction. [-]

    Notes
    -----
    I'p = PI times the share finer than 0.425 mm.

    References
    ----------
    nhbc_4_2, clause 4.2.14, worked example [S]
    """
    return np.asarray(np.asarray(plasticity_index, float) * finer_425_micron)


def volume_change_class(modified_index: float, fines: float) -> VolumeChange:
    """Volume change potential of a clay.

    Parameters
    ----------
    modified_index : float
        Modified plasticity index as a fraction. [-]
    fines : float
        Mass finer than 0.060 mm. [-]

    Returns
    -------
    volume_change : VolumeChange
        Not shrinkable, low, medium or high. [-]

    Notes
    -----
    Shrinkable if more than 35 percent is finer than 0.060 mm and I'p is 10 percent or more: low to 20,
    medium to 40, high above. Without tests take high.

    References
    ----------
    nhbc_4_2, clause 4.2.14, shrinkable soils [S]
    from_memory, class boundaries [M]
    """
    if fines <= SHRINKABLE_FINES or modified_index < 0.10:
        return VolumeChange.NONE
    if modified_index < 0.20:
        return VolumeChange.LOW
    return VolumeChange.MEDIUM if modified_index < 0.40 else VolumeChange.HIGH


def least_foundation_depth(volume_change: VolumeChange) -> float:
    """Least foundation depth in a clay away from trees.

    Parameters
    ----------
    volume_change : VolumeChange
        Volume change potential. [-]

    Returns
    -------
    depth : float
        Depth below ground. [m]

    Notes
    -----
    0.75, 0.90 and 1.0 m for low, medium and high; 0.45 m, the usual frost cover, elsewhere. Paving does
    not reach such depths: the figure says how deep seasonal movement goes.

    References
    ----------
    from_memory, foundation depths near trees [M]
    """
    return _FOUNDATION_DEPTH[volume_change]


def swell_of_layer_van_der_merwe(expansiveness: Expansiveness, top: FloatLike, bottom: FloatLike) -> Floats:
    """Heave of a clay layer from dry to wet after Van der Merwe.

    Parameters
    ----------
    expansiveness : Expansiveness
        Potential expansiveness of the layer. [-]
    top : array-like
        Depth of its top. [m]
    bottom : array-like
        Depth of its bottom. [m]

    Returns
    -------
    heave : ndarray
        Heave at the surface. [m]

    Notes
    -----
    Integral of F PE with F = 10^(-z/20 ft): 8.6859 ft PE (10^(-z1/20 ft) - 10^(-z2/20 ft)), PE 1, 0.5,
    0.25, 0 in/ft for very high, high, medium, low. The largest change from dry to wet, not a seasonal
    one. Pages that give PE in percent are wrong.

    References
    ----------
    van_der_merwe_1964, factor and expansiveness, partly legible, rest recalled [M]
    jones_2017_heave, meaning as a maximum [S]
    """
    unit = _UNIT_HEAVE[Expansiveness(expansiveness)]
    scale = DECAY_DEPTH / np.log(10.0)
    shallow, deep = (10.0 ** (-np.asarray(z, float) / DECAY_DEPTH) for z in (top, bottom))
    return np.asarray(unit * scale * (shallow - deep))
