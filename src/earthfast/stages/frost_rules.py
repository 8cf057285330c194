"""What national rules ask of one way about frost, beside what the simulation says."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.constants import day

from earthfast.checks import Case, Material, Way, frost_in_open
from earthfast.estimate import Caution, CautionCode, Floats, Trail
from earthfast.frost import (
    FrostClass,
    FrostGroup,
    GermanCondition,
    GermanFrostZone,
    GermanSoilGroup,
    GermanTraffic,
    SoilKind,
    Susceptibility,
    base_for_full_protection_us,
    frost_class_german,
    frost_free_cover_uk,
    frost_proof_addition_german,
    frost_proof_footway_german,
    frost_proof_thickness_german,
    is_frost_proof_cemented,
    susceptibility_uk,
)
from earthfast.job import FrostRule
from earthfast.stages.answers import CheckLine, FrostRuleLine, WayLine, WinterLine
from earthfast.stages.lie import Lie
from earthfast.stages.understanding import Area
from earthfast.stages.wording import listed, target_words

Flags = npt.NDArray[np.bool_]

MILLI, HALF_MILLIMETRE = 1000.0, 5e-4
FEW_DRAWS = 512
GERMAN_WATER_REACH = 1.5  # m below formation
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


@dataclass(frozen=True, slots=True)
class Asked:
    """What a country's rule asks of the ways of a case.

    Attributes
    ----------
    words : what it asks, up to the depth; or why it asks nothing.
    wanted : depth that shall be free of frost trouble, one a way, m; 0 where it asks nothing.
    rests_on : what is taken for granted in it, if anything.
    """

    words: str
    wanted: Floats
    rests_on: str = ""

    @classmethod
    def nothing(cls, case: Case, why: str) -> Asked:
        """A rule that asks nothing."""
        return cls(f"asks nothing here, where {why} counts as not susceptible", np.zeros(len(case.ways)))


def frost_rules(case: Case, lie: Lie, frost_line: CheckLine) -> tuple[FrostRuleLine, ...]:
    """The UK, German and US rules on the only way of a case, and the simulation."""
    ground = typical_ground(case)
    return (
        *(_line(rule, asks(case, ground, lie), case) for rule, asks in RULES.items()),
        FrostRuleLine(
            rule=SIMULATION,
            says=f"lift beyond what the surface stands: chance {frost_line.chance_text}, "
            f"{target_words(frost_line.target)} put up with",
            is_met=frost_line.passes,
        ),
    )


def meets_rule(rule: FrostRule, area: Area, ways: Sequence[Way]) -> Flags:
    """Whether each way meets a national rule on the ground it stands on."""
    setting = area.setting.first(min(FEW_DRAWS, area.setting.draws.count))
    met = np.zeros(len(ways), dtype=np.bool_)
    for batch in setting.batches(tuple(ways), Trail(recording=False)):
        asked = RULES[rule](batch.case, typical_ground(batch.case), area.lie)
        met[list(batch.places)] = _is_met(asked, batch.case)
    return met


def frost_free_thickness(case: Case) -> Floats:
    """Depth of the build-up that counts as free of frost trouble, one a way, m: treated soil only above 2 MPa."""
    strong = is_frost_proof_cemented(np.median(case.mix.strength.values, axis=-1))
    return np.asarray(case.cover - np.where(strong, 0.0, case.thickness(Material.TREATED_SOIL)))


def _is_met(asked: Asked, case: Case) -> Flags:
    return np.asarray(frost_free_thickness(case) >= asked.wanted - HALF_MILLIMETRE)


def _line(rule: FrostRule, asked: Asked, case: Case) -> FrostRuleLine:
    (wanted,), (has,) = asked.wanted, frost_free_thickness(case)
    if wanted == 0.0:
        return FrostRuleLine(rule=rule.value, says=asked.words, wanted_mm=0.0, is_met=True)
    return FrostRuleLine(
        rule=rule.value,
        says=f"{asked.words} {wanted * MILLI:.0f} mm, and this has {has * MILLI:.0f} mm{asked.rests_on}",
        wanted_mm=round(float(wanted) * MILLI),
        has_mm=round(float(has) * MILLI),
        is_met=bool(_is_met(asked, case)[0]),
    )


def _uk(case: Case, ground: TypicalGround, _lie: Lie) -> Asked:
    said = susceptibility_uk(ground.kind, ground.fines, ground.plasticity_index)
    if said is Susceptibility.NOT_SUSCEPTIBLE:
        return Asked.nothing(case, f"{ground.kind.value} of this plasticity or with so few fines")
    cover = float(frost_free_cover_uk(float(case.winters.sample.freezing_index.mean())))
    words = f"takes the ground as {said.value.partition(':')[0]} and keeps it below"
    return Asked(words, np.full(len(case.ways), cover))


def _german(case: Case, ground: TypicalGround, lie: Lie) -> Asked:
    frost_class = frost_class_german(ground.german_group, ground.fines, UNIFORMITY)
    if frost_class is FrostClass.F1:
        return Asked.nothing(case, "class F1")
    if lie.is_footway:
        words = f"wants, for class {frost_class.value} and no vehicles, whatever the place,"
        return Asked(words, np.full(len(case.ways), frost_proof_footway_german()), " (recalled, not read)")
    zone = german_zone(float(case.winters.sample.at_rank(1.0 - 1.0 / 30.0)))
    least = frost_proof_thickness_german(frost_class, GermanTraffic.LIGHT, zone)
    is_near = np.median(case.ground.water_depth.values) - case.cover < GERMAN_WATER_REACH
    water = frost_proof_addition_german((GermanCondition.WATER_NEAR,))
    wanted = least + frost_proof_addition_german(lie.conditions) + np.where(is_near, water, 0.0)
    met = (*lie.conditions, *((GermanCondition.WATER_NEAR,) if is_near.any() else ()))
    kind = [f"class {frost_class.value}", "light traffic", f"zone {zone.value}"]
    words = f"wants, for {listed([*kind, *map(_addition_words, met)])},"
    return Asked(words, np.asarray(wanted), _taken_words(lie))


def _addition_words(condition: GermanCondition) -> str:
    """A local condition with what it adds or takes: 'cutting (+50 mm)'."""
    return f"{condition.value} ({frost_proof_addition_german((condition,)) * MILLI:+.0f} mm)"


def _taken_words(lie: Lie) -> str:
    """What the job does not say of the place, and what the additions rest on."""
    taken = f"; taken, as `site.lie` says nothing of it: {listed(lie.taken)}" if lie.taken else ""
    return f" (when each addition counts is recalled, not read{taken})"


def german_zone(index_of_30: float) -> GermanFrostZone:
    """German frost zone that the coldest winter in 30 (K·s) stands for; the limits between zones are our reading."""
    if index_of_30 < ZONE_TWO_FROM * day:
        return GermanFrostZone.ONE
    return GermanFrostZone.TWO if index_of_30 < ZONE_THREE_FROM * day else GermanFrostZone.THREE


def _us(case: Case, ground: TypicalGround, _lie: Lie) -> Asked:
    if ground.group is FrostGroup.NFS:
        return Asked.nothing(case, "group NFS")
    design = np.full(1, float(case.winters.sample.at_rank(DESIGN_RANK)))
    depth = np.median(frost_in_open(case, design).depth, axis=-1)
    paving = np.array([way.build_up.courses[0].thickness for way in case.ways])
    words = f"wants, to keep frost out of group {ground.group.value} in the design winter,"
    return Asked(words, np.asarray(paving + base_for_full_protection_us(depth, paving)))


RULES: dict[FrostRule, Callable[[Case, TypicalGround, Lie], Asked]] = {
    FrostRule.UK: _uk,
    FrostRule.GERMAN: _german,
    FrostRule.US: _us,
}


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
    return (
        f"Frost rules part on {title}: {'; '.join(parts)}. Here {side} ({simulated.says}). "
        "The simulation decides unless `choose.frost_rule` in the job names a rule that governs."
    )


def rule_sentence(rule: FrostRule | None, winters: Sequence[WinterLine], way: str) -> tuple[str, ...]:
    """What becomes of the rule that the job names, if it names one."""
    if rule is None:
        return ()
    line = next(line for line in winters if line.way == way)
    if next(one.is_met for one in line.rules if one.rule == rule.value):
        return (f"The {rule.value} frost rule is named in the job: only ways that meet it are ranked.",)
    return (
        f"No way within the limits meets the {rule.value} frost rule named in the job; it is set aside here.",
    )


def rules_caution(area_name: str, shown: WayLine, winters: Sequence[WinterLine]) -> Caution | None:
    """A doubt where every national rule asks for more than the way shown has, though the simulation passes it."""
    rules = next(line.rules for line in winters if line.way == shown.key)
    national = [rule for rule in rules if rule.rule != SIMULATION]
    simulated = next(rule for rule in rules if rule.rule == SIMULATION)
    if any(rule.is_met for rule in national) or not simulated.is_met:
        return None
    wanted = ", ".join(f"{rule.rule} {rule.wanted_mm:.0f} mm" for rule in national)
    text = (
        f"{area_name}: the frost rules of three countries all ask for more than {shown.title} has ({wanted} free of frost "
        "trouble), though the simulation passes it. Where an authority, an insurer or a contract names a rule, that rule "
        "governs: name it as `choose.frost_rule` in the job, and only ways that meet it are ranked"
    )
    return Caution(CautionCode.FROST_RULES_NOT_MET, text, where=area_name, source="earthfast_proposal")
