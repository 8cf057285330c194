"""Take-off: a way of building on a plan, turned into soil to move and goods to order."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.checks import Course, Material, Way
from earthfast.checks.build_up import UNITS
from earthfast.works.basis import QuantityBasis, SiteGround
from earthfast.works.containers import spoil_line
from earthfast.works.earthwork import natural_depth_to_till
from earthfast.works.goods import Goods, Line, order_line
from earthfast.works.measure import joint_sand_by_area
from earthfast.works.plan import Plan, base_extension

EDGED = (*UNITS, Material.GRAVEL)  # what would creep or spill over an open edge
_NO_COURSE = Course(Material.TREATED_SOIL, 0.0)


@dataclass(frozen=True, slots=True)
class Spoil:
    """Soil that a way digs out.

    Attributes
    ----------
    topsoil, subsoil : volumes in the ground, m³.
    topsoil_away, subsoil_away : the parts that leave the site, in the ground, m³.
    loose_away : volume that leaves, in the heap, m³.
    topsoil_mass_away, subsoil_mass_away : what leaves, kg.
    """

    topsoil: float
    subsoil: float
    topsoil_away: float
    subsoil_away: float
    loose_away: float
    topsoil_mass_away: float
    subsoil_mass_away: float

    @property
    def mass_away(self) -> float:
        """Mass of all that leaves, kg."""
        return self.topsoil_mass_away + self.subsoil_mass_away

    @property
    def dug(self) -> float:
        """All that is dug, in the ground, m³."""
        return self.topsoil + self.subsoil


@dataclass(frozen=True, slots=True)
class Masses:
    """What comes to the site, waste included, kg."""

    stone: float
    sand: float
    gravel: float
    units: float
    edging: float
    concrete: float
    cement: float
    lime: float


@dataclass(frozen=True, slots=True)
class TakeOff:
    """Everything a way of building needs on a plan.

    Attributes
    ----------
    area, base_area : paved, and with the base's extension, m².
    edge : length of edging, m.
    dig_depth : mean depth dug under the ground now, m.
    make_up : stone under the build-up where topsoil reaches deeper than formation, m.
    till_depth : natural ground loosened to make the treated layer, m.
    spoil : soil that comes out.
    masses : what comes in.
    lines : goods to order and soil to send away, in whole units.
    """

    area: float
    base_area: float
    edge: float
    dig_depth: float
    make_up: float
    till_depth: float
    spoil: Spoil
    masses: Masses
    lines: tuple[Line, ...]

    def line(self, goods: Goods) -> Line | None:
        """The line of one of the goods, where there is one."""
        return next((line for line in self.lines if line.goods is goods), None)


@dataclass(frozen=True, slots=True)
class _Extent:
    """Areas and depths of one way on one plan."""

    area: float
    free_edge: float
    base_area: float
    base_perimeter: float
    edge: float
    dig_depth: float
    make_up: float
    till_depth: float


def take_off(way: Way, plan: Plan, ground: SiteGround, basis: QuantityBasis) -> TakeOff:
    """Quantities of a way of building on a plan.

    Parameters
    ----------
    way : Way
        Method and build-up.
    plan : Plan
        Outline of the finished paving. [m]
    ground : SiteGround
        Densities, moisture and topsoil of the ground.
    basis : QuantityBasis
        Densities of goods, waste and sizes.

    Returns
    -------
    take_off : TakeOff
        Spoil, masses and lines in whole units.

    Notes
    -----
    Base and dig cover the plan extended by base_extension. A treated layer is not dug: only what lies above
    the ground that is tilled for it (natural_depth_to_till) comes out. Topsoil is always stripped; where it
    reaches deeper than the dig, the difference is made up with stone. Masses are in-place volumes times
    in-place densities; waste is added before whole units are counted.

    References
    ----------
    definition, conservation of mass [C]
    common_practice, waste and whole units [CP]
    """
    extent = _extent(way, plan, ground, basis)
    spoil = _spoil(extent, ground, basis)
    lines = (
        *_surface_lines(way, extent, basis),
        *_stone_lines(way, extent, ground, basis),
        *_binder_lines(way, extent, ground, basis),
        *_spoil_lines(spoil, ground, basis),
    )
    return TakeOff(
        extent.area,
        extent.base_area,
        extent.edge,
        extent.dig_depth,
        extent.make_up,
        extent.till_depth,
        spoil,
        _masses(way, extent, ground, basis),
        lines,
    )


def _extent(way: Way, plan: Plan, ground: SiteGround, basis: QuantityBasis) -> _Extent:
    build_up = way.build_up
    treated = build_up.treated or _NO_COURSE
    base = build_up.thickness_of(Material.CRUSHED_STONE) + treated.thickness
    base_plan = plan.extended(base_extension(base, basis.least_extension))
    dose = treated.dose + treated.lime_dose
    mix_density = ground.layer_dry_density * (1.0 + dose)
    till = float(natural_depth_to_till(treated.thickness, mix_density, ground.natural_dry_density, dose))
    wanted = build_up.thickness - till - ground.surface_above_ground
    dig = max(wanted, ground.topsoil, 0.0)
    return _Extent(
        plan.area,
        plan.free_edge,
        base_plan.area,
        base_plan.perimeter,
        plan.free_edge if build_up.courses[0].material in EDGED else 0.0,
        dig,
        dig - wanted,
        till,
    )


def _spoil(extent: _Extent, ground: SiteGround, basis: QuantityBasis) -> Spoil:
    topsoil = extent.base_area * min(ground.topsoil, extent.dig_depth)
    subsoil = extent.base_area * extent.dig_depth - topsoil
    topsoil_away = topsoil * (1.0 - ground.topsoil_kept)
    subsoil_away = max(subsoil - ground.subsoil_kept, 0.0)
    return Spoil(
        topsoil,
        subsoil,
        topsoil_away,
        subsoil_away,
        topsoil_away * (1.0 + basis.topsoil_swell) + subsoil_away * (1.0 + ground.swell),
        topsoil_away * basis.topsoil_density,
        subsoil_away * ground.bank_density,
    )


def _sand_mass(way: Way, extent: _Extent, basis: QuantityBasis) -> float:
    return extent.area * way.build_up.thickness_of(Material.BEDDING_SAND) * basis.sand_density


def _gravel_mass(way: Way, extent: _Extent, basis: QuantityBasis) -> float:
    return extent.area * way.build_up.thickness_of(Material.GRAVEL) * basis.gravel_density


def _stone_mass(way: Way, extent: _Extent, basis: QuantityBasis) -> float:
    thickness = way.build_up.thickness_of(Material.CRUSHED_STONE) + extent.make_up
    return extent.base_area * thickness * basis.stone_density


def _binder_mass(way: Way, extent: _Extent, ground: SiteGround) -> tuple[float, float]:
    treated = way.build_up.treated or _NO_COURSE
    dry_soil = extent.base_area * treated.thickness * ground.layer_dry_density
    return dry_soil * treated.dose, dry_soil * treated.lime_dose


def _masses(way: Way, extent: _Extent, ground: SiteGround, basis: QuantityBasis) -> Masses:
    cement, lime = _binder_mass(way, extent, ground)
    build_up = way.build_up
    paved = build_up.thickness_of(*UNITS)
    concrete = extent.area * build_up.thickness_of(Material.CONCRETE) * basis.concrete_density
    haunch = extent.edge * basis.edging.concrete * basis.concrete_density
    return Masses(
        _stone_mass(way, extent, basis) * (1.0 + basis.stone_waste),
        _sand_mass(way, extent, basis) * (1.0 + basis.sand_waste),
        _gravel_mass(way, extent, basis) * (1.0 + basis.sand_waste),
        extent.area * paved * basis.unit_density * (1.0 + basis.unit_waste),
        extent.edge * basis.edging.standing * basis.unit_density * (1.0 + basis.edging_waste),
        (concrete + haunch) * (1.0 + basis.concrete_waste),
        cement * (1.0 + basis.binder_waste),
        lime * (1.0 + basis.binder_waste),
    )


def _joint_sand(
    extent: _Extent, length: float, width: float, joint: float, course: Course, basis: QuantityBasis
) -> Line:
    mass = joint_sand_by_area(length, width, course.thickness, joint, basis.joint_sand_density)
    return order_line(Goods.JOINT_SAND_BAG, extent.area * mass)


def _surface_lines(way: Way, extent: _Extent, basis: QuantityBasis) -> list[Line]:
    lines = []
    for course in way.build_up.courses:
        if course.material is Material.BLOCKS:
            length, width = basis.block_length, basis.block_width
            lines.append(order_line(Goods.BLOCK_PACK, extent.area / (length * width), basis.unit_waste))
            lines.append(_joint_sand(extent, length, width, basis.joint_width, course, basis))
        elif course.material is Material.FLAGS:
            lines.append(order_line(Goods.FLAG, extent.area / basis.flag_side**2, basis.unit_waste))
            side, joint = basis.flag_side - basis.flag_joint_width, basis.flag_joint_width
            lines.append(_joint_sand(extent, side, side, joint, course, basis))
        elif course.material is Material.CONCRETE:
            lines.append(order_line(Goods.FORM_BOARD, extent.free_edge, basis.edging_waste))
            lines.append(order_line(Goods.CURING_SHEET, extent.area, basis.fabric_waste))
    if extent.edge > 0.0:
        lines.append(order_line(Goods(basis.edging.upright), extent.edge, basis.edging_waste))
    return [*lines, *_concrete_lines(way, extent, basis), *_loose_lines(way, extent, basis)]


def _concrete_lines(way: Way, extent: _Extent, basis: QuantityBasis) -> list[Line]:
    """Concrete of a slab, and that under edgings, which is set another day: ready-mixed where there is enough, else in bags."""
    slab = extent.area * way.build_up.thickness_of(Material.CONCRETE)
    haunch = extent.edge * basis.edging.concrete
    bagged = haunch if haunch < basis.ready_mix_from else 0.0
    needs = (
        (Goods.CONCRETE_READY, slab + haunch - bagged),
        (Goods.HAUNCH_MIX_BAG, bagged * basis.haunch_mix_yield_density),
    )
    return [order_line(goods, need, basis.concrete_waste) for goods, need in needs if need > 0.0]


def _loose_lines(way: Way, extent: _Extent, basis: QuantityBasis) -> list[Line]:
    """Sand of the bed and gravel on top: in bulk bags, or by the tonne where there is much of it."""
    masses = (
        (_sand_mass(way, extent, basis), Goods.SAND_BULK_BAG, Goods.SAND_LOOSE),
        (_gravel_mass(way, extent, basis), Goods.GRAVEL_BULK_BAG, Goods.GRAVEL_LOOSE),
    )
    return [
        order_line(loose if mass >= basis.loose_stone_from else bagged, mass, basis.sand_waste)
        for mass, bagged, loose in masses
        if mass > 0.0
    ]


def _stone_lines(way: Way, extent: _Extent, ground: SiteGround, basis: QuantityBasis) -> list[Line]:
    stone = _stone_mass(way, extent, basis)
    if stone <= 0.0:
        return []
    goods = Goods.STONE_LOOSE if stone >= basis.loose_stone_from else Goods.STONE_BULK_BAG
    lines = [order_line(goods, stone, basis.stone_waste)]
    if ground.fabric and way.build_up.treated is None:
        sides = extent.base_perimeter * way.build_up.thickness_of(Material.CRUSHED_STONE)
        lines.append(order_line(Goods.FABRIC, extent.base_area + sides, basis.fabric_waste))
    return lines


def _binder_lines(way: Way, extent: _Extent, ground: SiteGround, basis: QuantityBasis) -> list[Line]:
    treated = way.build_up.treated
    if treated is None:
        return []
    cement, lime = _binder_mass(way, extent, ground)
    by_tanker = cement + lime >= basis.tanker_from
    lines = []
    if cement > 0.0:
        goods = Goods.CEMENT_TANKER if by_tanker else Goods.CEMENT_BAG
        lines.append(order_line(goods, cement, 0.0 if by_tanker else basis.binder_waste))
    if lime > 0.0:
        goods = Goods.LIME_TANKER if by_tanker else Goods.LIME_BAG
        lines.append(order_line(goods, lime, 0.0 if by_tanker else basis.binder_waste))
    lines.append(order_line(Goods.WATER, extent.base_area * ground.water_for(treated)))
    lines.append(order_line(Goods.CURING_SHEET, extent.base_area, basis.fabric_waste))
    return lines


def _spoil_lines(spoil: Spoil, ground: SiteGround, basis: QuantityBasis) -> list[Line]:
    """Topsoil and subsoil go apart: a mixed load is tipped at the dearer rate."""
    parts = (
        spoil_line(spoil.topsoil_away, basis.topsoil_density, basis.topsoil_swell, basis.grab_lorry_from),
        spoil_line(spoil.subsoil_away, ground.bank_density, ground.swell, basis.grab_lorry_from),
    )
    return [line for line in parts if line is not None]
