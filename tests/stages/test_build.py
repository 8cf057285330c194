"""The build answer: what adds up, what agrees in four languages, what is pegged and in which order."""

from __future__ import annotations

import re

import numpy as np
import pytest

from earthfast.checks import CheckName
from earthfast.choice import FOLLOWED, RARE
from earthfast.stages import build_for, choose_for


@pytest.fixture(scope="module")
def built():
    from importlib.resources import files

    from earthfast.job import read_job

    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text(
        encoding="utf-8"
    )
    choice = build_for(read_job(text)).choice
    treated = next(
        way.line.key
        for way in choice.decisions[0].ways
        if way.way.build_up.treated is not None and way.line.passes
    )
    named = text.replace("[weights]", f'[choose]\nway = "{treated}"\n\n[weights]')
    return build_for(read_job(named))


def test_bays_cover_the_base_once(built):
    for area in built.answer.areas:
        assert sum(bay.area_m2 for bay in area.bays) == pytest.approx(area.dug_area_m2, rel=0.01)


def test_the_dose_agrees_in_its_four_languages(built):
    costing = built.choice.decisions[0].area.costing
    for decision, area in zip(built.choice.decisions, built.answer.areas, strict=True):
        treated = decision.chosen.way.build_up.treated
        for bay in area.bays:
            mass = treated.dose * costing.ground.layer_dry_density * treated.thickness
            assert bay.spread_kg_per_m2 == pytest.approx(mass, rel=0.01)
            assert bay.spread_mm == pytest.approx(1000.0 * mass / costing.cement.loose_density, rel=0.03)
            assert bay.binder_kg == pytest.approx(mass * bay.area_m2, rel=0.01)
            assert (bay.grid_mm / 1000.0) ** 2 * mass == pytest.approx(costing.cement.bag_mass, rel=0.01)


def test_shopping_buys_at_least_what_the_bays_take(built):
    binder = sum(bay.binder_kg for area in built.answer.areas for bay in area.bays)
    line = next(line for line in built.answer.shopping if line.item.startswith("cement"))
    bags = int(line.order.split()[0])
    assert bags * 25 >= binder
    assert (bags - 2) * 25 < binder * 1.1


def test_formation_lies_the_build_up_below_the_surface_at_every_corner(built):
    for area in built.answer.areas:
        thickness = sum(course.thickness_mm for course in area.courses)
        for corner in area.corners:
            below = 1000.0 * (corner.finished_m - corner.formation_m)
            assert below == pytest.approx(thickness, abs=1.0)
            tilled = 1000.0 * (corner.ground_m - corner.formation_m) - corner.dig_mm
            said = re.search(r"Till (\d+) mm of the ground as it lies", area.mixing_words)
            assert tilled == pytest.approx(float(said[1]) if said else 0.0, abs=1.5)
        assert np.mean([corner.dig_mm for corner in area.corners]) == pytest.approx(area.mean_dig_mm, abs=1.5)


def test_the_surface_falls_as_set_out_and_towards_the_side_named(built):
    for area in built.answer.areas:
        rows = [(c.x_m, c.y_m, c.finished_m) for c in area.corners]
        x, y, level = np.array(rows).T
        slope = np.linalg.lstsq(np.column_stack([np.ones_like(x), x, y]), level, rcond=None)[0][1:]
        assert np.hypot(*slope) == pytest.approx(1.0 / area.fall_1_in, rel=0.05)
        assert area.fall_direction == "south"
        assert slope[1] > 0.0  # higher to the north


def test_both_diagonals_of_a_rectangle_are_one_figure(built):
    base, path = built.answer.areas
    assert base.diagonal_m == pytest.approx(np.hypot(4.2, 3.0), abs=1e-3)
    assert path.diagonal_m == pytest.approx(np.hypot(14.0, 1.2), abs=1e-3)


def test_working_time_follows_the_degree_hour_rule(built):
    """UK street-works code, appendix A10.2.28, shorter reading: 35 degree-hours with cement (S)."""
    for line in built.answer.areas[0].clock:
        assert line.minutes == pytest.approx(60.0 * 35.0 / line.air_c, abs=1.0)


def test_water_has_a_way_out_of_sand_on_a_bound_base(built):
    steps = [step.step.lower() for step in built.answer.areas[0].steps]
    out = next(i for i, step in enumerate(steps) if "weep holes" in step)
    bed = next(i for i, step in enumerate(steps) if step.startswith(("screed", "lay the bed")))
    assert out < bed


def test_no_number_of_passes_is_promised_of_a_light_machine(built):
    for area in built.answer.areas:
        assert "there is no number of passes for it: go over each lift" in area.compaction_words
        ours, _, heavier = area.compaction_words.partition("A vibrating tamper of 50 kg")
        assert " passes" not in ours.replace("number of passes", "")
        assert "4 passes" in heavier  # scottish_reinstatement_2015, table A8.1, 100 mm (S)


