"""The next test worth making: what each could save on all areas together, against the trouble it takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from earthfast.checks import Way
from earthfast.choice import (
    Candidate,
    Gains,
    Outcome,
    WaysInQuestion,
    cost_in_money,
    outcome_of,
    standing_choice,
    value_of_outcome,
    ways_in_question,
)
from earthfast.estimate import Band, Evidence, Floats, Meaning, Origin, Quantity, Trail
from earthfast.estimate.quantity import Z_BAND
from earthfast.ground import OBSERVATION_KINDS, Observation, ObservationKind, Observer
from earthfast.job import Job
from earthfast.sources import read_table, source_note
from earthfast.stages.answers import NextTestLine, NextTests, StandingLine, WayTurn
from earthfast.stages.answers.look import TRIAL
from earthfast.stages.choose import CHEAPEST, allowed_of, candidates_of, weights_of
from earthfast.stages.next_trial import HOW, QUESTION, planned_trial, trial_outcome
from earthfast.stages.profile import Stratum
from earthfast.stages.showing import figure, money_words
from earthfast.stages.treatment import sure_stop
from earthfast.stages.understanding import Area, Understanding, seed_of
from earthfast.stages.wording import way_title
from earthfast.works import Goods

PUTTING_RIGHT = 1.5  # of the price: taking it up and away, and building it again
HOUR = 60.0  # minutes
MINUTE, DAY = 60.0, 86400.0  # s
TRIAL_MINUTES, TRIAL_MONEY, TRIAL_DAYS = 300.0, 25.0, 28.0  # P: eight specimens at a kitchen table
SURE = 2.0  # standard errors by which a saving must clear nothing
SELDOM, HARDLY = 0.01, 0.01  # shares of the outcomes, and of the cost, below which a turn is not told

Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


@dataclass(frozen=True, slots=True)
class ToDo:
    """A test that can still be made: readings in one visit, minutes of work, money paid out, days to wait."""

    kind: str
    readings: int
    minutes: float
    money: float
    days: float


@dataclass(frozen=True, slots=True)
class _AreaQuestion:
    """The ways in question on one area, the one chosen now first."""

    area: Area
    candidates: tuple[Candidate, ...]
    question: WaysInQuestion

    @property
    def ways(self) -> tuple[Way, ...]:
        """The ways in question; the first is the one that ranks first."""
        return tuple(self.candidates[place].way for place in self.question.places)

    @property
    def standing(self) -> StandingLine:
        """What is chosen now, and whether another passing way would come cheaper in all."""
        decision = self.question.decision
        first, now = decision.ranked_first, decision.now
        return StandingLine(
            area=self.area.entry.name,
            way=self.title(first),
            passes=bool(decision.passes[first]),
            better=self.title(now) if now != first else None,
            saved_at_once=round(decision.saved_at_once, 2),
        )

    def title(self, place: int) -> str:
        return way_title(self.ways[place])


@dataclass(frozen=True, slots=True)
class _Worth:
    """One test in one stratum: what it saves on every draw of the stratum, and what it turns."""

    to_do: ToDo
    question: str
    how: str
    stratum: Stratum
    saved: Floats
    turns: tuple[WayTurn, ...]

    @property
    def saving(self) -> float:
        return float(self.saved.mean())

    @property
    def standard_error(self) -> float:
        return float(self.saved.std() / np.sqrt(self.saved.size))


def tests_to_do(job: Job) -> tuple[ToDo, ...]:
    """Tests that can still be made, with their trouble: as usual, or as the job says."""
    usual = {row.kind: row for row in read_table("tests_to_do", ToDo).rows}
    for entry in job.further_tests:
        kind = OBSERVATION_KINDS[entry.kind]
        known = usual.get(entry.kind, ToDo(entry.kind, 1, kind.minutes, kind.cost, 0.0))
        usual[entry.kind] = ToDo(
            entry.kind,
            entry.readings or known.readings,
            entry.work.centre / MINUTE if entry.work else known.minutes,
            entry.money.estimate().centre if entry.money else known.money,
            entry.wait.centre / DAY if entry.wait else known.days,
        )
    impossible = {entry.kind for entry in job.further_tests if entry.possible is False}
    return tuple(row for kind, row in usual.items() if kind not in impossible)


def next_tests(understanding: Understanding, trail: Trail) -> NextTests:
    """Every test still to be made, the one that leaves most after its trouble first."""
    steps = trail.under("next_test")
    putting_right = steps.enter(
        "putting_right",
        Meaning("Cost of putting a failed way right, over its price", "-", "-"),
        PUTTING_RIGHT,
        Origin.ASSUMED,
        "taking it up, carting it away and building it again",
        (source_note("earthfast_proposal, one and a half times the price [P]"),),
    )
    seed = seed_of(understanding.loaded).spawn(4)[3]
    # the same order of the grounds on all areas, since one test speaks for them all
    questions = [_question(area, understanding, np.random.default_rng(seed)) for area in understanding.areas]
    generator = np.random.default_rng(seed.spawn(1)[0])
    kept = [stratum for stratum in understanding.profile.strata if not stratum.is_topsoil]
    worths = [
        worth
        for place, stratum in enumerate(kept)
        for to_do in tests_to_do(understanding.loaded.job)
        if (worth := _worth(to_do, stratum, place, questions, generator)) is not None
    ]
    trial = _trial_worth(understanding, questions, generator)
    worths += [trial] if trial is not None else []
    rate, currency = _hour(understanding, steps)
    standing = tuple(one.standing for one in questions)
    lines = [_line(worth, rate, currency, putting_right, steps) for worth in worths]
    lines.sort(key=lambda line: line.trouble - line.saving.value)
    return NextTests(
        sentence=_sentence(lines, standing, currency, seen=any(stratum.observations for stratum in kept)),
        weighed_by=_weighed_by(understanding),
        currency=currency,
        standing=standing,
        knowing_all=round(sum(one.question.decision.knowing_all for one in questions), 2),
        lines=tuple(lines),
    )


def _weighed_by(understanding: Understanding) -> str:
    """How ways are chosen and what a saving counts, in words."""
    cheapest = weights_of(understanding.loaded) == CHEAPEST
    named = understanding.loaded.job.choose and understanding.loaded.job.choose.way
    counts = "the price" if cheapest else "the price, carbon, spoil and days by the weights of the job"
    aside = " The way named in the job is left aside." if named else ""
    return (
        "Before and after a test, of the ways that keep within the chances put up with, as `choose` takes them, the one of least "
        f"expected cost is built: {counts}, and {PUTTING_RIGHT:g} times the price where it fails.{aside}"
    )


def no_tests(reason: str) -> NextTests:
    """Nothing can be said about tests, and why."""
    return NextTests(sentence=reason, weighed_by="", currency="", standing=(), knowing_all=0.0, lines=())


def _question(area: Area, understanding: Understanding, generator: np.random.Generator) -> _AreaQuestion:
    candidates = candidates_of(area, understanding, sure_stop)  # a test may lift the others
    allowed = allowed_of(candidates, area, understanding.loaded)
    costs, targets = cost_in_money(allowed, weights_of(understanding.loaded)), area.usage.targets
    now = standing_choice(allowed, area.setting, targets, costs)
    question = ways_in_question(allowed, area.setting, targets, costs, now, PUTTING_RIGHT, generator)
    return _AreaQuestion(area, allowed, question)


def _worth(
    to_do: ToDo,
    stratum: Stratum,
    place: int,
    questions: Sequence[_AreaQuestion],
    generator: np.random.Generator,
) -> _Worth | None:
    """What a test in one stratum saves; None where it says nothing of the ground."""
    repeats = len(questions[0].question.orders)
    outcomes = _outcomes(to_do, stratum, repeats, generator)
    if outcomes[0].is_empty:
        return None
    saved = np.zeros(stratum.estimate.draws.count)
    turns = []
    for one in questions:
        orders = one.question.orders[:, place]
        met = _joined([_ordered(outcome, order) for outcome, order in zip(outcomes, orders, strict=True)])
        gains = value_of_outcome(one.question.decision, met)
        np.add.at(saved, np.concatenate(orders), gains.saved / repeats)
        turns += _turns(one, gains)
    kind = OBSERVATION_KINDS[to_do.kind]
    return _Worth(to_do, kind.question, kind.how, stratum, saved, tuple(turns))


def _trial_worth(
    understanding: Understanding, questions: Sequence[_AreaQuestion], generator: np.random.Generator
) -> _Worth | None:
    """What specimens of treated soil save; None where no treated way is in question."""
    planned = planned_trial([way for one in questions for way in one.ways])
    if planned is None:
        return None
    repeats = len(questions[0].question.orders)
    outcome = _joined([trial_outcome(planned, understanding, generator) for _ in range(repeats)])
    saved = np.zeros(understanding.profile.bearing_stratum.estimate.draws.count)
    turns = []
    for one in questions:
        gains = value_of_outcome(one.question.decision, outcome)
        saved += gains.saved.reshape(repeats, -1).mean(axis=0)
        turns += _turns(one, gains)
    to_do = ToDo(TRIAL, planned.specimens, TRIAL_MINUTES, TRIAL_MONEY, TRIAL_DAYS)
    return _Worth(to_do, QUESTION, HOW, understanding.profile.bearing_stratum, saved, tuple(turns))


def _joined(outcomes: Sequence[Outcome]) -> Outcome:
    """Outcomes on several sets of draws as one."""
    numbers = zip(*(outcome.numbers for outcome in outcomes), strict=True)
    answers = zip(*(outcome.answers for outcome in outcomes), strict=True)
    return Outcome(
        tuple(np.concatenate(parts) for parts in numbers), tuple(np.hstack(parts) for parts in answers)
    )


def _outcomes(to_do: ToDo, stratum: Stratum, repeats: int, generator: np.random.Generator) -> list[Outcome]:
    """Outcomes of a test on every draw of a stratum, several times over."""
    kind, ground = OBSERVATION_KINDS[to_do.kind], stratum.estimate.draws
    rows = [row for row in stratum.observations if type(row) is kind.row_type]
    made: Sequence[Evidence] = kind.says(rows, ground) if rows else ()
    planned = kind.says((_as_here(kind, stratum),) * to_do.readings, ground)
    return [outcome_of(planned, made, generator) for _ in range(repeats)]


def _as_here(kind: ObservationKind, stratum: Stratum) -> Observation:
    """An ordinary outcome of a kind, by the hands that made the observations of the stratum."""
    practised = sum(row.observer is Observer.PRACTISED for row in stratum.observations)
    hands = Observer.PRACTISED if 2 * practised > len(stratum.observations) else Observer.HOUSEHOLDER
    return replace(kind.example, observer=hands)


def _ordered(outcome: Outcome, order: Places) -> Outcome:
    numbers = tuple(number[order] for number in outcome.numbers)
    return Outcome(numbers, tuple(counts[:, order] for counts in outcome.answers))


def _turns(one: _AreaQuestion, gains: Gains) -> list[WayTurn]:
    """What would be built instead, and how often, where that makes a difference."""
    decision, chosen = one.question.decision, gains.chosen
    now = decision.now
    least = HARDLY * float(decision.losses[now].mean())
    counted = Counter(chosen.tolist())
    return [
        WayTurn(
            area=one.area.entry.name,
            now=one.title(now),
            then=one.title(place),
            chance=round(times / chosen.size, 4),
        )
        for place, times in counted.most_common()
        if place != now
        and times >= SELDOM * chosen.size
        and abs(float(gains.saved[chosen == place].mean())) >= least
    ]


def _hour(understanding: Understanding, steps: Trail) -> tuple[float, str]:
    """Price of an hour of work, and its currency."""
    prices = understanding.areas[0].costing.prices
    price = prices.prices[Goods.LABOUR_HOUR].band
    steps.enter(
        "hour",
        Meaning("An hour spent on a test", prices.currency, prices.currency),
        price.usual,
        Origin.ASSUMED,
        "as an hour of labour in the prices",
        (source_note("earthfast_proposal, one's own time counts too [P]"),),
        Band(price.low, price.usual, price.high),
    )
    return price.usual, prices.currency


def _line(worth: _Worth, rate: float, currency: str, putting_right: Quantity, trail: Trail) -> NextTestLine:
    to_do = worth.to_do
    steps = trail.under(worth.stratum.name.replace(" ", "-").lower())
    half, expected = Z_BAND * worth.standard_error, max(worth.saving, 0.0)  # below nothing is noise
    saving = steps.conclude(
        f"{to_do.kind.replace(' ', '-')}.saving",
        Meaning(f"Expected saving by {to_do.kind} in the {worth.stratum.name}", currency, currency),
        expected,
        (putting_right,),
        value_of_outcome,
        Band(max(worth.saving - half, 0.0), expected, max(worth.saving + half, 0.0)) if half else None,
    )
    trouble = to_do.money + rate * to_do.minutes / HOUR
    return NextTestLine(
        kind=to_do.kind,
        stratum=worth.stratum.name,
        question=worth.question,
        how=worth.how,
        readings=to_do.readings,
        minutes=to_do.minutes,
        days=to_do.days,
        money=to_do.money,
        trouble=round(trouble, 2),
        saving=figure(trail.figures[saving.key]),
        standard_error=round(worth.standard_error, 2),
        is_worth_it=worth.saving > max(trouble, SURE * worth.standard_error),
        turns=worth.turns,
    )


def _sentence(
    lines: Sequence[NextTestLine], standing: Sequence[StandingLine], currency: str, *, seen: bool
) -> str:
    """Which test is worth doing, or that none is; before it, what needs no test."""

    def money(amount: float) -> str:
        return money_words(amount, currency)

    known = [
        f"{one.area} with {one.better} would be expected to cost {money(one.saved_at_once)} less in all than with {one.way}, "
        "failures counted"
        for one in standing
        if one.better is not None
    ]
    without = f"Without any {'further ' if seen else ''}test, {'; '.join(known)}. " if known else ""
    return without + _which_test(lines, money)


def _which_test(lines: Sequence[NextTestLine], money: Callable[[float], str]) -> str:
    worth = next((line for line in lines if line.is_worth_it), None)
    if worth is not None:
        return (
            f"The next test worth doing is {worth.kind} in the {worth.stratum}: {worth.minutes:.0f} minutes and "
            f"{money(worth.money)}, for an expected saving of {money(worth.saving.value)}."
        )
    telling = [line for line in lines if line.saving.value > SURE * line.standard_error]
    if not telling:
        return (
            "No further test is worth its trouble: none of them would save anything through a better choice."
        )
    most = max(telling, key=lambda line: line.saving.value)
    return (
        f"No further test is worth its trouble. The most telling, {most.kind} in the {most.stratum}, is expected to save "
        f"{money(most.saving.value)} and takes {money(most.trouble)} in time and money."
    )
