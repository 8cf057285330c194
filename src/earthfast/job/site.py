"""The place: climate, falls, water, neighbours, access; and the strata where they are known."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from earthfast.ground import Protection
from earthfast.ground.stratum_prior import Bedding, Season
from earthfast.job.fields import (
    Depth,
    Fall,
    FrostIndex,
    Length,
    Name,
    Note,
    PlanLength,
    Section,
    Temperature,
    TemperatureDifference,
    YesNo,
)


class CompassPoint(StrEnum):
    """Which way the ground or the surface falls."""

    NORTH = "north"
    NORTH_EAST = "north-east"
    EAST = "east"
    SOUTH_EAST = "south-east"
    SOUTH = "south"
    SOUTH_WEST = "south-west"
    WEST = "west"
    NORTH_WEST = "north-west"


class Services(StrEnum):
    """What is known of buried services."""

    UNKNOWN = "unknown"
    NONE_FOUND = "none found"
    LOCATED = "located"


class Hemisphere(StrEnum):
    """Which half of the year is winter."""

    NORTH = "north"
    SOUTH = "south"


class Climate(Section):
    """The winters: a named preset, a few numbers, twelve months, or a file of days."""

    preset: Name | None = Field(
        None, examples=["London-like"], description="Name of a climate that ships with Earthfast."
    )
    mean: Temperature | None = Field(
        None, examples=["10 °C"], description="Mean air temperature of the year."
    )
    amplitude: TemperatureDifference | None = Field(
        None, description="By how much the height of summer is warmer than the mean; needs `mean`."
    )
    cold_spell: Temperature | None = Field(
        None, examples=["-4 °C"], description="Mean of the coldest week of an ordinary winter."
    )
    warmest_month: Temperature | None = Field(
        None, examples=["17 °C"], description="Mean of the warmest month."
    )
    coldest_month: Temperature | None = Field(
        None, examples=["3 °C"], description="Mean of the coldest month."
    )
    frost_index: FrostIndex | None = Field(None, description="Sum of cold days of an ordinary winter.")
    design_frost_index: FrostIndex | None = Field(
        None, examples=["150 °C day"], description="Sum of cold days of a rare winter."
    )
    monthly: tuple[Temperature, ...] | None = Field(
        None, min_length=12, max_length=12, description="Mean temperatures of January to December."
    )
    hemisphere: Hemisphere | None = Field(
        None, description="Where the place lies; twelve months or a file of days tell it by themselves."
    )
    daily: Name | None = Field(
        None, description="A CSV file of daily mean temperatures, beside the job file."
    )


class Falls(Section):
    """The slope of the surface."""

    available: Fall | None = Field(None, description="Fall that the levels allow.")
    wanted: Fall | None = Field(None, description="Fall that the surface shall have.")
    towards: CompassPoint | None = Field(None, description="Which way the water runs.")


class LocalClimate(StrEnum):
    """Whether a place is colder or milder than the country around it."""

    USUAL = "usual"
    HARSH = "north slope or ridge"
    SHELTERED = "closed rows of buildings"


class Earthwork(StrEnum):
    """How the surface lies to the ground around it."""

    LEVEL = "natural level"
    CUTTING = "cutting"
    BANK = "bank above 2 m"


class EdgeDrainage(StrEnum):
    """What takes the water at the edge."""

    SIDES = "open sides"
    PIPES = "gutters, gullies and pipes"


class Lie(Section):
    """How the place lies, as the German frost rule asks."""

    climate: LocalClimate | None = Field(
        None,
        description="Whether the place is colder or milder than the country around it; usual if left out.",
    )
    ground: Earthwork | None = Field(
        None, description="How the surface lies to the ground around it; at its natural level if left out."
    )
    drained_by: EdgeDrainage | None = Field(
        None, description="What takes the water at the edge; its open sides if left out."
    )


class Near(Section):
    """What stands close enough to matter; distances from the nearest edge of the work."""

    building: Length | None = Field(None, examples=["5 m"], description="Nearest wall of a building.")
    retaining_wall: Length | None = Field(None, examples=["4 m"], description="Nearest retaining wall.")
    slope: Length | None = Field(None, examples=["10 m"], description="Nearest steep slope, cutting or bank.")
    watercourse: Length | None = Field(None, examples=["20 m"], description="Nearest ditch, stream or pond.")
    drain: Length | None = Field(
        None, examples=["8 m"], description="Nearest gully or drain that leads to water."
    )
    planting: Length | None = Field(
        None, examples=["2 m"], description="Nearest bed whose plants dislike lime."
    )
    services: Services | None = Field(None, description="What is known of buried services.")


class Access(Section):
    """How people, machines and lorries reach the work."""

    narrowest: PlanLength | None = Field(
        None, examples=["900 mm"], description="Width of the narrowest gate or passage."
    )
    barrow_distance: Length | None = Field(
        None, examples=["30 m"], description="From where a lorry can stand to the work."
    )
    lorry: YesNo | None = Field(None, examples=[False], description="Whether a lorry can stand at the work.")


class Site(Section):
    """The place where the work is done."""

    place: Name | None = Field(None, description="What the place is called.")
    season: Season | None = Field(None, description="State of the ground when it was looked at.")
    climate: Climate | None = Field(None, description="The winters.")
    falls: Falls | None = Field(None, description="The slope of the surface.")
    lie: Lie | None = Field(None, description="How the place lies, as the German frost rule asks.")
    damp_course_height: Length | None = Field(
        None,
        examples=["150 mm"],
        description="Height of the building's damp course above the ground beside it.",
    )
    winter_water_depth: Depth | None = Field(
        None,
        examples=["0.6..1.2 m"],
        description="Depth of the highest winter water level, where it is known rather than observed.",
    )
    formation_care: Protection | None = Field(
        None,
        examples=["average"],
        description="How well formation is drained and kept dry; good promises it a fall and an outlet.",
    )
    near: Near | None = Field(None, description="What stands close enough to matter.")
    made_ground: YesNo | None = Field(
        None, examples=[False], description="Whether the ground was ever filled or tipped on."
    )
    contaminated: YesNo | None = Field(
        None, examples=[False], description="Whether the ground may be contaminated."
    )
    access: Access | None = Field(None, description="How people and machines reach the work.")
    note: Note | None = Field(None, description="Anything worth keeping.")


class StratumEntry(Section):
    """One natural layer of the ground, where its depths are known."""

    name: Name = Field(description="What it is called.")
    top: Depth = Field(examples=["0 mm"], description="Depth of its top below the ground surface.")
    bottom: Depth | None = Field(
        None, examples=["300 mm"], description="Depth of its bottom; left out for the lowest one."
    )
    taken_for: Bedding | None = Field(None, description="What kind of layer it is taken for.")
    note: Note | None = Field(None, description="Anything worth keeping.")
