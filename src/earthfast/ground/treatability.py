"""Whether the soil in place can be treated: stops in order, and the binder that suits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.ground.stratum_draws import StratumDraws
from earthfast.mixes import slaking_water
from earthfast.sources import Status, read_table


class StopRule(StrEnum):
    """Reasons not to treat the soil in place, in the order in which they are tried."""

    TREE = "tree"
    OPEN_WATER = "open water"
    SERVICE = "buried service"
    PLANTING = "planting"
    RUBBISH = "rubbish"
    ORGANIC = "organic soil"
    PLASTICITY = "too plastic"
    SULFATE = "sulfate"
    SULFATE_SPECIAL = "some sulfate"
    WATER = "water within the mixing depth"
    COLD = "cold ground"
    STONES = "large stones"


class Verdict(StrEnum):
    """What a rule says."""

    STOP = "stop"
    TEST = "test before deciding"
    ASK = "not known: find out"
    NO_OBJECTION = "no objection"


@dataclass(frozen=True, slots=True)
class StopRow:
    """Words of one rule: why it stops treatment, and what to do about it."""

    rule: str
    reason: str
    remedy: str
    source: str
    status: str


@dataclass(frozen=True, slots=True)
class Stop:
    """Outcome of one rule.

    Attributes
    ----------
    rule, verdict : which rule, and what it says.
    chance : chance that its limit is passed, -; nan when not known.
    reason, remedy : why it matters and what to do.
    source, status : where the limit comes from.
    """

    rule: StopRule
    verdict: Verdict
    chance: float
    reason: str
    remedy: str
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class NearbyTree:
    """Distance from a stem and its diameter, m."""

    distance: float
    stem_diameter: float


@dataclass(frozen=True, slots=True)
class TreatmentSite:
    """What surrounds the soil to be treated; None where it is not known.

    Attributes
    ----------
    mixing_depth : depth of the treated layer's underside below ground, m.
    trees : trees near the work.
    open_water_distance : to a pond, ditch, stream or well, m; inf when there is none.
    service_depth : depth of the shallowest cable or pipe, m; inf when there is none.
    planting_distance : to beds, hedges and lawns that should thrive, m; inf when there is none.
    has_rubbish : whether rubbish, wood or rubble was met.
    soil_temperature : at mixing depth on the day, °C.
    largest_stone : m.
    """

    mixing_depth: float
    trees: tuple[NearbyTree, ...] = ()
    open_water_distance: float | None = None
    service_depth: float | None = None
    planting_distance: float | None = None
    has_rubbish: bool = False
    soil_temperature: float | None = None
    largest_stone: float | None = None


SURE, DOUBTFUL = 0.5, 0.05  # chances from which a rule stops, and from which it asks for a test; P
ORGANIC_LIMIT = 0.02
LIQUID_LIMIT_MOST, PLASTICITY_MOST = 0.90, 0.65
SULFATE_SPECIAL_FROM, SULFATE_STOP_FROM = 3.0e-3, 8.0e-3
WATER_CLEARANCE = 10.0
SERVICE_CLEARANCE = 0.3
PLANTING_CLEARANCE = 1.0
COLDEST = 5.0
LARGEST_STONE = 0.075
BOILED_OFF = 0.47  # kg of water to a kg of CaO


def _fact(value: float | None, limit: float, *, below: bool) -> float:
    if value is None:
        return float("nan")
    return float(value < limit) if below else float(value > limit)


def _share(which: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> float:
    return float(np.mean(which))


def _too_plastic(ground: StratumDraws) -> float:
    return _share((ground.liquid_limit > LIQUID_LIMIT_MOST) | (ground.plasticity_index > PLASTICITY_MOST))


def _tree(site: TreatmentSite) -> float:
    return float(any(tree.distance < tree_protection_radius(tree.stem_diameter) for tree in site.trees))


CHANCES: dict[StopRule, Callable[[StratumDraws, TreatmentSite], float]] = {
    StopRule.TREE: lambda _, site: _tree(site),
    StopRule.OPEN_WATER: lambda _, site: _fact(site.open_water_distance, WATER_CLEARANCE, below=True),
    StopRule.SERVICE: lambda _, site: _fact(
        site.service_depth, site.mixing_depth + SERVICE_CLEARANCE, below=True
    ),
    StopRule.PLANTING: lambda _, site: _fact(site.planting_distance, PLANTING_CLEARANCE, below=True),
    StopRule.RUBBISH: lambda _, site: float(site.has_rubbish),
    StopRule.ORGANIC: lambda ground, _: _share(ground.organic_content > ORGANIC_LIMIT),
    StopRule.PLASTICITY: lambda ground, _: _too_plastic(ground),
    StopRule.SULFATE: lambda ground, _: _share(ground.sulfate > SULFATE_STOP_FROM),
    StopRule.SULFATE_SPECIAL: lambda ground, _: _share(
        (ground.sulfate > SULFATE_SPECIAL_FROM) & (ground.sulfate <= SULFATE_STOP_FROM)
    ),
    StopRule.WATER: lambda ground, site: _share(ground.winter_water_depth < site.mixing_depth),
    StopRule.COLD: lambda _, site: _fact(site.soil_temperature, COLDEST, below=True),
    StopRule.STONES: lambda _, site: _fact(site.largest_stone, LARGEST_STONE, below=False),
}


def treatment_stops(ground: StratumDraws, site: TreatmentSite) -> tuple[Stop, ...]:
    """Every rule that may stop treatment in place, in order, with its chance and what to do.

    Parameters
    ----------
    ground : StratumDraws
        Joint draws of the stratum to be treated.
    site : TreatmentSite
        What surrounds it.

    Returns
    -------
    stops : tuple of Stop
        One for each rule, in order; the first that stops ends the matter.

    Notes
    -----
    Trees within 12 stem diameters; open water within 10 m; services within 0.3 m below mixing; planting;
    rubbish; organic matter above 2 %; LL above 90 % or PI above 65 %; sulfate above 8000 ppm, special care
    from 3000; winter water within the mixing depth; ground below 5 °C; stones above 75 mm. A rule stops from
    an even chance and asks for a test from one in twenty.

    References
    ----------
    txdot_sulfate_guidance, sulfate limits [S]
    sroh, unacceptable materials: liquid limit and plasticity index [S]
    from_memory, trees, open water, planting, temperature [M]
    earthfast_proposal, services, stones, chances that decide [P]
    """
    words = {row.rule: row for row in read_table("treatment_stops", StopRow).rows}
    stops = []
    for rule in StopRule:
        chance, row = CHANCES[rule](ground, site), words[rule]
        stops.append(
            Stop(rule, _verdict(chance), chance, row.reason, row.remedy, row.source, Status(row.status))
        )
    return tuple(stops)


def _verdict(chance: float) -> Verdict:
    if np.isnan(chance):
        return Verdict.ASK
    if chance >= SURE:
        return Verdict.STOP
    return Verdict.TEST if chance >= DOUBTFUL else Verdict.NO_OBJECTION


def tree_protection_radius(stem_diameter: FloatLike) -> Floats:
    """Radius round a stem in which the ground is not dug or treated.

    Parameters
    ----------
    stem_diameter : array-like
        Diameter of the stem at chest height. [m]

    Returns
    -------
    radius : array-like
        [m]

    Notes
    -----
    r = 12 d, at most 15 m.

    References
    ----------
    bs_5837, 12 stem diameters, as reprinted [S]
    """
    return np.asarray(np.minimum(12.0 * np.asarray(stem_diameter), 15.0))


class SulfateBand(StrEnum):
    """What sulfate in the soil asks of lime and cement."""

    NORMAL = "normal"
    SPECIAL = "special: double lime treatment and mellowing"
    NOT_TO_BE_TREATED = "do not treat"


def sulfate_band(sulfate: float) -> SulfateBand:
    """What the sulfate content asks of treatment with lime or cement.

    Parameters
    ----------
    sulfate : float
        Sulfate by dry mass. [-]

    Returns
    -------
    band : SulfateBand

    Notes
    -----
    Up to 3000 ppm normal, to 8000 ppm special, above that none: sulfate makes the layer swell and fall apart
    after months. Sulfides count too once they meet air. British practice often stops at about 1 % total
    potential sulfate.

    References
    ----------
    txdot_sulfate_guidance, limits 3000 and 8000 ppm [S]
    texas_sulfate_practice_2021, 3000 and 8000 ppm [S]
    sulfate_guidance, thresholds 3000 and 8000 ppm [S]
    from_memory, British practice [M]
    """
    return list(SulfateBand)[int(np.searchsorted((SULFATE_SPECIAL_FROM, SULFATE_STOP_FROM), sulfate))]


def sulfate_from_sulfur(total_sulfur: FloatLike) -> Floats:
    """Sulfate that could form if all sulfur in the soil were oxidised.

    Parameters
    ----------
    total_sulfur : array-like
        Sulfur by dry mass. [-]

    Returns
    -------
    potential_sulfate : array-like
        Sulfate by dry mass. [-]

    Notes
    -----
    96.06 / 32.06 = 2.996 times the sulfur.

    References
    ----------
    definition, molar masses [C]
    """
    return np.asarray(96.06 / 32.06 * np.asarray(total_sulfur))


def cement_plasticity_limit(fines: FloatLike) -> Floats:
    """Plasticity index up to which cement alone suits a silty or clayey sand.

    Parameters
    ----------
    fines : array-like
        Share finer than 0.075 mm, above 12 %. [-]

    Returns
    -------
    plasticity_index : array-like
        [-]

    Notes
    -----
    PI <= 20 + (50 - F) / 4, in percent.

    References
    ----------
    ufc_3_250_11, table 2-2, area 1C [M]
    """
    return np.asarray(0.20 + (0.50 - np.asarray(fines)) / 4.0)


def is_unacceptable(liquid_limit: float, plasticity_index: float, is_peat: bool = False) -> bool:
    """Whether a soil is unfit as fill or for treatment by its plasticity alone.

    Parameters
    ----------
    liquid_limit : float
        Liquid limit as a fraction. [-]
    plasticity_index : float
        Plasticity index as a fraction. [-]
    is_peat : bool
        Peat, wood or other matter that rots.

    Returns
    -------
    unacceptable : bool

    Notes
    -----
    LL above 90 %, PI above 65 %, or peat.

    References
    ----------
    sroh, class E materials [S]
    """
    return bool(is_peat or liquid_limit > LIQUID_LIMIT_MOST or plasticity_index > PLASTICITY_MOST)


def water_after_quicklime(water_content: FloatLike, dose: FloatLike) -> Floats:
    """Lowest water content that quicklime can dry a soil to.

    Parameters
    ----------
    water_content : array-like
        Before, by dry mass. [-]
    dose : array-like
        Quicklime by dry mass of soil. [-]

    Returns
    -------
    water_content : array-like
        After slaking and boiling off, by dry mass. [-]

    Notes
    -----
    One kg CaO binds 0.32 kg water and may boil off 0.47 kg; dry mass grows by 1.32 kg. An upper bound on
    drying: expect half a point to one point of water for each percent of quicklime.

    References
    ----------
    definition, slaking and its heat [C]
    """
    lime, bound = np.asarray(dose), slaking_water(np.asarray(dose))
    return np.asarray((np.asarray(water_content) - bound - BOILED_OFF * lime) / (1.0 + lime + bound))


class BinderRoute(StrEnum):
    """Binders by plasticity."""

    CEMENT = "cement"
    LIME_THEN_CEMENT = "lime, then cement"
    NONE = "none suits"


@dataclass(frozen=True, slots=True)
class BinderSuitability:
    """Chances that each binder suits, and the route they point to.

    Attributes
    ----------
    cement : chance that cement alone suits, -.
    lime : chance that lime has clay enough to react with, -.
    route : the simplest route with an even chance or better.
    """

    cement: float
    lime: float
    route: BinderRoute


def suits_cement(
    fines: FloatLike, liquid_limit: FloatLike, plasticity_index: FloatLike, passing_4_75mm: FloatLike = 1.0
) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Whether cement alone suits a soil by its grading and plasticity.

    Parameters
    ----------
    fines : array-like
        Share finer than 0.075 mm. [-]
    liquid_limit : array-like
        Liquid limit as a fraction. [-]
    plasticity_index : array-like
        Plasticity index as a fraction; 0 when non-plastic. [-]
    passing_4_75mm : array-like
        Share finer than 4.75 mm. [-]

    Returns
    -------
    suits : array-like of bool

    Notes
    -----
    Fine soil: LL < 40 % and PI < 20 %. Above 12 % fines: PI <= 20 + (50 - F)/4. 5 to 12 %: PI <= 30 %. Clean:
    yes. Gravels need 45 % passing 4.75 mm as well. With hard mixing cement has gone beyond PI 20 %.

    References
    ----------
    ufc_3_250_11, table 2-2 [M]
    """
    share, index = np.asarray(fines), np.asarray(plasticity_index)
    fine = (np.asarray(liquid_limit) < 0.40) & (index < 0.20)
    dirty = index <= cement_plasticity_limit(share)
    allowed = np.where(share >= 0.50, fine, np.where(share > 0.12, dirty, (share < 0.05) | (index <= 0.30)))
    return np.asarray(allowed & (np.asarray(passing_4_75mm) >= 0.45))


