"""Money and prices as a person writes them: an amount, its currency, and what it buys."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from enum import StrEnum

from earthfast.estimate import Estimate, exact, lognormal_from_band
from earthfast.job.quantity import QuantityError
from earthfast.job.units import Dimension, plain_symbol, unit_named

CURRENCY_SIGNS = {"£": "GBP", "€": "EUR", "$": "USD"}
_AMOUNT = r"[0-9]+(?:\.[0-9]+)?"
_RANGE = rf"(?P<low>{_AMOUNT})(?:\s*\.\.\s*(?P<high>{_AMOUNT}))?"
_FORMS = (
    re.compile(rf"(?P<currency>[£€$])\s*{_RANGE}\s*(?:(?:/|per\s)\s*(?P<per>[^\s].*))?"),
    re.compile(rf"{_RANGE}\s*(?P<currency>[£€$]|[A-Z]{{3}})\s*(?:(?:/|per\s)\s*(?P<per>[^\s].*))?"),
)
ACCEPTED_MONEY = "an amount with its currency, such as '7.50 GBP' or '£7.50'"
ACCEPTED_PRICE = "an amount, its currency and what it buys, such as '60 GBP/t', '85 GBP/day' or '£7.50/bag'"


class Per(StrEnum):
    """What one price buys."""

    EACH = "each"
    BAG = "bag"
    LOAD = "load"
    TRIP = "trip"
    DAY = "day"
    WEEK = "week"
    HOUR = "h"
    MASS = "kg"
    VOLUME = "m³"
    AREA = "m²"
    LENGTH = "m"


COUNTED = {
    word: per
    for per, words in {
        Per.EACH: ("each", "item", "unit", "job", "sheet", "roll", "skip", "visit"),
        Per.BAG: ("bag",),
        Per.LOAD: ("load",),
        Per.TRIP: ("trip",),
        Per.DAY: ("day",),
        Per.WEEK: ("week",),
        Per.HOUR: ("h", "hour"),
    }.items()
    for word in words
}
MEASURED = {
    Dimension.MASS: Per.MASS,
    Dimension.VOLUME: Per.VOLUME,
    Dimension.AREA: Per.AREA,
    Dimension.LENGTH: Per.LENGTH,
}


@dataclass(frozen=True, slots=True)
class Money:
    """An amount of money with its text as typed; low and high are the 5..95 % band."""

    text: str
    currency: str
    low: float
    high: float

    def estimate(self) -> Estimate:
        """The amount with its uncertainty, in the currency."""
        return lognormal_from_band(self.low, self.high) if self.high > self.low else exact(self.low)

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Price:
    """What one kg, m³, m², m, day, bag... costs; low and high are the 5..95 % band."""

    text: str
    currency: str
    per: Per
    low: float
    high: float

    def estimate(self) -> Estimate:
        """The price with its uncertainty, in the currency per unit of what it buys."""
        return lognormal_from_band(self.low, self.high) if self.high > self.low else exact(self.low)

    def __str__(self) -> str:
        return self.text


def read_money(text: str) -> Money:
    """Read an amount of money; raise QuantityError saying what was found and what is accepted."""
    match = _match(text, ACCEPTED_MONEY)
    if match["per"]:
        raise QuantityError(f"'{text}', a price for each {match['per']}", ACCEPTED_MONEY)
    low, high = _band(text, match, ACCEPTED_MONEY)
    return Money(text, _currency(match), low, high)


def read_price(text: str) -> Price:
    """Read a price; raise QuantityError saying what was found and what is accepted."""
    match = _match(text, ACCEPTED_PRICE)
    low, high = _band(text, match, ACCEPTED_PRICE)
    per, size = _what_it_buys(text, match["per"] or "each")
    return Price(text, _currency(match), per, low / size, high / size)


def _match(text: str, accepted: str) -> re.Match[str]:
    plain = " ".join(text.split())
    for form in _FORMS:
        if len(plain) <= 60 and (match := form.fullmatch(plain)):
            return match
    suggestion = ""
    if re.fullmatch(_RANGE, plain):
        suggestion = "add the currency"
    elif re.search(r"[0-9],[0-9]", plain):
        suggestion = "write the decimals after a point and the thousands without a mark"
    elif plain.startswith("-"):
        suggestion = "an amount is 0 or more"
    raise QuantityError(f"'{plain[:60]}'", accepted, suggestion)


def _currency(match: re.Match[str]) -> str:
    sign: str = match["currency"]
    return CURRENCY_SIGNS.get(sign, sign)


def _band(text: str, match: re.Match[str], accepted: str) -> tuple[float, float]:
    low = float(match["low"])
    high = float(match["high"] or low)
    if not math.isfinite(high):
        raise QuantityError(f"'{text}', too large a number", accepted)
    if low > high or (low == 0.0 and high > 0.0):
        raise QuantityError(f"'{text}'", f"{accepted}; a range runs from low to high and starts above 0")
    return low, high


def _what_it_buys(text: str, unit: str) -> tuple[Per, float]:
    if unit in COUNTED:
        return COUNTED[unit], 1.0
    for dimension, per in MEASURED.items():
        found = unit_named(unit, dimension)
        if found is not None:
            return per, found.factor
    near = difflib.get_close_matches(plain_symbol(unit), [*COUNTED, "t", "kg", "m3", "m2", "m"], n=1)
    raise QuantityError(f"'{text}'", ACCEPTED_PRICE, f"did you mean '{near[0]}'?" if near else "")
