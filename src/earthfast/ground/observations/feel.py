"""What the hand feels: thread, ribbon, dry strength, shaking, toughness, shine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

import numpy as np
from scipy.special import ndtr

from earthfast.estimate import Answers, Evidence, Floats, Numbers, ordered_choices
from earthfast.ground.hand_key import (
    DILATANCY_KEY,
    DRY_STRENGTH_KEY,
    TOUGHNESS_KEY,
    Dilatancy,
    DryStrength,
    Toughness,
)
from earthfast.ground.observation import Asks, Dimension, Observation, Observer, observation
from earthfast.ground.stratum_draws import StratumDraws

EXACT_ROW = 0.70  # chance that the answer is one the key lists for the soil, 60 to 80 %; P
NEXT_TO = 0.27  # chance of an answer beside one of those; P


class Thread(StrEnum):
    """How the soil rolls to a 3 mm thread."""

    NOT_AT_ALL = "will not roll"
    BARELY = "barely rolls"
    EASILY = "rolls easily"
    AGAIN = "rolls again and again"


class Shine(StrEnum):
    """How a moist lump looks where a blade has cut it."""

    DULL = "dull"
    SLIGHT = "slight shine"
    SHINY = "shiny"


class Feel(StrEnum):
    """How a wet pinch feels between the fingers."""

    GRITTY = "gritty"
    NEITHER = "neither"
    SMOOTH = "smooth"


def key_probabilities(key: tuple[tuple[int, ...], ...], choices: int) -> Floats:
    """Chance of each answer for each row of the hand-test key, shape (choices, rows)."""
    table = np.full((choices, len(key)), 0.0)
    for row, listed in enumerate(key):
        beside = {
            near for answer in listed for near in (answer - 1, answer + 1) if 0 <= near < choices
        } - set(listed)
        others = choices - len(listed) - len(beside)
        table[list(listed), row] = EXACT_ROW / len(listed)
        if beside:
            table[sorted(beside), row] = NEXT_TO / len(beside)
        rest = [c for c in range(choices) if c not in listed and c not in beside]
        if others:
            table[rest, row] = (1.0 - EXACT_ROW - NEXT_TO) / others
    return np.asarray(table / table.sum(axis=0))


def _by_key(
    key: tuple[tuple[int, ...], ...], words: type[StrEnum], answers: Sequence[StrEnum], ground: StratumDraws
) -> tuple[Evidence, ...]:
    order = list(words)
    probabilities = key_probabilities(key, len(order))[:, ground.fines_class]
    return (Answers(probabilities, tuple(order.index(answer) for answer in answers)),)


def _in_order(
    words: type[StrEnum], answers: Sequence[StrEnum], centre: Floats, limits: tuple[float, ...], blur: float
) -> tuple[Evidence, ...]:
    order = list(words)
    chosen = tuple(order.index(answer) for answer in answers)
    return (Answers(ordered_choices(centre, limits, blur), chosen),)


THREAD_LIMITS = tuple(float(np.log(0.03 + index)) for index in (0.03, 0.11, 0.225))


def _thread_says(rows: Sequence[ThreadTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    centre = np.log(0.03 + ground.plasticity_index)
    return _in_order(Thread, [row.result for row in rows], centre, THREAD_LIMITS, 0.35)


@observation(
    "thread",
    question="Can you roll it into a 3 mm thread?",
    how="Take soil without grit, wet it to putty, roll it on a flat board to the thickness of a matchstick, "
    "fold it and roll again until it crumbles.",
    deepest="10 m",
    minutes=5.0,
    says=_thread_says,
    example={"result": Thread.EASILY},
    sources=("astm_d2488, words of plasticity [M]", "earthfast_proposal, bands of plasticity index [P]"),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadTest(Observation):
    """A 3 mm thread rolled by hand."""

    result: Annotated[Thread, Asks(Dimension.CHOICE, "How it rolls to a 3 mm thread.")]


def _dry_strength_says(rows: Sequence[DryStrengthTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    return _by_key(DRY_STRENGTH_KEY, DryStrength, [row.result for row in rows], ground)


HAND_KEY = (
    "venkatramaiah_geotechnical_engineering, table of hand tests, p. 101 [S]",
    "earthfast_proposal, 70 % on the row of the key [P]",
)


@observation(
    "dry strength",
    question="How does a dried ball of it break?",
    how="Dry a 12 mm ball in the sun or a warm oven, then crush it: slight is finger pressure, medium firm "
    "finger pressure, high only against a table, very high not even so.",
    deepest="10 m",
    minutes=5.0,
    says=_dry_strength_says,
    example={"result": DryStrength.MEDIUM},
    sources=HAND_KEY,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class DryStrengthTest(Observation):
    """A dried ball crushed."""

    result: Annotated[DryStrength, Asks(Dimension.CHOICE, "How a dried 12 mm ball breaks.")]


def _dilatancy_says(rows: Sequence[DilatancyTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    return _by_key(DILATANCY_KEY, Dilatancy, [row.result for row in rows], ground)


@observation(
    "dilatancy",
    question="Does water show on a soft pat when you shake it, and go when you squeeze?",
    how="Hold a soft pat in the palm, knock the hand sideways against the other, then close the fingers.",
    deepest="10 m",
    minutes=3.0,
    says=_dilatancy_says,
    example={"result": Dilatancy.VERY_SLOW},
    sources=HAND_KEY,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class DilatancyTest(Observation):
    """A soft pat shaken and squeezed."""

    result: Annotated[Dilatancy, Asks(Dimension.CHOICE, "How fast water shows and goes.")]


def _toughness_says(rows: Sequence[ToughnessTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    return _by_key(TOUGHNESS_KEY, Toughness, [row.result for row in rows], ground)


@observation(
    "toughness",
    question="How stiff is the thread just before it crumbles?",
    how="Roll the thread until it crumbles, press the bits into a lump and knead it.",
    deepest="10 m",
    minutes=5.0,
    says=_toughness_says,
    example={"result": Toughness.MEDIUM},
    sources=HAND_KEY,
)
@dataclass(frozen=True, slots=True, kw_only=True)
class ToughnessTest(Observation):
    """Stiffness of thread and lump near the plastic limit."""

    result: Annotated[Toughness, Asks(Dimension.CHOICE, "How stiff thread and lump are.")]


def _shine_says(rows: Sequence[ShineTest], ground: StratumDraws) -> tuple[Evidence, ...]:
    centre = np.log(0.03 + ground.plasticity_index)
    limits = (float(np.log(0.13)), float(np.log(0.28)))
    return _in_order(Shine, [row.result for row in rows], centre, limits, 0.45)


@observation(
    "shine",
    question="Does a cut face of a moist lump shine?",
    how="Press a moist lump firm and draw a knife blade across it.",
    deepest="10 m",
    minutes=1.0,
    says=_shine_says,
    example={"result": Shine.SLIGHT},
    sources=("common_practice, shine of a cut face [CP]", "earthfast_proposal, bands of plasticity [P]"),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class ShineTest(Observation):
    """Shine of a cut face."""

    result: Annotated[Shine, Asks(Dimension.CHOICE, "How the cut face looks.")]


# Ribbon length against clay share: 25 mm at 27 %, 50 mm at 40 % (S); the ends are ours (P).
RIBBON_LENGTHS = (0.0, 0.005, 0.025, 0.050, 0.100)
RIBBON_CLAY = (0.04, 0.10, 0.27, 0.40, 0.62)
CLAY_SCATTER = {Observer.PRACTISED: 0.035, Observer.HOUSEHOLDER: 0.06}
CLAY_SHARED = {Observer.PRACTISED: 0.03, Observer.HOUSEHOLDER: 0.065}


def _ribbon_says(rows: Sequence[Ribbon], ground: StratumDraws) -> tuple[Evidence, ...]:
    pieces: list[Evidence] = []
    for observer in Observer:
        lengths = [row.length for row in rows if row.observer == observer]
        if lengths:
            clay = np.asarray(np.interp(lengths, RIBBON_LENGTHS, RIBBON_CLAY))
            pieces.append(Numbers(clay, ground.clay, CLAY_SCATTER[observer], CLAY_SHARED[observer]))
    felt = [row.feel for row in rows if row.feel is not None]
    if felt:
        order = list(Feel)
        pieces.append(Answers(_feel_probabilities(ground), tuple(order.index(feel) for feel in felt)))
    return tuple(pieces)


def _feel_probabilities(ground: StratumDraws) -> Floats:
    gritty = ndtr((ground.sand - 0.48) / 0.10)
    smooth = (1.0 - gritty) * ndtr((ground.silt - 0.48) / 0.10)
    return np.vstack([gritty, 1.0 - gritty - smooth, smooth])


@observation(
    "ribbon",
    question="How long a ribbon can you squeeze out over your forefinger before it breaks?",
    how="Knead a moist ball to putty, push it between thumb and forefinger into a flat ribbon about 3 mm "
    "thick and let it hang until it breaks.",
    deepest="10 m",
    minutes=5.0,
    says=_ribbon_says,
    example={"length": 0.035, "feel": Feel.NEITHER},
    sources=(
        "thien_1979, flow diagram: 25 mm and 50 mm [S]",
        "earthfast_proposal, clay share at other lengths; error of a householder [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class Ribbon(Observation):
    """A ribbon squeezed over the forefinger."""

    length: Annotated[float, Asks(Dimension.LENGTH, "Length at which the ribbon breaks.", "", "300 mm")]
    feel: Annotated[Feel | None, Asks(Dimension.CHOICE, "How a wet pinch feels between the fingers.")] = None


HUNG_LENGTHS = (0.05, 0.075, 0.200, 0.250)
HUNG_INDEX = (0.05, 0.08, 0.28, 0.40)


def _hung_ribbon_says(rows: Sequence[HungRibbon], ground: StratumDraws) -> tuple[Evidence, ...]:
    index = np.interp([row.length for row in rows], HUNG_LENGTHS, HUNG_INDEX)
    return (Numbers(np.log(index + 0.03), np.log(ground.plasticity_index + 0.03), 0.35, 0.25),)


@observation(
    "hung ribbon",
    question="How long a rolled ribbon hangs from your hand before it breaks?",
    how="Roll soil at the plastic limit to a cylinder 12 mm thick, flatten it to 6 mm and feed it over the "
    "hand. This is not the ribbon squeezed over a finger.",
    deepest="10 m",
    minutes=5.0,
    says=_hung_ribbon_says,
    example={"length": 0.120},
    sources=(
        "afh_10_222_v14, table A3.7: 200 to 250 mm fat clay, 75 to 200 mm lean clay [S]",
        "earthfast_proposal, plasticity index at the ends of the bands [P]",
    ),
)
@dataclass(frozen=True, slots=True, kw_only=True)
class HungRibbon(Observation):
    """A rolled ribbon hung from the hand."""

    length: Annotated[
        float, Asks(Dimension.LENGTH, "Length at which the hanging ribbon breaks.", "", "600 mm")
    ]
