"""Conductivity, capacity, susceptibility and thaw: limits and completeness."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from earthfast.frost import (
    FrostClass,
    FrostGroup,
    GermanSoilGroup,
    GrainKind,
    SoilKind,
    Susceptibility,
    ThermalMaterial,
    conductivity_cote_konrad,
    conductivity_johansen,
    frost_class_german,
    frost_group_us,
    susceptibility_uk,
    thaw_cbr,
    thaw_modulus_factor,
    thaw_reaction,
    typical_thermal,
)


@pytest.mark.parametrize("kind", list(GrainKind))
def test_saturated_soil_has_the_saturated_conductivity_by_both_relations(kind):
    density = 1700.0
    porosity = 1.0 - density / 2700.0
    full = 1000.0 * porosity / density
    solids = 7.7**0.3 * 2.0**0.7
    expected = solids ** (1 - porosity) * 0.57**porosity
    for relation in (conductivity_johansen, conductivity_cote_konrad):
        assert float(relation(kind, density, full, 0.3).unfrozen) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("kind", list(GrainKind))
def test_wetter_soil_conducts_better(kind):
    water = np.linspace(0.02, 0.2, 10)
    conductivity = conductivity_cote_konrad(kind, 1700.0, water, 0.3)
    assert (np.diff(conductivity.unfrozen) > 0.0).all()
    assert (np.diff(conductivity.frozen) > 0.0).all()


def test_every_material_group_and_kind_has_an_answer():
    for material in ThermalMaterial:
        assert float(typical_thermal(material).frozen_conductivity) > 0.0
    for group in FrostGroup:
        assert 0.0 < thaw_modulus_factor(group) <= 1.0
        assert float(thaw_cbr(30.0, group)) <= 30.0
    for group in GermanSoilGroup:
        assert frost_class_german(group, 0.1, 0.10) in FrostClass
    for kind in SoilKind:
        assert frost_group_us(kind, 0.1, 0.10) in FrostGroup
        assert susceptibility_uk(kind, 0.1, 0.10) in Susceptibility


@pytest.mark.parametrize("kind", [SoilKind.GRAVEL, SoilKind.SAND, SoilKind.VERY_FINE_SILTY_SAND])
def test_more_fines_never_strengthen_thawing_ground(kind):
    factors = [thaw_modulus_factor(frost_group_us(kind, fines, 0.0)) for fines in np.linspace(0.0, 0.4, 41)]
    assert all(clean >= dirty for clean, dirty in itertools.pairwise(factors))


def test_ground_that_is_not_weakened_has_no_thaw_reaction():
    with pytest.raises(ValueError, match="not weakened"):
        thaw_reaction(0.3, FrostGroup.NFS)
