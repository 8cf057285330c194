"""Ways of building, generated, checked and ranked."""

from earthfast.choice.judging import Judgement, judge
from earthfast.choice.search import Candidate, Found, Merit, beaten, find_ways, weighted_cost
from earthfast.choice.setting import Batch, GroundStep, MixSetting, Setting
from earthfast.choice.ways import Surface, Sweep, full_sweep, steps_between, ways_of

__all__ = [
    "Batch",
    "Candidate",
    "Found",
    "GroundStep",
    "Judgement",
    "Merit",
    "MixSetting",
    "Setting",
    "Surface",
    "Sweep",
    "beaten",
    "find_ways",
    "full_sweep",
    "judge",
    "steps_between",
    "ways_of",
    "weighted_cost",
]
