"""What `look` answers."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Answer, Figure, Part


class GroupChance(Part):
    """A soil group and how likely it is."""

    symbol: str
    name: str
    chance: float


class EstimateLine(Part):
    """One property of a stratum, and what moved it."""

    figure: Figure
    moved_by: tuple[str, ...] = Field(
        description="Observations that moved it most, in words; empty: assumed."
    )


class StratumAnswer(Part):
    """One natural layer of the ground."""

    name: str
    top_mm: float
    bottom_mm: float | None = Field(description="None where it goes on below what was seen.")
    is_topsoil: bool
    groups: tuple[GroupChance, ...]
    estimates: tuple[EstimateLine, ...]
    flags: tuple[str, ...] = Field(description="Data that cannot be right, or that contradict one another.")


class StopLine(Part):
    """One stop on the way to treating the soil in place, in order."""

    name: str
    verdict: str = Field(description="'clear', 'ask' or 'stop'.")
    reason: str
    action: str


class LookAnswer(Answer):
    """What is here, and whether it can be treated."""

    strata: tuple[StratumAnswer, ...]
    stops: tuple[StopLine, ...]
    topsoil_mm: float
    water_mm: float | None = Field(description="Depth of the water level, where known.")
