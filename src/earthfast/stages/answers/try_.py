"""What `try` answers."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Answer, Figure, Part, SourceLine


class CorrectionLine(Part):
    """One step from the strength as measured to the strength of the material."""

    words: str
    factor: float
    source: SourceLine


class SpecimenLine(Part):
    """One specimen of the job and what it says."""

    number: int = Field(description="Place in the job, counted from 1.")
    name: str
    made_of: str = Field(description="'cylinder, 6 % cement'.")
    dose_percent: float
    lime_percent: float
    batch: str = Field(description="What tells its mix from others.")
    age_days: float
    age_at_20_c_days: float = Field(description="Age at 20 °C that brings the same strength.")
    soaked: str = Field(description="'soaked', 'not soaked' or 'not said'.")
    density: str = Field(description="Dry density against the usual one of the trial; empty where not known.")
    strength_mpa: float | None = Field(
        description="At slenderness 1, at its own age; the bound where a simple test only bounds it."
    )
    strength_28_days_mpa: float | None = Field(
        description="Brought to 28 days, soaked, usual density, by the fitted exponents."
    )
    known_as: str = Field(description="'strength', 'at least' or 'at most'; empty where it is left out.")
    corrections: tuple[CorrectionLine, ...]
    is_used: bool
    remark: str = Field(description="Why it is left out, or what is odd about it; empty where all is well.")

    def said(self, strength_mpa: float | None) -> str:
        """One of its strengths in words, as a bound where it is one."""
        before = {"at least": "over ", "at most": "under "}.get(self.known_as, "")
        return "" if strength_mpa is None else f"{before}{strength_mpa:.2f} MPa"


class DoseLine(Part):
    """What one dose gives."""

    dose_percent: float
    laboratory_28: Figure = Field(description="Mean strength at 28 days, soaked, slenderness 1.")
    laboratory_60: Figure
    site_28: Figure = Field(description="At the spots of the finished layer that are asked about.")
    site_60: Figure
    chance: Figure = Field(description="Chance that they reach the strength wanted.")
    remark: str = Field(description="'tried', 'extrapolated', 'not tried', 'present dose', 'wanted'.")


class CurvePoint(Part):
    """Strength at one dose or age, with its 5..95 % bands."""

    at: float = Field(description="Dose in per cent, or age in days.")
    laboratory_low_mpa: float
    laboratory_mpa: float
    laboratory_high_mpa: float
    site_low_mpa: float
    site_mpa: float
    site_high_mpa: float
    is_extrapolated: bool


class CurveMark(Part):
    """A specimen as a mark of a curve."""

    at: float = Field(description="Dose in per cent, or age in days.")
    strength_mpa: float = Field(description="Brought to the curve's age or dose, and to soaked.")
    name: str
    state: str = Field(description="'soaked', 'not soaked' or 'not said'.")
    known_as: str = Field(description="'strength', 'at least' or 'at most'.")


class StrengthCurve(Part):
    """One chart: strength against dose, or against age."""

    title: str
    across: str = Field(description="'dose (% of dry soil)' or 'age (days)'.")
    points: tuple[CurvePoint, ...]
    marks: tuple[CurveMark, ...]
    target_mpa: float


class RungLine(Part):
    """A known material by strength, brought to 28 days and slenderness 1."""

    material: str
    low_mpa: float
    high_mpa: float
    told_as: str = Field(description="Age and shape at which its source tells it.")
    is_reached: bool
    source: SourceLine


class WantedLine(Part):
    """A strength somebody asks of the layer, and the dose that gives it."""

    asked_by: str = Field(description="'the job file', 'the design' or 'usual practice'.")
    because: str
    strength: Figure
    spot: str = Field(description="'a spot picked at random' or 'the weakest twentieth of the layer'.")
    chance: float = Field(description="Chance wanted that such spots have it.")
    dose: Figure
    is_reached: bool
    governs: bool = Field(description="Whether the answer goes by it.")


class NextLine(Part):
    """A specimen worth making next."""

    dose_percent: float
    age_days: float
    saving: Figure = Field(description="Expected fall in the cost of a wrong dose.")


class PlanLine(Part):
    """The specimens of one dose, with the masses of one mix of it."""

    dose_percent: float
    count: int
    mixes: int
    ages_days: tuple[float, ...]
    moist_soil_g: float = Field(description="Soil as it lies, for one mix: its specimens and some to spare.")
    dry_soil_g: float
    binder_g: float
    lime_g: float
    water_g: float = Field(description="Water to add; below 0 the soil has to dry by so much first.")
    pack_g: float = Field(description="Moist mix to pack into each mould.")
    expected_load: Figure = Field(description="Load at which the oldest are expected to break.")
    lever_kg: float = Field(description="Mass that gives that load, hung at ten times the specimen's arm.")
    is_for_a_press: bool = Field(description="Whether that is more than a person should hang on a lever.")

    @property
    def water_words(self) -> str:
        """Water to add, or how much has to go first."""
        return f"{self.water_g:.0f} g" if self.water_g >= 0.0 else f"dry by {-self.water_g:.0f} g"

    @property
    def lever_words(self) -> str:
        """Mass to hang, or that it takes a press."""
        return "take to a press" if self.is_for_a_press else f"{self.lever_kg:.0f} kg"


class PlanSetup(Part):
    """One way of making the specimens: at a kitchen table or in a laboratory."""

    name: str = Field(description="'kitchen table' or 'laboratory'.")
    mould: str
    load_age_days: float = Field(description="Age of the oldest specimens, at which the loads are told.")
    has_press: bool = Field(
        description="Whether loads are brought by a press; masses are hung on a lever otherwise."
    )
    lines: tuple[PlanLine, ...]
    steps: tuple[str, ...]


class TrialPlan(Part):
    """Which specimens to make, and what they will leave uncertain."""

    count: int
    dry_density: Figure
    water: Figure
    setups: tuple[PlanSetup, ...]
    leaves: tuple[str, ...] = Field(description="What stays uncertain after the plan, in sentences.")

    @property
    def ages_words(self) -> str:
        """How many specimens to mould from a mix, and when to break them."""
        early, late = self.setups[0].lines[0].ages_days
        days = (
            f"both at {late:.0f} days" if early == late else f"one at {early:.0f} days and one at {late:.0f}"
        )
        return f"Mould 2 specimens from every mix: break {days}."


class TryAnswer(Answer):
    """What dose this soil needs: a plan, or what the specimens say."""

    method: str
    target: Figure
    target_age_days: float
    confidence: float = Field(description="Chance wanted that the spots asked about reach the target.")
    spot: str = Field(description="'a spot picked at random' or 'the weakest twentieth of the layer'.")
    wanted: tuple[WantedLine, ...] = Field(description="Strengths asked, the one that governs first.")
    design: tuple[str, ...] = Field(description="What the design has to do with a trial, in sentences.")
    specimens: tuple[SpecimenLine, ...]
    used: int = Field(description="How many specimens have a result that counts.")
    dose: Figure = Field(description="Least dose that reaches the target on site with that confidence.")
    dose_is_reached: bool
    dose_is_extrapolated: bool
    highest_dose_tried_percent: float
    present_dose: Figure | None
    present_chance: Figure | None
    doses: tuple[DoseLine, ...]
    retardation: Figure | None = Field(
        description="Chance that organic matter holds the binder back; None without specimens."
    )
    ladder: tuple[RungLine, ...]
    ladder_says: str
    next_specimens: tuple[NextLine, ...] = Field(description="Worth making next, the best first.")
    plan: TrialPlan
    strength_by_dose: StrengthCurve
    strength_by_age: StrengthCurve
    says: tuple[str, ...]

    @property
    def goes_by(self) -> str:
        """Which of the strengths asked the answer goes by."""
        asked_by = self.wanted[0].asked_by
        other = "" if asked_by == "the job file" else "; say another as trial.target_strength"
        return f"What follows goes by {asked_by}{other}."
