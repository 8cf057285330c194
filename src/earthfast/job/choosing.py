"""What is wanted of the way of building: limits, weights, chances put up with."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from earthfast.job.fields import Amount, Chance, Count, Depth, Mass, Name, Ratio, Section, Volume


class Weights(Section):
    """How much each thing counts when ways are ranked; only their ratios matter."""

    price: Ratio | None = Field(None, examples=[1], description="Weight of the price.")
    carbon: Ratio | None = Field(None, examples=[0], description="Weight of the carbon.")
    spoil: Ratio | None = Field(None, examples=[0], description="Weight of the soil taken away.")
    days: Ratio | None = Field(None, examples=[0], description="Weight of the days it takes.")


class FrostRule(StrEnum):
    """National rules on frost that a way may have to meet besides the checks."""

    UK = "UK"
    GERMAN = "German"
    US = "US"


class Choosing(Section):
    """Limits that no way may pass, and the way that has been chosen."""

    way: Name | None = Field(None, description="Name of the way that has been chosen.")
    most_price: Amount | None = Field(None, examples=["1500 GBP"], description="The most it may cost.")
    most_carbon: Mass | None = Field(
        None, examples=["400 kg"], description="The most carbon it may cost, as CO2 equivalent."
    )
    most_spoil: Volume | None = Field(None, description="The most soil that may be taken away.")
    most_days: Count | None = Field(None, description="The most days it may take.")
    deepest_dig: Depth | None = Field(
        None, examples=["400 mm"], description="The deepest that may be dug below the surface."
    )
    frost_rule: FrostRule | None = Field(
        None, description="National frost rule that every way has to meet besides the checks."
    )
    chance: dict[str, Chance] = Field(
        default_factory=dict,
        examples=[{"frost": "10 %"}],
        description="Chance of failure put up with over the design life, by check.",
    )
