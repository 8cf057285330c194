from __future__ import annotations

import pytest

from earthfast.checks import BuildUp, Course, Material, Method, Way
from earthfast.works import SiteGround, rectangular_plan

PAVING = (Course(Material.BLOCKS, 0.06), Course(Material.BEDDING_SAND, 0.03))


@pytest.fixture
def stone_way():
    return Way(Method.STONE, BuildUp((*PAVING, Course(Material.CRUSHED_STONE, 0.10))))


@pytest.fixture
def treated_way():
    return Way(Method.CEMENT, BuildUp((*PAVING, Course(Material.TREATED_SOIL, 0.15, 0.06))))


@pytest.fixture
def slab_way():
    return Way(Method.SLAB, BuildUp((Course(Material.CONCRETE, 0.10), Course(Material.CRUSHED_STONE, 0.10))))


@pytest.fixture
def patio():
    return rectangular_plan(6.0, 4.0)


@pytest.fixture
def ground():
    # natural dry density equal to the layer's, so that the ground neither drops nor rises on tilling
    return SiteGround(
        bank_density=1800.0,
        natural_dry_density=1750.0,
        layer_dry_density=1750.0,
        swell=0.30,
        field_water=0.12,
        target_water=0.15,
    )
