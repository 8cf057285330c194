"""The job document: everything that is known of one job, as it was typed."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from earthfast.job.choosing import Choosing, Weights
from earthfast.job.fields import Day, Name, Note, Section, Seed, YesNo
from earthfast.job.further_tests import FurtherTest
from earthfast.job.observations import AnyObservation
from earthfast.job.plan import Plan
from earthfast.job.prices import CarbonFactors, Prices
from earthfast.job.site import Site, StratumEntry
from earthfast.job.tools import Crew, Tools
from earthfast.job.trials import BinderEntry, Trial
from earthfast.job.units import UnitSystem
from earthfast.job.use import Use

SCHEMA_VERSION = 1


class Heading(Section):
    """What the job is called and how its answers are shown."""

    title: Name = Field(description="What the job is called on the sheets.")
    date: Day | None = Field(None, description="Day the job was written.")
    note: Note | None = Field(None, description="Anything worth keeping.")
    invented: YesNo | None = Field(
        None, examples=[False], description="Whether its numbers are made up for demonstration."
    )
    seed: Seed | None = Field(
        None, examples=[1], description="Starts the random draws; the same job and seed give the same answer."
    )
    units: UnitSystem | None = Field(
        None,
        description="Not heeded yet: answers and sheets are in metric units. What you type may be in either.",
    )


class Job(Section):
    """One job. Whatever is left out is decided later, with its source, and listed as assumed."""

    schema_version: Literal[1] = Field(description="Shape of this file; always 1 for now.")
    heading: Heading = Field(alias="job", description="What the job is called.")
    plan: Plan = Field(description="What is to be paved.")
    uses: tuple[Use, ...] = Field(
        alias="use", min_length=1, max_length=50, description="What stands and rolls on it."
    )
    observations: tuple[AnyObservation, ...] = Field(
        alias="observation", min_length=1, max_length=20000, description="What was seen in the ground."
    )
    site: Site | None = Field(None, description="The place.")
    strata: tuple[StratumEntry, ...] = Field(
        (), alias="stratum", max_length=20, description="The layers of the ground, where they are known."
    )
    further_tests: tuple[FurtherTest, ...] = Field(
        (),
        alias="further_test",
        max_length=100,
        description="Tests that could still be made, where they take other than usual.",
    )
    tools: Tools | None = Field(None, description="Tools at hand.")
    crew: Crew | None = Field(None, description="The people who build it.")
    binder: BinderEntry | None = Field(None, description="The binder, and what was said about its dose.")
    prices: Prices | None = Field(None, description="Which prices hold.")
    carbon: CarbonFactors | None = Field(None, description="Carbon factors and distances.")
    trial: Trial | None = Field(None, description="Specimens made to choose the dose.")
    weights: Weights | None = Field(None, description="How much each thing counts when ways are ranked.")
    choose: Choosing | None = Field(None, description="Limits, and the way that has been chosen.")
