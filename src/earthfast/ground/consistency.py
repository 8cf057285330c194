"""Words of consistency, each with the scheme it belongs to, and the strength they stand for."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.sources import read_table


class ConsistencyScheme(StrEnum):
    """Whose words of consistency; the same word in the first means 1.5 to 2 times that in the second."""

    BS = "BS"
    TERZAGHI_PECK = "Terzaghi-Peck"
    ISO = "ISO"


class ConsistencyWord(StrEnum):
    """Words of consistency of all schemes."""

    VERY_SOFT = "very soft"
    SOFT = "soft"
    SOFT_TO_FIRM = "soft to firm"
    FIRM = "firm"
    FIRM_TO_STIFF = "firm to stiff"
    STIFF = "stiff"
    VERY_STIFF = "very stiff"
    HARD = "hard"
    EXTREMELY_LOW = "extremely low strength"
    VERY_LOW = "very low strength"
    LOW = "low strength"
    MEDIUM = "medium strength"
    HIGH = "high strength"
    VERY_HIGH = "very high strength"
    EXTREMELY_HIGH = "extremely high strength"


@dataclass(frozen=True, slots=True)
class ConsistencyRow:
    """One word of one scheme with the lower limit of its undrained strength in kPa."""

    scheme: str
    word: str
    from_kpa: float
    status: str


@dataclass(frozen=True, slots=True)
class ConsistencyBands:
    """Words of one scheme from weak to strong, and the limits between them, Pa."""

    words: tuple[ConsistencyWord, ...]
    limits: tuple[float, ...]


def consistency_bands(scheme: ConsistencyScheme) -> ConsistencyBands:
    """Words of a scheme from weak to strong, and the undrained strengths between them.

    Parameters
    ----------
    scheme : ConsistencyScheme
        Whose words.

    Returns
    -------
    bands : ConsistencyBands
        Limits between neighbouring words, in Pa.

    Notes
    -----
    British words 20, 40, 50, 75, 100, 150, 300 kPa; Terzaghi and Peck 12.5, 25, 50, 100, 200 kPa; ISO 14688-2
    10, 20, 40, 75, 150, 300 kPa. Tables of unconfined strength show exactly twice as much.

    References
    ----------
    bs_5930, signs and words; strengths of a BS 8004-type list [S]
    terzaghi_peck, limits of consistency [S]
    from_memory, ISO 14688-2 [M]
    """
    rows = [row for row in read_table("consistency", ConsistencyRow).rows if row.scheme == scheme]
    words = tuple(ConsistencyWord(row.word) for row in rows)
    return ConsistencyBands(words, tuple(1.0e3 * row.from_kpa for row in rows[1:]))


def consistency_word(undrained_strength: float, scheme: ConsistencyScheme) -> ConsistencyWord:
    """Word that a scheme has for an undrained strength.

    Parameters
    ----------
    undrained_strength : float
        Undrained strength. [Pa]
    scheme : ConsistencyScheme
        Whose words.

    Returns
    -------
    word : ConsistencyWord

    Notes
    -----
    The band whose limits hold the strength, lower limit included.

    References
    ----------
    bs_5930, signs and words; strengths of a BS 8004-type list [S]
    terzaghi_peck, limits of consistency [S]
    from_memory, ISO 14688-2 [M]
    """
    bands = consistency_bands(ConsistencyScheme(scheme))
    return bands.words[int(np.searchsorted(bands.limits, undrained_strength, side="right"))]


class Thumb(StrEnum):
    """How far a thumb goes into a fresh face."""

    FIST = "fist goes in"
    EASILY = "thumb goes in easily"
    MODERATE = "thumb goes in with moderate effort"
    INDENTS = "thumb only dents it"
    NAIL = "thumbnail marks it easily"
    HARD_NAIL = "thumbnail marks it with difficulty"


TON_PER_SQUARE_FOOT = 95.76e3
# unconfined strength 0.25, 0.5, 1, 2 and 4 tons a square foot, halved
THUMB_LIMITS = tuple(0.5 * tons * TON_PER_SQUARE_FOOT for tons in (0.25, 0.5, 1.0, 2.0, 4.0))


@dataclass(frozen=True, slots=True)
class StrengthBand:
    """Undrained strength between two limits, Pa; the upper one may be inf."""

    low: float
    high: float


def thumb_band(thumb: Thumb) -> StrengthBand:
    """Undrained strength that a push of the thumb stands for.

    Parameters
    ----------
    thumb : Thumb
        How far the thumb goes in.

    Returns
    -------
    band : StrengthBand
        In Pa.

    Notes
    -----
    Half of the printed unconfined strengths 0.25, 0.5, 1, 2 and 4 tons a square foot.

    References
    ----------
    tm_5_818_1, table 2-2 [S]
    """
    edges = (0.0, *THUMB_LIMITS, float("inf"))
    place = list(Thumb).index(Thumb(thumb))
    return StrengthBand(edges[place], edges[place + 1])
