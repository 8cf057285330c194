"""Will this soil heave when it freezes: the sieve-and-plasticity rules of several countries, side by side."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats


class SoilKind(StrEnum):
    """The kinds of soil that the rules tell apart."""

    GRAVEL = "gravel or crushed stone"
    SAND = "sand"
    VERY_FINE_SILTY_SAND = "very fine silty sand"
    SILT = "silt"
    CLAY = "clay"
    VARVED_CLAY = "varved clay"
    CHALK = "crushed chalk"


class FrostGroup(StrEnum):
    """US frost groups, from not susceptible to worst."""

    NFS = "NFS"
    PFS = "PFS"
    S1 = "S1"
    S2 = "S2"
    F1 = "F1"
    F2 = "F2"
    F3 = "F3"
    F4 = "F4"


class FrostClass(StrEnum):
    """German frost classes: not, little to moderately, and very susceptible."""

    F1 = "F1"
    F2 = "F2"
    F3 = "F3"


class GermanSoilGroup(StrEnum):
    """German soil groups; a trailing H marks the mixed soils with more fines, written with a star."""

    GW = "GW"
    GI = "GI"
    GE = "GE"
    SW = "SW"
    SI = "SI"
    SE = "SE"
    ST = "ST"
    GT = "GT"
    SU = "SU"
    GU = "GU"
    STH = "ST*"
    GTH = "GT*"
    SUH = "SU*"
    GUH = "GU*"
    TL = "TL"
    TM = "TM"
    TA = "TA"
    UL = "UL"
    UM = "UM"
    UA = "UA"
    OU = "OU"
    OT = "OT"
    OH = "OH"
    OK = "OK"


class Susceptibility(StrEnum):
    """What a screening rule says."""

    NOT_SUSCEPTIBLE = "not susceptible"
    POSSIBLE = "possibly susceptible: test"
    LIKELY = "likely susceptible"
    SUSCEPTIBLE = "susceptible"


_CLEAN_GROUPS = {"GW", "GI", "GE", "SW", "SI", "SE"}
_MIXED_GROUPS = {"ST", "GT", "SU", "GU"}
_SECOND_GROUPS = {"TA", "OT", "OH", "OK"}

_GRAVEL_BOUNDS = (0.015, 0.03, 0.06, 0.10, 0.20)
_GRAVEL_GROUPS = (
    FrostGroup.NFS,
    FrostGroup.PFS,
    FrostGroup.S1,
    FrostGroup.F1,
    FrostGroup.F2,
    FrostGroup.F3,
)
_SAND_BOUNDS = (0.03, 0.06, 0.15)
_SAND_GROUPS = (FrostGroup.NFS, FrostGroup.S2, FrostGroup.F2, FrostGroup.F3)


def frost_group_us(kind: SoilKind, finer_20_micron: float, plasticity_index: float) -> FrostGroup:
    """US frost group of a soil.

    Parameters
    ----------
    kind : SoilKind
        Kind of soil. [-]
    finer_20_micron : float
        Mass finer than 0.02 mm. [-]
    plasticity_index : float
        Plasticity index as a fraction; only read for clays. [-]

    Returns
    -------
    group : FrostGroup
        NFS to F4. [-]

    Notes
    -----
    By percent finer than 0.02 mm. Gravel: NFS below 1.5, PFS to 3, S1 to 6, F1 to 10, F2 to 20, F3 above.
    Sand: NFS below 3, S2 to 6, F2 to 15, F3 above. Clay: F3 above PI 12, else F4. Silt, very fine silty
    sand above 15 percent and varved clay: F4. A sand of 3 to 10 percent may count as possibly susceptible
    in a base (PFS): the rows of the source overlap there and the soil group is given. A value on a
    boundary takes the worse group.

    References
    ----------
    ufc_3_260_02, table of frost groups [M]
    cost_351_water_in_roads, the 3, 10, 15, 20 percent and PI 12 boundaries as national classes [S]
    """
    if kind in {SoilKind.SILT, SoilKind.VARVED_CLAY, SoilKind.CHALK}:
        return FrostGroup.F4
    if kind == SoilKind.CLAY:
        return FrostGroup.F3 if plasticity_index > 0.12 else FrostGroup.F4
    if kind == SoilKind.GRAVEL:
        return _GRAVEL_GROUPS[int(np.searchsorted(_GRAVEL_BOUNDS, finer_20_micron, side="right"))]
    group = _SAND_GROUPS[int(np.searchsorted(_SAND_BOUNDS, finer_20_micron, side="right"))]
    very_fine = kind == SoilKind.VERY_FINE_SILTY_SAND
    return FrostGroup.F4 if very_fine and group == FrostGroup.F3 else group


def susceptibility_casagrande(finer_20_micron: float, uniformity: float) -> Susceptibility:
    """Casagrande's rule for an inorganic soil.

    Parameters
    ----------
    finer_20_micron : float
        Mass finer than 0.02 mm. [-]
    uniformity : float
        Coefficient of uniformity, D60/D10. [-]

    Returns
    -------
    susceptibility : Susceptibility
        What the rule says. [-]

    Notes
    -----
    3 percent or more finer than 0.02 mm: susceptible; 1.5 to 3 percent: possibly; less: not. Very uniform
    soils tolerate 10 percent: taken here as uniformity below 5, after Casagrande's own wording from
    memory.

    References
    ----------
    us_army_frost_training, Casagrande's rule [S]
    from_memory, uniformity below 5 as very uniform [M]
    """
    limit = 0.10 if uniformity < 5.0 else 0.03
    if finer_20_micron >= limit:
        return Susceptibility.SUSCEPTIBLE
    return Susceptibility.POSSIBLE if finer_20_micron >= 0.015 else Susceptibility.NOT_SUSCEPTIBLE


def finer_20_micron_of_gravel(finer_75_micron: FloatLike) -> Floats:
    """Share finer than 0.02 mm of a gravel, from the share through the finest sieve.

    Parameters
    ----------
    finer_75_micron : array-like
        Mass finer than 0.075 mm. [-]

    Returns
    -------
    finer_20_micron : ndarray
        Mass finer than 0.02 mm. [-]

    Notes
    -----
    About half, as long as less than 18 percent passes 0.075 mm.

    References
    ----------
    crrel_sr_97_13, after Kaplar 1974 [S]
    """
    return np.asarray(0.5 * np.asarray(finer_75_micron, float))


def german_fines_limit(uniformity: FloatLike) -> Floats:
    """Fines up to which a German mixed soil still counts as not susceptible.

    Parameters
    ----------
    uniformity : array-like
        Coefficient of uniformity, D60/D10. [-]

    Returns
    -------
    fines : ndarray
        Mass finer than 0.063 mm. [-]

    Notes
    -----
    5 percent at a uniformity of 15 or more, 15 percent at 6 or less, linear between.

    References
    ----------
    ztv_e_stb_09, table 1, footnote, read in a reprint [S]
    """
    return np.asarray(np.interp(uniformity, [6.0, 15.0], [0.15, 0.05]))


def frost_class_german(group: GermanSoilGroup, fines: float, uniformity: float) -> FrostClass:
    """German frost class of a soil group.

    Parameters
    ----------
    group : GermanSoilGroup
        Soil group. [-]
    fines : float
        Mass finer than 0.063 mm; only read for ST, GT, SU, GU. [-]
    uniformity : float
        Coefficient of uniformity, D60/D10; only read for ST, GT, SU, GU. [-]

    Returns
    -------
    frost_class : FrostClass
        F1 not, F2 little to moderately, F3 very susceptible. [-]

    Notes
    -----
    F1: GW GI GE SW SI SE. F2: TA OT OH OK, and ST GT SU GU unless their fines stay within
    `german_fines_limit`, which makes them F1. F3: TL TM UL UM UA OU and the starred mixed soils.

    References
    ----------
    ztv_e_stb_09, table 1, read in a reprint [S]
    """
    clean_enough = group in _MIXED_GROUPS and fines <= float(german_fines_limit(uniformity))
    if group in _CLEAN_GROUPS or clean_enough:
        return FrostClass.F1
    return FrostClass.F2 if group in _SECOND_GROUPS | _MIXED_GROUPS else FrostClass.F3


def susceptibility_uk(kind: SoilKind, fines: float, plasticity_index: float) -> Susceptibility:
    """UK screening before a frost-heave test.

    Parameters
    ----------
    kind : SoilKind
        Kind of soil. [-]
    fines : float
        Mass finer than 0.063 mm. [-]
    plasticity_index : float
        Plasticity index as a fraction; only read for clays. [-]

    Returns
    -------
    susceptibility : Susceptibility
        What the screening says. [-]

    Notes
    -----
    All crushed chalk: susceptible. Clay: not above PI 15 (some clauses ask for proof up to 20), else
    possibly. Silt with more than 10 percent finer than 0.063 mm: likely. Granular: likely above 12
    percent, possibly above 10, else not. A heave above 15 mm in the standard test settles it. US and
    German rules judge clays more severely: say which rule was used.

    References
    ----------
    sroh, frost susceptibility notes [S]
    uk_earthworks_clauses, proof for clays up to PI 20 [S]
    """
    if kind == SoilKind.CHALK:
        return Susceptibility.SUSCEPTIBLE
    if kind in {SoilKind.CLAY, SoilKind.VARVED_CLAY}:
        return Susceptibility.NOT_SUSCEPTIBLE if plasticity_index > 0.15 else Susceptibility.POSSIBLE
    if kind in {SoilKind.SILT, SoilKind.VERY_FINE_SILTY_SAND}:
        return Susceptibility.LIKELY if fines > 0.10 else Susceptibility.POSSIBLE
    if fines > 0.12:
        return Susceptibility.LIKELY
    return Susceptibility.POSSIBLE if fines > 0.10 else Susceptibility.NOT_SUSCEPTIBLE
