"""Passes of a compactor: what the published table says, and says not."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from earthfast.estimate import Caution, CautionCode
from earthfast.sources import read_table

_LIFTS = (0.10, 0.15, 0.20)  # m, the table's columns
_WITHIN = 1e-9
SOURCE = "scottish_reinstatement_2015, table A8.1"
PROVE = (
    "work in lifts of 50 to 75 mm, on the wet side of the best moisture, until a drop test or a rod no "
    "longer changes; then prove the lift by density, drop test or rod before the next"
)
UNLISTED_LIFT = 0.080  # m; 50 to 75 mm, and 5 mm more rather than a lift too thin for its stones


class Compactor(StrEnum):
    """Machines by what their table is entered with."""

    VIBRATING_TAMPER = "vibrating tamper"
    LIGHT_TAMPER = "light tamper"
    SINGLE_DRUM = "single drum roller"
    TWIN_DRUM = "twin drum roller"
    PLATE = "plate"


SIZED_BY = {
    Compactor.VIBRATING_TAMPER: "kg",
    Compactor.LIGHT_TAMPER: "kg",
    Compactor.SINGLE_DRUM: "kg/m",
    Compactor.TWIN_DRUM: "kg/m",
    Compactor.PLATE: "kg/m²",
}


class LiftSoil(StrEnum):
    """What is compacted."""

    COHESIVE = "cohesive"
    GRANULAR = "granular"


class Listing(StrEnum):
    """What the table says of a machine, a soil and a lift."""

    SPECIFIED = "specified"
    NOT_PERMITTED = "not permitted"
    NOT_LISTED = "not listed"


@dataclass(frozen=True, slots=True)
class PassesRow:
    """One row of the table; 0 passes is not permitted, greatest 0 has no upper end."""

    machine: str
    least: float
    greatest: float
    unit: str
    cohesive_100: int
    cohesive_150: int
    cohesive_200: int
    not_wholly_cohesive_mm: int
    granular_100: int
    granular_150: int
    granular_200: int

    def passes(self, soil: LiftSoil, column: int) -> int:
        """Passes for a soil in one column of lifts."""
        if soil is LiftSoil.COHESIVE:
            return (self.cohesive_100, self.cohesive_150, self.cohesive_200)[column]
        return (self.granular_100, self.granular_150, self.granular_200)[column]


@dataclass(frozen=True, slots=True)
class Passes:
    """What the table says.

    Attributes
    ----------
    listing : specified, not permitted or not listed.
    passes : number of passes where specified; None otherwise, and then none may be printed.
    text : what to do, in a sentence.
    cautions : doubts to show beside it.
    """

    listing: Listing
    passes: int | None
    text: str
    cautions: tuple[Caution, ...] = ()

    @property
    def words(self) -> str:
        """The number of passes, or why there is none."""
        return str(self.passes) if self.passes is not None else self.listing.value


def plate_mass_by_area(mass: float, length: float, width: float) -> float:
    """Mass of a plate compactor by the area it stands on.

    Parameters
    ----------
    mass : float
        Mass of the machine. [kg]
    length : float
        Length of the plate on the ground. [m]
    width : float
        Width of the plate on the ground. [m]

    Returns
    -------
    mass_by_area : float
        What the table of passes is entered with. [kg/m²]

    Notes
    -----
    m / (L w). Static mass by area governs a plate's reach; a hire plate of 90 kg stands at about 430 kg/m².

    References
    ----------
    rr_208, static mass by area governs [S]
    """
    return mass / (length * width)


def compaction_passes(machine: Compactor, size: float, soil: LiftSoil, lift: float) -> Passes:
    """Passes that the published table asks for.

    Parameters
    ----------
    machine : Compactor
        Kind of machine.
    size : float
        Mass of a tamper [kg], mass by drum width of a roller [kg/m], mass by area of a plate. [kg/m²]
    soil : LiftSoil
        What is compacted; treated clay is cohesive.
    lift : float
        Compacted thickness of the layer. [m]

    Returns
    -------
    passes : Passes
        Number of passes, or that the table has none for this machine.

    Notes
    -----
    The lift is read up to the next of 100, 150 and 200 mm. A machine lighter than every row is not in the
    table: no number is given, the lift is thinned and proved instead.

    References
    ----------
    scottish_reinstatement_2015, table A8.1 [S]
    common_practice, thin lifts proved by test [CP]
    """
    machine, soil = Compactor(machine), LiftSoil(soil)
    row = _row_for(machine, size)
    if row is None:
        return _not_listed(machine, size)
    column = next((i for i, deepest in enumerate(_LIFTS) if lift <= deepest + _WITHIN), None)
    passes = row.passes(soil, column) if column is not None else 0
    if column is None or passes == 0:
        text = (
            f"the table does not permit this {machine.value} on {soil.value} soil {1000 * lift:.0f} mm deep"
        )
        return Passes(Listing.NOT_PERMITTED, None, f"{text}; thin the lift or hire a heavier machine")
    return Passes(Listing.SPECIFIED, passes, _specified(row, soil, column, passes))


def deepest_lift(machine: Compactor, size: float, soil: LiftSoil) -> float | None:
    """Deepest lift that the published table permits a machine, without its note on wholly cohesive soil.

    Parameters
    ----------
    machine : Compactor
        Kind of machine.
    size : float
        Mass of a tamper [kg], mass by drum width of a roller [kg/m], mass by area of a plate. [kg/m²]
    soil : LiftSoil
        What is compacted; treated clay is cohesive.

    Returns
    -------
    lift : float or None
        Compacted thickness; None where the table permits none. [m]

    Notes
    -----
    A light tamper is permitted in small holes only, so it has none.

    References
    ----------
    scottish_reinstatement_2015, table A8.1 [S]
    """
    row = _row_for(Compactor(machine), size)
    if row is None or row.machine == Compactor.LIGHT_TAMPER:
        return None
    permitted = [
        lift
        for column, lift in enumerate(_LIFTS)
        if row.passes(soil, column)
        and not (soil is LiftSoil.COHESIVE and row.not_wholly_cohesive_mm == round(1000 * lift))
    ]
    return max(permitted, default=None)


def lightest_listed(machine: Compactor, soil: LiftSoil, lift: float) -> float | None:
    """Size of the lightest machine of a kind that the published table permits on a lift.

    Parameters
    ----------
    machine : Compactor
        Kind of machine.
    soil : LiftSoil
        What is compacted.
    lift : float
        Compacted thickness. [m]

    Returns
    -------
    size : float or None
        In the unit the table is entered with (kg, kg/m or kg/m²); None where none is permitted. [-]

    References
    ----------
    scottish_reinstatement_2015, table A8.1 [S]
    """
    rows: tuple[PassesRow, ...] = read_table("compaction_passes", PassesRow).rows
    sizes = sorted(row.least for row in rows if row.machine == machine)
    return next((s for s in sizes if (deepest_lift(machine, s, soil) or 0.0) >= lift - _WITHIN), None)


def _row_for(machine: Compactor, size: float) -> PassesRow | None:
    rows: tuple[PassesRow, ...] = read_table("compaction_passes", PassesRow).rows
    fitting = [
        row
        for row in rows
        if row.machine == machine and row.least <= size and (size < row.greatest or not row.greatest)
    ]
    return fitting[0] if fitting else None


def _specified(row: PassesRow, soil: LiftSoil, column: int, passes: int) -> str:
    text = f"{passes} passes, each covering the whole surface once"
    if row.machine == Compactor.LIGHT_TAMPER:
        return f"{passes} passes or more, in small holes only"
    deepest = round(1000 * _LIFTS[column])
    if soil is LiftSoil.COHESIVE and row.not_wholly_cohesive_mm == deepest:
        return f"{text}; not on wholly cohesive soil"
    return text


def _not_listed(machine: Compactor, size: float) -> Passes:
    light = f"a {machine.value} of {size:.0f} {SIZED_BY[machine]} is lighter than every row of the published table"
    caution = Caution(
        CautionCode.PLATE_LIGHTER_THAN_TABLE,
        f"{light}: no number of passes is promised of it, so every lift is proved before the next",
        where="tools",
        source=SOURCE,
    )
    return Passes(Listing.NOT_LISTED, None, f"{light}; {PROVE}", (caution,))
