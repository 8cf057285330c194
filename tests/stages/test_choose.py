"""What is not searched, since nothing better could come of it."""

from __future__ import annotations

import pytest

from earthfast.stages.choose import choose_for


@pytest.mark.slow
@pytest.mark.parametrize("bedding", ["40 mm", "50 mm"])
def test_no_thicker_bedding_makes_a_cheaper_way(changed, bedding):
    # why bedding is not swept: as typed, or 30 mm, which costs least; common practice, no source, lays 30 to 50 mm
    usual = choose_for(changed())
    thicker = choose_for(changed(('bedding = "30 mm"', f'bedding = "{bedding}"')))
    for before, after in zip(usual.decisions, thicker.decisions, strict=True):
        assert after.chosen.cost.merit.price > before.chosen.cost.merit.price
