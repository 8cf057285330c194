"""What national rules ask of one way about frost, beside what the simulation says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.constants import day

from earthfast.checks import Case, Material, frost_in_open
from earthfast.frost import (
    FrostClass,
    FrostGroup,
    GermanFrostZone,
    GermanSoilGroup,
    GermanTraffic,
    SoilKind,
    Susceptibility,
    base_for_full_protection_us,
    frost_class_german,
    frost_free_cover_uk,
    frost_proof_thickness_german,
    is_frost_proof_cemented,
    susceptibility_uk,
)
from earthfast.stages.answers import CheckLine, FrostRuleLine

MILLI = 1000.0
SANDY_BELOW = 0.35  # fines
SILTY_BELOW = 0.07  # plasticity index
FAT_FROM = 0.30  # plasticity index of a clay of high plasticity
CLEAN_BELOW, SILTED_BELOW = 0.05, 0.15  # fines of German sands
UNIFORMITY = 10.0
ZONE_TWO_FROM, ZONE_THREE_FROM = 350.0, 550.0  # °C·day of one winter in 30
DESIGN_RANK = 0.95  # mean of the three coldest winters in 30 lies about there
GROUPS = (FrostGroup.NFS, FrostGroup.F1, FrostGroup.F2, FrostGroup.F3, FrostGroup.F4)
SIMULATION = "simulation"


@dataclass(frozen=True, slots=True)
class TypicalGround:
    """The ground at its medians, as the rules sort it."""

    kind: SoilKind
    fines: float
    plasticity_index: float
    group: FrostGroup

    @property
    def german_group(self) -> GermanSoilGroup:
        """German soil group as far as fines and plasticity tell it."""
        if self.kind is SoilKind.CLAY:
            return GermanSoilGroup.TA if self.plasticity_index >= FAT_FROM else GermanSoilGroup.TM
        if self.kind is SoilKind.SILT:
            return GermanSoilGroup.UL
        if self.fines < CLEAN_BELOW:
            return GermanSoilGroup.SW
        return GermanSoilGroup.SU if self.fines < SILTED_BELOW else GermanSoilGroup.SUH


def typical_ground(case: Case) -> TypicalGround:
    """The ground under the ways of a case at its medians."""
    fines, index, rank = (
        float(np.median(values))
        for values in (
            case.ground.fines.values,
            case.ground.plasticity_index.values,
            case.ground.frost_rank.values,
        )
    )
    cohesive = SoilKind.SILT if index < SILTY_BELOW else SoilKind.CLAY
    kind = SoilKind.SAND if fines < SANDY_BELOW else cohesive
    return TypicalGround(kind, fines, index, GROUPS[int(rank)])


def frost_rules(case: Case, frost_line: CheckLine) -> tuple[FrostRuleLine, ...]:
    """The UK, German and US rules on the only way of a case, and the simulation."""
    ground = typical_ground(case)
    return (
        _uk(case, ground),
        _german(case, ground),
        _us(case, ground),
        FrostRuleLine(
            rule=SIMULATION,
            says=f"uneven lift beyond what the surface stands: chance {frost_line.chance_text}, "
            f"{frost_line.target:.1%} put up with",
            is_met=frost_line.passes,
        ),
    )


def frost_free_thickness(case: Case) -> float:
    """Depth of the build-up that counts as free of frost trouble, m: treated soil only above 2 MPa."""
    (way,) = case.ways
    treated = way.build_up.thickness_of(Material.TREATED_SOIL)
    strong = bool(is_frost_proof_cemented(float(np.median(case.mix.strength.values))))
    return way.build_up.thickness - (0.0 if strong else treated)


def _line(rule: str, asks: str, wanted: float, case: Case) -> FrostRuleLine:
    has = frost_free_thickness(case)
    return FrostRuleLine(
        rule=rule,
        says=f"{asks} {wanted * MILLI:.0f} mm, and this has {has * MILLI:.0f} mm",
        wanted_mm=round(wanted * MILLI),
        has_mm=round(has * MILLI),
        is_met=has >= wanted - 5e-4,
    )


def _uk(case: Case, ground: TypicalGround) -> FrostRuleLine:
    said = susceptibility_uk(ground.kind, ground.fines, ground.plasticity_index)
    if said is Susceptibility.NOT_SUSCEPTIBLE:
        says = f"asks nothing here, where {ground.kind.value} of this plasticity counts as not susceptible"
        return FrostRuleLine(rule="UK", says=says, wanted_mm=0.0, is_met=True)
    cover = float(frost_free_cover_uk(float(case.winters.sample.freezing_index.mean())))
    return _line("UK", f"takes the ground as {said.value} and keeps it below", cover, case)


def _german(case: Case, ground: TypicalGround) -> FrostRuleLine:
    frost_class = frost_class_german(ground.german_group, ground.fines, UNIFORMITY)
    if frost_class is FrostClass.F1:
        says = "asks nothing here, where class F1 counts as not susceptible"
        return FrostRuleLine(rule="German", says=says, wanted_mm=0.0, is_met=True)
    zone = german_zone(float(case.winters.sample.at_rank(1.0 - 1.0 / 30.0)))
    wanted = frost_proof_thickness_german(frost_class, GermanTraffic.LIGHT, zone)
    asks = f"wants, for class {frost_class.value}, light traffic and zone {zone.value},"
    return _line("German", asks, wanted, case)


def german_zone(index_of_30: float) -> GermanFrostZone:
    """German frost zone that the coldest winter in 30 (K·s) stands for; the limits between zones are our reading."""
    if index_of_30 < ZONE_TWO_FROM * day:
        return GermanFrostZone.ONE
    return GermanFrostZone.TWO if index_of_30 < ZONE_THREE_FROM * day else GermanFrostZone.THREE


def _us(case: Case, ground: TypicalGround) -> FrostRuleLine:
    if ground.group is FrostGroup.NFS:
        says = "asks nothing here, where group NFS counts as not susceptible"
        return FrostRuleLine(rule="US", says=says, wanted_mm=0.0, is_met=True)
    design = np.full(1, float(case.winters.sample.at_rank(DESIGN_RANK)))
    depth = float(np.median(frost_in_open(case, design).depth))
    (way,) = case.ways
    paving = way.build_up.courses[0].thickness
    wanted = paving + float(base_for_full_protection_us(depth, paving))
    asks = f"wants, to keep frost out of group {ground.group.value} in the design winter,"
    return _line("US", asks, wanted, case)


def disagreement(title: str, rules: Sequence[FrostRuleLine]) -> str:
    """Say where the rules part from one another and from the simulation; empty where they do not."""
    national = [rule for rule in rules if rule.rule != SIMULATION]
    simulated = next(rule for rule in rules if rule.rule == SIMULATION)
    if len({rule.is_met for rule in rules}) == 1:
        verdict = "is enough" if simulated.is_met else "is too little"
        return f"The rules of three countries and the simulation agree that {title} {verdict} against frost."
    parts = [f"the {rule.rule} rule {rule.says}" for rule in national]
    sided = [rule.rule for rule in national if rule.is_met == simulated.is_met]
    side = f"the simulation sides with {' and '.join(sided)}" if sided else "the simulation sides with none"
    return f"Frost rules part on {title}: {'; '.join(parts)}. Here {side} ({simulated.says}). Say which rule counts."
