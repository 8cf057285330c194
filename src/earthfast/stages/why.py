"""Why: one figure traced back to what was seen, given or assumed."""

from __future__ import annotations

from difflib import get_close_matches

from earthfast import __version__
from earthfast.estimate import Traced, Trail
from earthfast.job import JobProblems, LoadedJob, Problem
from earthfast.stages.answers import Figure, InfluenceLine, TrailStep, WhyAnswer
from earthfast.stages.choose import choose_for
from earthfast.stages.look import look_at
from earthfast.stages.showing import figure, source_lines
from earthfast.stages.try_ import try_for

DEEPEST = 40  # steps shown


def trail_of(loaded: LoadedJob) -> Trail:
    """Every figure of a job: of the ground, and of every way shown."""
    trail = Trail()
    trail.figures.update(look_at(loaded, tells_what_moved=False).trail.figures)
    trail.figures.update(choose_for(loaded).understanding.trail.figures)
    trail.figures.update(try_for(loaded).trail.figures)
    return trail


def figures_of(loaded: LoadedJob) -> tuple[Figure, ...]:
    """All figures that `why` can trace."""
    return tuple(figure(traced) for traced in trail_of(loaded).figures.values())


def why_figure(loaded: LoadedJob, wanted: str) -> WhyAnswer:
    """Trace one figure; part of its key is enough where only one fits."""
    trail = trail_of(loaded)
    return traced_answer(trail, _key(wanted, trail, loaded), loaded.job.heading.title)


def traced_answer(trail: Trail, key: str, job: str) -> WhyAnswer:
    """The trail of one figure, breadth first."""
    steps: list[TrailStep] = []
    waiting, seen = [key], set[str]()
    while waiting and len(steps) < DEEPEST:
        name = waiting.pop(0)
        if name in seen or name not in trail.figures:
            continue
        seen.add(name)
        traced = trail.figures[name]
        steps.append(_step(traced, trail))
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
        sentence=_sentence(steps[0], influences),
    )


def _step(traced: Traced, trail: Trail) -> TrailStep:
    method = traced.method
    return TrailStep(
        figure=figure(traced),
        origin=traced.origin.value,
        because=traced.because,
        relation=method.sentence if method else "",
        formula=method.notes if method else "",
        inputs=tuple(figure(trail.figures[name]) for name in traced.inputs if name in trail.figures),
        sources=source_lines(traced.sources),
    )


def _sentence(step: TrailStep, influences: tuple[InfluenceLine, ...]) -> str:
    start = f"{step.figure.label}: {step.figure.text}"
    if not influences:
        return f"{start}, {step.origin}."
    return f"{start}, {step.origin}; what matters most is: {influences[0].figure.label} ({influences[0].share:.0%})."


def _key(wanted: str, trail: Trail, loaded: LoadedJob) -> str:
    if wanted in trail.figures:
        return wanted
    fitting = [key for key in trail.figures if wanted in key]
    if len(fitting) == 1:
        return fitting[0]
    ending = [key for key in fitting if key.endswith(f".{wanted}")]
    if len(ending) == 1:
        return ending[0]
    near = fitting[:8] or get_close_matches(wanted, trail.figures, n=8, cutoff=0.3)
    found = (
        f"'{wanted}', which fits {len(fitting)} figures"
        if fitting
        else f"'{wanted}', which is no figure of this job"
    )
    accepted = "the key of one figure, such as " + ", ".join(near)
    raise JobProblems([Problem("FIGURE", found, accepted)], str(loaded.path or ""))
