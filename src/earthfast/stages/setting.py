"""The job translated into what the checks ask: ground, loads, winters, falls and treated soil on common draws."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from earthfast.checks import Drainage, PavingUnit, WinterSample, winter_sample
from earthfast.choice import GroundStep, MixSetting, Setting
from earthfast.estimate import Draws, Meaning, Origin, Quantity, Trail
from earthfast.frost import Climate, SurfaceCover
from earthfast.ground import Bedding, Protection
from earthfast.job import Job, PlanArea
from earthfast.mixes import (
    STRENGTH_COLUMNS,
    FieldPlace,
    Mixing,
    MixingScatter,
    StrengthNormals,
    mixing_scatter,
    strength_normals,
)
from earthfast.sources import source_note
from earthfast.stages.clay_season import trees_seen
from earthfast.stages.climate import Weather
from earthfast.stages.ground_draws import ground_draws
from earthfast.stages.profile import GroundProfile, Stratum
from earthfast.stages.surroundings import BESIDE_FOOTING
from earthfast.stages.trials import specimen_count, strength_beliefs_of
from earthfast.stages.usage import Usage
from earthfast.stages.weather import SHADE_REACH, Exposure, winters_of

DRAWS = 4096
SIMULATED = 2048  # winters
COLUMNS = (
    *STRENGTH_COLUMNS,
    "bearing model",
    "bedding modulus",
    "concrete modulus",
    "compressibility",
    "cracked modulus",
    "flexural",
    "friction angle",
    "frost model",
    "levels",
    "load",
    "passes",
    "rut limit",
    "segregation",
    "settlement modulus",
    "soft spots",
    "stone modulus",
    "summer drying",
    "surface factor",
    "uneven share",
    "winter",
    "fall model",
    "capillary rise",
    "sideways push",
    "edge push",
    "edge model",
    "thaw pass",
    "verge thrust",
    "built thickness",
    "bending model",
)
DEPTH_SCATTER = 0.08  # of the thickness of treated soil
LOADED_AREA = 0.10  # m²
WEAK_SHARE = 0.05
LEVEL_SD = 0.003
VERGE = 1.0  # m
USUAL_FALL = 1.0 / 60.0


@dataclass(frozen=True, slots=True)
class JobDraws:
    """What chance brings, the same on all areas of a job.

    Attributes
    ----------
    columns : the common columns of every check.
    order : which draw of the ground stands in each place.
    winters : simulated winters.
    """

    columns: Draws
    order: npt.NDArray[np.int64]
    winters: WinterSample


def job_draws(climate: Climate, columns: np.random.Generator, shared: np.random.Generator) -> JobDraws:
    """Draw for all areas."""
    order = shared.permutation(DRAWS)
    return JobDraws(Draws(COLUMNS, DRAWS, columns), order, winter_sample(climate, SIMULATED, shared))


def setting_of(
    job: Job,
    area: PlanArea,
    profile: GroundProfile,
    usage: Usage,
    weather: Weather,
    drawn: JobDraws,
    trail: Trail,
) -> Setting:
    """Everything the checks ask of one area but the ways."""
    draws, order = drawn.columns, drawn.order
    kept = [stratum for stratum in profile.strata if stratum.bedding is not Bedding.TOPSOIL] or [
        profile.strata[-1]
    ]
    grounds = tuple(
        GroundStep(stratum.top, ground_draws(stratum, order, draws, trail, place, trees_seen(profile)), order)
        for place, stratum in enumerate(kept)
    )
    return Setting(
        grounds=grounds,
        surface_above_ground=0.0,
        mix=_mix(job, profile.bearing_stratum, draws, trail),
        loads=usage.loads,
        unit=PavingUnit(usage.unit_length, usage.surface.paving_thickness),
        years=usage.years,
        tolerable_settlement=_tolerable(job, area),
        winters=winters_of(weather, usage.years, _exposure(job, usage), drawn.winters, draws, trail),
        drainage=_drainage(job, area, trail),
        draws=draws,
        is_beside_building=_is_beside_building(job),
        has_verge=_has_verge(job),
    )


def _is_beside_building(job: Job) -> bool:
    near = job.site.near if job.site else None
    wall = near.building if near else None
    return wall is not None and wall.centre < BESIDE_FOOTING


def _has_verge(job: Job) -> bool:
    """Whether level earth stands against the edges, as nobody named a slope or retaining wall within a metre."""
    near = job.site.near if job.site else None
    drops = (near.slope, near.retaining_wall) if near else ()
    return not any(drop is not None and drop.centre < VERGE for drop in drops)


def _tolerable(job: Job, area: PlanArea) -> float | None:
    use = next((use for use in job.uses if use.name == area.use), job.uses[0])
    return use.tolerable_settlement.centre if use.tolerable_settlement else None


def _exposure(job: Job, usage: Usage) -> Exposure:
    """What the air meets: the surface, turf beside it, and shade where a wall stands near."""
    near = job.site.near if job.site else None
    wall = near.building if near else None
    cover = SurfaceCover.CONCRETE if usage.surface.is_slab else SurfaceCover.BLOCK_PAVING
    return Exposure(cover, is_shaded=wall is not None and wall.low <= SHADE_REACH)


def mixing_of(job: Job) -> Mixing:
    """How soil and binder are mixed with the tools at hand."""
    tools = job.tools
    if tools is None or tools.tiller is None:
        return Mixing.HAND
    width = tools.tiller.width.centre if tools.tiller.width else 0.5
    return Mixing.ROAD_MIXER if width > 1.2 else Mixing.TILLER


def _scatter(job: Job, mixing: Mixing, steps: Trail) -> MixingScatter:
    """Unevenness of the dose: what the crew says of its spread and depth, else what is assumed of the tools."""
    scatter = mixing_scatter(mixing)
    crew = job.crew
    typed = crew is not None and (crew.spread_scatter is not None or crew.depth_scatter is not None)
    if crew is not None and typed:
        parts = [part.centre for part in (crew.spread_scatter, crew.depth_scatter) if part is not None]
        scatter = replace(scatter, dose_cov=float(np.hypot.reduce(parts)))
    steps.enter(
        "dose_scatter",
        Meaning(f"Scatter of the dose, mixed with {mixing.value}", "-", "%"),
        scatter.dose_cov,
        Origin.GIVEN if typed else Origin.ASSUMED,
        "spread and depth together"
        if typed
        else "spread and depth together; no published figure for hand or tiller mixing was found",
        () if typed else (source_note("earthfast_proposal, assumed scatter [P]"),),
    )
    return scatter


def _mix(job: Job, stratum: Stratum, draws: Draws, trail: Trail) -> MixSetting:
    steps = trail.under("mix")
    mixing = mixing_of(job)
    scatter = _scatter(job, mixing, steps)
    normals = strength_normals(draws)
    site = steps.enter(
        "field_bias",
        Meaning("Strength on site over strength in the laboratory (standard score)", "-", "-"),
        normals.bias,
        Origin.ASSUMED,
        "15 road jobs mixed in place",
        (source_note("melancon_shah_1976, field over design strength [S]"),),
    )
    steps.enter(
        "felt_area",
        Meaning("Area over which uneven mixing evens out", "m²", "m²"),
        LOADED_AREA,
        Origin.ASSUMED,
        "what a wheel or foot reaches under its paving; wider loads break what is weakest under them",
        (source_note("earthfast_proposal, a wheel through blocks [P]"),),
    )
    place = FieldPlace(scatter, LOADED_AREA, WEAK_SHARE)
    beliefs = strength_beliefs_of(job, stratum.estimate.draws)
    typed = job.crew.depth_scatter if job.crew else None
    depth_scatter = typed.centre if typed else DEPTH_SCATTER
    return MixSetting(beliefs, place, normals, (*_soil_scores(job, normals, steps), site), depth_scatter)


def _soil_scores(job: Job, normals: StrengthNormals, steps: Trail) -> tuple[Quantity, ...]:
    """What is not known of how the soil takes cement, from its own specimens where there are any."""
    words = (
        ("soil_group", "Which group of soils it belongs to (standard score)", normals.group),
        ("soil_response", "How well this soil takes cement (standard score)", normals.parameters[:, 0]),
        ("dose_response", "How steeply strength rises with dose (standard score)", normals.parameters[:, 1]),
    )
    tried = specimen_count(job)
    learned = (
        f"from {tried} specimen{'s' if tried > 1 else ''} of this soil, and other soils of its group"
        if tried
        else "no specimens of this soil yet; other soils of its group"
    )
    return tuple(
        steps.enter(
            key,
            Meaning(label, "-", "-"),
            values,
            Origin.OBSERVED if tried else Origin.ASSUMED,
            learned,
            (source_note("gajurel_2021, appendix C, 13 soils [C]"),),
        )
        for key, label, values in words
    )


def _drainage(job: Job, area: PlanArea, trail: Trail) -> Drainage:
    steps = trail.under("site")
    falls = job.site.falls if job.site else None
    typed = falls.wanted if falls else None
    allowed = falls.available.centre if falls and falls.available else USUAL_FALL
    fall = steps.enter(
        "fall",
        Meaning("Fall set out", "-", "%"),
        typed.centre if typed else min(USUAL_FALL, allowed),
        Origin.GIVEN if typed else Origin.ASSUMED,
        "as wanted" if typed else "usual for paving, 1 in 60, or what the levels allow",
        () if typed else (source_note("common_practice, 1 in 60 [CP]"),),
    )
    tolerance = steps.enter(
        "level_tolerance",
        Meaning("Scatter of a built level", "m", "mm"),
        LEVEL_SD,
        Origin.ASSUMED,
        "paving screeded between rails",
        (source_note("earthfast_proposal, standard deviation 3 mm [P]"),),
    )
    run = steps.enter(
        "fall_run",
        Meaning(f"Length over which the {area.name} falls", "m", "m"),
        shortest_side(area),
        Origin.GIVEN,
        "the shorter side of the area",
    )
    kept = job.site.formation_care if job.site else None
    return Drainage(fall, tolerance, run, has_outlet=True, formation_drains=kept is Protection.GOOD)


def shortest_side(area: PlanArea) -> float:
    """Shorter side of a rectangle, or of the box around an outline, m."""
    if area.length and area.width:
        return min(area.length.centre, area.width.centre)
    assert area.outline is not None
    factor = {"m": 1.0, "mm": 1e-3, "ft": 0.3048}[area.outline.unit.value]
    points = np.array(area.outline.points) * factor
    return float(np.ptp(points, axis=0).min())
