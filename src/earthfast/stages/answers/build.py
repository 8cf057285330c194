"""What `build` answers."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.choose import CheckLine, CourseLine, StratumLine
from earthfast.stages.answers.parts import Answer, Figure, Part
from earthfast.stages.answers.sounding import SoundingsAnswer


class CornerLine(Part):
    """Levels at one corner, relative to the job's datum."""

    corner: str
    x_m: float
    y_m: float
    ground_m: float
    finished_m: float
    formation_m: float
    dig_mm: float


class SpreadLine(Part):
    """One binder on one bay."""

    kg: float
    bags: str = Field(description="'2 bags and 20 kg of the third'.")
    spread_mm: float
    kg_per_m2: float
    grid_mm: float = Field(description="Side of the square that one bag covers.")


class BayLine(Part):
    """One bay: what is spread on it and how much water it takes."""

    bay: str
    x_m: float
    y_m: float
    length_m: float
    width_m: float
    area_m2: float
    binder_kg: float
    bags: str = Field(description="'7 bags and 12 kg of the eighth'; empty where nothing is treated.")
    spread_mm: float
    spread_kg_per_m2: float
    grid_mm: float = Field(description="Side of the square that one bag covers.")
    water_l: float
    lime: SpreadLine | None = None


class ShoppingLine(Part):
    """One thing to buy or hire, in whole units."""

    item: str
    net: str = Field(description="What is needed, before waste: '1.26 m3'.")
    waste_percent: float
    order: str = Field(description="What to order: '3 bulk bags of 850 kg'.")
    spare: str
    price: Figure | None
    price_is_invented: bool = Field(default=False, description="The price rests on an invented example.")


class StepLine(Part):
    """One step of the work, in order."""

    number: int
    step: str
    hold: str = Field(description="What must have been looked at before going on; empty where no hold point.")


class SafetyLine(Part):
    """A usual caution."""

    hazard: str
    text: str
    source: str


class ClockLine(Part):
    """Working time at one air temperature."""

    air_c: float
    minutes: float


class AreaBuild(Part):
    """What is built on one area."""

    name: str
    method: str
    title: str
    outline_m: tuple[tuple[float, float], ...]
    area_m2: float
    dug_area_m2: float = Field(description="With the base carried past the edge.")
    courses: tuple[CourseLine, ...]
    strata: tuple[StratumLine, ...]
    topsoil_mm: float
    water_mm: float | None
    frost_mm: float | None = Field(
        description="Frost depth in the coldest winter of the design life, median."
    )
    checks: tuple[CheckLine, ...]
    fall_1_in: float
    fall_direction: str
    beyond_mm: float = Field(default=0.0, description="How far dig and base reach past the paving.")
    corners: tuple[CornerLine, ...]
    levels_words: str = Field(
        default="", description="What the levels at the corners take for granted, in sentences."
    )
    mean_dig_mm: float
    dig_volume: Figure
    stays: str = Field(
        default="", description="What of the soil dug is taken to stay on the site, measured in the ground."
    )
    bays: tuple[BayLine, ...]
    dose_words: str
    water_words: str
    mixing_words: str = Field(description="Depth to till and how many passes of the tiller.")
    compaction_words: str
    season_words: str = Field(
        default="", description="When to build with a binder; empty where nothing is treated."
    )
    clock: tuple[ClockLine, ...]
    steps: tuple[StepLine, ...]
    diagonal_m: float | None = Field(description="Diagonal to check a rectangle by.")


class BuildAnswer(Answer):
    """What to buy, set out and do."""

    areas: tuple[AreaBuild, ...]
    shopping: tuple[ShoppingLine, ...]
    total: Figure
    safety: tuple[SafetyLine, ...]
    date: str
    soundings: SoundingsAnswer | None = Field(default=None, description="Where the job has cone soundings.")
    files: tuple[str, ...] = Field(default=(), description="Sheets written.")
