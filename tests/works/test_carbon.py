from __future__ import annotations

from dataclasses import replace

import pytest

from earthfast.estimate import CautionCode
from earthfast.sources import Status
from earthfast.works import (
    Carbon,
    CarbonBasis,
    Haulage,
    Masses,
    Plant,
    Spoil,
    TakeOff,
    UsualBand,
    Vehicle,
    carbon_bill,
    carbon_factor,
    fuel_carbon,
    haulage_by_mass_distance,
    levelling_haul,
    listed_factors,
    treatment_caution,
)

HAULS = Haulage(stone=25e3, binder=40e3, surface=0.0, spoil=20e3)


def took(stone=0.0, cement=0.0, spoil=0.0):
    return TakeOff(
        24.0, 24.0, 0.0, 0.1, 0.0, 0.0,
        Spoil(0.0, spoil / 1800.0, 0.0, spoil / 1800.0, 0.0, 0.0, spoil),
        Masses(stone, 0.0, 0.0, 0.0, 0.0, 0.0, cement, 0.0),
        (),
    )  # fmt: skip


@pytest.fixture
def basis():
    return CarbonBasis(listed_factors(), HAULS)


def test_two_bases_of_the_published_comparison(basis):
    # P-70: stone 5.292 t with 8.208 t of spoil; cement 378 kg with 3.888 t of spoil and 4 L of petrol
    stone = carbon_bill(took(stone=5292.0, spoil=8208.0), basis)
    treated = carbon_bill(took(cement=378.0, spoil=3888.0), basis)
    treated_usual = treated.total.usual + fuel_carbon(Plant.TILLER, 4.0)
    assert stone.total.usual == pytest.approx(111.4, rel=0.01)
    assert treated_usual == pytest.approx(359.1, rel=0.01)
    factor = haulage_by_mass_distance(Vehicle.RIGID_OVER_17_T)
    extra = levelling_haul(treated_usual - stone.total.usual, 5292.0 + 8208.0 - 3888.0, factor)
    assert extra / 1000.0 == pytest.approx(123.0, rel=0.01)


def test_ways_are_level_at_the_levelling_haul(basis):
    stone = carbon_bill(took(stone=5292.0), basis)
    treated = carbon_bill(took(cement=378.0), basis)
    factor = haulage_by_mass_distance(HAULS.vehicle)
    extra = levelling_haul(treated.total.usual - stone.total.usual, 5292.0, factor)
    farther = replace(basis, haulage=replace(HAULS, stone=HAULS.stone + extra))
    assert carbon_bill(took(stone=5292.0), farther).total.usual == pytest.approx(treated.total.usual)


def test_way_that_hauls_less_and_is_lower_is_never_level():
    with pytest.raises(ValueError, match="hauls more"):
        levelling_haul(100.0, -1.0, 2e-7)


def test_treating_is_not_advertised_as_lower(basis):
    stone, treated = carbon_bill(took(stone=5292.0), basis), carbon_bill(took(cement=378.0), basis)
    caution = treatment_caution(treated, stone)
    assert caution is not None
    assert caution.code is CautionCode.CARBON_ABOVE_STONE
    assert treatment_caution(stone, treated) is None


def test_cement_is_from_memory_until_its_declaration_is_given(basis):
    listed = carbon_factor(Carbon.CEMENT)
    assert listed.status is Status.MEMORY
    own = listed.given(UsualBand(0.6, 0.62, 0.64))
    bill = carbon_bill(took(cement=100.0), replace(basis, factors={**basis.factors, Carbon.CEMENT: own}))
    assert bill.lines[0].production.usual == pytest.approx(62.0)
    assert bill.lines[0].status is Status.USER


def test_total_is_the_sum_of_its_rows(basis):
    bill = carbon_bill(took(stone=5000.0, cement=100.0, spoil=2000.0), basis)
    rows = sum(line.production.usual + line.haul for line in bill.lines)
    assert bill.total.usual == pytest.approx(rows + bill.fuel)


def test_every_factor_lies_in_its_band():
    for carbon in Carbon:
        band = carbon_factor(carbon).band
        assert band.low <= band.usual <= band.high


def test_full_tipper_is_lower_by_tonne_than_the_average_lorry():
    from earthfast.works import full_load_haul, haul_carbon

    average = haul_carbon(1000.0, 25e3, haulage_by_mass_distance(Vehicle.RIGID_OVER_17_T))
    assert average == pytest.approx(5.22, rel=0.005)  # P-65
    assert full_load_haul(1.0, 25e3) / 20.0 < average
