"""Observations of the job: one model for each kind that the ground knows, made from its registry."""

from __future__ import annotations

import operator
from functools import reduce
from typing import TYPE_CHECKING, Annotated, Any, Literal, TypeAlias

from pydantic import Field, create_model

import earthfast.ground.observations  # noqa: F401 (importing it registers every kind)
from earthfast.ground.observation import (
    OBSERVATION_KINDS,
    FieldEntry,
    Observation,
    ObservationKind,
    Observer,
)
from earthfast.ground.observation import (
    Dimension as Measures,
)
from earthfast.job.fields import (
    Count,
    Day,
    Density,
    Depth,
    Duration,
    Force,
    Length,
    Level,
    Mass,
    Name,
    Note,
    Ratio,
    Section,
    Stress,
    Temperature,
    Volume,
    WaterContent,
    YesNo,
)
from earthfast.job.quantity import TypedQuantity

FIELD_TYPES: dict[Measures, Any] = {  # Any: annotations
    Measures.LENGTH: Length,
    Measures.STRESS: Stress,
    Measures.FORCE: Force,
    Measures.FRACTION: WaterContent,
    Measures.MASS: Mass,
    Measures.VOLUME: Volume,
    Measures.DENSITY: Density,
    Measures.TEMPERATURE: Temperature,
    Measures.TIME: Duration,
    Measures.RATIO: Ratio,
    Measures.COUNT: Count,
    Measures.YES_NO: YesNo,
}


class ObservationEntry(Section):
    """One thing seen or measured in the ground: which kind, where, when, by whom."""

    kind: str = Field(description="Which observation it is.")
    depth: Depth | None = Field(None, description="Depth below the ground surface at which it was seen.")
    x: Level | None = Field(None, description="Place on the plan, along the first axis.")
    y: Level | None = Field(None, description="Place on the plan, along the second axis.")
    place: Name | None = Field(None, description="What the place is called, such as a trial pit.")
    observer: Observer | None = Field(None, description="Whose hands made it.")
    seen: Day | None = Field(None, description="Day it was seen.")
    note: Note | None = Field(None, description="Anything worth keeping.")

    def row(self) -> Observation:
        """The observation as the ground takes it, in SI; a range is taken at its centre."""
        kind = OBSERVATION_KINDS[self.kind]
        where = {"depth": self.depth, "x": self.x, "y": self.y, "observer": self.observer}
        own = {entry.name: getattr(self, entry.name) for entry in kind.fields}
        seen = {name: _bare(value) for name, value in (where | own).items() if value is not None}
        return kind.row_type(**seen)


def _bare(value: object) -> Any:  # noqa: ANN401 (a float, a word or a yes-no, as the field says)
    if isinstance(value, TypedQuantity):
        return value.centre
    if isinstance(value, tuple):
        return tuple(_bare(one) for one in value)
    return value


def _annotation(entry: FieldEntry) -> Any:  # noqa: ANN401 (an annotation)
    plain: Any = type(entry.choices[0]) if entry.choices else FIELD_TYPES[entry.dimension]
    return Annotated[tuple[plain, ...], Field(min_length=1, max_length=5000)] if entry.many else plain


def _model(kind: ObservationKind) -> type[ObservationEntry]:
    about_kind = ObservationEntry.model_fields["kind"].description
    fields: dict[str, Any] = {"kind": (Literal[kind.kind], Field(description=about_kind))}
    for entry in kind.fields:
        annotation = _annotation(entry)
        if entry.required:
            fields[entry.name] = (annotation, Field(description=entry.sentence))
        else:
            fields[entry.name] = (annotation | None, Field(None, description=entry.sentence))
    name = "".join(word.capitalize() for word in kind.kind.replace("-", " ").split()) + "Entry"
    return create_model(name, __base__=ObservationEntry, __doc__=kind.question, **fields)


OBSERVATION_MODELS: dict[str, type[ObservationEntry]] = {
    name: _model(kind) for name, kind in sorted(OBSERVATION_KINDS.items())
}


def read_observation(entry: object) -> ObservationEntry:
    """One entry of a file as the observation its kind makes it; raise ValidationError where it is none."""
    kind = entry.get("kind") if isinstance(entry, dict) else getattr(entry, "kind", None)
    return OBSERVATION_MODELS.get(str(kind), ObservationEntry).model_validate(entry)


if TYPE_CHECKING:
    AnyObservation: TypeAlias = ObservationEntry
else:
    AnyObservation = (
        Annotated[reduce(operator.or_, OBSERVATION_MODELS.values()), Field(discriminator="kind")]
        if OBSERVATION_MODELS
        else ObservationEntry
    )
