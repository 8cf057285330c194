"""The dose as somebody stated it, in three languages, all brought to mass per area."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.estimate import Caution, CautionCode
from earthfast.job.document import Job
from earthfast.job.trials import BinderEntry
from earthfast.job.units import Dimension, written

DISAGREE = 0.10  # apart by more than this the statements cannot all be meant; our proposal


@dataclass(frozen=True, slots=True)
class StatedDose:
    """One statement about the dose: the field it stands in, its text, the mass on each square metre."""

    field: str
    text: str
    areal_mass: float


def stated_doses(
    binder: BinderEntry, soil_dry_density: float | None, loose_density: float | None, bag_mass: float | None
) -> tuple[StatedDose, ...]:
    """Every statement that can be brought to kg/m², with what the job leaves out given in SI."""
    stated = []
    if binder.dose is not None and binder.mixing_depth is not None and soil_dry_density is not None:
        areal = binder.dose.centre * soil_dry_density * binder.mixing_depth.centre
        stated.append(StatedDose("dose", f"{binder.dose} in {binder.mixing_depth}", areal))
    if binder.spread is not None:
        stated.append(StatedDose("spread", str(binder.spread), binder.spread.centre))
    if binder.spread_depth is not None and loose_density is not None:
        areal = binder.spread_depth.centre * loose_density
        stated.append(StatedDose("spread_depth", f"{binder.spread_depth} of loose binder", areal))
    if binder.bags is not None and binder.bags_over is not None and bag_mass is not None:
        areal = binder.bags * bag_mass / binder.bags_over.centre
        stated.append(StatedDose("bags", f"{binder.bags} bags over {binder.bags_over}", areal))
    return tuple(stated)


def disagreement(stated: tuple[StatedDose, ...]) -> Caution | None:
    """A caution with every number, where statements of the same dose differ by more than a tenth."""
    masses = [one.areal_mass for one in stated]
    if len(masses) < 2 or max(masses) <= (1.0 + DISAGREE) * min(masses):
        return None
    listed = ", ".join(f"{one.text} is {written(one.areal_mass, Dimension.AREAL_MASS)}" for one in stated)
    text = f"The stated doses differ: {listed}. Decide which one is meant before buying."
    return Caution(CautionCode.DOSE_QUANTITIES_DISAGREE, text, where="binder", source="given in the job")


def dose_cautions(job: Job) -> tuple[Caution, ...]:
    """What the job's own numbers say about its stated dose, without any default."""
    binder = job.binder
    if binder is None:
        return ()
    given = [
        one.centre if one else None
        for one in (binder.soil_dry_density, binder.loose_density, binder.bag_mass)
    ]
    doubt = disagreement(stated_doses(binder, *given))
    return (doubt,) if doubt else ()
