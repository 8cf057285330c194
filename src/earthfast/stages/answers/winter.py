"""What winters, springs and summers do to a way, as `choose` answers it."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Part


class LiftRow(Part):
    """One of the winters of the design life, from the mildest to the coldest."""

    winter: int
    frost_index_c_day: float = Field(description="Air frost index, °C·day.")
    frost_depth_mm: float
    lift_mm: float = Field(description="Median lift.")
    low_mm: float
    high_mm: float


class ReturnRow(Part):
    """A winter as cold as one in so many."""

    one_in: int
    frost_index_c_day: float = Field(description="Air frost index, °C·day.")


class FrontRow(Part):
    """How deep frost stands on one day of a winter."""

    winter: str = Field(description="'an ordinary winter' or 'the coldest of 20 winters'.")
    day: int = Field(description="Days after the warmest day of the year.")
    month_day: str = Field(description="'01-15'.")
    depth_mm: float


class FrostRuleLine(Part):
    """What one country's rule, or the simulation, says of one way."""

    rule: str
    says: str
    wanted_mm: float | None = Field(default=None, description="Depth that shall be free of frost trouble.")
    has_mm: float | None = None
    is_met: bool


class WinterLine(Part):
    """The winters of the design life on one way."""

    way: str = Field(description="Key of the way.")
    winters: int
    lift_counted_mm: float = Field(description="Lift from which a winter is counted.")
    winters_over: float = Field(description="Winters of the design life, on average, with more lift.")
    mostly: str = Field(description="Where most of the unevenness comes from.")
    sentence: str
    frost_depth_mm: float = Field(description="Median in the coldest winter, by heat flow.")
    berggren_mm: float = Field(description="The same by modified Berggren, the cross-check.")
    berggren_low_mm: float
    berggren_high_mm: float
    berggren_agrees: bool
    cycles_in_treated: int | None = Field(
        default=None,
        description="Times the top of the treated layer freezes and thaws in the coldest winter, by daily means.",
    )
    returns: tuple[ReturnRow, ...]
    lifts: tuple[LiftRow, ...]
    front: tuple[FrontRow, ...]
    rules: tuple[FrostRuleLine, ...]
