"""Typical moduli and Poisson's ratios of ground and courses, as published tables."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.sources import Table, read_table


@dataclass(frozen=True, slots=True)
class ModulusRange:
    """Range of a modulus, Pa: of a material in a state."""

    material: str
    state: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class PoissonRange:
    """Range and usual value of Poisson's ratio of a material."""

    material: str
    low: float
    usual: float
    high: float


def settlement_moduli() -> Table[ModulusRange]:
    """Large-strain moduli of natural soils, for settlement.

    Returns
    -------
    table : Table
        Ranges by soil and state. [Pa]

    Notes
    -----
    Rows as quoted; 2 to 5 times below the resilient moduli from CBR, so a soil has two moduli: never mix
    them.

    References
    ----------
    obrzud_truty_2012, quoting Kezdi and Prat [S]
    """
    return read_table("settlement_modulus", ModulusRange)


def settlement_moduli_by_consistency() -> Table[ModulusRange]:
    """Large-strain moduli of clay and sand by consistency, for settlement.

    Returns
    -------
    table : Table
        Ranges by soil and state. [Pa]

    Notes
    -----
    Converted from short tons per square foot; 1 tsf = 95.76 kPa. A second opinion on settlement_moduli.

    References
    ----------
    em_1110_1_1904, quoted in a secondary source [S]
    """
    return read_table("settlement_modulus_consistency", ModulusRange)


def resilient_moduli() -> Table[ModulusRange]:
    """Small-strain moduli of courses and ground under a passing wheel.

    Returns
    -------
    table : Table
        Ranges by material and state. [Pa]

    Notes
    -----
    Converted from psi. Ranges of use in pavement design, not of one site.

    References
    ----------
    typical_moduli_table [S]
    """
    return read_table("resilient_modulus", ModulusRange)


def course_moduli() -> Table[ModulusRange]:
    """Moduli of the upper courses of a block pavement.

    Returns
    -------
    table : Table
        Ranges by material and state. [Pa]

    Notes
    -----
    The block layer is blocks, joints and bedding together and stiffens as traffic locks it.

    References
    ----------
    from_memory, concrete block paving practice [M]
    """
    return read_table("course_modulus", ModulusRange)


def poisson_ratios() -> Table[PoissonRange]:
    """Poisson's ratio of courses and ground.

    Returns
    -------
    table : Table
        Range and usual value by material. [-]

    Notes
    -----
    Ranges gather three published tables; the usual value is the one two of them share, or the middle one.

    References
    ----------
    typical_moduli_table [S]
    ufc_3_260_02, Table 11-2 [S]
    chinese_moduli_table [S]
    """
    return read_table("poisson_ratio", PoissonRange)
