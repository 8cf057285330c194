"""Cone soundings as lines of an answer: each with its layers, and all of them together by depth."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from earthfast.estimate import Band, Floats
from earthfast.ground import CONE_EQUATIONS, ConeEquation
from earthfast.ground.observations.strength import ConePenetrometer
from earthfast.job import Job
from earthfast.stages.answers import BoundaryLine, DepthLine, SetLine, SoundingLine, SoundingsAnswer
from earthfast.stages.profile import GroundProfile
from earthfast.stages.soundings import layers_of, soundings_together
from earthfast.stages.wording import MILLI

STEP = 0.1  # m of depth that the soundings are put together by


def soundings_answer(job: Job, profile: GroundProfile) -> SoundingsAnswer | None:
    """The cone soundings of a job, read below its topsoil; None where it has none."""
    rows = [(entry.row(), entry.place) for entry in job.observations]
    cones = [(row, place) for row, place in rows if isinstance(row, ConePenetrometer)]
    if not cones:
        return None
    together = soundings_together([row for row, _ in cones], profile.topsoil)
    return SoundingsAnswer(
        soundings=tuple(
            _sounding(row, place or f"sounding {number}")
            for number, (row, place) in enumerate(cones, start=1)
        ),
        boundaries=tuple(_boundary(one.depth, one.words) for one in together.boundaries),
        because=together.because,
        by_depth=_by_depth([row for row, _ in cones]),
    )


def _sounding(row: ConePenetrometer, name: str) -> SoundingLine:
    layered = layers_of(row)
    edges = np.array([row.start, *row.depths])
    sets = zip(pairwise(edges.tolist()), _penetrations(row).tolist(), strict=True)
    return SoundingLine(
        name=name,
        sets=tuple(_set(top, bottom, each, row.equation) for (top, bottom), each in sets if bottom > top),
        layers=tuple(
            _set(layer.top, layer.bottom, layer.penetration, row.equation) for layer in layered.layers
        ),
        boundaries=tuple(_boundary(band) for band in layered.boundaries),
    )


def _penetrations(row: ConePenetrometer) -> Floats:
    """Penetration a blow of every set, m."""
    return np.diff([row.start, *row.depths]) / np.array(row.blows, dtype=np.float64)


def _set(top: float, bottom: float, penetration: float, equation: ConeEquation) -> SetLine:
    return SetLine(
        top_mm=round(top * MILLI),
        bottom_mm=round(bottom * MILLI),
        mm_per_blow=round(penetration * MILLI, 1),
        cbr_percent=round(_cbr(penetration, equation), 1),
    )


def _cbr(penetration: float, equation: ConeEquation) -> float:
    return float(CONE_EQUATIONS[ConeEquation(equation)](penetration))


def _boundary(band: Band, words: str = "") -> BoundaryLine:
    low, middle, high = (round(depth * MILLI) for depth in (band.low, band.median, band.high))
    return BoundaryLine(depth_mm=middle, low_mm=low, high_mm=high, words=words)


def _by_depth(rows: Sequence[ConePenetrometer]) -> tuple[DepthLine, ...]:
    """Least, median and most penetration a blow between whole tenths of a metre."""
    first, last = min(row.start for row in rows), max(row.depths[-1] for row in rows)
    lines = []
    for number in range(int(first / STEP), int(np.ceil(last / STEP))):
        top, bottom = number * STEP, (number + 1) * STEP
        found = np.array([each for row in rows if (each := _between(row, top, bottom)) > 0.0])
        if found.size:
            middle = float(np.median(found))
            lines.append(
                DepthLine(
                    top_mm=round(top * MILLI),
                    bottom_mm=round(bottom * MILLI),
                    soundings=int(found.size),
                    mm_per_blow=round(middle * MILLI, 1),
                    least_mm_per_blow=round(float(found.min()) * MILLI, 1),
                    most_mm_per_blow=round(float(found.max()) * MILLI, 1),
                    cbr_percent=round(_cbr(middle, rows[0].equation), 1),
                )
            )
    return tuple(lines)


def _between(row: ConePenetrometer, top: float, bottom: float) -> float:
    """Depth over blows of a sounding between two depths, m a blow; 0 where it does not reach."""
    edges = np.array([row.start, *row.depths])
    within = np.diff(np.clip(edges, top, bottom))
    blows = float(np.sum(within / np.maximum(_penetrations(row), 1e-6)))
    return float(np.sum(within)) / blows if blows > 0.0 else 0.0
