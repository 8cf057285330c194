"""What `why` answers."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Figure, Part, SourceLine


class InfluenceLine(Part):
    """An uncertain input and how much it moves the figure."""

    figure: Figure
    share: float
    rising: bool


class TrailStep(Part):
    """One figure of the trail with its method."""

    figure: Figure
    example: str = Field(default="", description="The figure in one draw, with more digits.")
    origin: str
    because: str
    relation: str = Field(description="What the relation gives, in a sentence.")
    formula: str = Field(description="Equation, symbols and range.")
    inputs: tuple[Figure, ...]
    sources: tuple[SourceLine, ...]


class WhyAnswer(Part):
    """A figure traced back to what was seen, given or assumed."""

    schema_version: int = 1
    verb: str = "why"
    earthfast: str
    job: str
    steps: tuple[TrailStep, ...] = Field(
        description="The figure first, then what it rests on, breadth first."
    )
    influences: tuple[InfluenceLine, ...]
    draw: int = Field(
        description="Number of the draw that the examples are of: with them each formula can be worked by hand."
    )
    sentence: str


class FiguresAnswer(Part):
    """What `why` answers where no figure is named: every figure that it can trace."""

    schema_version: int = 1
    verb: str = "why"
    earthfast: str
    job: str
    figures: tuple[Figure, ...]
