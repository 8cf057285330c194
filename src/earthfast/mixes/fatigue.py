"""Passes that a bound layer bears before it cracks or crushes, by several published systems."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from scipy.constants import mega, micro

from earthfast.estimate import FloatLike, Floats

UNLIMITED_RATIO, CURVED_RATIO = 0.45, 0.55  # stress ratios where the concrete relation changes form


def fatigue_life_mepdg(stress_ratio: FloatLike) -> Floats:
    """Passes to fatigue cracking of a cement-treated layer, by stress ratio.

    Parameters
    ----------
    stress_ratio : array-like
        Flexural stress at the underside over flexural strength. [-]

    Returns
    -------
    repetitions : array-like
        Passes to cracking. [-]

    Notes
    -----
    log N = (0.972 − S)/0.0825, S the stress ratio, calibration factors 1; a ratio near 1 means the first
    pass.

    References
    ----------
    nchrp_1_37a, part 3 chapter 3 [M]
    """
    return np.asarray(10.0 ** ((0.972 - np.asarray(stress_ratio, dtype=np.float64)) / 0.0825))


def fatigue_strain_austroads(modulus: FloatLike) -> Floats:
    """Tensile strain that a cemented layer bears once, in the Austroads fatigue relation.

    Parameters
    ----------
    modulus : array-like
        Modulus of the layer, 2 to 10 GPa. [Pa]

    Returns
    -------
    strain : array-like
        Strain for one pass. [-]

    Notes
    -----
    K = 113 000/E^0.804 + 191 microstrain, E the modulus in MPa.

    References
    ----------
    austroads_agpt02 [M]
    """
    megapascals = np.asarray(modulus, dtype=np.float64) / mega
    return np.asarray((113_000.0 / megapascals**0.804 + 191.0) * micro)


def fatigue_life_austroads(
    tensile_strain: FloatLike, modulus: FloatLike, reliability_factor: FloatLike = 1.0
) -> Floats:
    """Passes to fatigue cracking of a cemented layer, by tensile strain.

    Parameters
    ----------
    tensile_strain : array-like
        Horizontal tensile strain at the underside. [-]
    modulus : array-like
        Modulus of the layer, 2 to 10 GPa. [Pa]
    reliability_factor : array-like
        1 for 95 % reliability, 2 for 90 %, 4.7 for 80 %. [-]

    Returns
    -------
    repetitions : array-like
        Passes to cracking. [-]

    Notes
    -----
    N = RF (K/ε)^12, RF the reliability factor, ε the strain, K as in fatigue_strain_austroads.

    References
    ----------
    austroads_agpt02 [M]
    """
    ratio = fatigue_strain_austroads(modulus) / tensile_strain
    return np.asarray(reliability_factor * ratio**12)


class RoadCategory(StrEnum):
    """Reliability categories of the South African method."""

    A = "A, 95 %"
    B = "B, 90 %"
    C = "C, 80 %"
    D = "D, 50 %"


class CrushingStage(StrEnum):
    """How far crushing at the top of a treated layer has gone."""

    INITIATION = "initiation"
    ADVANCED = "advanced"


FATIGUE_CONSTANTS: dict[RoadCategory, tuple[float, float]] = {
    RoadCategory.A: (6.72, 7.49),
    RoadCategory.B: (6.84, 7.63),
    RoadCategory.C: (6.87, 7.66),
    RoadCategory.D: (7.06, 7.86),
}
CRUSHING_CONSTANTS: dict[CrushingStage, dict[RoadCategory, tuple[float, float]]] = {
    CrushingStage.INITIATION: {
        RoadCategory.A: (7.386, 1.09),
        RoadCategory.B: (7.506, 1.10),
        RoadCategory.C: (7.706, 1.13),
        RoadCategory.D: (8.516, 1.21),
    },
    CrushingStage.ADVANCED: {
        RoadCategory.A: (8.064, 1.19),
        RoadCategory.B: (8.184, 1.20),
        RoadCategory.C: (8.384, 1.23),
        RoadCategory.D: (8.894, 1.31),
    },
}


def fatigue_life_south_african(
    tensile_strain: FloatLike, strain_at_break: FloatLike, category: RoadCategory, shift: FloatLike = 1.0
) -> Floats:
    """Passes until a lightly cemented layer has cracked into small blocks, by tensile strain.

    Parameters
    ----------
    tensile_strain : array-like
        Horizontal tensile strain at the underside. [-]
    strain_at_break : array-like
        125e-6 for compressive strength 1.5 to 3 MPa, 145e-6 for 0.75 to 1.5 MPa. [-]
    category : RoadCategory
        Reliability category. [-]
    shift : array-like
        Shift factor for thick layers, 1 or more. [-]

    Returns
    -------
    repetitions : array-like
        Passes of a 40 kN dual wheel. [-]

    Notes
    -----
    N = SF · 10^[c (1 − ε/(d ε_b))]; ε strain, ε_b strain at break, SF shift, (c, d) by category: A 6.72,
    7.49; B 6.84, 7.63; C 6.87, 7.66; D 7.06, 7.86.

    References
    ----------
    theyse_1996 [M]
    """
    scale, divisor = FATIGUE_CONSTANTS[RoadCategory(category)]
    used = np.asarray(tensile_strain, dtype=np.float64) / (divisor * np.asarray(strain_at_break))
    return np.asarray(shift * 10.0 ** (scale * (1.0 - used)))


def crushing_life_south_african(
    vertical_stress: FloatLike, compressive_strength: FloatLike, category: RoadCategory, stage: CrushingStage
) -> Floats:
    """Passes until the top of a lightly cemented layer crushes.

    Parameters
    ----------
    vertical_stress : array-like
        Vertical stress at the top of the layer. [Pa]
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]
    category : RoadCategory
        Reliability category. [-]
    stage : CrushingStage
        Initiation (about 2 mm) or advanced (about 10 mm). [-]

    Returns
    -------
    repetitions : array-like
        Passes of a 40 kN dual wheel. [-]

    Notes
    -----
    N = 10^[a (1 − σ/(b q_u))]; σ stress, q_u strength, (a, b) by category: initiation A 7.386, 1.09; B
    7.506, 1.10; C 7.706, 1.13; D 8.516, 1.21; advanced A 8.064, 1.19; B 8.184, 1.20; C 8.384, 1.23; D
    8.894, 1.31.

    References
    ----------
    theyse_1996 [M]
    """
    scale, divisor = CRUSHING_CONSTANTS[CrushingStage(stage)][RoadCategory(category)]
    used = np.asarray(vertical_stress, dtype=np.float64) / (divisor * np.asarray(compressive_strength))
    return np.asarray(10.0 ** (scale * (1.0 - used)))


def fatigue_life_pca(stress_ratio: FloatLike) -> Floats:
    """Passes to fatigue cracking of concrete or a strong bound slab, by stress ratio.

    Parameters
    ----------
    stress_ratio : array-like
        Flexural stress over flexural strength. [-]

    Returns
    -------
    repetitions : array-like
        Passes to cracking; infinite below 0.45. [-]

    Notes
    -----
    S > 0.55: log N = (0.9718 − S)/0.0828; 0.45 to 0.55: N = [4.2577/(S − 0.4325)]^3.268; below: unlimited;
    S the stress ratio. Formula recalled; it reproduces a table that was read, to 6 %.

    References
    ----------
    pca_slab_1984 [M]
    irc_58, Appendix VII, worked table [S]
    """
    ratio = np.asarray(stress_ratio, dtype=np.float64)
    steep = 10.0 ** ((0.9718 - ratio) / 0.0828)
    curved = (4.2577 / (np.maximum(ratio, UNLIMITED_RATIO) - 0.4325)) ** 3.268
    return np.where(ratio > CURVED_RATIO, steep, np.where(ratio >= UNLIMITED_RATIO, curved, np.inf))
