"""The registry of observations: complete, documented, and each likelihood a likelihood."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import numpy as np
import pytest

from earthfast.estimate import Answers, Numbers, prior_latents
from earthfast.ground import OBSERVATION_KINDS, Dimension, ExpectedSpread, Observation, stratum_prior
from earthfast.ground.stratum_draws import LATENTS, stratum_from_latents
from earthfast.sources import bibliography

GROUND = stratum_from_latents(prior_latents(512, len(LATENTS), np.random.default_rng(0)), stratum_prior())
KINDS = list(OBSERVATION_KINDS.values())
EXPLANATION = Path(__file__).parents[2] / "docs" / "explanation" / "evidence.md"
SILENT = {"steel rod", "tree"}  # no published calibration; they map or decide, and say nothing of strength


def ids(kind):
    return kind.kind


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_kind_asks_a_question_and_every_field_has_a_sentence(kind):
    assert kind.question.endswith("?")
    assert kind.how.endswith(".")
    assert kind.minutes > 0.0
    assert kind.cost >= 0.0
    for field in kind.fields:
        assert field.sentence.endswith(".")
        assert (field.dimension is Dimension.CHOICE) == bool(field.choices)


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_every_measured_field_has_a_limit(kind):
    assert kind.deepest
    for field in kind.fields:
        in_words = field.dimension in {Dimension.CHOICE, Dimension.YES_NO}
        assert bool(field.most) != in_words, field.name


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_fields_told_are_the_fields_of_the_row(kind):
    own = {f.name for f in dataclasses.fields(kind.row_type)} - {
        f.name for f in dataclasses.fields(Observation)
    }
    assert {field.name for field in kind.fields} == own


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_sources_are_in_the_bibliography(kind):
    assert kind.sources
    assert all(note.key in bibliography() for note in kind.sources)


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_kind_is_explained(kind):
    assert f"`{kind.kind}`" in EXPLANATION.read_text(encoding="utf-8")


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_example_gives_a_finite_likelihood_for_every_ground(kind):
    pieces = kind.says((kind.example, kind.example), GROUND)
    assert bool(pieces) == (kind.kind not in SILENT)
    for piece in pieces:
        likelihood = piece.log_likelihood()
        assert likelihood.shape == (GROUND.count,)
        assert np.all(np.isfinite(likelihood))


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_chances_of_all_answers_add_up_and_scatter_is_positive(kind):
    for piece in kind.says((kind.example,), GROUND):
        if isinstance(piece, Answers):
            assert np.allclose(piece.probabilities.sum(axis=0), 1.0)
            assert np.all(piece.probabilities >= -1e-12)
        else:
            assert isinstance(piece, Numbers)
            assert np.all(np.asarray(piece.scatter) > 0.0)
            assert piece.shared >= 0.0


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_every_choice_of_every_field_is_understood(kind):
    for field in kind.fields:
        if field.choices and field.name not in {"word", "scheme"}:
            enum = type(getattr(kind.example, field.name)) if getattr(kind.example, field.name) else None
            for choice in field.choices:
                value = enum(choice) if enum else choice
                row = dataclasses.replace(kind.example, **{field.name: value})
                assert all(np.all(np.isfinite(p.log_likelihood())) for p in kind.says((row,), GROUND))


def test_rows_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        KINDS[0].example.depth = 1.0
    assert ExpectedSpread("clay", 1.0, 0.5).after == 0.5


def test_a_word_of_another_scheme_is_refused_with_the_words_there_are():
    row_type = OBSERVATION_KINDS["consistency"].row_type
    word = type(OBSERVATION_KINDS["consistency"].example.word)
    scheme = type(OBSERVATION_KINDS["consistency"].example.scheme)
    with pytest.raises(ValueError, match="very soft, soft"):
        row_type(word=word.MEDIUM, scheme=scheme.BS)
