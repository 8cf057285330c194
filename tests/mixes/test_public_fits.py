"""Fits on public tests must come out as an independent least-squares program found them."""

import csv
from pathlib import Path

import numpy as np
import pytest
from scipy.constants import psi

from earthfast.mixes import (
    gaussian_update,
    mix_porosity,
    porosity_cement_index,
    volumetric_cement,
    wet_mix_strength,
    wet_mix_water_cement_ratio,
)

PUBLISHED = Path(__file__).parent.parent / "published"


def read(name):
    lines = [line for line in (PUBLISHED / name).read_text(encoding="utf-8").splitlines() if line[0] != "#"]
    return list(csv.DictReader(lines))


def column(rows, name):
    return np.array([float(row[name]) for row in rows])


def vague_fit(design, observed):
    """Conjugate update in the limit of a vague prior is least squares."""
    size = design.shape[1]
    return gaussian_update(
        np.zeros(size), 1e6 * np.eye(size), design, observed, 0.04 * np.eye(len(observed))
    ).mean


def residual_sd(design, observed, fit):
    return np.sqrt(np.sum((observed - design @ fit) ** 2) / (len(observed) - design.shape[1]))


@pytest.fixture(scope="module")
def soils_a_b():
    return read("treated_soils_a_b.csv")


def test_b40_soils_a_and_b_have_the_published_dose_and_age_exponents(soils_a_b):
    rows = soils_a_b
    is_b = np.array([row["soil"] == "B" for row in rows], dtype=float)
    dose = np.log(column(rows, "cement_percent") / 3.0)
    age = np.log(column(rows, "age_days") / 28.0)
    design = np.stack([np.ones(len(rows)), is_b, dose, age], axis=-1)
    observed = np.log(column(rows, "ucs_kPa"))
    fit = vague_fit(design, observed)
    assert fit == pytest.approx([7.341, -0.215, 0.884, 0.175], rel=0.01)
    assert residual_sd(design, observed, fit) == pytest.approx(0.175, rel=0.01)


def test_b41_soil_b_has_the_published_density_exponent(soils_a_b):
    rows = [row for row in soils_a_b if row["soil"] == "B"]
    density = column(rows, "dry_density_Mg_m3")
    design = np.stack(
        [
            np.ones(len(rows)),
            np.log(column(rows, "cement_percent") / 3.0),
            np.log(density / density.mean()),
            np.log(column(rows, "age_days") / 28.0),
        ],
        axis=-1,
    )
    observed = np.log(column(rows, "ucs_kPa"))
    fit = vague_fit(design, observed)
    assert fit == pytest.approx([7.118, 0.905, 9.66, 0.193], rel=0.02)
    assert residual_sd(design, observed, fit) == pytest.approx(0.088, rel=0.02)


def test_b43_density_is_the_strongest_lever_in_silty_sand():
    rows = [
        row
        for row in read("treated_soils_lime_ash.csv")
        if row["soil"] == "SM" and float(row["ash_percent"]) > 0.0
    ]
    assert len(rows) == 48
    binder = column(rows, "cement_percent") + column(rows, "lime_percent")
    design = np.stack(
        [
            np.ones(48),
            np.log(binder),
            np.log(column(rows, "dry_unit_weight_kN_m3")),
            np.log(column(rows, "age_days") / 28.0),
        ],
        axis=-1,
    )
    observed = np.log(column(rows, "ucs_kPa"))
    fit = vague_fit(design, observed)
    assert fit == pytest.approx([-11.72, 0.694, 6.244, 0.245], rel=0.01)
    assert residual_sd(design, observed, fit) == pytest.approx(0.131, rel=0.01)


def test_b44_wet_clay_follows_true_water_over_cement():
    rows = read("treated_soils_wet_clay.csv")
    ratio = wet_mix_water_cement_ratio(column(rows, "water_ratio"), column(rows, "cement_ratio"))
    day = 86400.0
    predicted = wet_mix_strength(ratio, column(rows, "age_days") * day)
    gap = np.log(column(rows, "ucs_kPa") * 1000.0 / predicted)
    assert len(rows) == 150
    assert np.mean(gap) == pytest.approx(0.0, abs=0.003)
    assert np.std(gap) == pytest.approx(0.303, rel=0.015)


@pytest.mark.parametrize(
    ("soil", "solids", "scale", "exponent", "age_exponent"),
    [("B", 2640.0, 7.442e7, -3.45, 0.193), ("A", 2590.0, 1.783e10, -4.78, 0.136)],
)
def test_b46_index_of_porosity_and_cement_fits_as_found(
    soils_a_b, soil, solids, scale, exponent, age_exponent
):
    rows = [row for row in soils_a_b if row["soil"] == soil]
    dose = column(rows, "cement_percent") / 100.0
    density = column(rows, "dry_density_Mg_m3") * 1000.0
    porosity = mix_porosity(density, dose, solids)
    index = porosity_cement_index(porosity, volumetric_cement(density, dose), 0.28)
    design = np.stack([np.ones(len(rows)), np.log(index), np.log(column(rows, "age_days") / 28.0)], axis=-1)
    fit = vague_fit(design, np.log(column(rows, "ucs_kPa")))
    assert fit[1:] == pytest.approx([exponent, age_exponent], rel=0.02)
    assert fit[0] == pytest.approx(np.log(scale), rel=0.02)


def test_b39_all_soils_share_a_dose_exponent_near_one():
    rows = [row for row in read("treated_soils_iowa.csv") if float(row["cement_percent"]) > 0.0]
    names = sorted({row["soil"] for row in rows})
    own = np.array([[row["soil"] == name for name in names] for row in rows], dtype=float)
    design = np.column_stack([own, np.log(column(rows, "cement_percent") / 6.0)])
    observed = np.log(column(rows, "ucs_7d_soaked_psi") * psi)
    fit = vague_fit(design, observed)
    assert len(rows) == 38
    assert fit[-1] == pytest.approx(1.005, rel=0.01)
    assert residual_sd(design, observed, fit) == pytest.approx(0.231, rel=0.01)


def test_b37_and_b38_growth_and_soaking_are_as_found_in_the_public_rows():
    rows = read("treated_soils_iowa.csv")
    grown = [row for row in rows if row["ucs_28d_soaked_psi"] and float(row["cement_percent"]) > 0.0]
    growth = np.log(column(grown, "ucs_28d_soaked_psi") / column(grown, "ucs_7d_soaked_psi"))
    assert len(growth) == 14
    assert np.exp(growth.mean()) == pytest.approx(1.302, rel=0.01)
    both = [row for row in rows if row["ucs_7d_unsoaked_psi"]]
    soaking = column(both, "ucs_7d_soaked_psi") / column(both, "ucs_7d_unsoaked_psi")
    assert len(soaking) == 12
    assert soaking.mean() == pytest.approx(0.803, rel=0.01)
    assert soaking.min() == pytest.approx(0.533, rel=0.01)


def test_b42_triplicates_scatter_by_about_six_percent(soils_a_b):
    bands = ((7, 7), (28, 29), (93, 95), (180, 180))
    squares = []
    for soil in "AB":
        rows = [row for row in soils_a_b if row["soil"] == soil][: 14 if soil == "A" else 15]
        ages, strengths = column(rows, "age_days"), column(rows, "ucs_kPa")
        for low, high in bands:
            cell = strengths[(ages >= low) & (ages <= high)]
            assert len(cell) == 3
            squares.append((cell.std(ddof=1) / cell.mean()) ** 2)
    assert np.sqrt(np.mean(squares)) == pytest.approx(0.06, rel=0.03)
