"""The hand-test key: its rows, and answers that fit none."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from earthfast.ground import Dilatancy, DryStrength, Toughness, hand_key_fits
from earthfast.ground.hand_key import DRY_STRENGTH_KEY
from earthfast.ground.observations.feel import key_probabilities


@pytest.mark.parametrize(
    ("symbol", "dry", "shaken", "tough"),
    [
        ("CL", ["medium", "high"], ["none", "very slow"], ["medium"]),
        ("ML", ["none", "slight"], ["quick", "slow"], ["none"]),
        ("CH", ["high", "very high"], ["none"], ["high"]),
    ],
)
def test_answers_of_a_printed_row_fit_that_row_alone(symbol, dry, shaken, tough):
    for first, second, third in product(dry, shaken, tough):
        fits = hand_key_fits(DryStrength(first), Dilatancy(second), Toughness(third))
        assert symbol in [row.symbol for row in fits]
        if symbol != "CL":
            assert [row.symbol for row in fits] == [symbol]


def test_answers_that_contradict_fit_no_row():
    assert hand_key_fits(DryStrength.HIGH, Dilatancy.QUICK, Toughness.NONE) == ()


def test_no_answer_leaves_all_printed_rows():
    assert len(hand_key_fits()) == 6


def test_key_likelihood_shares_out_each_row_and_prefers_the_printed_answers():
    chances = key_probabilities(DRY_STRENGTH_KEY, 5)
    assert np.allclose(chances.sum(axis=0), 1.0)
    for row, listed in enumerate(DRY_STRENGTH_KEY[:-1]):
        others = [c for c in range(5) if c not in listed]
        assert chances[list(listed), row].min() > chances[others, row].max()
        assert chances[list(listed), row].sum() == pytest.approx(0.70, abs=0.04)
