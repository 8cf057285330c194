"""The binder as stated, and the specimens made to choose its dose."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from earthfast.job.fields import (
    Area,
    ArealMass,
    Count,
    Day,
    Density,
    Dose,
    Duration,
    Force,
    Mass,
    Name,
    Note,
    Section,
    SpecimenLength,
    Stress,
    Temperature,
    Thickness,
    WaterContent,
    YesNo,
)


class BinderKind(StrEnum):
    """What binds the soil."""

    CEMENT = "cement"
    LIME = "lime"
    LIME_CEMENT = "lime then cement"
    SLAG_CEMENT = "slag cement"


class BinderEntry(Section):
    """The binder, and what somebody has already said about how much of it."""

    kind: BinderKind | None = Field(None, description="What binds the soil.")
    bag_mass: Mass | None = Field(None, description="Mass of one bag.")
    loose_density: Density | None = Field(
        None, examples=["1.2 t/m³"], description="Density as poured from the bag."
    )
    packed_on: Day | None = Field(None, description="Packing date on the bag.")
    mixing_depth: Thickness | None = Field(
        None, examples=["150 mm"], description="Depth of the layer that is mixed, compacted."
    )
    soil_dry_density: Density | None = Field(None, description="Dry density of the soil in that layer.")
    dose: Dose | None = Field(None, description="Stated dose, as a share of the dry mass of the soil.")
    spread: ArealMass | None = Field(None, description="Stated mass spread on each square metre.")
    spread_depth: Thickness | None = Field(
        None, examples=["10 mm"], description="Stated depth of loose binder on the ground."
    )
    bags: Count | None = Field(None, description="Stated number of bags; goes with `bags_over`.")
    bags_over: Area | None = Field(
        None, examples=["12 m²"], description="The area those bags are spread over."
    )


class SpecimenKind(StrEnum):
    """Shape of a specimen."""

    CUBE = "cube"
    CYLINDER = "cylinder"
    BEAM = "beam"
    LUMP = "lump"


class SpecimenEntry(Section):
    """One specimen: how it was made, how it was kept, at what load it failed."""

    name: Name | None = Field(None, description="The mark scratched into it.")
    batch: Name | None = Field(None, description="The batch it was made from.")
    kind: SpecimenKind = Field(description="Its shape.")
    length: SpecimenLength | None = Field(None, description="Length of a beam or a lump; edge of a cube.")
    width: SpecimenLength | None = Field(None, description="Width of a beam or a lump.")
    height: SpecimenLength | None = Field(None, description="Height as it stands under the load.")
    diameter: SpecimenLength | None = Field(None, description="Diameter of a cylinder.")
    span: SpecimenLength | None = Field(None, description="Distance between the supports of a beam.")
    dose: Dose = Field(description="Binder as a share of the dry mass of the soil.")
    lime_dose: Dose | None = Field(None, description="Lime mixed in before, as a share of the dry mass.")
    water: WaterContent | None = Field(None, description="Water as a share of all dry mass when moulded.")
    mass: Mass | None = Field(None, description="Mass when moulded.")
    made: Day | None = Field(None, description="Day it was made.")
    age: Duration | None = Field(None, description="Age at the test.")
    cured_at: Temperature | None = Field(None, description="Temperature at which it was kept.")
    soaked: YesNo | None = Field(None, description="Whether it lay in water for a day before the test.")
    failure_load: Force | None = Field(None, description="Load at failure.")
    strength: Stress | None = Field(None, description="Strength, where a laboratory gives no load.")
    note: Note | None = Field(None, description="Anything worth keeping.")


class Trial(Section):
    """Specimens made to choose the dose."""

    target_strength: Stress | None = Field(None, description="Strength that the layer shall have.")
    target_age: Duration | None = Field(None, description="Age at which it shall have it.")
    specimens: tuple[SpecimenEntry, ...] = Field(
        (), alias="specimen", max_length=2000, description="The specimens."
    )
