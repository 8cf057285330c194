"""What a further test is worth: what it is expected to save, on the whole, through a better choice of way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import combinations, pairwise

import numpy as np
import numpy.typing as npt
from scipy.special import ndtri

from earthfast.checks import CHECKS, CheckName, Method, Way
from earthfast.choice.judging import prepare
from earthfast.choice.outcomes import Outcome
from earthfast.choice.search import Candidate, Standing
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats, Quantity, Trail

LOOKED_AT = 256  # draws on which the ways in question are picked, as many as a first look takes
EACH_METHOD = 24  # ways of each method looked at, evenly over their price
PARTS = 8  # equal parts of the range of each property of the ground, narrow enough to show what one fact could turn
STRICTER_AND_LOOSER = (0.7, 1.5, 0.4, 3.0, 0.2)  # times the targets
MOST_WAYS = 10
REPEATS = 4  # every draw of the ground meets so many draws of all else
FOLDS = 8
NEGLIGIBLE = 0.05  # share of a target below which a chance turns nothing
TELLING = 0.2  # share of a target by which a chance must come clear of it: less is a hair's breadth, not news
CLEAR = 3.0  # and standard errors of the fit, as if all draws were independent; each ground stands in four
# shares of the outcomes at which the fit may bend, to a single number and to each of several
ALONE, TOGETHER = (0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95), (0.2, 0.5, 0.8)
PSEUDO_DRAWS = 4.0  # so many draws' worth of doubt holds back what few outcomes say

Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]
Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Decision:
    """A choice between ways: of those whose chances of failing keep within their targets, the one of least expected cost.

    Attributes
    ----------
    losses : cost of each way on every draw, with putting it right where it fails, shape (ways, draws).
    failures : 1 where a way fails a check, for every way and check that could turn the choice, shape (draws, columns).
    ways, targets : way of each column, and the chance of failing put up with, shape (columns,).
    holds : whether each keeps within its target as things are known, shape (columns,).
    passes : which ways pass as things are known, shape (ways,).
    ranked_first : the way that ranks first of those that pass; where none does, what would be built all the same.
    """

    losses: Floats
    failures: Floats
    ways: Places
    targets: Floats
    holds: Flags
    passes: Flags
    ranked_first: int

    @property
    def now(self) -> int:
        """The way of least expected cost of those that pass as things are known."""
        expected = np.where(self.passes, self.losses.mean(axis=1), np.inf)
        return int(np.argmin(expected)) if self.passes.any() else self.ranked_first

    @property
    def saved_at_once(self) -> float:
        """What building that way instead of the one that ranks first saves without any test."""
        return float((self.losses[self.ranked_first] - self.losses[self.now]).mean())

    @property
    def knowing_all(self) -> float:
        """What knowing everything beforehand could save: no test is worth more."""
        return float((self.losses[self.now] - self.losses.min(axis=0)).mean())


def decision_between(
    costs: Floats, prices: Floats, fails: Flags, targets: Floats, putting_right: float, *, stands: bool
) -> Decision:
    """The choice between ways the first of which ranks first of those that pass.

    Parameters
    ----------
    costs, prices : array-like
        What each way is ranked by, in money, and its price, shape (ways,). [-]
    fails : array-like
        Whether each fails each check, shape (ways, checks, draws).
    targets : array-like
        Chance of failing put up with, shape (checks,). [-]
    putting_right : float
        Cost of putting a failed way right, over its price. [-]
    stands : bool
        Whether the first way passes.

    Returns
    -------
    decision : Decision
        With losses in the currency of the prices. [-]

    Notes
    -----
    L = c + f p φ, c cost, p price, f putting_right, φ = 1 in draws in which any check fails, else 0. A check that a way
    fails in less than a twentieth of what is put up with is left out: hardly any outcome could raise it to its target.

    References
    ----------
    definition, loss of a decision [C]
    """
    chances = fails.mean(axis=2)
    within = chances <= targets
    # what is cheaper than the first fell
    passes = within.all(axis=1) & (costs >= costs[0]) & stands
    passes[0] = stands
    within |= passes[:, None]
    # draws of another order may let by a hair pass what fell by a hair
    fell = ~passes & within.all(axis=1)
    within[fell, np.argmax(chances / targets, axis=1)[fell]] = False
    ways, checks = np.nonzero(chances > NEGLIGIBLE * targets)
    return Decision(
        np.asarray(costs[:, None] + putting_right * prices[:, None] * fails.any(axis=1)),
        np.ascontiguousarray(fails[ways, checks].T, dtype=np.float64),
        ways,
        targets[checks],
        within[ways, checks],
        passes,
        0,
    )


@dataclass(frozen=True, slots=True)
class WaysInQuestion:
    """Ways between which further tests may decide.

    Attributes
    ----------
    places : their places among the candidates.
    decision : the choice between them, draws of all repeats one after the other.
    orders : which draw of each ground's own estimate stands in each place, shape (repeats, grounds, draws).
    """

    places: tuple[int, ...]
    decision: Decision
    orders: Places


@dataclass(frozen=True, slots=True)
class Gains:
    """What a test saves on every draw, and what is built after it.

    Attributes
    ----------
    saved : cost of the way chosen now less that of the way chosen after the test, shape (draws,).
    chosen : way chosen after the test, shape (draws,).
    """

    saved: Floats
    chosen: Places

    @property
    def saving(self) -> float:
        """Expected saving."""
        return float(self.saved.mean())

    @property
    def standard_error(self) -> float:
        """Standard error of the expected saving, from the scatter of the draws."""
        return float(self.saved.std() / np.sqrt(self.saved.size))


def _fails(ways: tuple[Way, ...], setting: Setting) -> Flags:
    silent = Trail(recording=False)
    failed = np.zeros((len(ways), len(CHECKS), setting.draws.count), dtype=np.bool_)
    for batch in setting.batches(ways, silent):
        for row, one in enumerate(CHECKS.values()):
            failed[list(batch.places), row] = one.judge(batch.case, silent).fails > 0.0
    return failed


def ways_in_question(
    candidates: Sequence[Candidate],
    setting: Setting,
    targets: Mapping[CheckName, float],
    costs: Floats,
    standing: Standing,
    putting_right: float,
    generator: np.random.Generator,
) -> WaysInQuestion:
    """The few ways between which further knowledge could decide.

    Parameters
    ----------
    candidates : sequence of Candidate
        All ways with what they cost.
    setting : Setting
        Everything the checks ask.
    targets : mapping of CheckName to float
        Chance of failing put up with in each check. [-]
    costs : array-like
        What the ways are ranked by, in money, shape (candidates,). [-]
    standing : Standing
        What is chosen as things are known.
    putting_right : float
        Cost of putting a failed way right, over its price. [-]
    generator : numpy.random.Generator
        Source of the order in which grounds meet all else.

    Returns
    -------
    question : WaysInQuestion
        At most ten ways, with what they cost and how they fail on every draw.

    Notes
    -----
    The first is what is chosen now. The others are the way farthest from its targets, those that would be chosen if all
    targets were stricter or looser, since good and bad news lower and raise chances, and those, of each method first, that
    would most often be chosen if one property of the ground were known to lie in one eighth of its range.
    A test speaks of the ground, so every ground is
    set against four draws of all else, which wears down the noise of the rest.

    References
    ----------
    earthfast_proposal, ways chosen on a part of the ground [P]
    """
    limits = np.array([targets[name] for name in CHECKS])
    looked = sorted({standing.place, *_evenly_priced(candidates)})
    few = setting.first(min(LOOKED_AT, setting.draws.count))
    failing = _fails(tuple(candidates[i].way for i in looked), few)
    passing = _passes_on_parts(failing, limits, few)
    methods = [candidates[i].way.method for i in looked]
    of_each = [_most_chosen(passing, costs[looked], [one is method for one in methods]) for method in Method]
    turned = (
        *(ways[0] for ways in of_each if ways),
        *_chosen_under(failing, STRICTER_AND_LOOSER, limits, costs[looked]),
        *_most_chosen(passing, costs[looked], [True] * len(looked)),
    )
    places = tuple(dict.fromkeys((standing.place, *(looked[i] for i in turned))))[:MOST_WAYS]
    ways = tuple(candidates[i].way for i in places)
    prepare(ways, (), setting)
    met = [setting.with_grounds_in(generator.permutation(setting.draws.count)) for _ in range(REPEATS)]
    fails = np.concatenate([_fails(ways, one) for one in met], axis=2)
    prices = np.array([candidates[i].merit.price for i in places])
    return WaysInQuestion(
        places,
        decision_between(costs[list(places)], prices, fails, limits, putting_right, stands=standing.passes),
        np.array([[ground.order for ground in one.grounds] for one in met]),
    )


def _evenly_priced(candidates: Sequence[Candidate]) -> list[int]:
    """Some ways of each method, evenly over their price."""
    found: list[int] = []
    for method in dict.fromkeys(candidate.way.method for candidate in candidates):
        places = [i for i, candidate in enumerate(candidates) if candidate.way.method is method]
        places.sort(key=lambda place: candidates[place].merit.price)
        steps = np.linspace(0, len(places) - 1, min(EACH_METHOD, len(places))).round().astype(int)
        found += [places[step] for step in dict.fromkeys(steps.tolist())]
    return found


def _chosen_under(fails: Flags, factors: tuple[float, ...], limits: Floats, costs: Floats) -> list[int]:
    """The way farthest from its targets, and those chosen where all targets are so many times what they are."""
    excess = (fails.mean(axis=2) / limits).max(axis=1)
    passing = [excess <= factor for factor in factors]
    chosen = [int(np.argmin(np.where(one, costs, np.inf))) for one in passing if one.any()]
    return [int(np.lexsort((costs, excess))[0]), *chosen]


def _passes_on_parts(fails: Flags, limits: Floats, setting: Setting) -> Flags:
    """Whether each way passes when one property of the ground is known to lie in a part of its range, shape (ways, parts)."""
    parts = _parts_of(setting)
    shape = (*fails.shape[:2], len(parts))
    chances = (fails.reshape(-1, fails.shape[2]).astype(np.float64) @ parts.T).reshape(shape)
    return np.asarray((chances <= limits[:, None]).all(axis=1))


def _most_chosen(passes: Flags, costs: Floats, allowed: Sequence[bool]) -> list[int]:
    """Of the ways allowed, those of least cost that pass in some part of the ground, most often chosen first."""
    passes = passes & np.array(allowed)[:, None]
    chosen = np.argmin(np.where(passes, costs[:, None], np.inf), axis=0)
    return [way for way, _ in Counter(chosen[passes.any(axis=0)].tolist()).most_common()]


def _parts_of(setting: Setting) -> Floats:
    """Weights of the draws in each part of the range of each property of each ground, shape (parts, draws)."""
    count = setting.draws.count
    rows = []
    for ground in setting.grounds:
        for field in fields(ground.draws):
            one = getattr(ground.draws, field.name)
            if isinstance(one, Quantity) and np.unique(one.values).size >= PARTS:
                part = np.argsort(np.argsort(np.broadcast_to(one.values, (count,)))) * PARTS // count
                rows += [(part == which) / np.sum(part == which) for which in range(PARTS)]
    return np.array(rows)


def value_of_outcome(decision: Decision, outcome: Outcome) -> Gains:
    """What choosing after a test saves against choosing now.

    Parameters
    ----------
    decision : Decision
        The choice between ways.
    outcome : Outcome
        Outcome of the test on every draw.

    Returns
    -------
    gains : Gains
        What is saved on every draw.

    Notes
    -----
    V = E[L_now] - E[L_w(y)], L loss, y outcome of the test, w(y) the way of least E[L | y] of those whose chances P(fail | y)
    keep within their targets; where none does, what was chosen stays. Both are fitted by least squares of the losses and
    failures: a line with bends in the normal scores of each number read (and their products two by two where there are
    several), and the counts of the answers. A check is taken to turn only where its fitted chance is clear of the target by
    a fifth of it and by three standard errors of the fit, so that a way which falls or passes by a hair makes no test look
    worth doing. The fit that chooses on one eighth of the draws is made on the other seven, and the way chosen is charged
    what it costs on those draws: a test that says nothing is then worth nothing, and a poor fit can only make a test look
    worse than it is.

    References
    ----------
    strong_2015, regression on outcomes of simulated tests [M]
    raiffa_schlaifer_1961, value of sample information [M]
    earthfast_proposal, the fold that chooses is not the fold that fits; chances held to targets [P]
    """
    count = decision.losses.shape[1]
    chosen = np.concatenate([_after(decision, told) for told in _told_by(decision, outcome, count)])
    saved = decision.losses[decision.now] - decision.losses[chosen, np.arange(count)]
    return Gains(saved, chosen)


@dataclass(frozen=True, slots=True)
class _Told:
    """Fitted losses, shape (draws, ways), and chances with the margin of the fit, shape (draws, columns)."""

    losses: Floats
    chances: Floats
    margins: Floats


def _told_by(decision: Decision, outcome: Outcome, count: int) -> list[_Told]:
    """Expected losses and chances of failing once the outcome is known, fold by fold."""
    features, ways = _features(outcome, count), len(decision.losses)
    known = np.hstack([decision.losses.T, decision.failures])
    spread = decision.failures.std(axis=0)
    held = _folds(count)
    squares = np.array([features[fold].T @ features[fold] for fold in held])
    products = np.array([features[fold].T @ known[fold] for fold in held])
    doubt = PSEUDO_DRAWS * np.eye(features.shape[1])
    doubt[0, 0] = 0.0
    inverses = np.linalg.inv(squares.sum(axis=0) + doubt - squares)
    fits = inverses @ (products.sum(axis=0) - products)
    told = []
    for fold, inverse, fit in zip(held, inverses, fits, strict=True):
        leverage = np.sum((features[fold] @ inverse) * features[fold], axis=1)
        fitted = features[fold] @ fit
        margins = np.maximum(CLEAR * np.sqrt(leverage)[:, None] * spread, TELLING * decision.targets)
        told.append(_Told(fitted[:, :ways], fitted[:, ways:], margins))
    return told


def _after(decision: Decision, told: _Told) -> Places:
    """Way chosen on each draw once the outcome is known."""
    clearly_keeps = told.chances + told.margins <= decision.targets
    clearly_exceeds = told.chances - told.margins > decision.targets
    keeps = np.where(decision.holds, ~clearly_exceeds, clearly_keeps)
    passes = np.empty(told.losses.T.shape, dtype=np.bool_)
    for way, passed in enumerate(decision.passes):
        own = decision.ways == way
        passes[way] = keeps[:, own].all(axis=1) if own.any() else passed
    least = np.argmin(np.where(passes, told.losses.T, np.inf), axis=0)
    return np.where(passes.any(axis=0), least, decision.now)


def _folds(count: int) -> list[slice]:
    edges = np.linspace(0, count, FOLDS + 1).round().astype(int).tolist()
    return [slice(first, last) for first, last in pairwise(edges)]


def _features(outcome: Outcome, count: int) -> Floats:
    """Columns that failures are fitted to: a constant, then what the outcome says, each about its mean."""
    bends = ndtri(np.array(ALONE if len(outcome.numbers) == 1 else TOGETHER))
    scores = [_normal_scores(number)[:, None] for number in outcome.numbers]
    columns = [np.hstack([score, np.maximum(score - bends, 0.0)]) for score in scores]
    columns += [one * other for one, other in combinations(scores, 2)]
    columns += [counts[1:].T for counts in outcome.answers]
    stacked = np.hstack([np.zeros((count, 0)), *columns])
    return np.column_stack([np.ones(count), stacked - stacked.mean(axis=0)])


def _normal_scores(values: Floats) -> Floats:
    """Standard normal values in the order of the values given."""
    scores = np.empty(values.size)
    scores[np.argsort(values)] = ndtri((np.arange(values.size) + 0.5) / values.size)
    return scores
