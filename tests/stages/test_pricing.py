"""Whose prices hold: the job's own before its list, its list before the invented example."""

from __future__ import annotations

import pytest

from earthfast.job import JobProblems
from earthfast.sources import Status
from earthfast.stages.pricing import price_list_of
from earthfast.works import Goods, Supplier, example_prices

OVERRIDES = '[prices.override]\ncement_bag = "7.50 GBP/bag"'


def test_prices_the_job_does_not_name_stay_marked_as_invented(changed):
    prices = price_list_of(changed()).prices
    assert prices[Goods.CEMENT_BAG].status is Status.USER
    assert prices[Goods.STONE_BULK_BAG].status is Status.INVENTED
    assert prices[Goods.STONE_BULK_BAG].band == example_prices().prices[Goods.STONE_BULK_BAG].band


def test_a_price_by_the_tonne_becomes_the_price_of_one_bag(changed):
    job = changed((OVERRIDES, '[prices.override]\ncement_bag = "300 GBP/t"'))
    assert price_list_of(job).prices[Goods.CEMENT_BAG].band.usual == pytest.approx(7.50)  # 25 kg at 0.30 a kg


def test_a_machine_of_ones_own_costs_no_hire(changed):
    assert price_list_of(changed()).prices[Goods.TILLER_DAY].band.usual == 0.0
    hired = changed(('width = "450 mm"\nhired = false', 'width = "450 mm"\nhired = true'))
    assert price_list_of(hired).prices[Goods.TILLER_DAY].band.usual > 0.0


def test_a_list_beside_the_job_holds_where_it_speaks(changed, tmp_path):
    (tmp_path / "ours.toml").write_text(
        'title = "Ours"\ncurrency = "GBP"\ndate = 2026-02-01\n'
        '[[price]]\nkey = "stone_bulk_bag"\nprice = "55..65 GBP/bag"\n'
        '[[price]]\nkey = "merchant"\nprice = "30 GBP"\n',
        encoding="utf-8",
    )
    job = changed(('currency = "GBP"', 'currency = "GBP"\nlist = "ours.toml"'), path=tmp_path / "job.toml")
    prices = price_list_of(job)
    assert prices.prices[Goods.STONE_BULK_BAG].band.usual == pytest.approx(60.0)
    assert prices.deliveries[Supplier.MERCHANT].band.usual == pytest.approx(30.0)
    assert prices.prices[Goods.CEMENT_BAG].band.usual == pytest.approx(7.50)


def test_a_list_in_another_currency_has_to_be_whole(changed, tmp_path):
    (tmp_path / "euro.toml").write_text(
        'title = "Euro"\ncurrency = "EUR"\n[[price]]\nkey = "stone_bulk_bag"\nprice = "70 EUR/bag"\n',
        encoding="utf-8",
    )
    job = changed(
        ('currency = "GBP"', 'list = "euro.toml"'),
        (OVERRIDES + '\nplate_day = "45 GBP/day"', ""),
        ('contingency = "10 %"', 'contingency = "10 %"'),
        path=tmp_path / "job.toml",
    )
    with pytest.raises(JobProblems, match="cement_bag"):
        price_list_of(job)


def test_a_currency_without_a_list_is_refused_where_it_stands(changed):
    job = changed(('currency = "GBP"', 'currency = "EUR"'), (OVERRIDES + '\nplate_day = "45 GBP/day"', ""))
    with pytest.raises(JobProblems, match=r"prices\.currency"):
        price_list_of(job)
