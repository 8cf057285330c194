"""A quantity as a person writes it: number or range, then a unit; what was typed is kept."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass

from earthfast.estimate import Estimate, exact, lognormal_from_band, normal_from_band
from earthfast.job.units import Dimension, Unit, dimension_note, plain_symbol, unit_named, units_of

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_INCHES = r"[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+"  # 1 1/2 in: rulers in inches and feet are read so
_QUANTITY = re.compile(
    rf"(?P<low>{_INCHES}|{_NUMBER})(?:\s*\.\.\s*(?P<high>{_INCHES}|{_NUMBER}))?\s*(?P<unit>[^\s0-9+\-.,].*)?"
)
_ONE_IN = re.compile(
    rf"1\s*(?:in\s|:)\s*(?P<low>{_NUMBER})(?:\s*\.\.\s*(?:1\s*(?:in\s|:)\s*)?(?P<high>{_NUMBER}))?"
)
_LONGEST = 60  # characters; nothing a person writes as one quantity is longer
FRACTION_UNITS = ("in", "ft")


class QuantityError(ValueError):
    """Text that is no quantity of the dimension wanted: what was found, what is accepted, a suggestion."""

    def __init__(self, found: str, accepted: str, suggestion: str = "") -> None:
        super().__init__(f"{found}; accepted: {accepted}" + (f" ({suggestion})" if suggestion else ""))
        self.found = found
        self.accepted = accepted
        self.suggestion = suggestion


@dataclass(frozen=True, slots=True)
class TypedQuantity:
    """A quantity with its text as typed; low and high are the 5..95 % band in SI, equal without a range."""

    text: str
    dimension: Dimension
    low: float
    high: float

    @property
    def is_range(self) -> bool:
        """Whether a range was typed."""
        return self.low != self.high

    @property
    def centre(self) -> float:
        """Median of a positive quantity, mean of a signed one, in SI."""
        return self.estimate().centre

    def estimate(self) -> Estimate:
        """The quantity with its uncertainty: a range is the 5..95 % band."""
        if not self.is_range:
            return exact(self.low)
        if self.low > 0.0 and not dimension_note(self.dimension).signed:
            return lognormal_from_band(self.low, self.high)
        return normal_from_band(self.low, self.high)

    def __str__(self) -> str:
        return self.text


def read_quantity(text: str, dimension: Dimension, *, signed: bool = False) -> TypedQuantity:
    """Read a quantity of one dimension; raise QuantityError saying what was found and what is accepted."""
    note = dimension_note(dimension)
    if len(text) > _LONGEST:
        raise QuantityError(f"{len(text)} characters", note.accepted)
    plain = " ".join(text.replace("−", "-").split())
    one_in = _ONE_IN.fullmatch(plain)
    if one_in and note.reciprocal:
        low, high = _reciprocals(plain, one_in, note.accepted)
        return TypedQuantity(text, dimension, low, high)
    if one_in:
        raise QuantityError(f"'{plain}', a fall or a chance", note.accepted)
    match = _QUANTITY.fullmatch(plain)
    if match is None:
        raise _not_a_quantity(plain, dimension)
    unit = _unit(plain, match["unit"], dimension)
    low = unit.to_si(_number(match["low"], unit, plain, note.accepted))
    high = unit.to_si(_number(match["high"], unit, plain, note.accepted)) if match["high"] else low
    _refuse_impossible(plain, low, high, dimension, signed=signed or note.signed, ranged=bool(match["high"]))
    return TypedQuantity(text, dimension, low, high)


def _reciprocals(plain: str, match: re.Match[str], accepted: str) -> tuple[float, float]:
    steps = [float(match["low"]), float(match["high"] or match["low"])]
    if not all(math.isfinite(step) and step >= 1.0 for step in steps):
        raise QuantityError(f"'{plain}'", accepted, "the second number is 1 or more")
    return 1.0 / max(steps), 1.0 / min(steps)


def _unit(plain: str, symbol: str | None, dimension: Dimension) -> Unit:
    note = dimension_note(dimension)
    if not symbol:
        raise QuantityError(f"'{plain}', a number without a unit", note.accepted, "add the unit")
    unit = unit_named(symbol, dimension)
    if unit is not None:
        return unit
    if re.search(r"[0-9]", plain_symbol(symbol).split("/")[0].rstrip("0123456789")) or ".." in symbol:
        raise _not_a_quantity(plain, dimension)
    for other in Dimension:
        if unit_named(symbol, other) is not None:
            raise QuantityError(f"'{plain}', {dimension_note(other).wanted}", note.accepted)
    raise QuantityError(
        f"'{plain}', with the unknown unit '{symbol}'", note.accepted, _near(symbol, dimension)
    )


def _near(symbol: str, dimension: Dimension) -> str:
    spellings = [spelling for unit in units_of(dimension) for spelling in unit.spellings]
    same_letters = [spelling for spelling in spellings if spelling.lower() == plain_symbol(symbol).lower()]
    near = same_letters or difflib.get_close_matches(symbol, spellings, n=1)
    return f"did you mean '{near[0]}'?" if near else ""


def _number(text: str, unit: Unit, plain: str, accepted: str) -> float:
    if "/" in text:
        if unit.symbol not in FRACTION_UNITS:
            raise QuantityError(f"'{plain}'", accepted, "fractions are read in inches and feet only")
        whole, _, fraction = text.rpartition(" ")
        top, bottom = (int(part) for part in fraction.split("/"))
        if bottom == 0:
            raise QuantityError(f"'{plain}', divided by zero", accepted)
        return int(whole or 0) + top / bottom
    value = float(text)
    if not math.isfinite(value):
        raise QuantityError(f"'{plain}', too large a number", accepted)
    return value


def _refuse_impossible(
    plain: str, low: float, high: float, dimension: Dimension, *, signed: bool, ranged: bool
) -> None:
    accepted = dimension_note(dimension).accepted
    if not (math.isfinite(low) and math.isfinite(high)):
        raise QuantityError(f"'{plain}', too large a number", accepted)
    if low > high:
        raise QuantityError(
            f"'{plain}', a range that runs down", f"{accepted}; a range runs from low to high"
        )
    if signed:
        return
    if low < 0.0:
        raise QuantityError(f"'{plain}', below zero", f"{accepted}, 0 or more")
    if ranged and low == 0.0 and high > 0.0:
        raise QuantityError(
            f"'{plain}', a range from zero",
            f"{accepted}; a range is the 5..95 % band of a positive quantity and starts above 0",
        )


_SLIPS = (  # what the text looks like, what to call it, what to write instead
    (r"[+-]?(?:nan|inf|∞).*", ", not a finite number", ""),
    (
        r"(?!.*(?:\.\.|/)).*[0-9][,'_ ][0-9].*",
        ", with a comma or a gap inside the number",
        "write the decimals after a point and the thousands without a mark: '4.2', '1200'",
    ),
    (
        r".*[0-9]\s*[^\s0-9.]*\s*(?:-|–|—|…|to)\s*[0-9].*",
        "",
        "write a range as 'low..high unit', such as '4..9 %'",
    ),
    (r".*\.\..*", "", "a range has two numbers and one unit at its end: '4..9 %'"),
    (r".*(?:±|\+/-).*", "", "write the 5..95 % band as 'low..high unit'"),
)


def _not_a_quantity(plain: str, dimension: Dimension) -> QuantityError:
    accepted = dimension_note(dimension).accepted
    if not plain:
        return QuantityError("empty text", accepted)
    for looks, name, suggestion in _SLIPS:
        if re.fullmatch(looks, plain.lower()):
            return QuantityError(f"'{plain}'{name}", accepted, suggestion)
    return QuantityError(f"'{plain}', not a number with a unit", accepted)
