"""Stiffness of ground and stone: moduli and reaction modulus from CBR, support limits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.constants import inch, milli, psi

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import read_table

PCI = psi / inch  # Pa/m
SUBLAYER_RATIO_LOW, SUBLAYER_RATIO_HIGH = 2.0, 4.0


class ModulusRule(StrEnum):
    """Published relations for a small-strain modulus of the ground from CBR."""

    POWER_LAW = "power law"
    PROPORTIONAL = "10.3 times CBR"
    AUSTROADS = "Austroads isotropic"


class ReactionRule(StrEnum):
    """Published relations for the modulus of reaction from CBR."""

    FAA = "FAA"
    PCA = "PCA"
    IRC = "IRC table"


class StrengthRule(StrEnum):
    """Published relations for undrained strength from CBR."""

    BLACK_LISTER = "23 kPa per CBR"
    CONSISTENCY = "30 kPa per CBR"


def modulus_power_law(cbr: FloatLike) -> Floats:
    """Resilient modulus of fine-grained ground from its CBR.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    modulus : array-like
        Resilient modulus. [Pa]

    Notes
    -----
    E = 17.6 CBR^0.64 MPa, for CBR 2 to 12; the same curve as 2555 CBR^0.64 psi. Any relation to CBR can be
    wrong by more than a factor of 2.

    References
    ----------
    lr1132 [M]
    iowa_cbr_table [S]
    """
    return np.asarray(17.6e6 * np.asarray(cbr, dtype=np.float64) ** 0.64)


def modulus_proportional(cbr: FloatLike) -> Floats:
    """Resilient modulus of the ground as a fixed multiple of its CBR.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    modulus : array-like
        Resilient modulus. [Pa]

    Notes
    -----
    E = 1500 CBR psi = 10.3 CBR MPa; rough, for CBR up to about 10. Crosses the power law near CBR 4.4 and
    is lower on softer ground.

    References
    ----------
    ufc_3_260_02, §11 [S]
    """
    return np.asarray(1500.0 * psi * np.asarray(cbr, dtype=np.float64))


def modulus_austroads(cbr: FloatLike) -> Floats:
    """Isotropic modulus of the ground equivalent to the cross-anisotropic one of Austroads.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    modulus : array-like
        Equivalent isotropic modulus. [Pa]

    Notes
    -----
    E = 6.7 CBR MPa; the guide itself takes 10 CBR MPa vertically and 5 CBR MPa horizontally.

    References
    ----------
    austroads_agpt02, quoted in a secondary source [S]
    """
    return np.asarray(6.7e6 * np.asarray(cbr, dtype=np.float64))


MODULUS_RULES: dict[ModulusRule, Callable[[FloatLike], Floats]] = {
    ModulusRule.POWER_LAW: modulus_power_law,
    ModulusRule.PROPORTIONAL: modulus_proportional,
    ModulusRule.AUSTROADS: modulus_austroads,
}


def reaction_modulus_faa(cbr: FloatLike) -> Floats:
    """Modulus of reaction from CBR, airfield relation.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    reaction_modulus : array-like
        Pressure per settlement of a large plate. [Pa/m]

    Notes
    -----
    k = (1500 CBR / 26)^0.7788 pci. About half of the other relations at CBR 2.

    References
    ----------
    faa_150_5320_6e, quoted in a secondary source [S]
    """
    return np.asarray(PCI * (1500.0 * np.asarray(cbr, dtype=np.float64) / 26.0) ** 0.7788)


def reaction_modulus_pca(cbr: FloatLike) -> Floats:
    """Modulus of reaction from CBR, concrete-pavement relation.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    reaction_modulus : array-like
        Pressure per settlement of a large plate. [Pa/m]

    Notes
    -----
    k = 53.438 CBR^0.5719 pci. Twice the airfield relation at CBR 2.

    References
    ----------
    pca_slab_1984, quoted in a secondary source [S]
    """
    return np.asarray(PCI * 53.438 * np.asarray(cbr, dtype=np.float64) ** 0.5719)


@dataclass(frozen=True, slots=True)
class ReactionModulusRow:
    """One row of a table of reaction moduli: CBR (percent) and k, Pa/m."""

    cbr: float
    reaction_modulus: float


def reaction_modulus_irc(cbr: FloatLike) -> Floats:
    """Modulus of reaction from CBR, read from a table.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    reaction_modulus : array-like
        Pressure per settlement of a large plate. [Pa/m]

    Notes
    -----
    Linear interpolation of log k on log CBR between the rows of IRC:58, CBR 2 to 100; held constant beyond
    them.

    References
    ----------
    irc_58, table of k against CBR, quoted in a secondary source [S]
    """
    rows = read_table("reaction_modulus", ReactionModulusRow).rows
    known = np.log([row.cbr for row in rows])
    values = np.log([row.reaction_modulus for row in rows])
    return np.asarray(np.exp(np.interp(np.log(cbr), known, values)))


REACTION_RULES: dict[ReactionRule, Callable[[FloatLike], Floats]] = {
    ReactionRule.FAA: reaction_modulus_faa,
    ReactionRule.PCA: reaction_modulus_pca,
    ReactionRule.IRC: reaction_modulus_irc,
}


def reaction_modulus_from_modulus(modulus: FloatLike) -> Floats:
    """Modulus of reaction from the resilient modulus of the ground.

    Parameters
    ----------
    modulus : array-like
        Resilient modulus. [Pa]

    Returns
    -------
    reaction_modulus : array-like
        Pressure per settlement of a 30-inch plate. [Pa/m]

    Notes
    -----
    k = M_r / 19.4 in, M_r the modulus. For display only: the layered model carries the slab as a layer.

    References
    ----------
    iowa_cbr_table [S]
    """
    return np.asarray(np.asarray(modulus, dtype=np.float64) / (19.4 * inch))


def undrained_strength_black_lister(cbr: FloatLike) -> Floats:
    """Undrained shear strength of clay from its CBR, lower relation.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    undrained_strength : array-like
        Undrained shear strength. [Pa]

    Notes
    -----
    c_u = 23 CBR kPa, for saturated clay of CBR below about 5.

    References
    ----------
    black_lister_1979 [M]
    """
    return np.asarray(23.0e3 * np.asarray(cbr, dtype=np.float64))


def undrained_strength_consistency(cbr: FloatLike) -> Floats:
    """Undrained shear strength of clay from its CBR, upper relation.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]

    Returns
    -------
    undrained_strength : array-like
        Undrained shear strength. [Pa]

    Notes
    -----
    c_u = 30 CBR kPa, the relation of the unpaved-road methods.

    References
    ----------
    giroud_noiray_1981 [M]
    """
    return np.asarray(30.0e3 * np.asarray(cbr, dtype=np.float64))


STRENGTH_RULES: dict[StrengthRule, Callable[[FloatLike], Floats]] = {
    StrengthRule.BLACK_LISTER: undrained_strength_black_lister,
    StrengthRule.CONSISTENCY: undrained_strength_consistency,
}


def sublayer_ratio(thickness: FloatLike) -> Floats:
    """How many times stiffer than its support a course of unbound stone can become, before limits.

    Parameters
    ----------
    thickness : array-like
        Compacted thickness of the course. [m]

    Returns
    -------
    ratio : array-like
        Modulus of the stone over modulus of what it lies on. [-]

    Notes
    -----
    E_stone/E_below = 0.2 h^0.45 with h the thickness in mm. Loose stone cannot be compacted, and takes no
    tension, over a soft support. The result is kept within 2 to 4 in use; see stone_modulus.

    References
    ----------
    irc_37, sub-layer rule shared by several guides [M]
    """
    return np.asarray(0.2 * (np.asarray(thickness, dtype=np.float64) / milli) ** 0.45)


def stone_modulus(thickness: FloatLike, support_modulus: FloatLike) -> Floats:
    """Modulus of a course of unbound stone as its support allows it.

    Parameters
    ----------
    thickness : array-like
        Compacted thickness of the course. [m]
    support_modulus : array-like
        Modulus of what the course lies on. [Pa]

    Returns
    -------
    modulus : array-like
        Modulus of the stone. [Pa]

    Notes
    -----
    E_stone = E_below · clip(0.2 h^0.45, 2, 4), h in mm. One course; thick stone may be split and the rule
    applied from the bottom up.

    References
    ----------
    irc_37, sub-layer rule shared by several guides [M]
    """
    ratio = np.clip(sublayer_ratio(thickness), SUBLAYER_RATIO_LOW, SUBLAYER_RATIO_HIGH)
    return np.asarray(ratio * support_modulus)
