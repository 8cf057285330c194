"""Tests of the ground that could still be made, where they are other than usual."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, TypeAlias

from pydantic import Field

import earthfast.ground.observations  # noqa: F401 (importing it registers every kind)
from earthfast.ground.observation import OBSERVATION_KINDS
from earthfast.job.fields import Amount, Count, Duration, Section, YesNo

if TYPE_CHECKING:
    KindOfTest: TypeAlias = str
else:
    KindOfTest = Literal[tuple(sorted(OBSERVATION_KINDS))]


class FurtherTest(Section):
    """One kind of test as it would be made here; whatever is left out is as usual."""

    kind: KindOfTest = Field(description="Which observation it would be.")
    possible: YesNo | None = Field(None, description="Whether it can be made at all.")
    readings: Count | None = Field(None, description="Readings taken in one visit.")
    work: Duration | None = Field(None, examples=["30 min"], description="Time it takes.")
    money: Amount | None = Field(None, examples=["45 GBP"], description="Money paid out for it.")
    wait: Duration | None = Field(None, examples=["7 days"], description="Time until the outcome is known.")
