"""What `choose` answers."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Answer, Figure, Part
from earthfast.stages.answers.winter import WinterLine


class CourseLine(Part):
    """One course of a build-up, from the surface down."""

    material: str
    thickness_mm: float
    dose_percent: float = Field(default=0.0, description="Cement, per cent of dry soil mass.")
    lime_percent: float = Field(default=0.0, description="Hydrated lime, per cent of dry soil mass.")


class CheckLine(Part):
    """One way in which the build-up can disappoint."""

    name: str
    question: str
    demand: Figure
    capacity: Figure
    chance: float = Field(description="Chance of failure over the design life.")
    chance_text: str = Field(description="'about 1 in 40', 'less than 1 in 4000'.")
    target: float
    passes: bool
    governed_by: str = Field(description="The load, winter or rule that governs.")
    sentence: str
    key: str = Field(description="Key of the chance in the trail.")


class AnyFailure(Part):
    """That at least one check fails over the design life."""

    chance: float = Field(description="Counted draw by draw: checks that fail together count once.")
    standard_error: float
    chance_text: str = Field(description="'about 1 in 6', 'less than 1 in 4000'.")
    leading: tuple[str, ...] = Field(description="The checks that take part in most of what fails.")
    sentence: str


class WayLine(Part):
    """One way of building, judged and priced."""

    key: str = Field(description="Short label unique in the area: 'stone-150'.")
    method: str
    title: str = Field(description="'150 mm of crushed stone'.")
    courses: tuple[CourseLine, ...]
    thickness_mm: float
    dig_mm: float = Field(description="Mean depth dug below today's ground.")
    price: Figure
    carbon: Figure
    spoil: Figure
    trips: Figure
    hours: Figure
    days: Figure
    strength_days: float | None = Field(
        default=None,
        description="Days at 20 °C until treated soil has the strength it wants before frost; None where none is treated.",
    )
    dose_words: str = Field(description="The dose in its four languages; empty where nothing is treated.")
    checks: tuple[CheckLine, ...]
    weakest: str = Field(description="Name of the check with the largest chance over its target.")
    any_failure: AnyFailure
    passes: bool
    because: str = Field(description="Why it was chosen, or why it fell, in words.")


class StratumLine(Part):
    """A stratum as drawn under the build-up."""

    name: str
    symbol: str
    top_mm: float
    bottom_mm: float


class FrontPoint(Part):
    """A passing way that no other passing way beats on both price and carbon."""

    way: str
    title: str
    price: float = Field(description="In the currency of the answer.")
    price_text: str = Field(description="As shown: '£2,399'.")
    carbon_kg: float


class AreaChoice(Part):
    """All ways for one area of the plan."""

    name: str
    area_m2: float
    stands_on_it: tuple[str, ...]
    ways: tuple[WayLine, ...] = Field(description="The best of each method, ranked; rejected ones last.")
    front: tuple[FrontPoint, ...]
    chosen: str | None = Field(description="Key of the first-ranked way that passes; None where none does.")
    ranked_by: str
    swept: int = Field(description="How many ways were checked.")
    says: tuple[str, ...] = Field(description="What the numbers say, in sentences.")
    winters: tuple[WinterLine, ...] = Field(default=(), description="What frost does, one line a way shown.")


class ChooseAnswer(Answer):
    """Every feasible way of building, checked and ranked."""

    areas: tuple[AreaChoice, ...]
    draws: int
    currency: str
    price_date: str
    strata: tuple[StratumLine, ...] = Field(default=(), description="The ground under every way.")
