"""What is bought, hired or sent away, in the whole units it comes in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache

from earthfast.sources import Status, read_table

LARGE = 100.0  # from here on the size of a pack is told in whole units
_ROUNDING = 1e-9  # an order that comes out whole but for rounding is whole

_PART_LOAD = "quarter cubic metre"  # ordered by the cubic metre, rounded up to a quarter
_MEASURES = frozenset(["tonne", "litre", "day", "hour", "square metre", "flag"])


class Goods(StrEnum):
    """Everything that appears on a shopping list or a bill; each has a row of goods.toml and a price."""

    STONE_BULK_BAG = "stone_bulk_bag"
    STONE_LOOSE = "stone_loose"
    SAND_BULK_BAG = "sand_bulk_bag"
    SAND_LOOSE = "sand_loose"
    GRAVEL_BULK_BAG = "gravel_bulk_bag"
    GRAVEL_LOOSE = "gravel_loose"
    JOINT_SAND_BAG = "joint_sand_bag"
    CONCRETE_READY = "concrete_ready"
    HAUNCH_MIX_BAG = "haunch_mix_bag"
    CEMENT_BAG = "cement_bag"
    CEMENT_TANKER = "cement_tanker"
    LIME_BAG = "lime_bag"
    LIME_TANKER = "lime_tanker"
    BLOCK_PACK = "block_pack"
    FLAG = "flag"
    FABRIC = "fabric"
    CURING_SHEET = "curing_sheet"
    FORM_BOARD = "form_board"
    EDGING = "edging"
    KERB = "kerb"
    WATER = "water"
    SKIP_4 = "skip_4"
    SKIP_6 = "skip_6"
    SKIP_8 = "skip_8"
    GRAB_LOAD = "grab_load"
    PLATE_DAY = "plate_day"
    TAMPER_DAY = "tamper_day"
    ROLLER_DAY = "roller_day"
    TILLER_DAY = "tiller_day"
    EXCAVATOR_DAY = "excavator_day"
    STABILISER_DAY = "stabiliser_day"
    LABOUR_HOUR = "labour_hour"


@dataclass(frozen=True, slots=True)
class GoodsRow:
    """One row of goods.toml: words for it, what one is called, the unit of its quantity, what one holds."""

    key: str
    words: str
    pack: str
    unit: str
    unit_size: float
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a shopping list.

    Attributes
    ----------
    goods : what.
    net : quantity the work needs, in the goods' unit.
    waste : fraction added for waste, laps or trim.
    units : whole units to order.
    unit_size : how much one unit holds, in the goods' unit.
    status, source : where the unit size comes from.
    least, most : whole units at the low and the high end of what may be needed; as ordered where nothing is said.
    """

    goods: Goods
    net: float
    waste: float
    units: int
    unit_size: float
    status: Status
    source: str
    least: int | None = None
    most: int | None = None

    @property
    def needed(self) -> float:
        """Quantity with waste."""
        return self.net * (1.0 + self.waste)

    @property
    def ordered(self) -> float:
        """Quantity in the whole units ordered."""
        return self.units * self.unit_size

    @property
    def spare(self) -> float:
        """What is left over after waste."""
        return self.ordered - self.needed

    @property
    def words(self) -> str:
        """What it is, in words."""
        return goods_row(self.goods).words

    @property
    def unit(self) -> str:
        """Unit of the quantities."""
        return goods_row(self.goods).unit

    @property
    def order_words(self) -> str:
        """The order in words, as '3 bulk bags of 850 kg'."""
        pack = goods_row(self.goods).pack
        if pack == _PART_LOAD:
            return f"{self.ordered:g} {written_unit(self.unit)}"
        count = f"{self.units} {pack if self.units == 1 else pack + 's'}"
        size = f"{self.unit_size:,.0f}" if self.unit_size >= LARGE else f"{self.unit_size:.3g}"
        return count if pack in _MEASURES else f"{count} of {size} {written_unit(self.unit)}"


def written_unit(unit: str) -> str:
    """A unit of the table of goods as it is written: '2' raised, 'piece' as 'pieces'."""
    return {"m2": "m²", "m3": "m³", "piece": "pieces", "day": "days", "l": "L"}.get(unit, unit)


@cache
def goods_row(goods: Goods) -> GoodsRow:
    """The row of goods.toml for one of the goods."""
    rows: tuple[GoodsRow, ...] = read_table("goods", GoodsRow).rows
    return next(row for row in rows if row.key == goods)


@cache
def _status_of(goods: Goods) -> Status:
    return Status(goods_row(goods).status)


def whole_units(quantity: float, unit_size: float) -> int:
    """Whole units that hold a quantity.

    Parameters
    ----------
    quantity : float
        Quantity with waste, in any unit. [-]
    unit_size : float
        What one unit holds, in the same unit. [-]

    Returns
    -------
    units : int
        Units to order; 0 for nothing. [-]

    Notes
    -----
    n = ⌈q / u⌉. Rounding comes last, after waste; the spare is shown.

    References
    ----------
    definition [C]
    """
    return max(math.ceil(quantity / unit_size - _ROUNDING), 0)


@lru_cache(maxsize=8192)  # most ways of a search share most of their goods
def order_line(goods: Goods, net: float, waste: float = 0.0, unit_size: float | None = None) -> Line:
    """Line for a net quantity: waste added, then whole units."""
    row = goods_row(goods)
    size = row.unit_size if unit_size is None else unit_size
    units = whole_units(net * (1.0 + waste), size)
    return Line(goods, net, waste, units, size, _status_of(goods), row.source)
