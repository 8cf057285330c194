"""Ways of building, generated, checked and ranked."""

from earthfast.choice.judging import Judgement, judge, judge_until
from earthfast.choice.next_test import (
    Gains,
    WaysInQuestion,
    losses,
    value_of_outcome,
    ways_in_question,
)
from earthfast.choice.outcomes import Outcome, outcome_of
from earthfast.choice.search import Candidate, Found, Merit, beaten, find_ways, weighted_cost
from earthfast.choice.setting import Batch, GroundStep, MixSetting, Setting
from earthfast.choice.ways import Surface, Sweep, full_sweep, steps_between, ways_of

__all__ = [
    "Batch",
    "Candidate",
    "Found",
    "Gains",
    "GroundStep",
    "Judgement",
    "Merit",
    "MixSetting",
    "Outcome",
    "Setting",
    "Surface",
    "Sweep",
    "WaysInQuestion",
    "beaten",
    "find_ways",
    "full_sweep",
    "judge",
    "judge_until",
    "losses",
    "outcome_of",
    "steps_between",
    "value_of_outcome",
    "ways_in_question",
    "ways_of",
    "weighted_cost",
]
