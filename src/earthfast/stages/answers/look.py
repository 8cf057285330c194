"""What `look` answers."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Answer, Figure, Part
from earthfast.stages.answers.sounding import SoundingsAnswer

TRIAL = "trial of treated soil"  # the kind of a next test that is no observation of the ground


class GroupChance(Part):
    """A soil group and how likely it is."""

    symbol: str
    name: str
    chance: float


class EstimateLine(Part):
    """One property of a stratum, and what moved it."""

    figure: Figure
    moved_by: tuple[str, ...] = Field(
        description="Observations that moved it most, in words; empty: assumed."
    )


class SeenCount(Part):
    """How many observations of one kind were made."""

    kind: str
    count: int


class BinderLine(Part):
    """Which binder suits the soil, by its plasticity and fines."""

    route: str = Field(description="The simplest that suits with an even chance or better.")
    cement: float = Field(description="Chance that cement alone suits.")
    lime: float = Field(description="Chance that there is clay enough for lime to react with.")


class SpotLine(Part):
    """The ground of a stratum at one spot; each band is low, median, high."""

    name: str | None = Field(description="What the place is called, where it was named.")
    x_m: float | None
    y_m: float | None
    readings: int = Field(description="Readings of strength taken there.")
    over_stratum: tuple[float, float, float] = Field(
        description="Strength there over that of the stratum on the whole."
    )
    cbr_now: tuple[float, float, float] = Field(description="CBR as found, %.")
    cbr_wet: tuple[float, float, float] = Field(description="CBR in the long-term wet state, %.")
    undrained_strength_wet_kpa: tuple[float, float, float]
    weakest: float = Field(description="Chance that of all spots read it is the weakest.")


class RepeatLine(Part):
    """How readings of one kind scatter at one and the same spot."""

    kind: str
    assumed: float = Field(description="Log-standard deviation that the estimates take, -.")
    seen: float | None = Field(description="The same from repeated readings, where there are any.")
    repeats: int = Field(description="Readings beyond the first at their spots.")


class StratumAnswer(Part):
    """One natural layer of the ground."""

    name: str
    top_mm: float
    top_band_mm: tuple[float, float] | None = Field(
        description="5..95 % band of its top, where cone soundings found it."
    )
    bottom_mm: float | None = Field(description="None where it goes on below what was seen.")
    is_topsoil: bool
    seen: tuple[SeenCount, ...] = Field(description="What was observed in it; empty: nothing.")
    groups: tuple[GroupChance, ...] = Field(description="By ASTM D2487.")
    aashto: tuple[GroupChance, ...] = Field(description="By AASHTO M 145.")
    group_index: Figure = Field(description="Group index of AASHTO M 145.")
    iso: tuple[GroupChance, ...] = Field(description="By ISO 14688, with the class of plasticity.")
    frost_groups: tuple[GroupChance, ...]
    shrink_swell: tuple[GroupChance, ...] = Field(description="Volume change potential.")
    binder: BinderLine
    estimates: tuple[EstimateLine, ...]
    spots: tuple[SpotLine, ...] = Field(
        description="Spots at which strength was read, the weakest first; empty where fewer than two were noted."
    )
    repeats: tuple[RepeatLine, ...] = Field(description="Scatter at one spot, apart from that between spots.")
    flags: tuple[str, ...] = Field(description="Data that cannot be right, or that contradict one another.")


class StopLine(Part):
    """One stop on the way to treating the soil in place, in order."""

    name: str
    verdict: str = Field(description="'clear', 'ask' or 'stop'.")
    reason: str
    action: str


class StandingLine(Part):
    """What `choose` chooses on one area as things are known."""

    area: str
    way: str
    passes: bool = Field(description="It keeps within the chances put up with; else it comes nearest.")
    better: str | None = Field(
        description="A way that passes too and is expected to cost less in all, failures counted; no test is needed for it."
    )
    saved_at_once: float = Field(description="What that way would save, in the currency of the prices.")


class WayTurn(Part):
    """What a test may turn: chosen instead of what is chosen as things are known."""

    area: str
    now: str
    then: str
    chance: float = Field(description="How often the test turns it so.")


class NextTestLine(Part):
    """One test that can still be made, and what it is worth."""

    kind: str
    stratum: str
    question: str
    how: str
    readings: int
    minutes: float
    days: float = Field(description="Until the outcome is known.")
    money: float = Field(description="Paid out, in the currency of the prices.")
    trouble: float = Field(description="Money paid out, and minutes at the price of an hour.")
    saving: Figure = Field(description="Expected saving on all areas together, with its sampling error.")
    standard_error: float
    is_worth_it: bool
    turns: tuple[WayTurn, ...]


class NextTests(Part):
    """Tests that can still be made, the one that leaves most after its trouble first."""

    sentence: str
    weighed_by: str = Field(description="What a way is taken to cost, here and in choosing.")
    currency: str
    standing: tuple[StandingLine, ...]
    knowing_all: float = Field(
        description="What knowing everything beforehand would save: no test saves more."
    )
    lines: tuple[NextTestLine, ...]

    @property
    def trial(self) -> NextTestLine | None:
        """The trial of treated soil among them; None where no treated way is in question."""
        return next((line for line in self.lines if line.kind == TRIAL), None)


class LookAnswer(Answer):
    """What is here, whether it can be treated, and what is worth finding out."""

    strata: tuple[StratumAnswer, ...]
    next_tests: NextTests
    stops: tuple[StopLine, ...]
    topsoil_mm: float
    water_mm: float | None = Field(description="Depth of the water level, where known.")
    soundings: SoundingsAnswer | None = Field(default=None, description="Where the job has cone soundings.")
