"""What is searched where the job leaves it open."""

from __future__ import annotations

import pytest

from earthfast.stages.choose import choose_for

TYPED = '\nbedding = "30 mm"'


def prices_of(job):
    return [one.chosen.cost.merit.price for one in choose_for(job).decisions]


@pytest.mark.slow
def test_bedding_left_open_is_searched_and_the_cheapest_of_all_beds_found(changed):
    # 30 to 50 mm: common practice, no source; each typed by itself is the brute force
    typed = [prices_of(changed((TYPED, f'\nbedding = "{bed} mm"'))) for bed in (30, 40, 50)]
    found = prices_of(changed((TYPED, "")))
    assert found == pytest.approx([min(prices) for prices in zip(*typed, strict=True)])
    assert found[0] < typed[0][0]  # on treated soil thicker sand saves dearer stone


@pytest.mark.slow
def test_bedding_thicker_than_usual_is_named_and_its_way_can_be_chosen(changed):
    open_bed = choose_for(changed((TYPED, "")))
    way = open_bed.decisions[0].chosen.line
    assert way.key.endswith("-bed50")
    assert way.title.endswith(", 50 mm of bedding")
    named = ("[weights]", f'[choose]\nway = "{way.key}"\n\n[weights]')
    again = choose_for(changed((TYPED, ""), named))
    assert again.decisions[0].chosen.line.key == way.key
