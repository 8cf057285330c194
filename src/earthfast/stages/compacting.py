"""How to compact the base with the machine at hand, and what may not be promised of it."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.checks import Material, Way
from earthfast.estimate import Caution
from earthfast.job import Job
from earthfast.stages.wording import capitalised
from earthfast.works import Compactor, LiftSoil, compaction_passes, plate_mass_by_area

THIN_LIFT = 0.075  # m
DEEPEST_LIFT = 0.15
LIGHT_TAMPER = 50.0  # kg
ADVICE = (
    "No compactor is named under [tools]. Lay it in lifts of 50 to 75 mm and go over each until it stops moving; "
    "prove it with a rod or a drop test."
)


@dataclass(frozen=True, slots=True)
class Compacting:
    """What to do, in words, and the doubts that go with it."""

    words: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class _Machine:
    kind: Compactor
    size: float
    words: str


def compaction_of(job: Job, way: Way) -> Compacting:
    """Compaction of the base of a way with the job's heaviest machine."""
    stone = way.build_up.thickness_of(Material.CRUSHED_STONE)
    treated = way.build_up.treated
    thickness = treated.thickness if treated else stone
    if thickness == 0.0:
        return Compacting("", ())
    machine = _machine(job)
    if machine is None:
        return Compacting(ADVICE, ())
    soil = LiftSoil.COHESIVE if treated else LiftSoil.GRANULAR
    lift = min(thickness, DEEPEST_LIFT)
    passes = compaction_passes(machine.kind, machine.size, soil, lift)
    if passes.passes is None:
        return Compacting(capitalised(f"{passes.text}."), passes.cautions)
    return Compacting(f"{machine.words}: lifts of {lift * 1000.0:.0f} mm, {passes.text}.", passes.cautions)


def _machine(job: Job) -> _Machine | None:
    tools = job.tools
    if tools is None:
        return None
    if tools.roller and tools.roller.mass and tools.roller.width:
        by_width = tools.roller.mass.centre / tools.roller.width.centre
        kind = Compactor.TWIN_DRUM if (tools.roller.drums or 1) > 1 else Compactor.SINGLE_DRUM
        return _Machine(kind, by_width, f"Roller of {by_width:.0f} kg/m")
    if tools.plate and tools.plate.mass and tools.plate.length and tools.plate.width:
        by_area = plate_mass_by_area(
            tools.plate.mass.centre, tools.plate.length.centre, tools.plate.width.centre
        )
        return _Machine(Compactor.PLATE, by_area, f"Plate of {by_area:.0f} kg/m²")
    if tools.tamper and tools.tamper.mass:
        mass = tools.tamper.mass.centre
        heavy = mass >= LIGHT_TAMPER and bool(tools.tamper.powered)
        kind = Compactor.VIBRATING_TAMPER if heavy else Compactor.LIGHT_TAMPER
        return _Machine(kind, mass, f"Tamper of {mass:.0f} kg")
    return None
