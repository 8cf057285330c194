"""What holds the outermost blocks or flags in their place: an edging or a kerb, bedded and backed in concrete."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from earthfast.sources import read_table


@dataclass(frozen=True, slots=True)
class Restraint:
    """An upright in concrete, its top level with the paving.

    Attributes
    ----------
    key : its short name.
    words : its concrete, as it ends the name of the upright.
    upright : what stands in the concrete, as it is bought.
    upright_width, upright_height : its size, m.
    bed, width : thickness and width of the concrete it stands on, m.
    back : section of the concrete behind it, m².
    lifting : caution for those who set it.
    """

    key: str
    words: str
    upright: str
    upright_width: float
    upright_height: float
    bed: float
    width: float
    back: float
    lifting: str

    @property
    def concrete(self) -> float:
        """Section of all its concrete, m²."""
        return self.bed * self.width + self.back

    @property
    def standing(self) -> float:
        """Section of the upright, m²."""
        return self.upright_width * self.upright_height

    @property
    def depth(self) -> float:
        """Of its underside below the finished surface, m."""
        return self.upright_height + self.bed


@cache
def restraints() -> tuple[Restraint, ...]:
    """Every listed restraint, the one with the least concrete first."""
    return read_table("edge_restraints", Restraint).rows
