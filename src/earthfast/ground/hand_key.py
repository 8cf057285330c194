"""The published key from three hand tests to the kind of fine soil."""

from __future__ import annotations

from enum import IntEnum, StrEnum


class FinesClass(IntEnum):
    """What the part finer than 0.425 mm behaves as; rows of the hand-test key."""

    SILT = 0
    SILTY_CLAY = 1
    LEAN_CLAY = 2
    ELASTIC_SILT = 3
    FAT_CLAY = 4
    ORGANIC_LEAN = 5
    ORGANIC_FAT = 6
    PEAT = 7

    @property
    def symbol(self) -> str:
        """Symbol of the unified system."""
        return ("ML", "CL-ML", "CL", "MH", "CH", "OL", "OH", "Pt")[self]


class DryStrength(StrEnum):
    """How a dried 12 mm ball breaks."""

    NONE = "none"
    SLIGHT = "slight"
    MEDIUM = "medium"
    HIGH = "high"
    VERY_HIGH = "very high"


class Dilatancy(StrEnum):
    """How fast water shows on a shaken pat and goes on squeezing."""

    NONE = "none"
    VERY_SLOW = "very slow"
    SLOW = "slow"
    QUICK = "quick"


class Toughness(StrEnum):
    """How stiff the thread and the lump are near the plastic limit."""

    NONE = "none"
    SLIGHT = "slight"
    MEDIUM = "medium"
    HIGH = "high"


# Answers by row, in the order of FinesClass: CL-ML lies between ML and CL; peat may give any answer.
DRY_STRENGTH_KEY = ((0, 1), (1, 2), (2, 3), (1, 2), (3, 4), (1, 2), (2, 3), (0, 1, 2, 3, 4))
DILATANCY_KEY = ((3, 2), (1, 2), (0, 1), (2, 1, 0), (0,), (2,), (0, 1), (0, 1, 2, 3))
TOUGHNESS_KEY = ((0,), (1,), (2,), (1, 2), (3,), (1,), (1, 2), (0, 1, 2, 3))
PRINTED_ROWS = tuple(row for row in FinesClass if row not in {FinesClass.SILTY_CLAY, FinesClass.PEAT})


def hand_key_fits(
    dry_strength: DryStrength | None = None,
    dilatancy: Dilatancy | None = None,
    toughness: Toughness | None = None,
) -> tuple[FinesClass, ...]:
    """Rows of the hand-test key that fit every answer given; none when the answers contradict.

    Parameters
    ----------
    dry_strength : DryStrength
        How a dried ball breaks, where tested.
    dilatancy : Dilatancy
        How fast water shows and goes, where tested.
    toughness : Toughness
        How stiff the thread is, where tested.

    Returns
    -------
    rows : tuple of FinesClass

    Notes
    -----
    Dry strength, dilatancy, toughness: ML none to slight, quick to slow, none. CL medium to high, none to
    very slow, medium. OL slight to medium, slow, slight. MH slight to medium, slow to none, slight to medium.
    CH high to very high, none, high. OH medium to high, none to very slow, slight to medium. Carbonate
    or cement gives false high dry strength; mica gives false silt.

    References
    ----------
    venkatramaiah_geotechnical_engineering, table of hand tests, p. 101 [S]
    """
    answers = [
        (key, words.index(answer))
        for key, words, answer in (
            (DRY_STRENGTH_KEY, [*map(str, DryStrength)], dry_strength),
            (DILATANCY_KEY, [*map(str, Dilatancy)], dilatancy),
            (TOUGHNESS_KEY, [*map(str, Toughness)], toughness),
        )
        if answer is not None
    ]
    return tuple(row for row in PRINTED_ROWS if all(answer in key[row] for key, answer in answers))
