"""The units a job may use: dimension, symbol, factor to SI; the way out to a person."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any


class Dimension(StrEnum):
    """What a quantity measures."""

    LENGTH = "length"
    AREA = "area"
    VOLUME = "volume"
    MASS = "mass"
    FORCE = "force"
    STRESS = "stress"
    DENSITY = "density"
    AREAL_MASS = "mass per area"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    FROST_INDEX = "frost index"
    DURATION = "duration"
    FREQUENCY = "frequency"
    FRACTION = "fraction"
    FALL = "fall"
    CHANCE = "chance"
    ANGLE = "angle"
    PENETRATION = "penetration"
    SPEED = "speed"
    CARBON_BY_MASS = "carbon by mass"
    CARBON_BY_HAUL = "carbon by haul"


class UnitSystem(StrEnum):
    """The units a person wants to read."""

    METRIC = "metric"
    IMPERIAL = "imperial"


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one dimension: SI value = value * factor + offset."""

    of: Dimension
    symbol: str
    factor: float
    offset: float = 0.0
    decimals: int = 0
    plural: str = ""
    also: tuple[str, ...] = ()

    @property
    def spellings(self) -> tuple[str, ...]:
        """Every way of writing this unit, with superscripts and with plain digits."""
        as_listed = (self.symbol, *self.also)
        return tuple(dict.fromkeys((*as_listed, *(plain_symbol(symbol) for symbol in as_listed))))

    def to_si(self, value: float) -> float:
        """A number in this unit, in SI."""
        return value * self.factor + self.offset

    def from_si(self, value: float) -> float:
        """An SI value as a number in this unit."""
        return (value - self.offset) / self.factor


@dataclass(frozen=True, slots=True)
class DimensionNote:
    """How a dimension is asked for and shown."""

    name: Dimension
    wanted: str
    example: str
    si: str
    metric: tuple[str, ...]
    imperial: tuple[str, ...]
    signed: bool = False
    reciprocal: bool = False

    @property
    def accepted(self) -> str:
        """What a person may write, in a phrase."""
        return self.accepted_as(self.example)

    def accepted_as(self, example: str) -> str:
        """What a person may write, in a phrase with an example of its own."""
        symbols = ", ".join(unit.symbol for unit in units_of(self.name))
        forms = f"'{self.example}', " if self.reciprocal else ""
        return f"{self.wanted} in {forms}{symbols}, such as '{example}'"


@cache
def _table() -> dict[str, list[dict[str, Any]]]:  # Any: the file's own shape, checked by the row types
    text = (files("earthfast.job") / "units.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def all_units() -> tuple[Unit, ...]:
    """Every unit, in the order of the table."""
    rows = _table()["unit"]
    return tuple(
        Unit(**{**row, "of": Dimension(row["of"]), "also": tuple(row.get("also", ()))}) for row in rows
    )


@cache
def units_of(dimension: Dimension) -> tuple[Unit, ...]:
    """The units in which a dimension may be written."""
    return tuple(unit for unit in all_units() if unit.of is dimension)


@cache
def dimension_note(dimension: Dimension) -> DimensionNote:
    """How a dimension is asked for and shown."""
    row = next(row for row in _table()["dimension"] if row["name"] == dimension)
    ladders = {"metric": tuple(row["metric"]), "imperial": tuple(row["imperial"])}
    return DimensionNote(**{**row, "name": dimension, **ladders})


def plain_symbol(symbol: str) -> str:
    """A unit's symbol with plain digits and single spaces, for comparing."""
    plain = symbol.replace("²", "2").replace("³", "3").replace("·", " ").replace("*", " ")
    return " ".join(plain.split())


@cache
def unit_named(symbol: str, dimension: Dimension) -> Unit | None:
    """The unit of a dimension that a symbol names, if there is one."""
    wanted = plain_symbol(symbol)
    return next((unit for unit in units_of(dimension) if wanted in unit.spellings), None)


def shown(value: float, unit: str, dimension: Dimension | None = None) -> float:
    """An SI value as a number in the unit named; the dimension is needed only where a symbol has two."""
    found = {one for d in Dimension if dimension in (None, d) and (one := unit_named(unit, d)) is not None}
    if len({(one.factor, one.offset) for one in found}) != 1:
        raise KeyError(f"no single unit is written '{unit}'")
    return next(iter(found)).from_si(value)


def written(value: float, dimension: Dimension, system: UnitSystem = UnitSystem.METRIC) -> str:
    """An SI value as a person reads it: the fitting unit and no more digits than help."""
    if not math.isfinite(value):
        return "not finite"
    note = dimension_note(dimension)
    symbols = note.metric if system is UnitSystem.METRIC else note.imperial
    ladder = [unit for unit in units_of(dimension) if unit.symbol in symbols]
    ladder.sort(key=lambda unit: symbols.index(unit.symbol))
    fitting = [unit for unit in ladder if abs(unit.from_si(value)) >= 1.0 - 1e-9]
    unit = fitting[-1] if fitting else ladder[0]
    number = _rounded(unit.from_si(value), unit.decimals)
    symbol = unit.plural if unit.plural and number != "1" else unit.symbol
    return f"{number}{'' if symbol == '°' else ' '}{symbol}"


def _rounded(number: float, decimals: int) -> str:
    size = abs(number)
    if size >= 100.0 or size == 0.0:
        places = 0
    elif size >= 10.0:
        places = decimals
    elif size >= 1.0:
        places = max(decimals, 1)
    else:
        places = max(decimals, 1 - math.floor(math.log10(size)))
    text = f"{number:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
