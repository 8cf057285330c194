"""Field types of the job document: text with a unit, typed by what it measures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from earthfast.job.money import ACCEPTED_MONEY, ACCEPTED_PRICE, Money, Price, read_money, read_price
from earthfast.job.patterns import MONEY_PATTERN, PRICE_PATTERN, quantity_pattern
from earthfast.job.quantity import QuantityError, TypedQuantity, read_quantity
from earthfast.job.units import Dimension, dimension_note


class Section(BaseModel):
    """A part of the job document: fixed once read, and closed to keys it does not know."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=False, defer_build=True)


@dataclass(frozen=True, slots=True)
class Example:
    """A text that a field of plain text accepts, for the file that `new` writes."""

    text: str


def refused(found: str, accepted: str, suggestion: str = "") -> PydanticCustomError:
    """The error that carries what was found and what is accepted through pydantic."""
    return PydanticCustomError(
        "refused",
        "{found}; accepted: {accepted}",
        {"found": found, "accepted": accepted, "suggestion": suggestion},
    )


def in_toml_words(value: object) -> str:
    """A value as found in the file, in few words."""
    if isinstance(value, bool):
        return f"{str(value).lower()}, a yes or no"
    if isinstance(value, (int, float)):
        return f"{value}, a bare number"
    if isinstance(value, str):
        return f"'{value}'" if len(value) <= 60 else f"text of {len(value)} characters"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, (list, tuple)):
        return "an empty list" if not value else "a list"
    return f"{value}"


@dataclass(frozen=True, slots=True)
class TypedText:
    """Reads one kind of text into one frozen type, for pydantic and for the JSON Schema."""

    measures: str
    reads: Callable[[str], object]
    into: type
    accepted: str
    pattern: str
    example: str

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.validate, serialization=core_schema.to_string_ser_schema()
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {
            "type": "string",
            "x-measures": self.measures,
            "pattern": self.pattern,
            "examples": [self.example],
            "x-accepted": self.accepted,
        }

    def validate(self, value: object) -> object:
        """Read a value of the file, or say what is accepted in its place."""
        if isinstance(value, self.into):
            return value
        if not isinstance(value, str):
            numeric = isinstance(value, (int, float)) and not isinstance(value, bool)
            hint = "write it in quotes, with its unit" if numeric else ""
            raise refused(in_toml_words(value), self.accepted, hint)
        try:
            return self.reads(value)
        except QuantityError as error:
            raise refused(error.found, error.accepted, error.suggestion) from None


def measured(
    dimension: Dimension, least: str = "", most: str = "", *, example: str = "", signed: bool = False
) -> TypedText:
    """A quantity of one dimension, between two quantities of it where they are given."""
    note = dimension_note(dimension)
    low = read_quantity(least, dimension, signed=True).low if least else None
    high = read_quantity(most, dimension, signed=True).high if most else None
    limits = " ".join(
        part for part in (f"from {least}" if least else "", f"up to {most}" if most else "") if part
    )
    example = example or note.example
    accepted = note.accepted_as(example)
    accepted = f"{accepted}; {limits}" if limits else accepted

    name = f"signed {dimension}" if signed and not note.signed else str(dimension)

    def reads(text: str) -> TypedQuantity:
        quantity = read_quantity(text, dimension, signed=signed)
        if low is not None and quantity.low < low * (1.0 - 1e-12):
            raise QuantityError(f"'{text}', too small here", accepted)
        if high is not None and quantity.high > high * (1.0 + 1e-12):
            raise QuantityError(f"'{text}', too large here", accepted)
        return quantity

    return TypedText(
        name, reads, TypedQuantity, accepted, quantity_pattern(dimension, signed=signed), example
    )


def _date(value: object) -> object:
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise refused(in_toml_words(value), "a date as year-month-day, such as 2026-11-25") from None
    if type(value) is not date:
        raise refused(in_toml_words(value), "a date as year-month-day, such as 2026-11-25")
    return value


def _number(value: object) -> object:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise refused(in_toml_words(value), "a bare number without quotes, such as 2")
    return value


def _yes_no(value: object) -> object:
    if not isinstance(value, bool):
        raise refused(in_toml_words(value), "true or false")
    return value


