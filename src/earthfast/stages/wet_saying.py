"""Where the rain goes that soaks through the joints of paving, in a sentence."""

from __future__ import annotations

import numpy as np
from scipy.constants import day, hour

from earthfast.checks import Case, Method
from earthfast.estimate import FloatLike, Floats, Trail
from earthfast.frost import permeability
from earthfast.ground import Protection, WaterTable, tabulated_equilibrium_cbr
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area
from earthfast.stages.wording import MILLI

WET_DAY = 0.025  # m of rain, as falls a few times a year in a temperate climate
THROUGH_JOINTS = 0.2  # share of it that soaks in; paving sheds the rest
SOON = 1.0 * day
NEVER = 30.0 * day
UNBOUND = (Method.STONE, Method.SAND_BED)


def time_to_soak_away(rain: FloatLike, share: FloatLike, permeability: FloatLike) -> Floats:
    """Time in which the ground takes the rain that soaks through paving.

    Parameters
    ----------
    rain : array-like
        Depth of rain. [m]
    share : array-like
        Share of it that soaks through the joints. [-]
    permeability : array-like
        Of the ground. [m/s]

    Returns
    -------
    time : array-like
        Time. [s]

    Notes
    -----
    t = s r/k with r, s and k in the order of the arguments: downward flow under its own weight, the slower the wetter the ground
    below already is.

    References
    ----------
    definition, flow at a gradient of one [C]
    """
    return np.asarray(np.asarray(share) * rain / np.asarray(permeability))


def wet_sentences(area: Area, shown: JudgedWay) -> tuple[str, ...]:
    """What becomes of the water in an unbound base under joints on ground that does not take it within a day."""
    if area.usage.surface.paving is None or shown.way.method not in UNBOUND:
        return ()
    (batch,) = area.setting.batches((shown.way,), Trail(recording=False))
    ground = batch.case.ground
    passing = permeability(float(np.median(ground.fines.values)), _plasticity(batch.case), 0.0)
    away = float(time_to_soak_away(WET_DAY, THROUGH_JOINTS, passing))
    if away <= SOON:
        return ()
    water = WET_DAY * THROUGH_JOINTS * MILLI
    kept, drained = (
        float(tabulated_equilibrium_cbr(_plasticity(batch.case), WaterTable.HIGH, care))
        for care in (Protection.POOR, Protection.AVERAGE)
    )
    said = (
        f"A wet day puts about {water:.0f} mm of water through the joints, and this ground takes {_long(away)} to swallow it: "
        "give formation a fall and its low edge an outlet. Without them the table for poorly kept formation applies, a CBR of "
        f"{kept:.2g} % once wet instead of {drained:.2g} %."
    )
    return (said,)


def _plasticity(case: Case) -> float:
    return float(np.median(case.ground.plasticity_index.values))


def _long(time: float) -> str:
    if time > NEVER:
        return "months"
    return f"{time / day:.0f} days" if time > 2.0 * SOON else f"{time / hour:.0f} hours"
