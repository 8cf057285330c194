"""Observations of the job: one model for each kind that the ground knows, made from its registry."""

from __future__ import annotations

import operator
from functools import reduce
from typing import TYPE_CHECKING, Annotated, Any, Literal, TypeAlias

from pydantic import Field, create_model

import earthfast.ground.observations  # noqa: F401 (importing it registers every kind)
from earthfast.ground.observation import (
    OBSERVATION_KINDS,
    WHERE,
    FieldEntry,
    Observation,
    ObservationKind,
    Observer,
)
from earthfast.ground.observation import (
    Dimension as Measures,
)
from earthfast.job.fields import Count, Day, Depth, Level, Name, Note, Ratio, Section, YesNo, measured
from earthfast.job.quantity import TypedQuantity
from earthfast.job.units import Dimension, written

MEASURED: dict[Measures, Dimension] = {
    Measures.LENGTH: Dimension.LENGTH,
    Measures.STRESS: Dimension.STRESS,
    Measures.FORCE: Dimension.FORCE,
    Measures.FRACTION: Dimension.FRACTION,
    Measures.MASS: Dimension.MASS,
    Measures.VOLUME: Dimension.VOLUME,
    Measures.DENSITY: Dimension.DENSITY,
    Measures.TEMPERATURE: Dimension.TEMPERATURE,
    Measures.TIME: Dimension.DURATION,
}
BARE: dict[Measures, Any] = {Measures.RATIO: Ratio, Measures.COUNT: Count}  # Any: annotations


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
        where = {name: getattr(self, name) for name in WHERE}
        own = {entry.name: getattr(self, entry.name) for entry in kind.fields}
        seen = {name: _bare(value) for name, value in (where | own).items() if value is not None}
        return kind.row_type(**seen)


def _bare(value: object) -> Any:  # noqa: ANN401 (a float, a word or a yes-no, as the field says)
    if isinstance(value, TypedQuantity):
        return value.centre
    if isinstance(value, tuple):
        return tuple(_bare(one) for one in value)
    return value


def _annotation(entry: FieldEntry, usual: object) -> Any:  # noqa: ANN401 (an annotation)
    plain: Any = _plain(entry, usual)
    return Annotated[tuple[plain, ...], Field(min_length=1, max_length=5000)] if entry.many else plain


def _plain(entry: FieldEntry, usual: object) -> Any:  # noqa: ANN401 (an annotation)
    """One value of a field, within the limits of its kind."""
    if entry.choices:
        return type(entry.choices[0])
    if entry.dimension is Measures.YES_NO:
        return YesNo
    if entry.dimension in BARE:
        return Annotated[BARE[entry.dimension], Field(ge=float(entry.least), le=float(entry.most))]
    dimension = MEASURED[entry.dimension]
    one = usual[0] if isinstance(usual, tuple) else usual
    example = written(one, dimension) if isinstance(one, float) else ""
    return Annotated[TypedQuantity, measured(dimension, entry.least, entry.most, example=example)]


def _model(kind: ObservationKind) -> type[ObservationEntry]:
    about = {name: ObservationEntry.model_fields[name].description for name in ("kind", "depth")}
    depth = Annotated[TypedQuantity, measured(Dimension.LENGTH, most=kind.deepest)]
    fields: dict[str, Any] = {
        "kind": (Literal[kind.kind], Field(description=about["kind"])),
        "depth": (depth | None, Field(None, description=about["depth"])),
    }
    for entry in kind.fields:
        annotation = _annotation(entry, getattr(kind.example, entry.name))
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
