"""The job's five questions, one function each."""

from earthfast.stages.choose import Choice, choose_for
from earthfast.stages.look import Looked, look_at
from earthfast.stages.why import figures_of, trail_of, traced_answer, why_figure

__all__ = [
    "Choice",
    "Looked",
    "choose_for",
    "figures_of",
    "look_at",
    "traced_answer",
    "trail_of",
    "why_figure",
]
