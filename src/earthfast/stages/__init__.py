"""The job's five questions, one function each."""

from earthfast.stages.build import Built, build_for
from earthfast.stages.choose import Choice, choose_for
from earthfast.stages.look import Looked, look_at
from earthfast.stages.try_ import Tried, try_for
from earthfast.stages.why import figures_of, middle_draw, traceable, traced_answer, why_figure

__all__ = [
    "Built",
    "Choice",
    "Looked",
    "Tried",
    "build_for",
    "choose_for",
    "figures_of",
    "look_at",
    "middle_draw",
    "traceable",
    "traced_answer",
    "try_for",
    "why_figure",
]
