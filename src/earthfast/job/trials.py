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
    LeverArm,
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
        None, examples=["1303 kg/m³"], description="Density as poured from the bag."
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
    CORE = "core"
    BEAM = "beam"
    LUMP = "lump"


class BeamLoading(StrEnum):
    """Where a beam is pressed."""

    MIDDLE = "middle"
    THIRDS = "thirds"


class DensityOf(StrEnum):
    """What a dry density counts."""

    SOIL_AND_BINDER = "soil and binder"
    SOIL = "soil alone"


class InWater(StrEnum):
    """What a cured specimen did in a night under water."""

    FELL_APART = "fell apart"
    SOFTENED = "softened"
    STAYED_FIRM = "stayed firm"


class Dropped(StrEnum):
    """What a specimen did when dropped from 1 m on a hard floor."""

    BROKE = "broke"
    SURVIVED = "survived"


class Brushed(StrEnum):
    """What a wire brush did to a specimen."""

    CUT = "cut into it"
    MARKED = "only marked it"


CRUSHED = ("failure_load", "hung_mass", "strength")
FIELD_TESTS = ("penetrometer", "in_water", "dropped", "brushed")


class SpecimenEntry(Section):
    """One specimen: how it was made, how it was kept, and what broke it or what a simple test showed."""

    name: Name | None = Field(None, description="The mark scratched into it.")
    batch: Name | None = Field(None, description="The batch it was made from.")
    kind: SpecimenKind = Field(description="Its shape; a core is cut from the finished layer.")
    length: SpecimenLength | None = Field(None, description="Length of a beam or a lump; edge of a cube.")
    width: SpecimenLength | None = Field(None, description="Width of a beam or a lump.")
    height: SpecimenLength | None = Field(None, description="Height as it stands under the load.")
    diameter: SpecimenLength | None = Field(None, description="Diameter of a cylinder or a core.")
    span: SpecimenLength | None = Field(None, description="Distance between the supports of a beam.")
    loaded_at: BeamLoading | None = Field(
        None, description="Where a beam is pressed: the middle, if not said."
    )
    dose: Dose = Field(description="Binder as a share of the dry mass of the soil.")
    lime_dose: Dose | None = Field(None, description="Lime mixed in before, as a share of the dry mass.")
    water: WaterContent | None = Field(None, description="Water as a share of all dry mass when moulded.")
    mass: Mass | None = Field(None, description="Mass when moulded.")
    dry_density: Density | None = Field(
        None, examples=["1.75 t/m³"], description="Dry density when moulded, where a laboratory tells it."
    )
    density_of: DensityOf | None = Field(
        None, description="What that density counts: soil and binder, if not said."
    )
    made: Day | None = Field(None, description="Day it was made.")
    delay: Duration | None = Field(
        None, examples=["90 min"], description="Time from the water going in to the end of packing."
    )
    age: Duration | None = Field(None, description="Age at the test.")
    cured_at: Temperature | None = Field(None, description="Temperature at which it was kept.")
    soaked: YesNo | None = Field(None, description="Whether it lay in water for a day before the test.")
    failure_load: Force | None = Field(
        None, description="Load at failure; 0 kN where it fell apart in water."
    )
    hung_mass: Mass | None = Field(
        None, examples=["60 kg"], description="Mass hung on a lever at failure; goes with the two arms."
    )
    hung_arm: LeverArm | None = Field(
        None, examples=["1.65 m"], description="Distance of that mass from the hinge."
    )
    specimen_arm: LeverArm | None = Field(
        None, examples=["150 mm"], description="Distance of the specimen from the hinge."
    )
    lever_mass: Mass | None = Field(None, examples=["12 kg"], description="Mass of the lever itself.")
    lever_middle: LeverArm | None = Field(
        None,
        examples=["900 mm"],
        description="Distance of the point where the lever balances from the hinge.",
    )
    strength: Stress | None = Field(None, description="Strength, where a laboratory gives no load.")
    penetrometer: Stress | None = Field(
        None, examples=["0.3 MPa"], description="Unconfined strength read off a pocket penetrometer."
    )
    in_water: InWater | None = Field(None, description="What it did in a night under water.")
    dropped: Dropped | None = Field(None, description="What it did when dropped from 1 m on a hard floor.")
    brushed: Brushed | None = Field(None, description="What ten strokes of a wire brush did to it.")
    note: Note | None = Field(None, description="Anything worth keeping.")

    @property
    def results(self) -> tuple[str, ...]:
        """Names of the results it has, the most telling first."""
        return tuple(name for name in (*CRUSHED, *FIELD_TESTS) if getattr(self, name) is not None)

    @property
    def was_crushed(self) -> bool:
        """Whether a load or a strength is told."""
        return any(name in CRUSHED for name in self.results)


class Trial(Section):
    """Specimens made to choose the dose."""

    target_strength: Stress | None = Field(None, description="Strength that the layer shall have.")
    target_age: Duration | None = Field(None, description="Age at which it shall have it.")
    time_left: Duration | None = Field(
        None,
        examples=["2 weeks"],
        description="Time until the dose has to be known: specimens are broken before.",
    )
    specimens: tuple[SpecimenEntry, ...] = Field(
        (), alias="specimen", max_length=2000, description="The specimens."
    )
