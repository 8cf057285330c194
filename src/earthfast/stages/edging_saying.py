"""The edging of an area, where it takes more than the least concrete, in a sentence."""

from __future__ import annotations

from earthfast.checks import CheckName, restraints
from earthfast.stages.edging import pushed_out
from earthfast.stages.understanding import Area
from earthfast.stages.wording import chance_words, target_words

LITRES = 1000.0  # to the metre, of a section of a square metre


def edging_sentence(area: Area) -> str:
    """Why the edging takes more concrete than the least, or that none listed is enough; nothing where the least will do."""
    least, held = restraints()[0], area.setting.restraint
    if held is None or held == least:
        return ""
    surface, count = area.usage.surface, area.setting.draws.count
    before, now = (pushed_out(area.setting, surface, one) for one in (least, held))
    target = area.usage.targets[CheckName.EDGE]
    chance = chance_words(float(now.chance[0]), count)
    if now.chance[0] > target:
        return (
            f"No edging listed holds {area.entry.name} against the push of {now.governed_by[0]}: even {held.upright}s "
            f"{held.words}, would be pushed out with a chance of {chance} ({target_words(target)} put up with). Have a kerb and "
            "its foundation designed, or keep wheels a metre from the edges and say wheels_keep_off_edges = true under [[use]]."
        )
    return (
        f"Its edges take {held.upright}s in {held.concrete * LITRES:.0f} litres of concrete to the metre, since wheels would "
        f"push out {least.upright}s in {least.concrete * LITRES:.0f} litres with a chance of "
        f"{chance_words(float(before.chance[0]), count)}, these with {chance}."
    )