def test_the_list_hires_the_machine_that_the_words_compact_with(built):
    """The job names a hand tamper of 6 kg only, so a plate is hired; the tiller is the crew's own."""
    orders = {line.item: line.order for line in built.answer.shopping}
    assert orders["vibrating plate, day"] == "1 day"
    assert orders["rotary tiller, day"] == "your own"
    for area in built.answer.areas:
        assert area.compaction_words.startswith("Compact with the vibrating plate of 90 kg.")
        assert "tamper of 6 kg" not in area.compaction_words
    assert any(
        line.figure.key.endswith("works.compactor") and "no compactor" in line.because
        for line in built.answer.assumptions
    )


def test_nothing_is_called_safe(built):
    words = built.answer.model_dump_json().lower()
    for claim in (" is safe", "guaranteed", "safe to"):
        assert claim not in words


def test_every_assumption_has_a_source(built):
    for line in built.answer.assumptions:
        assert line.sources or line.because
        assert all(source.citation for source in line.sources)


def test_a_chance_too_rare_to_count_is_followed_into_the_tail_and_others_are_not(built):
    """Counting 4096 draws has a coefficient of variation of one half at 1 in 1000 (binomial: 1/sqrt(4096/1000))."""
    for area in built.answer.areas:
        for check in area.checks:
            followed = CheckName(check.name) in FOLLOWED and check.chance < RARE
            assert ("subset simulation into the tail" in check.sentence) == followed
    assert any("reliability index" in check.sentence for area in built.answer.areas for check in area.checks)


def test_every_course_bought_has_a_step_and_the_record_comes_last(built):
    for area in built.answer.areas:
        steps = [step.step for step in area.steps]
        materials = {course.material for course in area.courses}
        for material, words in (
            ("crushed stone", "Bring stone"),
            ("bedding sand", "Screed the bed"),
            ("flags", "Lay, cut"),
        ):
            assert any(step.startswith(words) for step in steps) == (material in materials)
        assert steps[-1].startswith("Keep the record")


def test_the_shopping_list_adds_up_to_its_total(built):
    added = sum(line.price.value for line in built.answer.shopping if line.price is not None)
    assert added == pytest.approx(built.answer.total.value, abs=1.0)


@pytest.mark.slow
def test_an_undated_job_says_so_and_takes_no_other_date(changed):
    answer = build_for(changed(("date = 2026-03-14\n", ""))).answer
    assert answer.date == "undated"
    assert build_for(changed()).answer.date == "2026-03-14"


def test_a_named_way_that_fails_is_headed_by_what_it_fails_and_cautioned_first(changed):
    answer = build_for(changed(("[weights]", '[choose]\nway = "sand-bed"\n\n[weights]'))).answer
    assert answer.exit_status == 1
    failed = [check for area in answer.areas for check in area.checks if not check.passes]
    assert failed
    assert answer.headline.startswith("Falls short")
    assert answer.cautions[0].where == "choose.way"
    for check in failed:
        for said in (answer.headline, " ".join(line.text for line in answer.cautions[: len(answer.areas)])):
            assert f"{check.name} ({check.chance_text}" in said


def test_ways_that_pass_are_not_said_to_fall_short(built):
    assert "alls short" not in built.answer.headline
    assert not [line for line in built.answer.cautions if line.where == "choose.way"]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("told", "word"),
    [("made_ground = true", "Filled"), ("made_ground = false\ncontaminated = true", "Contaminated")],
)
def test_filled_and_contaminated_ground_head_what_is_chosen_and_built(changed, told, word):
    built = build_for(changed(("made_ground = false", told)))
    for headline in (built.answer.headline, built.choice.answer.headline):
        assert headline.startswith(f"{word} ground: a licensed engineer decides")
    assert "licensed engineer" not in build_for(changed()).answer.headline


@pytest.mark.slow
def test_limits_that_no_way_keeps_are_said_first_and_fail(changed):
    limited = changed(("[weights]", '[choose]\nmost_price = "10 GBP"\n\n[weights]'))
    answer = choose_for(limited).answer
    assert answer.exit_status == 1
    assert answer.headline.startswith("No way of building base and path keeps within the limits of the job")
    built = build_for(limited).answer
    assert (built.exit_status, built.headline.split(".")[0]) == (1, answer.headline.split(".")[0])
    roomy = choose_for(changed(("[weights]", '[choose]\nmost_price = "90000 GBP"\n\n[weights]'))).answer
    assert (roomy.exit_status, "limits" in roomy.headline) == (0, False)


@pytest.mark.slow
def test_prices_that_are_invented_only_in_part_are_called_so(changed):
    answer = build_for(changed()).answer  # the plate's day is priced in the job, the rest is invented
    invented = [line.price_is_invented for line in answer.shopping if line.price is not None]
    assert any(invented)
    assert ("partly at invented prices" in answer.headline) == (not all(invented))


def test_soil_to_be_treated_is_not_dug_away(built):
    for work in built.answer.areas:
        said = "formation is the underside of the layer tilled in place" in work.levels_words
        assert said == bool(work.mixing_words)
    assert any(work.mixing_words for work in built.answer.areas)


def test_stone_digs_to_the_formation(changed):
    stone = build_for(changed(("[weights]", '[choose]\nway = "sand-bed"\n\n[weights]'))).answer
    assert all("tilled" not in area.levels_words for area in stone.areas)
