"""Which concrete holds the edging of an area against the wheels that come to it."""

from __future__ import annotations

from dataclasses import replace

from earthfast.checks import CHECKS, BuildUp, CheckName, CheckResult, Method, Restraint, Way, restraints
from earthfast.choice import Setting, Surface
from earthfast.estimate import Trail
from earthfast.loads import Motion
from earthfast.stages.usage import Usage


def edging_of(setting: Setting, usage: Usage) -> Restraint:
    """The least concrete that wheels push out no more often than is put up with; the most where none is enough."""
    least, *_, most = restraints()
    rolls = any(load.motion is Motion.ROLLING for load in usage.loads)
    if usage.wheels_keep_off or usage.surface.paving is None or not rolls:
        return least
    target = usage.targets[CheckName.EDGE]
    held = (one for one in restraints() if pushed_out(setting, usage.surface, one).chance[0] <= target)
    return next(held, most)


def pushed_out(setting: Setting, surface: Surface, restraint: Restraint) -> CheckResult:
    """How often wheels would push out an edging held so: the same whatever the paving stands on."""
    way = Way(Method.SAND_BED, BuildUp(surface.courses))
    return CHECKS[CheckName.EDGE].judge(
        replace(setting, restraint=restraint).alone(way), Trail(recording=False)
    )
