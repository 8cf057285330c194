"""Tools at hand and the people who use them."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from earthfast.job.fields import (
    Count,
    Fraction,
    HoursPerDay,
    Mass,
    PlanLength,
    Section,
    Thickness,
    Volume,
    YesNo,
)


class Tiller(Section):
    """A machine that turns the soil in place."""

    depth: Thickness | None = Field(
        None, examples=["150 mm"], description="How deep it really mixes in this ground."
    )
    width: PlanLength | None = Field(None, examples=["500 mm"], description="Width of one strip.")
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Plate(Section):
    """A vibrating plate."""

    mass: Mass | None = Field(None, examples=["90 kg"], description="Mass of the machine.")
    length: PlanLength | None = Field(
        None, examples=["500 mm"], description="Length of the plate on the ground."
    )
    width: PlanLength | None = Field(
        None, examples=["420 mm"], description="Width of the plate on the ground."
    )
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Tamper(Section):
    """A hand or vibrating tamper."""

    mass: Mass | None = Field(None, examples=["6 kg"], description="Mass of the tamper.")
    powered: YesNo | None = Field(None, description="Whether an engine drives it.")
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Roller(Section):
    """A roller."""

    mass: Mass | None = Field(None, examples=["600 kg"], description="Mass of the machine.")
    width: PlanLength | None = Field(None, examples=["650 mm"], description="Width of the drum.")
    drums: Count | None = Field(None, description="How many drums vibrate.")
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Mixer(Section):
    """A drum mixer."""

    volume: Volume | None = Field(None, examples=["90 L"], description="What one load of it holds.")
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Spreader(Section):
    """A machine or a cart that spreads binder evenly."""

    width: PlanLength | None = Field(None, examples=["600 mm"], description="Width of one strip.")
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Digger(Section):
    """An excavator."""

    mass: Mass | None = Field(None, examples=["1.5 t"], description="Mass of the machine.")
    bucket: Volume | None = Field(None, examples=["40 L"], description="What the bucket holds.")
    hired: YesNo | None = Field(None, description="Whether it is hired by the day.")


class Tools(Section):
    """What is at hand or can be hired; a tool that is not named is not there."""

    tiller: Tiller | None = Field(None, description="A machine that turns the soil in place.")
    plate: Plate | None = Field(None, description="A vibrating plate.")
    tamper: Tamper | None = Field(None, description="A hand or vibrating tamper.")
    roller: Roller | None = Field(None, description="A roller.")
    mixer: Mixer | None = Field(None, description="A drum mixer.")
    spreader: Spreader | None = Field(None, description="A machine that spreads binder evenly.")
    digger: Digger | None = Field(None, description="An excavator.")


class Skill(StrEnum):
    """How used the crew is to this work."""

    FIRST_TIME = "first time"
    PRACTISED = "practised"


class Crew(Section):
    """The people who build it."""

    people: Count | None = Field(None, description="How many people work.")
    hours_per_day: HoursPerDay | None = Field(None, description="Working hours of one day.")
    skill: Skill | None = Field(None, examples=["practised"], description="How used they are to this work.")
    spread_scatter: Fraction | None = Field(
        None,
        examples=["25 %"],
        description="Scatter of the binder spread, one standard deviation over the mean.",
    )
    depth_scatter: Fraction | None = Field(
        None,
        examples=["25 %"],
        description="Scatter of the mixing depth, one standard deviation over the mean.",
    )
