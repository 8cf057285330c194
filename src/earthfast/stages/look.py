"""Look: what is here, and can the soil be treated where it lies?"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

import numpy as np

from earthfast import __version__
from earthfast.estimate import Band, Meaning, Origin, Trail
from earthfast.ground import (
    OBSERVATION_KINDS,
    Contribution,
    Property,
    SpotEstimate,
    StratumEstimate,
    contributions,
    repeat_scatter,
    spot_estimates,
)
from earthfast.ground.observation import kind_of
from earthfast.ground.stratum_draws import stratum_from_latents
from earthfast.job import JobProblems, LoadedJob
from earthfast.sources import SourceNote, source_note
from earthfast.stages.answers import (
    EstimateLine,
    LookAnswer,
    NextTests,
    RepeatLine,
    SeenCount,
    SpotLine,
    StratumAnswer,
)
from earthfast.stages.naming import (
    aashto_groups,
    binder_line,
    frost_groups,
    group_indices,
    iso_groups,
    shrink_swell_classes,
    uscs_groups,
)
from earthfast.stages.next_test import next_tests, no_tests
from earthfast.stages.profile import GroundProfile, Stratum, ground_profile
from earthfast.stages.setting import DRAWS
from earthfast.stages.showing import assumption_lines, caution_lines, figure
from earthfast.stages.strip_logs import soundings_answer
from earthfast.stages.treatment import hard_stop, stop_lines, stops_of
from earthfast.stages.understanding import seed_of, understand
from earthfast.stages.wording import MILLI

SHOWN = {
    Property.CBR_NOW: Meaning("CBR as found", "%", "%"),
    Property.CBR_WET: Meaning("CBR in the long-term wet state", "%", "%"),
    Property.UNDRAINED_STRENGTH: Meaning("Undrained strength as found", "Pa", "kPa"),
    Property.UNDRAINED_STRENGTH_WET: Meaning("Undrained strength, long-term wet", "Pa", "kPa"),
    Property.STIFFNESS: Meaning("Modulus, long-term wet", "Pa", "MPa"),
    Property.SPOT_SPREAD: Meaning("Scatter of strength from spot to spot", "-", "%"),
    Property.WATER_CONTENT: Meaning("Water content", "-", "%"),
    Property.OPTIMUM_WATER: Meaning("Optimum water content", "-", "%"),
    Property.DRY_DENSITY: Meaning("Dry density in place", "kg/m³", "kg/m³"),
    Property.FINES: Meaning("Finer than 0.075 mm", "-", "%"),
    Property.CLAY: Meaning("Clay", "-", "%"),
    Property.PLASTICITY_INDEX: Meaning("Plasticity index", "-", "%"),
    Property.LIQUID_LIMIT: Meaning("Liquid limit", "-", "%"),
    Property.ORGANIC_CONTENT: Meaning("Organic matter", "-", "%"),
    Property.SULFATE: Meaning("Water-soluble sulfate", "-", "%"),
    Property.WINTER_WATER_DEPTH: Meaning("Highest winter water, below ground", "m", "mm"),
}
THINNED = 8
MILLI_OF_PASCAL = 1.0e-3  # kPa a Pa
TOLD = 0.05  # a shift of 5 % or a band narrowed by 5 % is worth telling
NOISE = 0.25  # of the width of a band: what a shift told by every eighth draw may be off by


@dataclass(frozen=True, slots=True)
class Looked:
    """The answer, with the profile and trail behind it."""

    profile: GroundProfile
    trail: Trail
    answer: LookAnswer


def look_at(loaded: LoadedJob, *, tells_what_moved: bool = True) -> Looked:
    """Say what the observations tell about every stratum, whether it can be treated, and which test is worth doing."""
    trail = Trail()
    profile, tests = _valued(loaded, trail)
    generator = np.random.default_rng(seed_of(loaded).spawn(5)[4])
    strata = tuple(
        _stratum_answer(
            stratum, trail, _told(stratum, generator) if tells_what_moved else (), _spots(stratum, generator)
        )
        for stratum in profile.strata
    )
    _assume_strata(profile, trail)
    stops = stops_of(loaded.job, profile)
    answer = LookAnswer(
        verb="look",
        earthfast=__version__,
        job=loaded.job.heading.title,
        demonstration=bool(loaded.job.heading.invented),
        headline=_headline(profile, strata),
        cautions=caution_lines((*loaded.cautions, *profile.cautions)),
        assumptions=assumption_lines(trail, {}, set(trail.figures)),
        exit_status=1 if hard_stop(stops) else 0,
        strata=strata,
        next_tests=tests,
        stops=stop_lines(stops),
        topsoil_mm=round(1000.0 * profile.topsoil, 1),
        water_mm=_water(loaded),
        soundings=soundings_answer(loaded.job, profile),
    )
    return Looked(profile, trail, answer)


def _valued(loaded: LoadedJob, trail: Trail) -> tuple[GroundProfile, NextTests]:
    """The profile, with what further tests are worth to the choice of way."""
    try:
        understanding = understand(loaded)
    except JobProblems as problems:
        profile = ground_profile(loaded.job, DRAWS, seed_of(loaded).spawn(3)[0])
        return profile, no_tests(f"What a further test is worth cannot be said yet: {problems.problems[0]}")
    return understanding.profile, next_tests(understanding, trail)


def _assume_strata(profile: GroundProfile, trail: Trail) -> None:
    """Say which depths of the strata the job did not give."""
    if profile.is_assumed:
        trail.enter(
            "topsoil",
            Meaning("Depth of topsoil to strip", "m", "mm"),
            profile.topsoil,
            Origin.ASSUMED,
            "no strata given; topsoil is usually 100 to 300 mm deep",
            (source_note("from_memory, 0.10 to 0.30 m [M]"),),
        )
    if profile.soundings is None:
        return
    source = (source_note("earthfast_proposal, boundaries that most soundings share [P]"),)
    strata = Meaning("Strata below the topsoil", "-", "-")
    because = profile.soundings.because
    trail.enter("strata", strata, len(profile.soundings.boundaries) + 1.0, Origin.ASSUMED, because, source)
    for stratum in profile.strata:
        if stratum.boundary is not None:
            trail.under(key_of(stratum)).enter(
                "top",
                Meaning(f"Depth of the top of the {stratum.name}", "m", "mm"),
                stratum.top,
                Origin.ASSUMED,
                stratum.boundary.words,
                source,
                stratum.boundary.depth,
            )


def key_of(stratum: Stratum) -> str:
    """How the trail calls a stratum."""
    return stratum.name.replace(" ", "-").lower()


def _told(stratum: Stratum, generator: np.random.Generator) -> tuple[Contribution, ...]:
    """What each kind of observation moved."""
    rows = list(stratum.observations)
    return contributions(_thinned(stratum), rows, stratum.prior, generator) if rows else ()


def _spots(stratum: Stratum, generator: np.random.Generator) -> tuple[SpotLine, ...]:
    """The ground at each spot at which strength was read."""
    found = spot_estimates(stratum.estimate, stratum.observations, stratum.prior, generator)
    return tuple(_spot_line(one) for one in found)


def _repeat_lines(stratum: Stratum) -> tuple[RepeatLine, ...]:
    """How readings scatter at one spot."""
    found = repeat_scatter(stratum.observations, stratum.estimate.draws)
    return tuple(
        RepeatLine(kind=one.kind, assumed=one.assumed, seen=one.seen, repeats=one.repeats) for one in found
    )


def _spot_line(spot: SpotEstimate) -> SpotLine:
    def rounded(band: Band, scale: float = 1.0) -> tuple[float, float, float]:
        low, median, high = (float(f"{scale * value:.3g}") for value in (band.low, band.median, band.high))
        return low, median, high

    return SpotLine(
        name=spot.name,
        x_m=spot.x,
        y_m=spot.y,
        readings=spot.readings,
        over_stratum=rounded(spot.over_stratum),
        cbr_now=rounded(spot.cbr_now),
        cbr_wet=rounded(spot.cbr_wet),
        undrained_strength_wet_kpa=rounded(spot.undrained_strength_wet, MILLI_OF_PASCAL),
        weakest=round(spot.weakest, 4),
    )


def _stratum_answer(
    stratum: Stratum, trail: Trail, moved: tuple[Contribution, ...], spots: tuple[SpotLine, ...]
) -> StratumAnswer:
    steps = trail.under(key_of(stratum))
    rows = list(stratum.observations)
    lines = []
    for name, meaning in SHOWN.items():
        band = stratum.estimate.bands[name]
        values = getattr(stratum.estimate.draws, name.value)
        because = (
            f"{len(rows)} observations together" if rows else "nothing seen here; the prior of such ground"
        )
        steps.enter(name.value, meaning, values, Origin.OBSERVED, because, _sources(stratum), band)
        lines.append(
            EstimateLine(
                figure=figure(steps.figures[f"{steps.prefix}{name.value}"]),
                moved_by=_moved(name, moved, band),
            )
        )
    ground, estimate = stratum.estimate.draws, stratum.estimate
    index = Meaning("Group index", "-", "-")
    steps.enter("group_index", index, group_indices(ground), Origin.OBSERVED, because, _sources(stratum))
    boundary = stratum.boundary.depth if stratum.boundary else None
    return StratumAnswer(
        name=stratum.name,
        top_mm=round(MILLI * stratum.top, 1),
        top_band_mm=(round(MILLI * boundary.low, 1), round(MILLI * boundary.high, 1)) if boundary else None,
        bottom_mm=None if stratum.bottom is None else round(MILLI * stratum.bottom, 1),
        is_topsoil=stratum.is_topsoil,
        seen=_seen(stratum),
        groups=uscs_groups(estimate.uscs),
        aashto=aashto_groups(estimate.aashto),
        group_index=figure(steps.figures[f"{steps.prefix}group_index"]),
        iso=iso_groups(estimate.iso),
        frost_groups=frost_groups(ground),
        shrink_swell=shrink_swell_classes(ground),
        binder=binder_line(ground),
        estimates=tuple(lines),
        spots=spots,
        repeats=_repeat_lines(stratum) if spots else (),
        flags=tuple(caution.text for caution in estimate.cautions),
    )


def _seen(stratum: Stratum) -> tuple[SeenCount, ...]:
    """What was observed in a stratum, most first."""
    counted = Counter(kind_of(row).kind for row in stratum.observations)
    return tuple(SeenCount(kind=kind, count=count) for kind, count in counted.most_common())


def _thinned(stratum: Stratum) -> StratumEstimate:
    """The estimate on every eighth draw: enough to say what moved it."""
    latents = stratum.estimate.latents[::THINNED]
    return replace(stratum.estimate, latents=latents, draws=stratum_from_latents(latents, stratum.prior))


def _sources(stratum: Stratum) -> tuple[SourceNote, ...]:
    kinds = {kind.row_type: kind for kind in OBSERVATION_KINDS.values()}
    notes = {note for row in stratum.observations for note in kinds[type(row)].sources}
    return tuple(sorted(notes, key=lambda note: (note.key, note.place)))


def _moved(name: Property, moved: tuple[Contribution, ...], band: Band) -> tuple[str, ...]:
    """Kinds of observation that moved a property most, with how."""
    least = max(TOLD, NOISE * band.log_sd) if band.low > 0.0 else TOLD
    found = []
    for contribution in moved:
        movement = next((m for m in contribution.movements if m.property is name), None)
        if movement is None:
            continue
        told = abs(movement.shift) + max(movement.narrowing - 1.0, 0.0)
        if told >= least:
            share = f"{abs(np.expm1(movement.shift)):.0%}"
            way = f"up {share}" if movement.shift > 0.0 else f"down {share}"
            found.append((told, f"{contribution.kind} ({'narrowed' if share == '0%' else way})"))
    return tuple(words for _, words in sorted(found, reverse=True)[:2])


def _water(loaded: LoadedJob) -> float | None:
    depth = loaded.job.site.winter_water_depth if loaded.job.site else None
    return round(1000.0 * depth.centre, 1) if depth else None


def _headline(profile: GroundProfile, strata: tuple[StratumAnswer, ...]) -> str:
    place = profile.strata.index(profile.bearing_stratum)
    stratum = strata[place]
    likeliest = stratum.groups[0]
    cbr = next(line.figure for line in stratum.estimates if line.figure.key.endswith("cbr_wet"))
    return (
        f"The base would stand on {stratum.name}, most likely {likeliest.name} ({likeliest.chance:.0%}); "
        f"CBR once wet {cbr.text}."
    )
