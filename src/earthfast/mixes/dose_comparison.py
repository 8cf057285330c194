"""Whether doses stated in several languages are one and the same dose."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from earthfast.estimate import Caution, CautionCode
from earthfast.mixes.dose import dose_from_parts, dose_from_spread, spread_thickness

LEAN_CONCRETE_VOLUME = 0.20  # loose cement to compacted depth: 25 mm on 100 mm mixed is four to one. CP


class DoseLanguage(StrEnum):
    """How a dose was told."""

    FRACTION = "fraction of dry soil mass"
    AREAL_MASS = "mass on each square metre"
    SPREAD = "thickness of loose binder"
    BAGS = "bags on an area"
    PARTS = "parts of soil in place to one of loose binder"
    BUCKETS = "buckets of loose soil to one of binder"


@dataclass(frozen=True, slots=True)
class StatedDose:
    """What was said about the dose; leave out what was not said.

    Attributes
    ----------
    fraction : of dry soil mass.
    areal_mass : kg/m².
    spread_thickness : loose binder, m.
    bags, bag_area : number of bags, and the area they go on, m².
    soil_parts : compacted soil to one of loose binder, by volume.
    bucket_parts : loose soil to one of loose binder, by volume.
    """

    fraction: float | None = None
    areal_mass: float | None = None
    spread_thickness: float | None = None
    bags: float | None = None
    bag_area: float | None = None
    soil_parts: float | None = None
    bucket_parts: float | None = None


@dataclass(frozen=True, slots=True)
class TreatedGround:
    """The layer and the binder that a dose refers to.

    Attributes
    ----------
    dry_density : soil only, compacted, kg/m³.
    depth : compacted, m.
    bag_mass : kg.
    loose_density : binder as poured, kg/m³.
    loose_soil_dry_density : dry soil in a cubic metre of it loose in the bucket, kg/m³.
    """

    dry_density: float
    depth: float
    bag_mass: float
    loose_density: float
    loose_soil_dry_density: float = 1100.0


@dataclass(frozen=True, slots=True)
class ImpliedDose:
    """The dose that one statement implies, fraction of dry soil mass."""

    language: DoseLanguage
    dose: float


@dataclass(frozen=True, slots=True)
class DoseComparison:
    """Doses implied by each statement, and whether they are one dose.

    Attributes
    ----------
    implied : one a statement, leanest first.
    ratio : richest over leanest; 1 with a single statement.
    disagree : the ratio is beyond the tolerance.
    cautions : what to tell the user.
    """

    implied: tuple[ImpliedDose, ...]
    ratio: float
    disagree: bool
    cautions: tuple[Caution, ...]


def compare_doses(stated: StatedDose, ground: TreatedGround, tolerance: float) -> DoseComparison:
    """Dose implied by each of several statements, and whether they disagree.

    Parameters
    ----------
    stated : StatedDose
        What was said: any of fraction, kg/m², millimetres, bags on an area, parts.
    ground : TreatedGround
        Layer, bag and densities the statements refer to.
    tolerance : float
        Difference allowed between richest and leanest, as a fraction; 0.25 covers the scatter of loose
        density. [-]

    Returns
    -------
    comparison : DoseComparison
        Implied doses, ratio and cautions.

    Notes
    -----
    Each statement is turned into c = M / (ρ h); they disagree when c_max / c_min > 1 + tolerance. Half a
    bag of 25 kg on 2 m² is about 5 mm of loose cement, not 10 mm.

    References
    ----------
    definition, conservation of mass [C]
    common_practice, statements that are mixed up on site [CP]
    """
    implied = tuple(sorted(_implied(stated, ground), key=lambda each: each.dose))
    if not implied:
        raise ValueError("a dose needs at least one statement")
    ratio = implied[-1].dose / implied[0].dose
    disagree = ratio > 1.0 + tolerance
    return DoseComparison(implied, ratio, disagree, tuple(_cautions(implied, ratio, disagree, ground)))


def _implied(stated: StatedDose, ground: TreatedGround) -> list[ImpliedDose]:
    soil = ground.dry_density * ground.depth
    found = []
    if stated.fraction is not None:
        found.append(ImpliedDose(DoseLanguage.FRACTION, stated.fraction))
    if stated.areal_mass is not None:
        found.append(ImpliedDose(DoseLanguage.AREAL_MASS, stated.areal_mass / soil))
    if stated.spread_thickness is not None:
        dose = dose_from_spread(
            stated.spread_thickness, ground.loose_density, ground.dry_density, ground.depth
        )
        found.append(ImpliedDose(DoseLanguage.SPREAD, float(dose)))
    if stated.bags is not None and stated.bag_area is not None:
        dose = stated.bags * ground.bag_mass / (stated.bag_area * soil)
        found.append(ImpliedDose(DoseLanguage.BAGS, dose))
    if stated.soil_parts is not None:
        dose = ground.loose_density / (stated.soil_parts * ground.dry_density)
        found.append(ImpliedDose(DoseLanguage.PARTS, dose))
    if stated.bucket_parts is not None:
        dose = float(
            dose_from_parts(stated.bucket_parts, ground.loose_density, ground.loose_soil_dry_density)
        )
        found.append(ImpliedDose(DoseLanguage.BUCKETS, dose))
    if any(each.dose <= 0.0 for each in found):
        raise ValueError("every stated dose must be above 0")
    return found


def _cautions(
    implied: tuple[ImpliedDose, ...], ratio: float, disagree: bool, ground: TreatedGround
) -> list[Caution]:
    cautions = []
    if disagree:
        words = "; ".join(f"{each.language} means {100.0 * each.dose:.1f} %" for each in implied)
        text = f"the stated doses differ by a factor of {ratio:.1f}: {words}"
        cautions.append(Caution(CautionCode.DOSE_QUANTITIES_DISAGREE, text, source="definition"))
    richest = implied[-1].dose * ground.dry_density * ground.depth
    if spread_thickness(richest, ground.loose_density) >= LEAN_CONCRETE_VOLUME * ground.depth:
        text = "one of loose binder to five or less of soil: near a lean concrete, dear and prone to cracks"
        cautions.append(Caution(CautionCode.LEAN_CONCRETE_TERRITORY, text, source="common_practice"))
    return cautions
