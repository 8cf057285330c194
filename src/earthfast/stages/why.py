"""Why: one figure traced back to what was seen, given or assumed."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np

from earthfast import __version__
from earthfast.estimate import Traced, Trail
from earthfast.job import JobProblems, LoadedJob, Problem
from earthfast.stages.answers import FiguresAnswer, InfluenceLine, TrailStep, WhyAnswer
from earthfast.stages.choose import choose_for
from earthfast.stages.look import look_at
from earthfast.stages.showing import example, figure, source_lines
from earthfast.stages.try_ import try_on

DEEPEST = 120  # steps shown
NEAREST = 6  # figures named where several fit
CHANCE = "chance"
ORDER, LISTED = "in the order of the arguments", "in the order listed"


@dataclass(frozen=True, slots=True)
class Traceable:
    """Every figure of a job, and where those of the ways that were chosen begin."""

    trail: Trail
    chosen: tuple[str, ...]

    def key(self, wanted: str) -> str | None:
        """The one figure meant: by its key, by part of it, or by words of it in order, of a chosen way."""
        if wanted in self.trail.figures:
            return wanted
        fitting = self.fitting(wanted)
        places = [self._place(key, wanted) for key in fitting[:2]]
        if len(fitting) == 1 or (len(places) > 1 and places[0] < places[1]):
            return fitting[0]
        return None

    def fitting(self, wanted: str) -> list[str]:
        """All that fit, the chosen ways' first, and of a check its chance first."""
        keys = [key for key in self.trail.figures if wanted in key or _in_order(wanted, key)]
        return sorted(keys, key=lambda key: self._place(key, wanted))

    def _place(self, key: str, wanted: str) -> tuple[bool, bool, bool, int]:
        words = wanted.rsplit(".", 1)[-1]
        return (
            not _in_order(wanted, key),
            not key.startswith(self.chosen),
            not key.endswith((f".{words}", f".{words}.{CHANCE}")),
            key.count("."),
        )


def _in_order(wanted: str, key: str) -> bool:
    """Whether the parts of what is wanted stand in a key in that order."""
    parts = iter(key.split("."))
    return all(any(part == one for part in parts) for one in wanted.split("."))


def traceable(loaded: LoadedJob) -> Traceable:
    """Every figure of a job: of the ground, and of every way shown."""
    trail = Trail()
    trail.figures.update(look_at(loaded, tells_what_moved=False).trail.tell_all().figures)
    choice = choose_for(loaded)
    tried = try_on(choice).trail.tell_all()
    trail.figures.update(tried.figures)  # with those of choose, on which they rest
    trail.shared.update(tried.shared)
    chosen = (
        decision.area.trail.under(decision.chosen.line.key).prefix
        for decision in choice.decisions
        if decision.chosen
    )
    return Traceable(trail, tuple(chosen))


def figures_of(loaded: LoadedJob) -> FiguresAnswer:
    """All figures that `why` can trace."""
    figures = tuple(figure(traced) for traced in traceable(loaded).trail.figures.values())
    return FiguresAnswer(earthfast=__version__, job=loaded.job.heading.title, figures=figures)


def why_figure(loaded: LoadedJob, wanted: str) -> WhyAnswer:
    """Trace one figure; part of its key is enough where one fits best, as `base.frost` for the chance of frost."""
    known = traceable(loaded)
    key = known.key(wanted)
    if key is None:
        raise JobProblems([_unclear(wanted, known)], str(loaded.path or ""))
    return traced_answer(known.trail, key, loaded.job.heading.title)


def _unclear(wanted: str, known: Traceable) -> Problem:
    fitting = known.fitting(wanted)
    near = fitting[:NEAREST] or get_close_matches(wanted, known.trail.figures, n=NEAREST, cutoff=0.3)
    found = f"'{wanted}', which is no figure of this job"
    if fitting:
        found = f"'{wanted}', which fits {len(fitting)} figures"
    named = "; ".join(f"{key} ({known.trail.figures[key].meaning.label})" for key in near)
    return Problem("FIGURE", found, f"the key of one figure, nearest first: {named}")


def middle_draw(trail: Trail, key: str) -> int:
    """The draw in which a figure, or what it is worked out from, lies nearest to its median."""
    traced = trail.told(key)
    if traced.values.size > 1:
        return int(np.argmin(np.abs(traced.values - traced.centre)))
    draws = (middle_draw(trail, name) for name in traced.inputs if name in trail.figures)
    return next((draw for draw in draws if draw), 0)


def traced_answer(trail: Trail, key: str, job: str, draw: int | None = None) -> WhyAnswer:
    """The trail of one figure, breadth first, with the figures of one draw, if none is given that of its median."""
    shown = middle_draw(trail, key) if draw is None else draw
    steps: list[TrailStep] = []
    waiting, seen = [key], set[str]()
    while waiting and len(steps) < DEEPEST:
        name = waiting.pop(0)
        if name in seen or name not in trail.figures:
            continue
        seen.add(name)
        traced = trail.told(name)
        steps.append(_step(traced, trail, shown))
        waiting.extend(traced.inputs)
    influences = tuple(
        InfluenceLine(figure=figure(trail.figures[i.key]), share=round(i.share, 4), rising=i.rising)
        for i in trail.influences(key)
        if i.share >= 0.005
    )
    return WhyAnswer(
        earthfast=__version__,
        job=job,
        steps=tuple(steps),
        influences=influences,
        draw=shown + 1,
        sentence=_sentence(steps[0], influences),
    )


def _step(traced: Traced, trail: Trail, draw: int) -> TrailStep:
    method = traced.method
    return TrailStep(
        figure=figure(traced),
        example=example(traced, draw),
        origin=traced.origin.value,
        because=traced.because,
        relation=method.sentence if method else "",
        formula=method.notes.replace(ORDER, LISTED) if method else "",
        inputs=tuple(figure(trail.figures[name]) for name in traced.inputs if name in trail.figures),
        sources=source_lines(traced.sources),
    )


def _sentence(step: TrailStep, influences: tuple[InfluenceLine, ...]) -> str:
    start = f"{step.figure.label}: {step.figure.text}"
    if not influences:
        return f"{start}, {step.origin}."
    return f"{start}, {step.origin}; what matters most is: {influences[0].figure.label} ({influences[0].share:.0%})."
