"""The site's surroundings, as the stops on the way to treating soil in place ask for them."""

from __future__ import annotations

import numpy as np

from earthfast.ground import NearbyTree, Stop, TreatmentSite, Verdict, treatment_stops
from earthfast.ground.observations.place import Tree
from earthfast.job import Job, Near, Services
from earthfast.stages.answers import StopLine
from earthfast.stages.profile import GroundProfile

MIXED_BELOW_TOPSOIL = 0.15  # m, a usual treated layer
VERDICTS = {
    Verdict.STOP: "stop",
    Verdict.TEST: "ask",
    Verdict.ASK: "ask",
    Verdict.NO_OBJECTION: "clear",
}


def stops_of(job: Job, profile: GroundProfile) -> tuple[Stop, ...]:
    """Every stop for the stratum that would be treated, in order."""
    return treatment_stops(profile.bearing_stratum.estimate.draws, _site(job, profile))


def hard_stop(stops: tuple[Stop, ...]) -> Stop | None:
    """The first stop that ends the matter, where there is one."""
    return next((stop for stop in stops if stop.verdict is Verdict.STOP), None)


def sure_stop(stops: tuple[Stop, ...]) -> Stop | None:
    """The first stop that nothing found in the ground could lift, where there is one."""
    return next((stop for stop in stops if stop.chance == 1.0), None)


def stop_lines(stops: tuple[Stop, ...]) -> tuple[StopLine, ...]:
    """Stops as lines of an answer."""
    return tuple(
        StopLine(
            name=stop.rule.value,
            verdict=VERDICTS[stop.verdict],
            reason=stop.reason if np.isnan(stop.chance) else f"{stop.reason} (chance {stop.chance:.0%})",
            action=stop.remedy if stop.verdict is not Verdict.NO_OBJECTION else "",
        )
        for stop in stops
    )


def _site(job: Job, profile: GroundProfile) -> TreatmentSite:
    site = job.site
    near = site.near if site and site.near else Near()
    seen = [row for stratum in profile.strata for row in stratum.observations if isinstance(row, Tree)]
    trees = tuple(NearbyTree(tree.distance, tree.stem_diameter) for tree in seen)
    return TreatmentSite(
        mixing_depth=profile.topsoil + MIXED_BELOW_TOPSOIL,
        trees=trees,
        open_water_distance=near.watercourse.centre if near.watercourse else None,
        service_depth=float("inf") if near.services is Services.NONE_FOUND else None,
        planting_distance=near.planting.centre if near.planting else None,
        has_rubbish=bool(site and site.made_ground),
    )
