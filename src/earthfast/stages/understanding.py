"""What a job comes to before anything is chosen: ground, weather, and for each area its use, setting and costs."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from earthfast.choice import Setting
from earthfast.estimate import Caution, Trail
from earthfast.job import JobProblems, LoadedJob, PlanArea
from earthfast.stages.climate import Weather, weather_of
from earthfast.stages.costing import Costing, costing_of
from earthfast.stages.edging import edging_of
from earthfast.stages.lie import Lie, lie_of
from earthfast.stages.profile import GroundProfile, ground_profile
from earthfast.stages.setting import DRAWS, job_draws, setting_of
from earthfast.stages.surroundings import engineer_words, surroundings_cautions
from earthfast.stages.usage import Usage, load_problems, usage_of

DEFAULT_SEED = 1


@dataclass(frozen=True, slots=True)
class Area:
    """One area of the plan, ready to be decided."""

    entry: PlanArea
    usage: Usage
    setting: Setting
    costing: Costing
    lie: Lie
    trail: Trail


@dataclass(frozen=True, slots=True)
class Understanding:
    """A job translated once into what the floors below need."""

    loaded: LoadedJob
    profile: GroundProfile
    weather: Weather
    areas: tuple[Area, ...]
    trail: Trail

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """Doubts raised on the way."""
        own = tuple(caution for area in self.areas for caution in area.usage.cautions)
        job = self.loaded.job
        around = surroundings_cautions(job, job.heading.date)
        return (*self.loaded.cautions, *self.profile.cautions, *own, *around)

    @property
    def for_engineer(self) -> str:
        """That the ground is for an engineer, in a sentence before everything else; empty on other ground."""
        return engineer_words(self.loaded.job, is_soft=bool(self.profile.soft_strata))


def seed_of(loaded: LoadedJob) -> np.random.SeedSequence:
    """The one source of chance of a job."""
    seed = loaded.job.heading.seed
    return np.random.SeedSequence(DEFAULT_SEED if seed is None else seed)


def understand(loaded: LoadedJob) -> Understanding:
    """Translate a job; raise JobProblems where names in it are not known."""
    problems = load_problems(loaded)
    if problems:
        raise JobProblems(problems, str(loaded.path or ""))
    ground, *rest = seed_of(loaded).spawn(3)
    draws, areas = (np.random.default_rng(child) for child in rest)
    profile = ground_profile(loaded.job, DRAWS, ground)
    weather = weather_of(loaded)
    shared = np.random.default_rng(int(areas.integers(2**62)))
    drawn = job_draws(weather.climate, draws, shared)
    trail = Trail()
    found = []
    for entry in loaded.job.plan.areas:
        steps = trail.under(entry.name.replace(" ", "-").lower())
        usage = usage_of(loaded, entry, steps)
        setting = setting_of(loaded.job, entry, profile, usage, weather, drawn, steps)
        edging = edging_of(setting, usage)
        setting = replace(setting, restraint=None if usage.wheels_keep_off else edging)
        costing = costing_of(loaded, entry, profile, usage, edging, steps)
        lie = lie_of(loaded.job, usage.loads, steps)
        found.append(Area(entry, usage, setting, costing, lie, steps))
    return Understanding(loaded, profile, weather, tuple(found), trail)
