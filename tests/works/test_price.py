from __future__ import annotations

from datetime import date

import pytest

from earthfast.estimate import CautionCode
from earthfast.sources import Status
from earthfast.works import (
    Goods,
    Supplier,
    UsualBand,
    bill_for,
    example_prices,
    labour_line,
    money,
    order_line,
    price_cautions,
)
from earthfast.works.price import age_in_months


def flat(amount):
    return UsualBand(amount, amount, amount)


@pytest.fixture
def chosen_prices():
    # P-60: prices chosen for the case, nothing charged for delivery
    given = {
        Goods.STONE_BULK_BAG: flat(60.0),
        Goods.SKIP_8: flat(320.0),
        Goods.SKIP_6: flat(290.0),
        Goods.PLATE_DAY: flat(45.0),
        Goods.TILLER_DAY: flat(85.0),
        Goods.CEMENT_BAG: flat(7.5),
        Goods.CURING_SHEET: flat(20.0),
    }
    free = {supplier: flat(0.0) for supplier in Supplier}
    today = date(2026, 3, 1)
    return example_prices().with_prices(given, today).with_deliveries(free, today)


def lines_of(**units):
    return [
        order_line(Goods(goods), count * order_line(Goods(goods), 1.0).unit_size)
        for goods, count in units.items()
    ]


def test_two_ways_in_whole_units_cost_what_hand_reckoning_says(chosen_prices):
    stone = bill_for(lines_of(stone_bulk_bag=7, skip_8=2, plate_day=1), chosen_prices)
    treat = bill_for(
        lines_of(cement_bag=16, skip_6=1, plate_day=1, tiller_day=1, curing_sheet=1), chosen_prices
    )
    assert (stone.net.usual, treat.net.usual) == pytest.approx((1105.0, 560.0))


def test_contingency_comes_before_tax(chosen_prices):
    bill = bill_for(lines_of(stone_bulk_bag=7, skip_8=2, plate_day=1), chosen_prices, 0.10, 0.20)
    assert str(money(bill.total.usual)) == "1458.60"  # P-61


def test_halves_are_rounded_up_at_the_end():
    assert [str(money(x)) for x in (42.525, 1324.575, 0.005, 2.675)] == ["42.53", "1324.58", "0.01", "2.68"]


def test_each_supplier_delivers_once_whatever_the_size():
    small = bill_for(
        [order_line(Goods.CEMENT_BAG, 25.0), order_line(Goods.SAND_BULK_BAG, 10.0)], example_prices()
    )
    assert [row.words for row in small.rows].count("delivery, merchant") == 1
    assert len(small.rows) == 3


def test_money_for_labour_reaches_from_low_hours_at_the_low_rate_to_high_hours_at_the_high_rate():
    # by hand, whole hours: 24 x 10, 36 x 12 and 60 x 15
    listed = example_prices().with_prices({Goods.LABOUR_HOUR: UsualBand(10.0, 12.0, 15.0)}, None)
    (row,) = bill_for([labour_line(UsualBand(23.1, 36.0, 59.2))], listed).rows
    assert row.amount == UsualBand(240.0, 432.0, 900.0)


def test_nothing_ordered_costs_nothing():
    assert bill_for([order_line(Goods.CEMENT_BAG, 0.0)], example_prices()).net.usual == 0.0


def test_rows_that_move_the_total_most_come_first():
    bill = bill_for(
        [order_line(Goods.BLOCK_PACK, 1500.0), order_line(Goods.CEMENT_BAG, 25.0)], example_prices()
    )
    swings = [row.amount.swing for row in bill.movers]
    assert swings == sorted(swings, reverse=True)
    assert bill.movers[0].words == "paving blocks, pack"


def test_every_good_has_an_invented_dated_example_price_and_a_delivery():
    listed = example_prices()
    assert set(listed.prices) == set(Goods)
    assert set(listed.deliveries) == set(Supplier) - {Supplier.NONE}
    for price in listed.prices.values():
        assert price.status is Status.INVENTED
        assert price.band.low <= price.band.usual <= price.band.high


def test_example_and_old_prices_are_doubted_and_fresh_own_ones_are_not(chosen_prices):
    lines = [order_line(Goods.CEMENT_BAG, 25.0)]
    codes = [c.code for c in price_cautions(bill_for(lines, example_prices()), date(2027, 3, 1))]
    assert codes == [CautionCode.PRICES_INVENTED, CautionCode.PRICES_OLD]
    assert price_cautions(bill_for(lines, chosen_prices), date(2026, 4, 1)) == ()


def test_age_is_counted_in_months():
    assert age_in_months(date(2024, 5, 1), date(2026, 5, 1)) == pytest.approx(24.0, abs=0.05)
