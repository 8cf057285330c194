"""What is to be paved: named areas, each a rectangle or an outline."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from earthfast.job.fields import Coordinate, Name, Note, PlanLength, Section


class LengthUnit(StrEnum):
    """Units in which an outline's points may be given."""

    METRES = "m"
    MILLIMETRES = "mm"
    FEET = "ft"


class Outline(Section):
    """The corners of an area, in order, as bare numbers in one unit."""

    unit: LengthUnit = Field(description="The unit of every number in `points`.")
    points: tuple[tuple[Coordinate, Coordinate], ...] = Field(
        min_length=3, max_length=2000, description="Corners as [x, y], in order round the area; not closed."
    )


class PlanArea(Section):
    """One area: a rectangle by length and width, or an outline."""

    name: Name = Field(description="What it is called on the sheets.")
    length: PlanLength | None = Field(None, description="Length of a rectangle; goes with `width`.")
    width: PlanLength | None = Field(None, description="Width of a rectangle; goes with `length`.")
    outline: Outline | None = Field(None, description="The corners, in place of length and width.")
    use: Name | None = Field(
        None, description="Name of the [[use]] that stands on it; not needed where there is one use only."
    )
    note: Note | None = Field(None, description="Anything worth keeping.")


class Plan(Section):
    """The areas to be paved."""

    areas: tuple[PlanArea, ...] = Field(
        alias="area", min_length=1, max_length=200, description="Each area that is built alike."
    )
