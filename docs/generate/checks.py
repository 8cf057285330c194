"""The page of the checks: question, demand, capacity and the relations that each one rests on."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from functools import cache
from importlib.resources import as_file, files
from types import CodeType, FunctionType

from docs.generate.markdown import page, table
from earthfast.checks import CHECKS, Check, CheckName
from earthfast.job import Consequence, load_job
from earthfast.sources import Relation, relation
from earthfast.stages import choose_for
from earthfast.stages.answers import CheckLine
from earthfast.stages.showing import source_lines
from earthfast.stages.usage import STRUCTURAL, TARGETS

OPENING = """# Checks

Each check is one way in which a build-up can disappoint. It sets a demand against a capacity in the same unit, over
thousands of draws of everything uncertain, and counts how often the demand is the larger. A way passes where no chance exceeds
the one put up with. Nothing here is a promise: local codes and licensed practice come first.

Every relation stands here as its function describes it, with its source and [status](statuses.md). This page is made from
the program.
"""
CHANCES = """## Chances put up with

Over the design life, by `consequence` of the use; without one, `minor`. They are our proposal, after the reliability
classes of EN 1990. Put in your own, check by check:

```toml
[choose.chance]
frost = "5 %"
```
"""
DEMONSTRATION = "fernhill-allotments"
OWN = "earthfast.checks"


@cache
def check_lines() -> dict[str, CheckLine]:
    """Each check as the allotment job shows it, for the names of demand and capacity."""
    with as_file(files("earthfast.job") / "demonstrations" / f"{DEMONSTRATION}.toml") as path:
        answer = choose_for(load_job(path)).answer
    return {line.name: line for area in answer.areas for way in area.ways for line in way.checks}


def checks_page() -> str:
    """Every check, and every relation once."""
    relations: dict[str, Relation] = {}
    blocks: list[str] = []
    for name in CheckName:
        found = relations_of(CHECKS[name].judge)
        relations |= found
        blocks += _check(CHECKS[name], found)
    shown = (text for name in sorted(relations) for text in _relation(relations[name]))
    return page(OPENING, *blocks, CHANCES, _targets(), "## Relations", *shown)


def _check(check: Check, found: dict[str, Relation]) -> Iterator[str]:
    yield f"## {check.name.capitalize()}"
    yield f"{check.question} {inspect.getdoc(check.judge)}"
    line = check_lines().get(check.name.value)
    sides = (
        ("demand", line.demand.label if line else ""),
        ("capacity", line.capacity.label if line else ""),
        ("where it fails", f"{check.falls}"),
        ("rests on", ", ".join(f"[`{name}`](#{name})" for name in sorted(found))),
    )
    yield table(("", ""), sides)


def _targets() -> str:
    structural = ", ".join(STRUCTURAL)
    rows = ((f"`{one.value}`", *(f"{share:.1%}" for share in TARGETS[one])) for one in Consequence)
    return table(("consequence", structural, "all others"), rows)


def _relation(described: Relation) -> Iterator[str]:
    yield f"### `{described.name}`"
    yield described.sentence
    yield described.notes
    lines = []
    for source in source_lines(described.sources):
        place = f", {source.place}" if source.place else ""
        lines.append(f"- {source.citation.rstrip('.')}{place} ({source.words})")
    yield "\n".join(lines)


def relations_of(judge: Callable[..., object]) -> dict[str, Relation]:
    """Every relation with sources that a judging function reaches, by following the names in its code."""
    found: dict[str, Relation] = {}
    waiting: list[object] = [judge]
    seen: set[int] = set()
    while waiting:
        thing = inspect.unwrap(waiting.pop())  # of a function whose answers are kept, the function
        if id(thing) in seen:
            continue
        seen.add(id(thing))
        if isinstance(thing, type) and thing.__module__.startswith(OWN):
            waiting += vars(thing).values()
        if not isinstance(thing, FunctionType):
            continue
        described = relation(thing)
        if described.sources:
            found[described.name] = described
        if thing.__module__.startswith(OWN):
            waiting += [
                thing.__globals__[name] for name in _names(thing.__code__) if name in thing.__globals__
            ]
    return found


def _names(code: CodeType) -> Iterator[str]:
    yield from code.co_names
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield from _names(constant)
