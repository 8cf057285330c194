"""Prices and carbon factors that replace or complete the listed ones."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from earthfast.job.fields import (
    CarbonByHaul,
    CarbonByMass,
    Day,
    Example,
    Fraction,
    Haul,
    Name,
    Note,
    Section,
    UnitPrice,
    YesNo,
)

Currency = Annotated[str, Field(pattern=r"^[A-Z]{3}$"), Example("GBP")]


class Prices(Section):
    """Which prices hold, and since when."""

    currency: Currency | None = Field(None, description="Three-letter code of the currency of the answers.")
    date: Day | None = Field(None, description="When the prices below were asked for.")
    price_list: Name | None = Field(
        None, alias="list", description="A TOML file of prices, beside the job file."
    )
    override: dict[str, UnitPrice] = Field(
        default_factory=dict,
        examples=[{"cement_bag": "7.50 GBP/bag"}],
        description="Prices by the key of the price list, in place of the listed ones.",
    )
    tax: Fraction | None = Field(None, examples=["0 %"], description="Sales tax on everything.")
    contingency: Fraction | None = Field(
        None, examples=["0 %"], description="Added before tax for what nobody foresaw."
    )


class PriceRow(Section):
    """One price of a list."""

    key: Name = Field(description="The key by which quantities and overrides name it.")
    price: UnitPrice = Field(description="What it costs; a range is the 5..95 % band.")
    date: Day | None = Field(None, description="When it was asked for.")
    source: Note | None = Field(None, description="Who named it.")
    note: Note | None = Field(None, description="Anything worth keeping.")


class PriceList(Section):
    """A file of prices, named by `list` under [prices]."""

    title: Name = Field(description="What the list is called on the sheets.")
    currency: Currency = Field(description="Three-letter code; every price in the list is in it.")
    date: Day | None = Field(None, description="When the prices were asked for, where a row says nothing.")
    invented: YesNo = Field(False, description="Whether the prices are made up for demonstration.")
    rows: tuple[PriceRow, ...] = Field(
        alias="price", min_length=1, max_length=5000, description="The prices."
    )


class CarbonFactors(Section):
    """Carbon factors and distances."""

    cement: CarbonByMass | None = Field(None, description="Of the cement, from its declaration.")
    lime: CarbonByMass | None = Field(
        None, examples=["800 kgCO2e/t"], description="Of the lime, from its declaration."
    )
    stone: CarbonByMass | None = Field(
        None, examples=["7.8 kgCO2e/t"], description="Of the crushed stone, at the works gate."
    )
    haul: CarbonByHaul | None = Field(None, description="Of carrying a tonne over a kilometre.")
    stone_haul: Haul | None = Field(None, description="From the works to the site, one way.")
    binder_haul: Haul | None = Field(
        None, examples=["40 km"], description="From the merchant to the site, one way."
    )
    spoil_haul: Haul | None = Field(
        None, examples=["20 km"], description="From the site to the tip, one way."
    )