# Limits of the fields are our proposal: they catch slips of the unit and judge nothing.
Length = Annotated[TypedQuantity, measured(Dimension.LENGTH, most="10 km")]
Haul = Annotated[TypedQuantity, measured(Dimension.LENGTH, most="5000 km", example="25 km")]
Level = Annotated[TypedQuantity, measured(Dimension.LENGTH, signed=True)]
Depth = Annotated[TypedQuantity, measured(Dimension.LENGTH, most="30 m")]
PlanLength = Annotated[TypedQuantity, measured(Dimension.LENGTH, "100 mm", "2 km", example="4.2 m")]
Thickness = Annotated[TypedQuantity, measured(Dimension.LENGTH, "1 mm", "2 m")]
SpecimenLength = Annotated[TypedQuantity, measured(Dimension.LENGTH, "10 mm", "1 m")]
LeverArm = Annotated[TypedQuantity, measured(Dimension.LENGTH, "10 mm", "10 m", example="1.65 m")]
Area = Annotated[TypedQuantity, measured(Dimension.AREA)]
Volume = Annotated[TypedQuantity, measured(Dimension.VOLUME)]
Mass = Annotated[TypedQuantity, measured(Dimension.MASS)]
Force = Annotated[TypedQuantity, measured(Dimension.FORCE)]
Stress = Annotated[TypedQuantity, measured(Dimension.STRESS)]
Density = Annotated[TypedQuantity, measured(Dimension.DENSITY, "0.1 t/m³", "5 t/m³")]
ArealMass = Annotated[TypedQuantity, measured(Dimension.AREAL_MASS)]
Temperature = Annotated[TypedQuantity, measured(Dimension.TEMPERATURE, "-80 °C", "80 °C")]
TemperatureDifference = Annotated[TypedQuantity, measured(Dimension.TEMPERATURE_DIFFERENCE, most="40 °C")]
FrostIndex = Annotated[TypedQuantity, measured(Dimension.FROST_INDEX, most="5000 °C day")]
Duration = Annotated[TypedQuantity, measured(Dimension.DURATION)]
DesignLife = Annotated[TypedQuantity, measured(Dimension.DURATION, "1 year", "120 years", example="20 years")]
HoursPerDay = Annotated[TypedQuantity, measured(Dimension.DURATION, "30 min", "24 h", example="8 h")]
Frequency = Annotated[TypedQuantity, measured(Dimension.FREQUENCY)]
Fraction = Annotated[TypedQuantity, measured(Dimension.FRACTION, most="100 %")]
WaterContent = Annotated[TypedQuantity, measured(Dimension.FRACTION, most="1000 %")]
Dose = Annotated[TypedQuantity, measured(Dimension.FRACTION, most="40 %", example="6 %")]
Fall = Annotated[TypedQuantity, measured(Dimension.FALL, most="1 in 2")]
Chance = Annotated[TypedQuantity, measured(Dimension.CHANCE, most="50 %")]
Angle = Annotated[TypedQuantity, measured(Dimension.ANGLE, most="360°")]
CarbonByMass = Annotated[TypedQuantity, measured(Dimension.CARBON_BY_MASS, most="20 kgCO2e/kg")]
CarbonByHaul = Annotated[TypedQuantity, measured(Dimension.CARBON_BY_HAUL)]
Amount = Annotated[Money, TypedText("money", read_money, Money, ACCEPTED_MONEY, MONEY_PATTERN, "7.50 GBP")]
UnitPrice = Annotated[Price, TypedText("price", read_price, Price, ACCEPTED_PRICE, PRICE_PATTERN, "60 GBP/t")]
Day = Annotated[date, BeforeValidator(_date)]
Count = Annotated[int, Field(ge=1, le=1_000_000), BeforeValidator(_number)]
Seed = Annotated[int, Field(ge=0, lt=2**63), BeforeValidator(_number)]
Coordinate = Annotated[float, Field(allow_inf_nan=False), BeforeValidator(_number)]
YesNo = Annotated[bool, BeforeValidator(_yes_no)]
Ratio = Annotated[float, Field(ge=0.0, le=1000.0, allow_inf_nan=False), BeforeValidator(_number)]
Name = Annotated[str, Field(min_length=1, max_length=80)]
Note = Annotated[str, Field(max_length=4000)]
