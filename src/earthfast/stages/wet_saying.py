"""Where the rain goes that soaks through the joints of paving, in a sentence."""

from __future__ import annotations

import numpy as np
from scipy.constants import day, hour

from earthfast.checks import SOON, WET_DAY, let_through, time_to_soak_away
from earthfast.checks.situation import WEAKENED
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area
from earthfast.stages.wording import MILLI

NEVER = 30.0 * day
PERCENT = 100.0


def wet_sentences(area: Area, shown: JudgedWay) -> tuple[str, ...]:
    """What becomes of the water in an unbound base on ground that does not take it within a day."""
    share = let_through(shown.way, area.setting.drainage)
    if share == 0.0:
        return ()
    ground = area.setting.alone(shown.way).ground
    away = float(time_to_soak_away(WET_DAY, share, np.median(ground.permeability.values)))
    if away <= SOON:
        return ()
    left = float(np.median(ground.softening.values))
    designed = (
        f"so every check of the wet ground takes it with rain standing on formation, {left * PERCENT:.0f} % as strong. "
        "To be spared that, give"
        if left < WEAKENED
        else "which weakens it no further here, where water stands near formation in winter anyway. Still give"
    )
    said = (
        f"A wet day puts about {WET_DAY * share * MILLI:.0f} mm of water through the surface, and this ground takes "
        f"{_long(away)} to swallow it, {designed} formation a fall and its low edge an outlet, and say so by "
        '`formation_care = "good"` under [site].'
    )
    return (said,)


def _long(time: float) -> str:
    if time > NEVER:
        return "months"
    return f"{time / day:.0f} days" if time > 2.0 * SOON else f"{time / hour:.0f} hours"
