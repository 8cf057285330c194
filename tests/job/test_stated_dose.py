"""The dose in three languages, by hand arithmetic."""

from __future__ import annotations

from pathlib import Path

import pytest

from earthfast.estimate import CautionCode
from earthfast.job import BinderEntry, disagreement, read_job, stated_doses

BASE = (Path(__file__).parent / "base_job.toml").read_text(encoding="utf-8")


def binder(**fields):
    return BinderEntry.model_validate(fields)


def test_three_languages_are_brought_to_mass_per_area():
    entry = binder(
        dose="5 %",
        mixing_depth="200 mm",
        spread_depth="10 mm",
        bags=200,
        bags_over="308 m²",
        spread="16 kg/m²",
    )
    stated = {one.field: one.areal_mass for one in stated_doses(entry, 1750.0, 1200.0, 25.0)}
    # 0.05 x 1750 x 0.2; as stated; 0.010 x 1200; 200 x 25 / 308
    assert stated == pytest.approx(
        {"dose": 17.5, "spread": 16.0, "spread_depth": 12.0, "bags": 16.2338}, rel=1e-5
    )


def test_statements_that_differ_are_told_with_all_their_numbers():
    entry = binder(dose="5 %", mixing_depth="200 mm", spread_depth="10 mm", bags=200, bags_over="308 m²")
    caution = disagreement(stated_doses(entry, 1750.0, 1200.0, 25.0))
    assert caution.code is CautionCode.DOSE_QUANTITIES_DISAGREE
    for words in ("5 % in 200 mm is 17.5 kg/m²", "10 mm of loose binder is 12 kg/m²", "is 16.2 kg/m²"):
        assert words in caution.text


def test_statements_that_agree_raise_nothing():
    entry = binder(dose="6 %", mixing_depth="150 mm", bags=16, bags_over="25.4 m²")
    # 0.06 x 1750 x 0.15 = 15.75; 16 x 25 / 25.4 = 15.75
    assert disagreement(stated_doses(entry, 1750.0, None, 25.0)) is None


def test_one_statement_alone_cannot_disagree():
    assert disagreement(stated_doses(binder(spread="16 kg/m²"), None, None, None)) is None


def test_loading_compares_only_what_the_job_itself_states():
    said = 'spread = "30 kg/m²"\nbag_mass = "25 kg"\nbags = 10'
    assert read_job(BASE).cautions == ()
    (caution,) = read_job(BASE.replace("bags = 10", said, 1)).cautions
    assert caution.where == "binder"
