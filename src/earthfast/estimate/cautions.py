"""Engineering doubts, carried as values to the screen and the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class CautionCode(StrEnum):
    """Every doubt Earthfast can raise; each is explained in docs/reference/cautions.md."""

    FEW_OBSERVATIONS = "few-observations"
    CONTRADICTING_OBSERVATIONS = "contradicting-observations"
    DRY_SEASON_TEST = "dry-season-test"
    IMPOSSIBLE_DATA = "impossible-data"
    OUTSIDE_VALIDITY = "outside-validity"
    DOSE_QUANTITIES_DISAGREE = "dose-quantities-disagree"
    DOSE_BEYOND_TRIALS = "dose-beyond-trials"
    LEAN_CONCRETE_TERRITORY = "lean-concrete-territory"
    HEAVY_FOR_HAND_MIXING = "heavy-for-hand-mixing"
    PLATE_LIGHTER_THAN_TABLE = "plate-lighter-than-table"
    CARBON_ABOVE_STONE = "carbon-above-stone"
    PRICES_OLD = "prices-old"
    PRICES_INVENTED = "prices-invented"
    VEHICLES_NEED_ENGINEER = "vehicles-need-engineer"
    STOP_AND_ASK = "stop-and-ask"
    RUNOFF = "runoff"
    TOO_HIGH_AT_WALL = "too-high-at-wall"
    FOOTING_NEAR = "footing-near"
    BINDER_OLD = "binder-old"
    ACCESS_TOO_NARROW = "access-too-narrow"
    NOT_USED_YET = "not-used-yet"
    WORKING_WINDOW_SHORT = "working-window-short"
    MODEL_DISAGREES = "model-disagrees"
    FROST_RULES_NOT_MET = "frost-rules-not-met"


@dataclass(frozen=True, slots=True)
class Caution:
    """One doubt: what, where in the job or the build-up, and on whose word."""

    code: CautionCode
    text: str
    where: str = ""
    source: str = ""
