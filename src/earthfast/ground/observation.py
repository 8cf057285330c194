"""The registry of observations: a kind is one frozen dataclass, its fields and its likelihood."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, TypeGuard, TypeVar, get_args, get_origin, get_type_hints

from earthfast.estimate import Evidence
from earthfast.ground.stratum_draws import StratumDraws
from earthfast.sources import SourceNote, source_note


class Dimension(StrEnum):
    """What a field of an observation measures; the job document chooses its parser by it."""

    LENGTH = "length"
    STRESS = "stress"
    FORCE = "force"
    FRACTION = "fraction"
    MASS = "mass"
    VOLUME = "volume"
    DENSITY = "density"
    TEMPERATURE = "temperature"
    TIME = "time"
    RATIO = "ratio"
    COUNT = "count"
    CHOICE = "choice"
    YES_NO = "yes or no"


class Observer(StrEnum):
    """Whose hands made a hand test; the scatter depends on it."""

    HOUSEHOLDER = "householder"
    PRACTISED = "practised"


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """Where something was seen; every kind adds what was seen.

    Attributes
    ----------
    depth : depth below the ground surface at which it was seen, m; None when it holds for the place.
    x, y : place on the plan, m; None when not noted.
    place : what the place is called; None when not noted.
    observer : whose hands.
    """

    depth: float | None = None
    x: float | None = None
    y: float | None = None
    place: str | None = None
    observer: Observer = Observer.HOUSEHOLDER

    @property
    def spot(self) -> Hashable | None:
        """What tells one spot from another: its name, else where it lies; None when neither was noted."""
        if self.place is not None:
            return self.place
        return None if self.x is None or self.y is None else (self.x, self.y)


def spots_of(rows: Sequence[Observation]) -> tuple[Hashable, ...]:
    """The spot of each observation; one whose place was not noted has a spot of its own."""
    return tuple(number if row.spot is None else row.spot for number, row in enumerate(rows))


@dataclass(frozen=True, slots=True)
class FieldEntry:
    """One field of an observation as the job document and the pages ask for it.

    Attributes
    ----------
    name : field name in the job and in the dataclass.
    dimension : what it measures.
    sentence : what to put there, as a sentence.
    choices : the words to choose from, for a choice.
    many : a list of values rather than one.
    required : it has no default.
    least, most : least and most that is believed, as a person writes it; empty for no limit or for words.
    """

    name: str
    dimension: Dimension
    sentence: str
    choices: tuple[str, ...] = ()
    many: bool = False
    required: bool = True
    least: str = ""
    most: str = ""


@dataclass(frozen=True, slots=True)
class Asks:
    """Annotation of an observation's field: what it measures, what to put there, and within which limits.

    The limits are our proposal: wide enough for any ground, they catch slips of the unit and of the pen.
    """

    dimension: Dimension
    sentence: str
    least: str = ""
    most: str = ""


class DoubtfulObservationError(ValueError):
    """Fields of one observation that cannot all be right: what was found, and what is accepted."""

    def __init__(self, found: str, accepted: str) -> None:
        super().__init__(f"{found}; accepted: {accepted}")
        self.found, self.accepted = found, accepted


Says = Callable[[Sequence[Any], StratumDraws], tuple[Evidence, ...]]  # Any: the kind's own row type


@dataclass(frozen=True, slots=True)
class ObservationKind:
    """One kind of observation.

    Attributes
    ----------
    kind : its name in the job document.
    question : the plain question it answers.
    how : how to do it, in a sentence or two.
    row_type : the dataclass of one observation.
    fields : its own fields (where it was seen is common to all kinds).
    deepest : depth down to which it can be made, as a person writes it (P).
    minutes : time it takes, the first time (P).
    cost : money it takes beyond the minutes, GBP (P).
    says : likelihood pieces of all observations of this kind in one stratum.
    sources : where the likelihood comes from.
    example : an ordinary outcome, for showing how it is written and for asking what the test is worth.
    """

    kind: str
    question: str
    how: str
    row_type: type[Observation]
    fields: tuple[FieldEntry, ...]
    deepest: str
    minutes: float
    cost: float
    says: Says
    sources: tuple[SourceNote, ...]
    example: Observation


OBSERVATION_KINDS: dict[str, ObservationKind] = {}
_KIND_OF_TYPE: dict[type[Observation], ObservationKind] = {}

Row = TypeVar("Row", bound=Observation)
WHERE = tuple(f.name for f in dataclasses.fields(Observation))


def observation(
    kind: str,
    *,
    question: str,
    how: str,
    deepest: str,
    minutes: float,
    says: Says,
    sources: tuple[str, ...],
    example: Mapping[str, Any],  # Any: the kind's own field values
    cost: float = 0.0,
) -> Callable[[type[Row]], type[Row]]:
    """Register a dataclass as a kind of observation."""

    def register(row_type: type[Row]) -> type[Row]:
        if kind in OBSERVATION_KINDS:
            raise ValueError(f"the observation '{kind}' is registered twice")
        registered = ObservationKind(
            kind,
            question,
            how,
            row_type,
            _entries(row_type),
            deepest,
            minutes,
            cost,
            says,
            tuple(source_note(line) for line in sources),
            row_type(**example),
        )
        OBSERVATION_KINDS[kind] = _KIND_OF_TYPE[row_type] = registered
        return row_type

    return register


def kind_of(row: Observation) -> ObservationKind:
    """The registered kind of one observation."""
    return _KIND_OF_TYPE[type(row)]


def _entries(row_type: type[Observation]) -> tuple[FieldEntry, ...]:
    hints = get_type_hints(row_type, include_extras=True)
    entries = []
    for field in dataclasses.fields(row_type):
        if field.name in WHERE:
            continue
        value_type, asks = get_args(hints[field.name])
        choices = [part for part in (value_type, *get_args(value_type)) if _is_choice(part)]
        entries.append(
            FieldEntry(
                name=field.name,
                dimension=asks.dimension,
                sentence=asks.sentence,
                choices=tuple(choices[0]) if choices else (),
                many=get_origin(value_type) is tuple,
                required=field.default is dataclasses.MISSING,
                least=asks.least,
                most=asks.most,
            )
        )
    return tuple(entries)


def _is_choice(part: object) -> TypeGuard[type[StrEnum]]:
    return isinstance(part, type) and issubclass(part, StrEnum)
