"""Ways of building, generated, checked and ranked."""

from earthfast.choice.break_even import (
    GO_WITH_STRENGTH,
    Level,
    Weakest,
    level_value,
    on_other_ground,
    weaker_ground_to_win,
    weakest_ground,
)
from earthfast.choice.judging import Judgement, judge, judge_until
from earthfast.choice.next_test import (
    Decision,
    Gains,
    WaysInQuestion,
    decision_between,
    value_of_outcome,
    ways_in_question,
)
from earthfast.choice.outcomes import Outcome, outcome_of
from earthfast.choice.rare_chance import (
    RareChance,
    subset_chance,
)
from earthfast.choice.reliability import FOLLOWED, RARE, rare_chance, reliability_index, room_of, variables_of
from earthfast.choice.search import (
    Candidate,
    Found,
    Merit,
    Standing,
    beaten,
    best_of,
    cost_in_money,
    find_ways,
    standing_choice,
    weighted_cost,
)
from earthfast.choice.setting import Batch, GroundStep, MixSetting, Setting
from earthfast.choice.ways import (
    THICKEST_SLAB,
    THICKEST_STONE,
    Surface,
    Sweep,
    full_sweep,
    steps_between,
    ways_of,
)

__all__ = [  # noqa: RUF022 (plain alphabetical order, as the house test reads it)
    "Batch",
    "Candidate",
    "Decision",
    "FOLLOWED",
    "Found",
    "GO_WITH_STRENGTH",
    "Gains",
    "GroundStep",
    "Judgement",
    "Level",
    "Merit",
    "MixSetting",
    "Outcome",
    "RARE",
    "RareChance",
    "Setting",
    "Standing",
    "Surface",
    "Sweep",
    "THICKEST_SLAB",
    "THICKEST_STONE",
    "WaysInQuestion",
    "Weakest",
    "beaten",
    "best_of",
    "cost_in_money",
    "decision_between",
    "find_ways",
    "full_sweep",
    "judge",
    "judge_until",
    "level_value",
    "on_other_ground",
    "outcome_of",
    "rare_chance",
    "reliability_index",
    "room_of",
    "standing_choice",
    "steps_between",
    "subset_chance",
    "value_of_outcome",
    "variables_of",
    "ways_in_question",
    "ways_of",
    "weaker_ground_to_win",
    "weakest_ground",
    "weighted_cost",
]
