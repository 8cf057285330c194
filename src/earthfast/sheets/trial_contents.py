"""What the trial sheet says, ready to print: specimens, curves, doses, what to make next, how."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.sheets.charts import chart_svg
from earthfast.sheets.contents import Heading, Picture, SmallPrint, heading, small_print
from earthfast.sheets.strength_chart import CHART, strength_chart
from earthfast.stages.answers import (
    DoseLine,
    PlanLine,
    PlanSetup,
    RungLine,
    SpecimenLine,
    StrengthCurve,
    TryAnswer,
    WantedLine,
)

CHART_WORDS = (
    "Dark band: mean in the laboratory, 5 to 95 %; light band: on site, at the spots asked about. Heavy line: median where "
    "it was tried; thin: beyond. Dashed: the strength wanted. Disc: soaked; square: not soaked, brought to soaked; triangle "
    "up: at least, down: at most."
)


@dataclass(frozen=True, slots=True)
class SpecimenRow:
    """A specimen as printed."""

    name: str
    made_of: str
    kept: str
    strength: str
    late: str
    corrections: str
    remark: str


@dataclass(frozen=True, slots=True)
class DoseRow:
    """A dose as printed."""

    dose: str
    laboratory_28: str
    laboratory_60: str
    site_28: str
    site_60: str
    chance: str
    remark: str


@dataclass(frozen=True, slots=True)
class RungRow:
    """A known material as printed."""

    material: str
    strength: str
    told_as: str
    is_reached: bool


@dataclass(frozen=True, slots=True)
class WantedRow:
    """A strength asked of the layer, as printed."""

    asked_by: str
    strength: str
    spot: str
    chance: str
    dose: str
    governs: bool


@dataclass(frozen=True, slots=True)
class PlanRow:
    """The mixes of one dose as printed."""

    dose: str
    mixes: str
    soil: str
    lime: str
    binder: str
    water: str
    pack: str
    load: str
    lever: str


@dataclass(frozen=True, slots=True)
class SetupBlock:
    """One bench as printed."""

    name: str
    mould: str
    has_press: bool
    load_age: str
    rows: tuple[PlanRow, ...]
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrialContents:
    """The trial sheet."""

    heading: Heading
    method: str
    design: tuple[str, ...]
    wanted: tuple[WantedRow, ...]
    wanted_words: str
    says: tuple[str, ...]
    charts: tuple[Picture, ...]
    chart_words: str
    specimens: tuple[SpecimenRow, ...]
    doses: tuple[DoseRow, ...]
    ladder_says: str
    ladder: tuple[RungRow, ...]
    next_specimens: tuple[str, ...]
    plan_title: str
    plan_words: str
    setups: tuple[SetupBlock, ...]
    leaves: tuple[str, ...]
    small_print: SmallPrint


def trial_contents(answer: TryAnswer) -> TrialContents:
    """Say what the specimens show, or which to make."""
    plan = answer.plan
    corrected = [step.source for line in answer.specimens for step in line.corrections]
    rungs = [rung.source for rung in answer.ladder if rung.is_reached]
    return TrialContents(
        heading=heading(answer, "Trial sheet"),
        method=answer.method,
        design=answer.design,
        wanted=tuple(_wanted(line) for line in answer.wanted),
        wanted_words=f"{answer.goes_by} Strengths are asked soaked, at {answer.target_age_days:.0f} days.",
        says=answer.says,
        charts=tuple(_picture(curve) for curve in (answer.strength_by_dose, answer.strength_by_age)),
        chart_words=CHART_WORDS,
        specimens=tuple(_specimen(line) for line in answer.specimens),
        doses=tuple(_dose(line) for line in answer.doses),
        ladder_says=answer.ladder_says,
        ladder=tuple(_rung(rung) for rung in answer.ladder),
        next_specimens=tuple(
            f"{line.dose_percent:.3g} %, broken at {line.age_days:.0f} days: saves {line.saving.text} of the "
            "cost of a wrong dose, on average"
            for line in answer.next_specimens
        ),
        plan_title=f"{plan.count} specimens, packed to {plan.dry_density.text} dry at {plan.water.text} water",
        plan_words=plan.ages_words,
        setups=() if answer.used else tuple(_setup(setup) for setup in plan.setups),
        leaves=() if answer.used else plan.leaves,
        small_print=small_print(answer, [*corrected, *rungs]),
    )


def _picture(curve: StrengthCurve) -> Picture:
    return Picture(chart_svg(strength_chart(curve, CHART)), CHART.width, curve.title, "")


def _specimen(line: SpecimenLine) -> SpecimenRow:
    return SpecimenRow(
        name=line.name,
        made_of=line.made_of,
        kept=f"{line.age_days:.3g} days, {line.soaked}",
        strength=line.said(line.strength_mpa),
        late=line.said(line.strength_28_days_mpa),
        corrections="; ".join(f"{step.words} ×{step.factor:.2f}" for step in line.corrections),
        remark=line.remark,
    )


def _dose(line: DoseLine) -> DoseRow:
    return DoseRow(
        dose=f"{line.dose_percent:.3g} %",
        laboratory_28=line.laboratory_28.text,
        laboratory_60=line.laboratory_60.text,
        site_28=line.site_28.text,
        site_60=line.site_60.text,
        chance=line.chance.as_chance,
        remark=line.remark,
    )


def _rung(rung: RungLine) -> RungRow:
    strength = f"{rung.low_mpa:.2g} to {rung.high_mpa:.2g} MPa"
    return RungRow(rung.material, strength, rung.told_as, rung.is_reached)


def _wanted(line: WantedLine) -> WantedRow:
    return WantedRow(
        asked_by=f"{line.asked_by} ({line.because})",
        strength=line.strength.text,
        spot=line.spot,
        chance=f"{line.chance * 100.0:.3g} %",
        dose=line.dose.text if line.is_reached else "more than 20 %",
        governs=line.governs,
    )


def _setup(setup: PlanSetup) -> SetupBlock:
    rows = tuple(_plan_row(line) for line in setup.lines)
    age = f"{setup.load_age_days:.0f} days"
    return SetupBlock(setup.name, setup.mould, setup.has_press, age, rows, setup.steps)


def _plan_row(line: PlanLine) -> PlanRow:
    return PlanRow(
        dose=f"{line.dose_percent:.3g} %",
        mixes=f"{line.mixes}",
        soil=f"{line.moist_soil_g:,.0f} g",
        lime=f"{line.lime_g:.0f} g" if line.lime_g else "none",
        binder=f"{line.binder_g:.0f} g",
        water=line.water_words,
        pack=f"{line.pack_g:,.0f} g",
        load=line.expected_load.text,
        lever=line.lever_words,
    )
