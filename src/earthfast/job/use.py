"""What stands and rolls on the paving, for how long, and what is laid as its surface."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from earthfast.job.fields import (
    Count,
    Depth,
    DesignLife,
    Frequency,
    Mass,
    Name,
    Note,
    PlanLength,
    Section,
    Stress,
    Thickness,
    YesNo,
)


class Consequence(StrEnum):
    """What follows where the paving disappoints."""

    MINOR = "minor"
    MODERATE = "moderate"
    SERIOUS = "serious"


class PavingKind(StrEnum):
    """What the surface is made of."""

    BLOCKS = "blocks"
    FLAGS = "flags"
    CONCRETE = "concrete"
    GRAVEL = "gravel"
    NONE = "none"


class LoadEntry(Section):
    """One load: a name from the list of loads, or a mass on a footprint."""

    name: Name | None = Field(None, description="Name of a listed load, such as a person or a small van.")
    mass: Mass | None = Field(None, description="Total mass, where it is not a listed load.")
    length: PlanLength | None = Field(None, description="Length of its footprint; goes with `mass`.")
    width: PlanLength | None = Field(None, description="Width of its footprint; goes with `mass`.")
    contacts: Count | None = Field(
        None, description="Wheels or feet that share the mass; goes with `length` and `width`."
    )
    contact_pressure: Stress | None = Field(
        None, description="Pressure under one wheel or foot; of what stands flat, leave it out."
    )
    count: Count | None = Field(
        None,
        description="How many of what covers a footprint stand side by side; of what rolls, `passes` says how often in all.",
    )
    passes: Frequency | None = Field(None, description="How often it rolls over; not for what only stands.")
    note: Note | None = Field(None, description="Anything worth keeping.")


class Paving(Section):
    """The surface and what it is bedded on."""

    kind: PavingKind = Field(examples=["flags"], description="What the surface is made of.")
    thickness: Thickness | None = Field(
        None, examples=["40 mm"], description="Thickness of a block, flag or slab."
    )
    length: PlanLength | None = Field(None, examples=["450 mm"], description="Length of a block or flag.")
    width: PlanLength | None = Field(None, examples=["450 mm"], description="Width of a block or flag.")
    bedding: Thickness | None = Field(
        None,
        examples=["30 mm"],
        description="Thickness of the bedding, compacted; 30, 40 and 50 mm are tried if left out.",
    )


class Use(Section):
    """What an area is for."""

    name: Name = Field(description="What areas call it by.")
    loads: tuple[LoadEntry, ...] = Field(
        alias="load", min_length=1, max_length=100, description="What stands and rolls on it."
    )
    paving: Paving | None = Field(None, description="The surface.")
    design_life: DesignLife | None = Field(None, description="How long it has to serve.")
    consequence: Consequence | None = Field(None, description="What follows where it disappoints.")
    wheels_keep_off_edges: YesNo | None = Field(
        None,
        examples=[True],
        description="Whether posts, planting or a wall keep wheels a metre from its edges.",
    )
    tolerable_settlement: Depth | None = Field(
        None, examples=["20 mm"], description="Settlement that would still be put up with."
    )
    note: Note | None = Field(None, description="Anything worth keeping.")
