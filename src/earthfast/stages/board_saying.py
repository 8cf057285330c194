"""What an insulation board under the base would do where frost defeats every way, in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.checks import CHECKS, BuildUp, CheckName, Course, Material, Method, Way
from earthfast.estimate import Floats, Trail
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area
from earthfast.stages.wording import MILLI, capitalised, chance_words

STONE = 0.15  # m over the board
BOARDS = (0.05, 0.08, 0.10, 0.15)  # m, as extruded boards are sold
ONCE_WET = 0.9  # of its thickness counts: 0.036 W/(m·K) dry, 0.040 after years in the ground; from memory
CARRIES = (
    130.0e3  # Pa for fifty years within 2 % of creep, a board of 300 kPa as EN 13164 declares; from memory
)
HIGH = 0.95
FEW = 512


@dataclass(frozen=True, slots=True)
class _OnBoards:
    """Stone on no board and on each of `BOARDS`, judged together on few draws.

    Attributes
    ----------
    chance : that frost lifts it too far, one for each.
    pressure : what the loads press its board with at most, Pa.
    draws : how many the chance is counted in.
    """

    chance: Floats
    pressure: Floats
    draws: int

    def chance_words(self, place: int) -> str:
        """Chance that frost lifts it too far, in words."""
        return chance_words(float(self.chance[place]), self.draws)


def board_sentences(area: Area, ways: Sequence[JudgedWay]) -> tuple[str, ...]:
    """What the thinnest board that frost puts up with would do; nothing where a way shown withstands frost without one."""
    checks = [check for way in ways for check in way.line.checks if check.name == CheckName.FROST]
    if area.usage.surface.is_slab or not checks or any(check.passes for check in checks):
        return ()
    target = area.usage.targets[CheckName.FROST]
    judged = _judged(area)
    passing = np.flatnonzero(judged.chance[1:] <= target)
    place = 1 + int(passing[0]) if passing.size else len(BOARDS)
    return (_sentence(area.entry.name, judged, place, is_enough=bool(passing.size)),)


def _judged(area: Area) -> _OnBoards:
    few, silent = area.setting.first(min(FEW, area.setting.draws.count)), Trail(recording=False)
    above = (*area.usage.surface.courses, Course(Material.CRUSHED_STONE, STONE))
    boards = (Course(Material.INSULATION_BOARD, board * ONCE_WET) for board in BOARDS)
    build_ups = (BuildUp(above), *(BuildUp((*above, board)) for board in boards))
    found = _OnBoards(np.empty(len(build_ups)), np.empty(len(build_ups)), few.draws.count)
    for batch in few.batches(tuple(Way(Method.STONE, one) for one in build_ups), silent):
        places = list(batch.places)
        found.chance[places] = CHECKS[CheckName.FROST].judge(batch.case, silent).chance
        pressed = CHECKS[CheckName.BEARING].judge(batch.case, silent).demand.values
        found.pressure[places] = np.quantile(pressed, HIGH, axis=-1)
    return found


def _sentence(name: str, judged: _OnBoards, place: int, *, is_enough: bool) -> str:
    pressure = float(judged.pressure[place])
    still = "" if is_enough else ", still too much"
    carried = "less" if pressure < CARRIES else "more"
    return (
        f"{capitalised(name)}: frost defeats every way here. A board of extruded polystyrene, {BOARDS[place - 1] * MILLI:.0f} mm "
        f"thick, under {STONE * MILLI:.0f} mm of stone would bring the chance that frost lifts it too far from "
        f"{judged.chance_words(0)} to {judged.chance_words(place)}{still}, by heat flow "
        f"that errs towards a thicker board. The loads press it with up to "
        f"{pressure / MILLI:.0f} kPa, {carried} than the {CARRIES / MILLI:.0f} kPa that a board rated 300 kPa carries for fifty "
        "years (recalled). Boards are not among the ways: their price and carbon, their edges and the ice that forms sooner on a "
        "surface above them are not worked out here, so have it designed by somebody who builds with them."
    )
