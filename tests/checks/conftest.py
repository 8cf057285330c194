from __future__ import annotations

import importlib
from dataclasses import fields

import numpy as np
import pytest

from earthfast.checks import (
    BuildUp,
    Case,
    Course,
    Drainage,
    GroundDraws,
    Material,
    Method,
    MixDraws,
    PavingUnit,
    UsualGround,
    Way,
    Winters,
    restraints,
    winter_sample,
)
from earthfast.estimate import Draws, Quantity, exact
from earthfast.frost import climate_like
from earthfast.loads import load_library

COUNT = 256
LOW_BACK = restraints()[0]
FLAG = PavingUnit(0.45, 0.04)
DAY = 86400.0
COLUMNS = ("frost model", "uneven share", "load", "bearing model", "bedding modulus", "concrete modulus")
COLUMNS += ("stone modulus", "cracked modulus", "flexural", "winter", "levels", "passes", "rut limit")
COLUMNS += ("settlement modulus", "compressibility", "soft spots", "fall model")
COLUMNS += (
    "sideways push",
    "edge push",
    "edge model",
    "thaw pass",
    "verge thrust",
    "built thickness",
    "bending model",
)
UNIT = 1e-6 / DAY  # m²/(K·s) in 1 mm²/(K·day)
GROUND = {
    "strength": 60e3,
    "strength_wet": 50e3,
    "modulus": 40e6,
    "modulus_wet": 30e6,
    "softening": 1.0,
    "permeability": 1e-9,
    "friction_angle": 30.0,
    "drains": 0.0,
    "plasticity_index": 0.20,
    "fines": 0.80,
    "organic_content": 0.01,
    "dry_density": 1600.0,
    "water_content": 0.22,
    "water_depth": 1.5,
    "capillary_rise": 15.0,
    "segregation_potential": 50.0 * UNIT,
    "frost_rank": 3.0,
    "drying": 0.4,
    "drying_depth": 0.9,
    "spot_spread": 0.3,
}


def of_all(key, value):
    return Quantity(key, np.broadcast_to(np.asarray(value, float), (COUNT,)))


@pytest.fixture(scope="session")
def stone_way():
    def way(stone, material=Material.FLAGS):
        paving = (Course(material, 0.04), Course(Material.BEDDING_SAND, 0.03))
        return Way(Method.STONE, BuildUp((*paving, Course(Material.CRUSHED_STONE, stone))))

    return way


@pytest.fixture(scope="session")
def treated_way():
    def way(treated, stone=0.0):
        courses = [Course(Material.FLAGS, 0.04), Course(Material.BEDDING_SAND, 0.03)]
        courses += [Course(Material.CRUSHED_STONE, stone)] if stone else []
        return Way(Method.CEMENT, BuildUp((*courses, Course(Material.TREATED_SOIL, treated, 0.06))))

    return way


@pytest.fixture(scope="session")
def chicago_sample():
    return winter_sample(climate_like("Chicago 2001 to 2016"), 512, np.random.default_rng(11))


@pytest.fixture
def case_of(chicago_sample):
    """A case for some ways; ground properties by name, the rest as keywords."""

    def case(
        *ways,
        sample=chicago_sample,
        index=400.0,
        factor=0.75,
        shade=None,
        strength=1.0e6,
        loads=("person",),
        unit=FLAG,
        tolerable=None,
        wall=False,
        fall=0.02,
        restraint=LOW_BACK,
        **ground,
    ):
        draws = Draws(COLUMNS, COUNT, np.random.default_rng(1))
        values = GROUND | ground
        winters = Winters(
            of_all("index", index * DAY),
            of_all("season", 90.0 * DAY),
            of_all("mean", 10.6),
            of_all("factor", factor),
            of_all("verge", 0.5 * (factor + 0.5)),
            of_all("shade", shade or factor),
            factor,
            sample,
        )
        mix = MixDraws(
            Quantity("mix", np.broadcast_to(np.asarray(strength, float), (len(ways), COUNT))), 0.08
        )
        falls = Drainage(of_all("fall", fall), of_all("level", 0.003), of_all("run", 3.0), has_outlet=True)
        return Case(
            ways=ways,
            ground=GroundDraws(
                **{name: of_all(name, value) for name, value in values.items()},
                usual=UsualGround(*(values[one.name] for one in fields(UsualGround))),
            ),
            mix=mix,
            loads=tuple(load_library()[one] if isinstance(one, str) else one for one in loads),
            unit=unit,
            years=20.0,
            tolerable_settlement=tolerable,
            is_beside_building=wall,
            restraint=restraint,
            winters=winters,
            drainage=falls,
            draws=draws,
        )

    return case


@pytest.fixture
def exact_depth(monkeypatch):
    """Draws of the frost depth's error all at 1."""
    for name in ("frost", "thaw", "durability"):
        module = importlib.import_module(f"earthfast.checks.{name}")
        monkeypatch.setattr(module, "DEPTH_ERROR", exact(1.0))
