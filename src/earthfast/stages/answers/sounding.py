"""Cone soundings as they are read: sets, layers and boundaries by depth."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Part


class SetLine(Part):
    """One set of blows of a sounding, or the mean of one of its layers."""

    top_mm: float
    bottom_mm: float
    mm_per_blow: float
    cbr_percent: float = Field(description="By the equation that the sounding names.")


class BoundaryLine(Part):
    """A depth at which the ground changes, with its 5..95 % band."""

    depth_mm: float
    low_mm: float
    high_mm: float
    words: str = Field(default="", description="Which soundings meet it; empty in one sounding.")


class SoundingLine(Part):
    """One cone sounding."""

    name: str
    sets: tuple[SetLine, ...] = Field(description="As driven, from the top down.")
    layers: tuple[SetLine, ...] = Field(description="As cut where the penetration changes.")
    boundaries: tuple[BoundaryLine, ...] = Field(description="Between its layers.")


class DepthLine(Part):
    """What all soundings together show between two depths."""

    top_mm: float
    bottom_mm: float
    soundings: int = Field(description="How many reach it.")
    mm_per_blow: float = Field(description="Median.")
    least_mm_per_blow: float
    most_mm_per_blow: float
    cbr_percent: float = Field(description="Of the median.")


class SoundingsAnswer(Part):
    """All cone soundings of a job."""

    soundings: tuple[SoundingLine, ...]
    boundaries: tuple[BoundaryLine, ...] = Field(description="Those that most soundings meet.")
    because: str = Field(description="Why the ground is divided there, or why it is not.")
    by_depth: tuple[DepthLine, ...]
