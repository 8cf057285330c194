"""Soundings drawn from ground whose boundaries are known."""

import numpy as np
import pytest

from earthfast.ground import Bedding
from earthfast.ground.observations.strength import ConePenetrometer
from earthfast.job import read_job
from earthfast.stages import look_at
from earthfast.stages.profile import ground_profile
from earthfast.stages.soundings import soundings_together
from earthfast.stages.strip_logs import soundings_answer

TOPSOIL = 0.15
START = """
schema_version = 1
[job]
title = "soundings"
[[plan.area]]
name = "path"
length = "10 m"
width = "1.2 m"
[[use]]
name = "path"
[[use.load]]
name = "person"
passes = "30 per day"
"""


def sounding(generator, boundaries, penetrations, scatter=0.15, wander=0.03, end=1.0):
    """Two blows a set into ground whose boundaries wander from place to place."""
    edges = [depth + wander * generator.standard_normal() for depth in boundaries]
    depth, depths = TOPSOIL, []
    while depth < end:
        for _ in range(2):
            here = sum(depth > edge for edge in edges)
            depth += penetrations[here] * np.exp(scatter * generator.standard_normal())
        depths.append(round(float(depth), 4))
    return ConePenetrometer(blows=(2,) * len(depths), depths=tuple(depths), start=TOPSOIL)


def soundings(seed, count, boundaries, penetrations, **scatter):
    generator = np.random.default_rng(seed)
    return [sounding(generator, boundaries, penetrations, **scatter) for _ in range(count)]


def as_text(rows):
    entries = []
    for row in rows:
        depths = ", ".join(f'"{1000 * depth:.1f} mm"' for depth in row.depths)
        entries.append(
            f'[[observation]]\nkind = "cone penetrometer"\nstart = "{1000 * row.start:.1f} mm"\n'
            f"blows = {list(row.blows)}\ndepths = [{depths}]\n"
        )
    return "".join(entries)


def job_with(rows, strata=""):
    return read_job(START + strata + as_text(rows))


@pytest.mark.parametrize("count", [1, 2, 11])
@pytest.mark.parametrize(
    ("boundaries", "penetrations"),
    [((0.45,), (0.03, 0.01)), ((0.45, 0.75), (0.03, 0.01, 0.03)), ((0.45, 0.75), (0.03, 0.012, 0.005))],
)
def test_common_boundaries_are_found_where_they_were_put(count, boundaries, penetrations):
    found = [
        soundings_together(soundings(seed, count, boundaries, penetrations), TOPSOIL) for seed in range(20)
    ]
    whole = [together for together in found if len(together.boundaries) == len(boundaries)]
    assert len(whole) >= 17
    misses = [
        common.depth.median - true
        for together in whole
        for common, true in zip(together.boundaries, boundaries, strict=True)
    ]
    assert abs(np.median(misses)) < 0.03  # a set of blows is up to 60 mm long
    assert np.quantile(np.abs(misses), 0.9) < 0.09


def test_bands_hold_the_boundary_of_the_next_place():
    held = []
    for seed in range(20):
        (found,) = soundings_together(
            soundings(seed, 11, (0.5,), (0.02, 0.006), wander=0.06), TOPSOIL
        ).boundaries
        next_places = 0.5 + 0.06 * np.random.default_rng(1000 + seed).standard_normal(200)
        held.append(np.mean((next_places >= found.depth.low) & (next_places <= found.depth.high)))
    assert 0.80 < np.mean(held) <= 1.0


@pytest.mark.parametrize("penetration", [0.005, 0.01, 0.02, 0.04])
def test_uniform_ground_stays_one_stratum(penetration):
    for seed in range(20):
        together = soundings_together(soundings(seed, 11, (), (penetration,)), TOPSOIL)
        assert together.boundaries == ()
        assert "one stratum" in together.because


def test_steadily_changing_ground_stays_one_stratum():
    steps = np.linspace(0.03, 0.008, 40)
    depths = tuple((TOPSOIL + np.cumsum(steps)).tolist())
    together = soundings_together([ConePenetrometer(blows=(1,) * 40, depths=depths, start=TOPSOIL)], TOPSOIL)
    assert together.boundaries == ()
    assert "changes steadily" in together.because


def test_boundaries_at_different_depths_are_not_made_one():
    rows = [
        sounding(np.random.default_rng(place), (depth,), (0.03, 0.008), wander=0.0, end=1.6)
        for place, depth in enumerate(np.linspace(0.4, 1.3, 7))
    ]
    together = soundings_together(rows, TOPSOIL)
    assert together.boundaries == ()
    assert "do not agree" in together.because


