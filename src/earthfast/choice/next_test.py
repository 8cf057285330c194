"""What a further test is worth: what it is expected to save, on the whole, through a better choice of way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np
from scipy.special import ndtri

from earthfast.checks import CHECKS, Way
from earthfast.choice.outcomes import Outcome
from earthfast.choice.search import Candidate
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats, Trail

LOOKED_AT = 512  # draws on which the ways in question are picked
EACH_METHOD = 24  # ways of each method looked at, evenly over their price
MOST_WAYS = 8
WORTH_NAMING = 1e-3  # share of the cost by which one more way in question must help
REPEATS = 4  # every draw of the ground meets so many draws of all else
FOLDS = 8
# shares of the outcomes at which the fit may bend, to a single number and to each of several
ALONE, TOGETHER = (0.05, 0.15, 0.3, 0.5, 0.7, 0.85, 0.95), (0.2, 0.5, 0.8)
PSEUDO_DRAWS = 4.0  # so many draws' worth of doubt holds back what few outcomes say

Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


@dataclass(frozen=True, slots=True)
class WaysInQuestion:
    """Ways between which further tests may decide.

    Attributes
    ----------
    places : their places among the candidates.
    losses : price, and cost of putting right where the way fails, shape (repeats, ways, draws).
    orders : which draw of each ground's own estimate stands in each place, shape (repeats, grounds, draws).
    """

    places: tuple[int, ...]
    losses: Floats
    orders: Places

    @property
    def now(self) -> int:
        """The way of least expected cost as things are known."""
        return int(np.argmin(self.losses.mean(axis=(0, 2))))

    @property
    def expected(self) -> float:
        """Expected cost of that way."""
        return float(self.losses.mean(axis=(0, 2)).min())

    @property
    def knowing_all(self) -> float:
        """What knowing everything beforehand would save: no test is worth more."""
        return self.expected - float(self.losses.min(axis=1).mean())


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


def losses(candidates: Sequence[Candidate], setting: Setting, putting_right: float) -> Floats:
    """Cost of every way on every draw: its price, and once more so many times its price where it fails.

    Parameters
    ----------
    candidates : sequence of Candidate
        Ways with their prices.
    setting : Setting
        Everything the checks ask.
    putting_right : float
        Cost of putting a failed way right, over its price. [-]

    Returns
    -------
    losses : array-like
        Shape (ways, draws), in the currency of the prices. [-]

    Notes
    -----
    L = p (1 + f φ), p price, f putting_right, φ = 1 in draws in which any check fails, else 0.

    References
    ----------
    definition, loss of a decision [C]
    """
    failed = _failed(tuple(candidate.way for candidate in candidates), setting)
    prices = np.array([candidate.merit.price for candidate in candidates])
    return np.asarray(prices[:, None] * (1.0 + putting_right * failed))


def _failed(ways: tuple[Way, ...], setting: Setting) -> Floats:
    silent = Trail(recording=False)
    failed = np.zeros((len(ways), setting.draws.count))
    for batch in setting.batches(ways, silent):
        places = list(batch.places)
        for one in CHECKS.values():
            failed[places] = np.maximum(failed[places], one.judge(batch.case, silent).fails)
    return failed


def ways_in_question(
    candidates: Sequence[Candidate], setting: Setting, putting_right: float, generator: np.random.Generator
) -> WaysInQuestion:
    """The few ways between which further knowledge could decide.

    Parameters
    ----------
    candidates : sequence of Candidate
        All ways with what they cost.
    setting : Setting
        Everything the checks ask.
    putting_right : float
        Cost of putting a failed way right, over its price. [-]
    generator : numpy.random.Generator
        Source of the order in which grounds meet all else.

    Returns
    -------
    question : WaysInQuestion
        At most eight ways, with what they cost on every draw.

    Notes
    -----
    The first is the way of least expected cost; then, one by one, the way that lowers most the cost expected by someone
    who knows every draw and chooses among those named. It ends where one more way would help by less than 0.1 %. A test
    speaks of the ground, so every ground is set against four draws of all else, which wears down the noise of the rest.

    References
    ----------
    earthfast_proposal, greedy choice of the ways in question [P]
    """
    even = _evenly_priced(candidates)
    looked = losses(
        [candidates[i] for i in even], setting.first(min(LOOKED_AT, setting.draws.count)), putting_right
    )
    named: list[int] = []
    least = np.full(looked.shape[1], np.inf)
    while len(named) < min(MOST_WAYS, len(even)):
        means = np.minimum(looked, least).mean(axis=1)
        place = int(np.argmin(means))
        if named and least.mean() - means[place] < WORTH_NAMING * least.mean():
            break
        named.append(place)
        least = np.minimum(least, looked[place])
    places = tuple(even[i] for i in named)
    met = [setting.with_grounds_in(generator.permutation(setting.draws.count)) for _ in range(REPEATS)]
    return WaysInQuestion(
        places,
        np.array([losses([candidates[i] for i in places], one, putting_right) for one in met]),
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


def value_of_outcome(losses: Floats, outcome: Outcome) -> Gains:
    """What choosing after a test saves against choosing now.

    Parameters
    ----------
    losses : array-like
        Cost of every way on every draw, shape (ways, draws). [-]
    outcome : Outcome
        Outcome of the test on every draw.

    Returns
    -------
    gains : Gains
        What is saved on every draw.

    Notes
    -----
    V = min_w E[L_w] - E[min_w E[L_w | y]], L cost of way w, y outcome of the test. E[L_w | y] is fitted by least squares
    of the costs: a line with bends in the normal scores of each number read (and their products two by two where there
    are several), and the counts of the answers. The fit that chooses on one eighth of the draws is made on the other
    seven, and the way chosen is charged what it costs on those draws: a test that says nothing is then worth nothing, and
    a poor fit can only make a test look worse than it is.

    References
    ----------
    strong_2015, regression of costs on outcomes of simulated tests [M]
    raiffa_schlaifer_1961, value of sample information [M]
    earthfast_proposal, the fold that chooses is not the fold that fits [P]
    """
    count = losses.shape[1]
    now = int(np.argmin(losses.mean(axis=1)))
    features = _features(outcome, count)
    held = _folds(count)
    squares = np.array([features[fold].T @ features[fold] for fold in held])
    products = np.array([features[fold].T @ losses[:, fold].T for fold in held])
    doubt = PSEUDO_DRAWS * np.eye(features.shape[1])
    doubt[0, 0] = 0.0
    fitted = np.linalg.solve(squares.sum(axis=0) + doubt - squares, products.sum(axis=0) - products)
    chosen = np.concatenate(
        [np.argmin(features[fold] @ fit, axis=1) for fold, fit in zip(held, fitted, strict=True)]
    )
    return Gains(losses[now] - losses[chosen, np.arange(count)], chosen)


def _folds(count: int) -> list[slice]:
    edges = np.linspace(0, count, FOLDS + 1).round().astype(int).tolist()
    return [slice(first, last) for first, last in pairwise(edges)]


def _features(outcome: Outcome, count: int) -> Floats:
    """Columns that costs are fitted to: a constant, then what the outcome says, each about its mean."""
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
