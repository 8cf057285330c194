"""A slab at its edge, by slab theory beside the layered answer."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.checks import Act, CheckName, Material, Method
from earthfast.checks.response import POISSON
from earthfast.elastic import radius_of_relative_stiffness, slab_edge_stress
from earthfast.ground import reaction_modulus_from_modulus
from earthfast.stages.judged import JudgedWay, governing_act
from earthfast.stages.showing import digits
from earthfast.stages.understanding import Area

MEGA = 1e6


def slab_edge_sentence(area: Area, chosen: JudgedWay | None) -> str:
    """Tension at the edge of a chosen slab on springs, all at usual values, beside that of the check; nothing for other ways."""
    if chosen is None or chosen.way.method is not Method.SLAB:
        return ""
    check = next(one for one in chosen.line.checks if one.name == CheckName.CRACKING)
    act = governing_act(check, area.setting.alone(chosen.way).acts)
    assert act is not None
    under = f"Under the {act.words.replace(', ', ' ')} at the slab's edge the layered answer, raised for the edge, gives"
    answer = f"{under} {digits(check.demand.value)} MPa of tension"
    springs = slab_on_springs(area, chosen, act)
    if springs.radius > springs.reach:
        return (
            f"{answer}; the load is wider than the slab reaches ({digits(springs.reach)} m), so that the formulas for a slab on "
            "springs (Westergaard), which are for small loads, say nothing beside it."
        )
    return f"{answer}; a slab on springs (Westergaard) gives {digits(springs.tension / MEGA)} MPa."


@dataclass(frozen=True, slots=True)
class SlabOnSprings:
    """A slab on springs under a load at its edge.

    Attributes
    ----------
    tension : under the load, Pa.
    radius : of the load, contacts closer than the reach counting as one circle of their area, m.
    reach : radius of relative stiffness, m.
    """

    tension: float
    radius: float
    reach: float


def slab_on_springs(area: Area, slab: JudgedWay, act: Act) -> SlabOnSprings:
    """Westergaard's edge formula for a chosen slab, all at usual values."""
    thickness, ratio = slab.way.build_up.thickness_of(Material.CONCRETE), POISSON[Material.CONCRETE]
    modulus = area.trail.figures[f"{area.trail.prefix}{slab.line.key}.cracking.concrete_modulus"].centre
    springs = reaction_modulus_from_modulus(
        float(np.median(area.setting.alone(slab.way).ground.modulus_wet.values))
    )
    reach = float(radius_of_relative_stiffness(thickness, modulus, ratio, springs))
    near = sum(bool(np.hypot(circle.x, circle.y) < reach) for circle in act.circles)
    radius = act.radius * float(np.sqrt(near))
    tension = float(slab_edge_stress(act.force * near, radius, thickness, ratio, reach))
    return SlabOnSprings(tension, radius, reach)
