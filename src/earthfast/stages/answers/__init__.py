"""The answers of the five stages: one schema for the screen, the JSON and the sheets."""

from earthfast.stages.answers.build import (
    AreaBuild,
    BayLine,
    BuildAnswer,
    ClockLine,
    CornerLine,
    SafetyLine,
    ShoppingLine,
    StepLine,
    StratumLine,
)
from earthfast.stages.answers.choose import (
    AreaChoice,
    CheckLine,
    ChooseAnswer,
    CourseLine,
    FrontPoint,
    WayLine,
)
from earthfast.stages.answers.look import EstimateLine, GroupChance, LookAnswer, StopLine, StratumAnswer
from earthfast.stages.answers.parts import Answer, AssumptionLine, CautionLine, Figure, Part, SourceLine
from earthfast.stages.answers.why import InfluenceLine, TrailStep, WhyAnswer

__all__ = [
    "Answer",
    "AreaBuild",
    "AreaChoice",
    "AssumptionLine",
    "BayLine",
    "BuildAnswer",
    "CautionLine",
    "CheckLine",
    "ChooseAnswer",
    "ClockLine",
    "CornerLine",
    "CourseLine",
    "EstimateLine",
    "Figure",
    "FrontPoint",
    "GroupChance",
    "InfluenceLine",
    "LookAnswer",
    "Part",
    "SafetyLine",
    "ShoppingLine",
    "SourceLine",
    "StepLine",
    "StopLine",
    "StratumAnswer",
    "StratumLine",
    "TrailStep",
    "WayLine",
    "WhyAnswer",
]
