"""Classes of a stratum's draws by the rules of each system."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import Chance, chances_of
from earthfast.ground.hand_key import FinesClass
from earthfast.ground.stratum_draws import StratumDraws

Classes = np.ndarray[tuple[int], np.dtype[np.intp]]

FINE_SYMBOLS = tuple(row.symbol for row in FinesClass)
SILTY, CLAYEY, BOTH = 0, 1, 2
FINES_LETTER = (SILTY, BOTH, CLAYEY, SILTY, CLAYEY, SILTY, SILTY, SILTY)
DUAL_LETTER = np.array([SILTY, CLAYEY, CLAYEY])  # silty clay fines go to the C symbol
COARSE_SYMBOLS = tuple(
    name.replace("?", letter)
    for letter in ("S", "G")
    for name in ("?W or ?P", "?P-?M", "?P-?C", "?M", "?C", "?C-?M")
)
USCS_SYMBOLS = (*FINE_SYMBOLS, *COARSE_SYMBOLS)
GRAVEL_OF_STONES = 0.75  # share of what is coarser than 2 mm that is also coarser than 4.75 mm; P


def uscs_chances(ground: StratumDraws) -> tuple[Chance, ...]:
    """Chances of the USCS symbols; whether a clean soil is well graded is not known from draws."""
    gravel = GRAVEL_OF_STONES * ground.stones
    sand = 1.0 - gravel - ground.fines
    letter = np.asarray(FINES_LETTER)[ground.fines_class]
    coarse = np.where(
        ground.fines < 0.05, 0, np.where(ground.fines <= 0.12, 1 + DUAL_LETTER[letter], 3 + letter)
    )
    first_coarse = len(FINE_SYMBOLS)
    coarse_index = first_coarse + coarse + np.where(gravel > sand, len(COARSE_SYMBOLS) // 2, 0)
    peat = ground.fines_class == FinesClass.PEAT
    members = np.where((ground.fines >= 0.50) | peat, ground.fines_class, coarse_index)
    return chances_of(USCS_SYMBOLS, members.astype(np.intp))


AASHTO_GROUPS = (
    "A-1",
    "A-3",
    "A-2-4",
    "A-2-5",
    "A-2-6",
    "A-2-7",
    "A-4",
    "A-5",
    "A-6",
    "A-7-5",
    "A-7-6",
    "A-8",
)


def aashto_chances(ground: StratumDraws) -> tuple[Chance, ...]:
    """Chances of the AASHTO groups; A-1 is not split since draws carry no 0.425 mm sieve."""
    limit, index, fines = ground.liquid_limit, ground.plasticity_index, ground.fines
    high_limit, plastic = limit >= 0.405, index >= 0.105
    medium_passing = (1.0 - ground.stones) * (ground.clay + ground.silt + 0.6 * ground.sand)
    granular = fines < 0.355
    two = 2 + high_limit + 2 * plastic
    fine = np.where(
        plastic & high_limit, np.where(index <= limit - 0.30, 9, 10), np.where(plastic, 8, 6 + high_limit)
    )
    first = (medium_passing <= 0.505) & (fines <= 0.255) & (index <= 0.065)
    third = (medium_passing > 0.505) & (fines <= 0.105) & (index < 0.02)
    members = np.where(granular, np.where(first, 0, np.where(third, 1, two)), fine)
    members = np.where(ground.organic_content > 0.25, 11, members)
    return chances_of(AASHTO_GROUPS, members.astype(np.intp))


PLASTICITY_BANDS = ("L", "I", "H", "V", "E")
ISO_GROUPS = (
    *(f"Cl{band}" for band in PLASTICITY_BANDS),
    *(f"Si{band}" for band in PLASTICITY_BANDS),
    "sand",
    "gravel",
    "peat",
)


def iso_chances(ground: StratumDraws) -> tuple[Chance, ...]:
    """Chances of the European groups: clay or silt with its plasticity band, sand, gravel, peat."""
    band = np.searchsorted([0.35, 0.50, 0.70, 0.90], ground.liquid_limit, side="right")
    below = ground.plasticity_index < 0.73 * (ground.liquid_limit - 0.20)
    below |= ground.plasticity_index < 0.04
    sand_share = (1.0 - ground.stones) * 0.92 * ground.sand  # between 0.063 and 2 mm
    coarse = np.where(ground.stones > sand_share, 11, 10)
    members = np.where(ground.fines >= 0.35, band + 5 * below, coarse)
    members = np.where(ground.organic_content > 0.25, 12, members)
    return chances_of(ISO_GROUPS, members.astype(np.intp))
