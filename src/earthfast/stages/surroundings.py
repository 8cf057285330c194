"""What stands around the work, and what of the job this version does not use yet: both are said, neither is silent."""

from __future__ import annotations

from datetime import date

from earthfast.estimate import Caution, CautionCode
from earthfast.job import Job, Near, Services, Site, UnitSystem

DAMP_COURSE_CLEARANCE = 0.15  # m, surface below the damp course
BESIDE_WALL = 2.0  # m within which a building's damp course and footing matter
RUNOFF_WITHIN = 15.0  # m from drains for washing out
BESIDE_FOOTING = 1.0  # m within which a footing is looked for before a dig
SHELF_MONTHS = 3
MILLI = 1000.0
WIDE_PASSAGE = 2.0  # m, a narrower one is worth a question before a digger is hired
PRACTICE = "common practice"


def surroundings_cautions(job: Job, on: date | None) -> tuple[Caution, ...]:
    """Doubts that the site's surroundings raise, and fields typed but not used."""
    site = job.site
    near = site.near if site and site.near else Near()
    asks = [
        (near.retaining_wall, 2.0, "a retaining wall stands close"),
        (near.slope, 5.0, "a steep slope is close"),
    ]
    texts = [words for distance, least, words in asks if distance is not None and distance.centre < least]
    if site and site.contaminated:
        texts.append("the ground may be contaminated")
    if site and site.made_ground:
        texts.append("the ground was filled or tipped on")
    cautions = [
        Caution(
            CautionCode.STOP_AND_ASK,
            f"{text}: ask a licensed engineer or building control before digging",
            where="site",
            source=PRACTICE,
        )
        for text in texts
    ]
    if near.services in {None, Services.UNKNOWN}:
        text = (
            "buried services are not known: have them located and dig by hand within 500 mm of a marked one"
        )
        cautions.append(Caution(CautionCode.STOP_AND_ASK, text, where="site.near.services", source=PRACTICE))
    return (
        *cautions,
        *_runoff(near),
        *_at_wall(job, near),
        *_too_steep(site),
        *_old_binder(job, on),
        *_narrow_access(job),
        *not_used_yet(job),
    )


def _too_steep(site: Site | None) -> tuple[Caution, ...]:
    """A fall that is wanted and that the levels do not allow."""
    falls = site.falls if site else None
    if falls is None or falls.wanted is None or falls.available is None:
        return ()
    if falls.wanted.centre <= falls.available.centre * (1.0 + 1e-9):
        return ()
    text = (
        f"the fall wanted, {falls.wanted}, is steeper than the {falls.available} that the levels allow: look at the levels "
        "again, or give the surface an outlet"
    )
    return (Caution(CautionCode.STOP_AND_ASK, text, where="site.falls.wanted", source=PRACTICE),)


def engineer_words(job: Job, *, is_soft: bool) -> str:
    """That filled, contaminated or very soft ground is for an engineer, before everything else; empty on other ground."""
    site = job.site
    kinds = [
        words
        for words, told in (
            ("filled", site and site.made_ground),
            ("contaminated", site and site.contaminated),
            ("very soft", is_soft),
        )
        if told
    ]
    if not kinds:
        return ""
    return f"{' and '.join(kinds).capitalize()} ground: a licensed engineer decides before anything is dug. "


def footing_cautions(job: Job, area: str, dig: float) -> tuple[Caution, ...]:
    """Doubts about a dig, m deep, beside a building whose footing may be as shallow as the ground's surface."""
    wall = job.site.near.building if job.site and job.site.near else None
    if wall is None or wall.centre >= max(BESIDE_FOOTING, dig):
        return ()
    if dig > wall.centre:
        text = (
            f"the dig for {area}, {dig * MILLI:.0f} mm deep, comes inside the 45 degree line from a wall {wall} away: ask a "
            "licensed engineer or building control before digging"
        )
        return (Caution(CautionCode.STOP_AND_ASK, text, where="site.near.building", source=PRACTICE),)
    text = (
        f"a wall stands {wall} from {area}: find the underside of its footing in a small pit first, and dig no deeper than that "
        "nor along the whole wall at once"
    )
    return (Caution(CautionCode.FOOTING_NEAR, text, where="site.near.building", source=PRACTICE),)


def _runoff(near: Near) -> tuple[Caution, ...]:
    if near.drain is None or near.drain.centre >= RUNOFF_WITHIN:
        return ()
    text = f"a drain lies {near.drain}: keep cement and lime out of it, wash out 15 m away and watch the first rain"
    return (Caution(CautionCode.RUNOFF, text, where="site.near.drain", source=PRACTICE),)


def _at_wall(job: Job, near: Near) -> tuple[Caution, ...]:
    """The surface is taken level with the ground beside the wall."""
    height = job.site.damp_course_height if job.site else None
    beside = near.building is not None and near.building.centre < BESIDE_WALL
    if height is None or not beside or height.centre >= DAMP_COURSE_CLEARANCE:
        return ()
    text = (
        f"the surface would lie {height} below the damp course; 150 mm is wanted: lower it, or leave an open channel "
        "along the wall"
    )
    return (Caution(CautionCode.TOO_HIGH_AT_WALL, text, where="site.damp_course_height", source="nhbc_10_2"),)


def _old_binder(job: Job, on: date | None) -> tuple[Caution, ...]:
    packed = job.binder.packed_on if job.binder else None
    if packed is None or (on is not None and (on - packed).days <= SHELF_MONTHS * 30.4):
        return ()
    age = "" if on else ", and the job has no date to tell its age by"
    text = (
        f"the binder was packed on {packed}{age}: cement older than three months has lost strength, "
        "and its skin protection"
    )
    return (Caution(CautionCode.BINDER_OLD, text, where="binder.packed_on", source=PRACTICE),)


def _narrow_access(job: Job) -> tuple[Caution, ...]:
    """Machines against the narrowest passage; one is at least as wide as it works."""
    narrowest = job.site.access.narrowest if job.site and job.site.access else None
    tools = job.tools
    if narrowest is None or tools is None:
        return ()
    works = {
        name: getattr(tools, name).width
        for name in ("tiller", "plate", "roller", "spreader")
        if getattr(tools, name) and getattr(tools, name).width
    }
    texts = [
        f"the narrowest passage is {narrowest} and the {name} works {width} wide: it does not go through"
        for name, width in works.items()
        if width.centre > narrowest.centre
    ]
    if tools.digger and narrowest.centre < WIDE_PASSAGE:
        texts.append(f"the narrowest passage is {narrowest}: ask how wide the digger is before it is hired")
    return tuple(
        Caution(CautionCode.ACCESS_TOO_NARROW, text, where="site.access.narrowest", source=PRACTICE)
        for text in texts
    )


def not_used_yet(job: Job) -> tuple[Caution, ...]:
    """Fields that were typed and that this version does not use."""
    tools = job.tools
    unused = {
        "job.units (answers are shown in metric units)": job.heading.units is UnitSystem.IMPERIAL,
        "tools.mixer (clayey soil balls in a drum, so soil is mixed where it lies)": bool(
            tools and tools.mixer
        ),
        "tools.spreader (no figure is published for how evenly one spreads; weigh trays and say crew.spread_scatter)": bool(
            tools and tools.spreader
        ),
        "tools.digger.bucket (digging is reckoned at 4 m³ an hour whatever the bucket)": bool(
            tools and tools.digger and tools.digger.bucket
        ),
    }
    return tuple(
        Caution(
            CautionCode.NOT_USED_YET, f"read, but not used yet: {name}", where=name.split(" ")[0], source=""
        )
        for name, typed in unused.items()
        if typed
    )