def test_order_of_the_soundings_does_not_matter():
    rows = soundings(3, 6, (0.5,), (0.03, 0.01))
    assert soundings_together(rows, TOPSOIL) == soundings_together(rows[::-1], TOPSOIL)


def test_a_job_without_strata_is_divided_and_says_so():
    loaded = job_with(soundings(1, 5, (0.5,), (0.03, 0.006)))
    profile = ground_profile(loaded.job, 512, np.random.SeedSequence(1))
    topsoil, upper, lower = profile.strata
    assert topsoil.bedding is Bedding.TOPSOIL
    assert upper.bottom == lower.top == pytest.approx(0.5, abs=0.06)
    assert np.median(lower.estimate.draws.cbr_now) > 3.0 * np.median(upper.estimate.draws.cbr_now)
    answer = look_at(loaded).answer
    lines = [
        line for line in answer.assumptions if line.figure.label == "Depth of the top of the lower ground"
    ]
    assert len(lines) == 1
    assert lines[0].figure.low < 500.0 < lines[0].figure.high
    assert "5 of 5 cone soundings turn firmer there" in lines[0].because


def test_every_blow_below_the_topsoil_speaks_for_one_stratum():
    rows = soundings(1, 5, (0.5,), (0.03, 0.006))
    profile = ground_profile(job_with(rows).job, 512, np.random.SeedSequence(1))
    shared = sum(sum(row.blows) for stratum in profile.strata for row in stratum.observations)
    assert shared == sum(sum(row.blows) for row in rows)


def test_topsoil_alone_leaves_the_rest_to_the_soundings():
    strata = '[[stratum]]\nname = "topsoil"\ntop = "0 mm"\nbottom = "200 mm"\n'
    rows = soundings(1, 5, (0.6,), (0.03, 0.006))
    profile = ground_profile(job_with(rows, strata).job, 512, np.random.SeedSequence(1))
    assert [stratum.name for stratum in profile.strata] == ["topsoil", "upper ground", "lower ground"]
    assert profile.topsoil == pytest.approx(0.2)


def test_named_strata_are_left_as_the_job_has_them():
    strata = '[[stratum]]\nname = "clay"\ntop = "0 mm"\ntaken_for = "natural ground"\n'
    rows = soundings(1, 5, (0.5,), (0.03, 0.006))
    profile = ground_profile(job_with(rows, strata).job, 512, np.random.SeedSequence(1))
    assert [stratum.name for stratum in profile.strata] == ["clay"]
    assert profile.soundings is None


@pytest.mark.slow
def test_two_hundred_and_forty_soundings_are_read_in_little_time(cost_of):
    loaded = job_with(soundings(1, 240, (0.5,), (0.03, 0.008)))
    look_at(loaded)
    assert cost_of(lambda: look_at(loaded)) < 60.0


def test_soundings_of_a_job_are_answered_set_by_set_and_together_by_depth():
    row = ConePenetrometer(blows=(5, 5, 10, 10), depths=(0.25, 0.35, 0.45, 0.55), start=0.15)
    job = job_with([row, row]).job
    answer = soundings_answer(job, ground_profile(job, 64, np.random.default_rng(1)))
    assert [one.mm_per_blow for one in answer.soundings[0].sets] == [20.0, 20.0, 10.0, 10.0]
    # log10 CBR = 2.48 - 1.057 log10 20 by hand = 1.1048 (trl_dcp, as quoted in several papers)
    assert answer.soundings[0].sets[0].cbr_percent == pytest.approx(12.7, abs=0.05)
    assert [(line.top_mm, line.mm_per_blow, line.soundings) for line in answer.by_depth][:2] == [
        (100, 20.0, 2),
        (200, 20.0, 2),
    ]
    # between 300 and 400 mm, 50 mm take 2.5 blows and 50 mm take 5: 100 mm over 7.5 blows
    assert answer.by_depth[2].mm_per_blow == pytest.approx(13.3, abs=0.05)
    ((found,), (common,)) = answer.soundings[0].boundaries, answer.boundaries
    assert found.depth_mm == common.depth_mm == 350
    assert common.low_mm < 350 < common.high_mm


def test_a_job_without_soundings_has_no_strip_log():
    moist = '[[observation]]\nkind = "moisture"\ndepth = "300 mm"\nresult = "moist"\n'
    job = read_job(START + moist).job
    assert soundings_answer(job, ground_profile(job, 64, np.random.default_rng(1))) is None
