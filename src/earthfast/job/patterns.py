"""Regular expressions of the job's quantities, for the published schema."""

from __future__ import annotations

import re

from earthfast.job.money import COUNTED, MEASURED
from earthfast.job.units import Dimension, dimension_note, units_of

_NUMBER = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_AMOUNT = r"[0-9]+(?:\.[0-9]+)?(?: *\.\. *[0-9]+(?:\.[0-9]+)?)?"
_CURRENCY = r"(?:[£€$]|[A-Z]{3})"


def quantity_pattern(dimension: Dimension, *, signed: bool = False) -> str:
    """What text of a dimension looks like, as an ECMA regular expression."""
    note = dimension_note(dimension)
    symbols = [spelling for unit in units_of(dimension) for spelling in unit.spellings]
    alternatives = "|".join(_escaped(symbol) for symbol in sorted(set(symbols), key=lambda s: (-len(s), s)))
    sign = "[+−-]?" if signed or note.signed else r"\+?"
    number = f"{sign}{_NUMBER}"
    if dimension is Dimension.LENGTH:
        number = f"(?:{number}|[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+)"
    plain = rf"{number}(?: *\.\. *{number})? *(?:{alternatives})"
    one_in = rf"|1 *(?:in |:) *{_NUMBER}(?: *\.\. *(?:1 *(?:in |:) *)?{_NUMBER})?" if note.reciprocal else ""
    return f"^ *(?:{plain}{one_in}) *$"


def _escaped(symbol: str) -> str:
    return re.sub(r"([()/.°])", lambda match: re.escape(match[1]) if match[1] in "()." else match[1], symbol)


_BOUGHT = sorted(
    {
        *COUNTED,
        *(spelling for dimension in MEASURED for unit in units_of(dimension) for spelling in unit.spellings),
    },
    key=lambda symbol: (-len(symbol), symbol),
)
MONEY_PATTERN = rf"^ *(?:[£€$] *{_AMOUNT}|{_AMOUNT} *{_CURRENCY}) *$"
PRICE_PATTERN = (
    rf"^ *(?:[£€$] *{_AMOUNT}|{_AMOUNT} *{_CURRENCY}) *(?:(?:/|per ) *(?:{'|'.join(_BOUGHT)}))? *$"
)
