"""What a test may turn out to say, on each of the draws, before it is made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Answers, Evidence, Floats, Numbers
from earthfast.estimate.evidence import LAPSE, SAME_HAND


@dataclass(frozen=True, slots=True)
class Outcome:
    """Outcomes of one test, one on each draw.

    Attributes
    ----------
    numbers : what is read, each shape (draws,); of several readings their mean and the log of their scatter.
    answers : how often each choice is answered, each shape (choices, draws).
    """

    numbers: tuple[Floats, ...]
    answers: tuple[Floats, ...]

    @property
    def is_empty(self) -> bool:
        """Whether the test says nothing."""
        return not self.numbers and not self.answers


def outcome_of(
    pieces: Sequence[Evidence], made: Sequence[Evidence], generator: np.random.Generator
) -> Outcome:
    """Draw the outcome of a test on every draw.

    Parameters
    ----------
    pieces : sequence of Evidence
        Likelihood of the test that might be made, over the draws.
    made : sequence of Evidence
        Likelihood of what was seen already by the same kind of test, over the same draws.
    generator : numpy.random.Generator
        Source of the scatter.

    Returns
    -------
    outcome : Outcome
        One outcome a draw.

    Notes
    -----
    Readings: centre + shared error + scatter. Where readings of the kind were made already, their shared error e is
    partly known: e ~ N(k (mean - centre), s²(1 - k)), k = s²/(s² + t²/n), s shared, t scatter of a reading, n readings
    made. Answers: drawn by their chances; after m answers the next is a fresh one with chance 2/((m + 1)(m + 2)) and
    else repeats an old one, which is how much it counts for where answers of one person are half alike.

    References
    ----------
    definition, predictive distribution of normal readings with a shared error [C]
    earthfast_proposal, repeated answers of one person [P]
    """
    numbers: list[Floats] = []
    answers: list[Floats] = []
    for piece in pieces:
        if isinstance(piece, Numbers):
            numbers += _readings(piece, _alike(piece, made), generator)
        else:
            answers.append(_answered(piece, _answered_before(piece, made), generator))
    return Outcome(tuple(numbers), tuple(answers))


def _alike(piece: Numbers, made: Sequence[Evidence]) -> Numbers | None:
    """Readings made already that aim at the same and share its error."""
    return next(
        (
            one
            for one in made
            if isinstance(one, Numbers)
            and one.shared == piece.shared
            and np.array_equal(one.centre, piece.centre)
        ),
        None,
    )


def _answered_before(piece: Answers, made: Sequence[Evidence]) -> tuple[int, ...]:
    """Answers given already to the same question."""
    return next(
        (
            one.chosen
            for one in made
            if isinstance(one, Answers) and np.array_equal(one.probabilities, piece.probabilities)
        ),
        (),
    )


def _readings(piece: Numbers, made: Numbers | None, generator: np.random.Generator) -> list[Floats]:
    draws, count = piece.centre.size, piece.values.size
    # the readings of a test still to be made are spread over as many spots
    scatter = np.broadcast_to(np.hypot(piece.scatter, piece.between), piece.centre.shape)
    middle, variance = np.zeros(draws), np.full(draws, piece.shared**2)
    if made is not None and piece.shared > 0.0:
        mean_made, of_mean = made.pooled()
        known = piece.shared**2 / (piece.shared**2 + of_mean)
        middle = known * (mean_made - piece.centre)
        variance = piece.shared**2 * (1.0 - known)
    common = middle + np.sqrt(variance) * generator.standard_normal(draws)
    mean = piece.centre + common + scatter / np.sqrt(count) * generator.standard_normal(draws)
    if count == 1:
        return [mean]
    return [mean, np.log(scatter) + 0.5 * np.log(generator.chisquare(count - 1, draws))]


def _answered(piece: Answers, before: Sequence[int], generator: np.random.Generator) -> Floats:
    choices, draws = piece.probabilities.shape
    steady = (1.0 - LAPSE) * piece.probabilities + LAPSE / choices
    upper = np.cumsum(steady / steady.sum(axis=0), axis=0)
    counts = np.zeros((choices, draws))
    old = np.tile(np.asarray(before, dtype=np.intp)[:, None], (1, draws))
    everywhere = np.arange(draws)
    for _ in piece.chosen:
        fresh = np.minimum((generator.random(draws) > upper).sum(axis=0), choices - 1)
        asked = old.shape[0]
        if asked:
            repeats = generator.random(draws) >= _counts_for(asked)
            copied = old[generator.integers(asked, size=draws), everywhere]
            fresh = np.where(repeats, copied, fresh)
        counts[fresh, everywhere] += 1.0
        old = np.vstack([old, fresh[None, :]])
    return counts


def _counts_for(asked: int) -> float:
    """How much one more answer counts for, after so many."""

    def together(count: int) -> float:
        return count / (1.0 + (count - 1) * SAME_HAND)

    return together(asked + 1) - together(asked)