def suits_lime(
    fines: FloatLike, plasticity_index: FloatLike
) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Whether a soil holds clay enough for lime to react with.

    Parameters
    ----------
    fines : array-like
        Share finer than 0.075 mm. [-]
    plasticity_index : array-like
        Plasticity index as a fraction; 0 when non-plastic. [-]

    Returns
    -------
    suits : array-like of bool

    Notes
    -----
    PI >= 10 % and at least 25 % fines; below that there is nothing to react with. Another table asks for
    PI >= 12 %.

    References
    ----------
    ufc_3_250_11, table 2-2, lime; lime association limits [M]
    """
    return np.asarray((np.asarray(plasticity_index) >= 0.10) & (np.asarray(fines) >= 0.25))


def binder_suitability(ground: StratumDraws) -> BinderSuitability:
    """Binder that suits a stratum, by its plasticity and fines.

    Parameters
    ----------
    ground : StratumDraws
        Joint draws of the stratum to be treated.

    Returns
    -------
    binder : BinderSuitability

    Notes
    -----
    Cement where it suits with an even chance; otherwise lime first, then cement, where lime does.

    References
    ----------
    ufc_3_250_11, table 2-2 [M]
    earthfast_proposal, even chance decides [P]
    """
    cement = _share(
        suits_cement(ground.fines, ground.liquid_limit, ground.plasticity_index, 1.0 - 0.75 * ground.stones)
    )
    lime = _share(suits_lime(ground.fines, ground.plasticity_index))
    if cement >= SURE:
        return BinderSuitability(cement, lime, BinderRoute.CEMENT)
    return BinderSuitability(cement, lime, BinderRoute.LIME_THEN_CEMENT if lime >= SURE else BinderRoute.NONE)
