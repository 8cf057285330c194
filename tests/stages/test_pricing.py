"""Whose prices hold: the job's own before its list, its list before the invented example."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from earthfast.job import JobProblems
from earthfast.sources import Status
from earthfast.stages.choose import choose_for
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


def test_a_currency_without_a_list_is_told_how_to_give_one(changed):
    job = changed(('currency = "GBP"', 'currency = "USD"'), (OVERRIDES + '\nplate_day = "45 GBP/day"', ""))
    with pytest.raises(JobProblems) as caught:
        price_list_of(job)
    (problem,) = caught.value.problems
    assert "`list`" in problem.accepted
    assert "USD" in problem.accepted
    assert "prices.md" in problem.suggestion


PAGE = (Path(__file__).parents[2] / "docs" / "how-to" / "prices.md").read_text(encoding="utf-8")


@pytest.fixture
def dollars(changed, tmp_path):
    listed = next(block for block in re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL) if "title" in block)
    (tmp_path / "dollars.toml").write_text(listed, encoding="utf-8")
    return changed(
        ('currency = "GBP"', 'currency = "USD"\nlist = "dollars.toml"'),
        (OVERRIDES + '\nplate_day = "45 GBP/day"', ""),
        path=tmp_path / "job.toml",
    )


def test_the_whole_list_of_the_how_to_page_is_whole(dollars):
    prices = price_list_of(dollars)
    assert prices.currency == "USD"
    assert all(price.status is Status.USER for goods, price in prices.prices.items() if goods != "tiller_day")


def test_a_price_by_measure_becomes_that_of_one_unit(dollars):
    """Concrete is ordered by the quarter cubic metre, water by the litre: 180 $/m³ is 45 $ and 2.50 $/m³ is 0.25 cent."""
    prices = price_list_of(dollars).prices
    assert prices[Goods.CONCRETE_READY].band.usual == pytest.approx(180.0 * 0.25)
    assert prices[Goods.WATER].band.usual == pytest.approx(2.5e-3)


@pytest.mark.parametrize(
    ("row", "found"),
    [
        ('plate_day = "90 GBP/week"', "'90 GBP/week'"),
        ('labour_hour = "200 GBP/day"', "'200 GBP/day'"),
        ('flag = "200 GBP/t"', "'200 GBP/t'"),
        ('stone_loose = "60 GBP/bag"', "'60 GBP/bag'"),
    ],
)
def test_a_price_for_something_else_than_the_goods_is_refused(changed, row, found):
    job = changed((OVERRIDES + '\nplate_day = "45 GBP/day"', f"[prices.override]\n{row}"))
    with pytest.raises(JobProblems) as caught:
        price_list_of(job)
    (problem,) = caught.value.problems
    assert problem.where == f"prices.override.{row.split()[0]}"
    assert problem.found == found


def test_a_price_without_a_date_is_given_none(changed, tmp_path):
    undated = changed(("date = 2026-03-14\n", ""), ("date = 2026-02-20\n", ""))
    assert price_list_of(undated).prices[Goods.CEMENT_BAG].dated is None


def test_every_price_of_an_answer_is_in_its_own_currency(dollars):
    choice = choose_for(dollars).answer
    assert choice.currency == "USD"
    assert "£" not in choice.model_dump_json()
    assert all(point.price_text.startswith("$") for area in choice.areas for point in area.front)
