"""Our unit table against an independent one, and the way out to a person."""

from __future__ import annotations

import math
import re

import pint
import pytest

from earthfast.job import Dimension, Unit, UnitSystem, read_quantity, shown, written
from earthfast.job.units import all_units, dimension_note, unit_named, units_of

REGISTRY = pint.UnitRegistry()
REGISTRY.define("blow = 1")
REGISTRY.define("CO2e = 1")
# how the independent table spells what it would misread or does not know
SPELT = {
    "°": "degree",
    "°C": "degC",
    "°F": "degF",
    "°C day": "delta_degC * day",
    "°C h": "delta_degC * hour",
    "°F day": "delta_degF * day",
    "t": "metric_ton",
    "t/m²": "metric_ton / m**2",
    "t/m³": "metric_ton / m**3",
    "L": "liter",
    "mL": "milliliter",
    "kgf": "kilogram_force",
    "kgf/cm²": "kilogram_force / cm**2",
    "lbf": "pound_force",
    "tsf": "2000 * pound_force / foot**2",
    "short ton": "short_ton",
    "day": "day",
    "min": "minute",
    "h": "hour",
    "kgCO2e/t": "kg / metric_ton",
    "kgCO2e/kg": "kg / kg",
    "kgCO2e/(t km)": "kg / (metric_ton * km)",
    "mm/h": "mm / hour",
    "in/h": "inch / hour",
    "m/min": "m / minute",
    "in": "inch",
    "in/blow": "inch / blow",
    "%": "percent",
}
SI = {
    "°C": "degC",
    "K s": "delta_degC * second",
    "1": "dimensionless",
    "1/s": "1 / second",
    "1/m": "1 / m",
}


def spelt(symbol: str) -> str:
    if symbol in SPELT:
        return SPELT[symbol]
    if symbol.startswith("per "):
        return f"1 / {symbol[4:]}"
    return symbol.replace("²", "**2").replace("³", "**3")


def independent(unit: Unit, value: float) -> float:
    si = SI.get(dimension_note(unit.of).si, spelt(dimension_note(unit.of).si))
    offset = unit.of is Dimension.TEMPERATURE
    quantity = (
        REGISTRY.Quantity(value, spelt(unit.symbol)) if offset else value * REGISTRY(spelt(unit.symbol))
    )
    return float(quantity.to(si).magnitude)


@pytest.mark.parametrize("unit", all_units(), ids=lambda unit: f"{unit.of}: {unit.symbol}")
def test_factor_agrees_with_an_independent_table(unit):
    for value in (0.0, 1.0, 7.25, 1e4):
        assert unit.to_si(value) == pytest.approx(independent(unit, value), rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("unit", all_units(), ids=lambda unit: f"{unit.of}: {unit.symbol}")
@pytest.mark.parametrize("value", [0.003, 1.0, 12.5, 7e5])
def test_way_out_undoes_the_way_in(unit, value):
    assert unit.from_si(unit.to_si(value)) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_other_spellings_mean_the_same_as_the_symbol():
    same = {
        "N/mm²": "MPa",
        "MN/m²": "MPa",
        "kN/m²": "kPa",
        "g/cm³": "metric_ton/m**3",
        "Mg/m³": "metric_ton/m**3",
        "kg/L": "metric_ton/m**3",
        "cm³": "milliliter",
        "pcf": "pound/foot**3",
    }
    for spelling, other in same.items():
        ours = next(unit for d in Dimension if (unit := unit_named(spelling, d)))
        assert REGISTRY.Quantity(1.0, spelt(ours.symbol)).to(other).magnitude == pytest.approx(1.0, rel=1e-12)


def test_no_spelling_means_two_units_of_one_dimension():
    for dimension in Dimension:
        spellings = [spelling for unit in units_of(dimension) for spelling in unit.spellings]
        assert len(spellings) == len(set(spellings)), dimension


def test_a_symbol_shared_by_two_dimensions_has_one_factor_or_a_different_meaning_nobody_mixes():
    factors: dict[str, set[float]] = {}
    for unit in all_units():
        for spelling in unit.spellings:
            factors.setdefault(spelling, set()).add(unit.factor)
    assert [spelling for spelling, found in factors.items() if len(found) > 1] == []


@pytest.mark.parametrize("dimension", list(Dimension))
def test_every_dimension_has_an_example_it_can_read_and_units_to_be_shown_in(dimension):
    note = dimension_note(dimension)
    read_quantity(note.example, dimension)
    symbols = {unit.symbol for unit in units_of(dimension)}
    assert set(note.metric) <= symbols
    assert set(note.imperial) <= symbols


@pytest.mark.parametrize(
    ("value", "unit", "number"),
    [(0.1, "mm", 100.0), (0.3048, "ft", 1.0), (36e3, "kN", 36.0), (0.18, "%", 18.0), (12.0, "°F", 53.6)],
)
def test_shown_gives_the_number_in_the_unit(value, unit, number):
    assert shown(value, unit) == pytest.approx(number)  # definitions of the units


def test_shown_refuses_a_unit_it_does_not_know():
    with pytest.raises(KeyError, match="furlong"):
        shown(1.0, "furlong")


@pytest.mark.parametrize(
    ("value", "dimension", "text"),
    [
        (0.0123, Dimension.LENGTH, "12 mm"),
        (0.0034, Dimension.LENGTH, "3.4 mm"),
        (0.00042, Dimension.LENGTH, "0.42 mm"),
        (0.15, Dimension.LENGTH, "150 mm"),
        (4.2, Dimension.LENGTH, "4.2 m"),
        (14.25, Dimension.LENGTH, "14.25 m"),
        (0.0, Dimension.LENGTH, "0 mm"),
        (36e3, Dimension.FORCE, "36 kN"),
        (1.25e6, Dimension.STRESS, "1.2 MPa"),
        (75e3, Dimension.STRESS, "75 kPa"),
        (0.062, Dimension.FRACTION, "6.2 %"),
        (378.0, Dimension.MASS, "378 kg"),
        (5292.0, Dimension.MASS, "5.29 t"),
        (1750.0, Dimension.DENSITY, "1750 kg/m³"),
        (-3.0, Dimension.TEMPERATURE, "-3 °C"),
        (1800.0, Dimension.DURATION, "30 min"),
        (2 * 86400.0, Dimension.DURATION, "2 days"),
        (86400.0, Dimension.DURATION, "1 day"),
        (math.radians(30.0), Dimension.ANGLE, "30°"),
        (math.nan, Dimension.LENGTH, "not finite"),
    ],
)
def test_written_shows_a_fitting_unit_and_no_more_digits_than_help(value, dimension, text):
    assert written(value, dimension) == text


def test_written_follows_the_wanted_system():
    assert written(0.1016, Dimension.LENGTH, UnitSystem.IMPERIAL) == "4 in"
    assert written(12.0, Dimension.TEMPERATURE, UnitSystem.IMPERIAL) == "54 °F"


@pytest.mark.parametrize("unit", all_units(), ids=lambda unit: f"{unit.of}: {unit.symbol}")
def test_every_spelling_reads_with_and_without_a_space(unit):
    for spelling in unit.spellings:
        for text in (f"3 {spelling}", f"3{spelling}"):
            assert read_quantity(text, unit.of).low == pytest.approx(unit.to_si(3.0)), text


def test_symbols_hold_nothing_that_a_number_could_swallow():
    for unit in all_units():
        for spelling in unit.spellings:
            assert not re.match(r"[0-9.+\-]|e[0-9]", spelling), spelling
