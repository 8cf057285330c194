from __future__ import annotations

import pytest

from earthfast.ground import OBSERVATION_KINDS
from earthfast.job.meant import meant, synonyms
from earthfast.job.use import PavingKind
from earthfast.loads import load_library


@pytest.mark.parametrize(
    ("typed", "known", "suggestion"),
    [
        ("shed", load_library(), "tool store"),
        ("Garden Shed", load_library(), "tool store"),
        ("my two cars", load_library(), "car"),
        ("wheelbarow", load_library(), "wheelbarrow"),
        ("vane", OBSERVATION_KINDS, "hand vane"),
        ("slabs", PavingKind, "flags"),
    ],
)
def test_meaning_goes_before_spelling(typed, known, suggestion):
    assert meant(typed, known) == f"did you mean '{suggestion}'?"


def test_nothing_is_suggested_for_what_is_like_nothing():
    assert meant("xylophone", load_library()) == ""


def test_no_word_is_told_to_mean_two_loads_or_two_observations():
    for known in (load_library(), OBSERVATION_KINDS):
        others = [other for word in known for other in synonyms().words.get(word, ())]
        assert len(others) == len(set(others))
