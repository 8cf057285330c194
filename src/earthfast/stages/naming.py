"""What a stratum is called by each system, with chances where its draws differ."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from earthfast.estimate import Chance, Floats, Trail, chances_of
from earthfast.frost import VolumeChange, modified_plasticity_index, volume_change_class
from earthfast.ground import StratumDraws, binder_suitability, group_index, plastic_group_index
from earthfast.stages.answers import BinderLine, GroupChance, StratumLine
from earthfast.stages.frost_soil import frost_rank_of
from earthfast.stages.profile import GroundProfile

LEAST_CHANCE = 0.02
PERCENT, MILLI = 100.0, 1000.0
DRAWN_TO = 1.2  # m below the surface that strata are drawn to
USCS_NAMES = {
    "GW": "well graded gravel", "GP": "poorly graded gravel", "GM": "silty gravel", "GC": "clayey gravel",
    "SW": "well graded sand", "SP": "poorly graded sand", "SM": "silty sand", "SC": "clayey sand",
    "ML": "silt", "CL": "lean clay", "CL-ML": "silty clay", "MH": "elastic silt", "CH": "fat clay",
    "OL": "organic silt or lean clay", "OH": "organic silt or fat clay", "Pt": "peat",
}  # fmt: skip
AASHTO_NAMES = {
    "A-1": "gravel and sand with few fines", "A-3": "fine sand", "A-2-4": "silty gravel and sand",
    "A-2-5": "silty gravel and sand", "A-2-6": "clayey gravel and sand", "A-2-7": "clayey gravel and sand",
    "A-4": "silty soil", "A-5": "silty soil", "A-6": "clayey soil", "A-7-5": "clayey soil",
    "A-7-6": "clayey soil", "A-8": "peat or muck",
}  # fmt: skip
GRAINS = {"Cl": "clay", "Si": "silt"}
PLASTICITIES = {"L": "low", "I": "intermediate", "H": "high", "V": "very high", "E": "extremely high"}
FROST_NAMES = {
    "none": "frost does it no harm", "F1": "least harmed by frost", "F2": "harmed by frost",
    "F3": "badly harmed by frost", "F4": "worst harmed by frost",
}  # fmt: skip


def uscs_name(symbol: str) -> str:
    """A USCS symbol in words; dual symbols by both their parts."""
    if symbol in USCS_NAMES:
        return USCS_NAMES[symbol]
    first, _, last = symbol.partition("-")
    return f"{USCS_NAMES.get(first, first)}, {USCS_NAMES.get(last, last)} fines" if last else symbol


def uscs_groups(chances: Sequence[Chance]) -> tuple[GroupChance, ...]:
    """Groups by ASTM D2487."""
    return _groups(chances, {chance.name: uscs_name(chance.name) for chance in chances})


def aashto_groups(chances: Sequence[Chance]) -> tuple[GroupChance, ...]:
    """Groups by AASHTO M 145."""
    return _groups(chances, AASHTO_NAMES)


def iso_groups(chances: Sequence[Chance]) -> tuple[GroupChance, ...]:
    """Groups by ISO 14688 with the class of plasticity."""
    names = {
        f"{grain}{band}": f"{word}, {plasticity} plasticity"
        for grain, word in GRAINS.items()
        for band, plasticity in PLASTICITIES.items()
    }
    return _groups(chances, names)


def frost_groups(ground: StratumDraws) -> tuple[GroupChance, ...]:
    """US frost groups, from none to F4."""
    ranks = frost_rank_of(ground, np.arange(ground.count), Trail(recording=False)).values
    return _groups(chances_of(tuple(FROST_NAMES), ranks.astype(np.intp)), FROST_NAMES)


def shrink_swell_classes(ground: StratumDraws) -> tuple[GroupChance, ...]:
    """Volume change potential by the modified plasticity index."""
    medium = (1.0 - ground.stones) * (ground.clay + ground.silt + 0.6 * ground.sand)  # finer than 0.425 mm
    modified = modified_plasticity_index(ground.plasticity_index, medium)
    order = list(VolumeChange)
    members = [
        order.index(volume_change_class(float(index), float(fines)))
        for index, fines in zip(modified, ground.fines, strict=True)
    ]
    return _groups(chances_of([one.value for one in order], np.array(members, dtype=np.intp)), {})


def group_indices(ground: StratumDraws) -> Floats:
    """Group index of AASHTO M 145 in every draw; 0 for granular soil that is not plastic."""
    whole = group_index(ground.fines, ground.liquid_limit, ground.plasticity_index)
    plastic = plastic_group_index(ground.fines, ground.plasticity_index)
    granular = np.where(ground.plasticity_index >= 0.105, plastic, 0.0)
    return np.maximum(np.where(ground.fines >= 0.355, whole, granular), 0.0)


def binder_line(ground: StratumDraws) -> BinderLine:
    """Which binder suits."""
    suits = binder_suitability(ground)
    return BinderLine(route=suits.route.value, cement=round(suits.cement, 4), lime=round(suits.lime, 4))


def _groups(chances: Sequence[Chance], names: dict[str, str]) -> tuple[GroupChance, ...]:
    return tuple(
        GroupChance(
            symbol=chance.name, name=names.get(chance.name, chance.name), chance=round(chance.probability, 4)
        )
        for chance in chances
        if chance.probability >= LEAST_CHANCE
    )


def strata_lines(profile: GroundProfile) -> tuple[StratumLine, ...]:
    """The strata as they are drawn under a build-up, each that stays with the symbol of its likeliest group."""
    return tuple(
        StratumLine(
            name=stratum.name,
            symbol="" if stratum.is_topsoil else stratum.estimate.uscs[0].name,
            top_mm=round(stratum.top * MILLI, 1),
            bottom_mm=round((DRAWN_TO if stratum.bottom is None else stratum.bottom) * MILLI, 1),
        )
        for stratum in profile.strata
        if stratum.top < DRAWN_TO
    )
