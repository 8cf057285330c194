"""What the design asks of a trial: the way Choose would build with treated soil, and the strength it wants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from earthfast.checks import CheckName, Course, Method
from earthfast.estimate import Quantity
from earthfast.stages.answers import CheckLine
from earthfast.stages.choose import AreaDecision, Choice
from earthfast.stages.judged import JudgedWay
from earthfast.stages.treatment import hard_stop, stops_of
from earthfast.stages.trials import specimen_count
from earthfast.stages.wording import CHECK_WORDS

BEYOND_SPECIMENS = {CheckName.SHRINK_SWELL, CheckName.DRAINAGE, CheckName.SUITABILITY, CheckName.EDGE}


@dataclass(frozen=True, slots=True)
class DesignNeed:
    """The treated layer that asks most of the soil.

    Attributes
    ----------
    areas : names of the areas it is for.
    way : the way as judged.
    course : its treated course.
    is_chosen : whether Choose would build it.
    beside : ways Choose would build where it treats the soil in another way; empty where it does not.
    """

    areas: tuple[str, ...]
    way: JudgedWay
    course: Course
    is_chosen: bool
    beside: tuple[JudgedWay, ...]

    @property
    def is_beside_another(self) -> bool:
        """Whether Choose would treat the soil in another way."""
        return bool(self.beside)

    @property
    def beside_words(self) -> str:
        """What Choose would build in its place."""
        return _listed([way.line.title for way in self.beside])

    @property
    def wants_lime(self) -> bool:
        """Whether what Choose would build, or else the way itself, has lime before its cement."""
        courses = [way.way.build_up.treated for way in self.beside or (self.way,)]
        return any(course is not None and course.lime_dose > 0.0 for course in courses)

    @property
    def passes(self) -> bool:
        """Whether it passes every check as things are known."""
        return self.way.line.passes

    @property
    def check(self) -> CheckLine:
        """The check that asks for strength: whether the layer lasts through frost and wet."""
        return next(check for check in self.way.line.checks if check.name == CheckName.DURABILITY)

    def strength(self, choice: Choice) -> Quantity:
        """Strength that check wants at the weak spots, middle of its draws."""
        traced = choice.understanding.trail.figures[self.check.demand.key]
        return Quantity(traced.key, traced.values)


def design_need(choice: Choice, method: Method | None) -> DesignNeed | None:
    """The treated layer that a trial would serve: a chosen one before any other, then the one with the richest dose.

    ``method`` is the way of treating that specimens or the job name; None where any will do.
    """
    needs = [
        DesignNeed(
            _areas_of(way, one, choice),
            way,
            treated,
            is_chosen=_is_chosen(way, one),
            beside=() if _is_chosen(way, one) else _treated_instead(choice),
        )
        for one in choice.decisions
        for way in one.ways
        if (treated := way.way.build_up.treated) is not None
    ]
    kept = [need for need in needs if need.way.way.method is method] or needs
    return max(kept, key=lambda need: (need.is_chosen, need.way.line.passes, need.course.dose), default=None)


def _areas_of(way: JudgedWay, decision: AreaDecision, choice: Choice) -> tuple[str, ...]:
    """The area of a way, and others on which the same way is chosen."""
    same = [one.area.entry.name for one in choice.decisions if one is not decision and _is_chosen(way, one)]
    return (decision.area.entry.name, *(same if _is_chosen(way, decision) else ()))


def _treated_instead(choice: Choice) -> tuple[JudgedWay, ...]:
    """The ways with treated soil that Choose would build, each once."""
    chosen = (one.chosen for one in choice.decisions if one.chosen is not None)
    return tuple({way.line.title: way for way in chosen if way.way.build_up.treated is not None}.values())


def _is_chosen(way: JudgedWay, decision: AreaDecision) -> bool:
    return decision.chosen is not None and decision.chosen.line.key == way.line.key


def design_says(choice: Choice, need: DesignNeed | None) -> tuple[str, ...]:
    """Whether the way Choose would build needs a trial, and what a trial would be for."""
    if need is None:
        return (_no_treated_soil(choice),)
    line, areas = need.way.line, _listed(need.areas)
    if need.is_chosen:
        nearest = CHECK_WORDS[CheckName(line.weakest)]
        return (
            (
                f"Choose would build {line.title} on the {areas}: the least dose that passes all its checks, of which "
                f"{nearest} is the nearest to its limit. It takes the strength of this soil from {_knowledge(choice)}, and "
                "goes over to what your specimens show as they come in."
            ),
        )
    short = [CHECK_WORDS[CheckName(check.name)] for check in line.checks if not check.passes]
    judged = f"falls short on {_listed(short)}" if short else "passes, but another way ranks before it"
    serves = (
        "The specimens speak for"
        if specimen_count(choice.understanding.loaded.job)
        else "A trial would serve"
    )
    return (
        f"{_instead(choice)} {serves} {line.title} on the {areas} for {line.price.text}, which {judged}.",
        _could_turn(need),
    )


def _instead(choice: Choice) -> str:
    """What Choose would build, where it is not the way that a trial would serve."""
    chosen = [(one.chosen, one.area.entry.name) for one in choice.decisions if one.chosen is not None]
    if not chosen:
        return "Choose finds no way that passes."
    built = _listed([f"{way.line.title} on the {area} for {way.line.price.text}" for way, area in chosen])
    if _treated_instead(choice):
        return f"Choose would build {built}; the specimens or the binder of this job speak for another way."
    return f"Choose would build {built}; that uses no binder and needs no trial."


def _no_treated_soil(choice: Choice) -> str:
    understanding = choice.understanding
    stop = hard_stop(stops_of(understanding.loaded.job, understanding.profile))
    reason = (
        f"treating this soil is ruled out ({stop.reason})" if stop else "the surface is a slab of concrete"
    )
    return f"Choose weighs no treated soil here, because {reason}: a trial would serve nothing on this job."


def _could_turn(need: DesignNeed) -> str:
    """Whether specimens could make that way the best."""
    failed = [CheckName(check.name) for check in need.way.line.checks if not check.passes]
    beyond = [name for name in failed if name in BEYOND_SPECIMENS]
    if beyond:
        words = _listed([CHECK_WORDS[name] for name in beyond])
        return (
            f"Specimens alone cannot make it pass, since strength does not help {words}. See what Look says of the next "
            "test before you make any."
        )
    if failed:
        return "Only stronger specimens could make it pass, since all of that hangs on strength."
    return "Specimens could lower its dose, and with it its price."


def _knowledge(choice: Choice) -> str:
    count = specimen_count(choice.understanding.loaded.job)
    own = f"{count} specimen{'s' if count > 1 else ''} of it and from other soils of its group"
    return own if count else "other soils of its group"


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
