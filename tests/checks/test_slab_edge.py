"""Slabs at their edges, against the deflections of slabs on springs."""

import numpy as np
import pytest

from earthfast.checks import (
    CHECKS,
    BuildUp,
    CheckName,
    Course,
    Material,
    Method,
    PavingUnit,
    Way,
    slab_edge_share,
)
from earthfast.elastic import radius_of_relative_stiffness, slab_edge_deflection, slab_interior_deflection
from earthfast.estimate import Trail

SILENT = Trail(recording=False)


@pytest.mark.parametrize("thickness", [0.10, 0.15, 0.20])
@pytest.mark.parametrize("springs", [20e6, 50e6])
@pytest.mark.parametrize("radius", [0.10, 0.20])
def test_edge_over_middle_is_that_of_a_slab_on_springs_or_a_little_more(thickness, springs, radius):
    # westergaard_1926, both deflections as the core has them, themselves checked against printed examples
    reach = radius_of_relative_stiffness(thickness, 30e9, 0.15, springs)
    edge = slab_edge_deflection(10e3, radius, 0.15, springs, reach)
    middle = slab_interior_deflection(10e3, radius, springs, reach)
    assert 0.95 < slab_edge_share(radius) * float(middle / edge) < 1.25


def test_under_wide_loads_there_is_no_edge():
    assert slab_edge_share(2.0) == 1.0


def test_no_thicker_slab_presses_its_ground_harder(case_of):
    ways = [
        Way(Method.SLAB, BuildUp((Course(Material.CONCRETE, slab), Course(Material.CRUSHED_STONE, 0.05))))
        for slab in np.arange(0.08, 0.21, 0.01)
    ]
    for load in ("car", "hot tub", "water tank"):
        case = case_of(*ways, loads=(load,), unit=PavingUnit(0.0, 0.0))
        demand = CHECKS[CheckName.BEARING].judge(case, SILENT).demand.values
        assert np.all(np.diff(demand, axis=0) <= 1e-9 * demand[:-1])


def test_soft_ground_is_pressed_hardest_at_the_edge_of_a_slab(case_of):
    way = Way(
        Method.SLAB,
        BuildUp((Course(Material.CONCRETE, 0.10), Course(Material.CRUSHED_STONE, 0.10))),
    )
    case = case_of(way, loads=("car",), unit=PavingUnit(0.0, 0.0))
    found = CHECKS[CheckName.BEARING].judge(case, SILENT)
    trail = Trail()
    told = CHECKS[CheckName.BEARING].judge(case, trail)
    share = trail.tell_all().figures["bearing.edge_share"].values
    assert np.all(share > 2.0)
    assert told.demand.values == pytest.approx(found.demand.values)
