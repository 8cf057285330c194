"""The house rules that a tool can check."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
from pathlib import Path

import pint
import pytest

from earthfast.sources import bibliography, relation

ROOT = Path(__file__).parent.parent
SOURCE = ROOT / "src" / "earthfast"
MODULES = sorted(path for path in SOURCE.rglob("*.py"))
FLOORS = sorted(path.parent.name for path in SOURCE.glob("*/__init__.py"))
PHYSICS = ("ground", "loads", "elastic", "frost", "mixes")
BANNED = {
    *("utils", "util", "helpers", "helper", "common", "misc", "manager", "handler"),
    *("processor", "service", "data", "info", "process"),
}
BANNED_WORDS = {"Project", "Study", "Platform", "Option", "Alternative", "Scenario", "Score", "Subgrade"}
UNITS = pint.UnitRegistry()


def public_objects(floor):
    package = importlib.import_module(f"earthfast.{floor}")
    return {name: getattr(package, name) for name in getattr(package, "__all__", [])}


def public_functions(floors):
    for floor in floors:
        for name, thing in public_objects(floor).items():
            if inspect.isfunction(thing):
                yield pytest.param(thing, id=f"{floor}.{name}")


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_module_is_short_and_its_functions_are_too(path):
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 600
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            body = [
                n for n in node.body if not (isinstance(n, ast.Expr) and isinstance(n.value, ast.Constant))
            ]
            if body:
                length = body[-1].end_lineno - body[0].lineno + 1
                assert length <= 40, f"{node.name} has {length} lines"


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_names_say_what_things_are(path):
    assert path.stem not in BANNED
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            words = set(re.sub(r"([a-z])([A-Z])", r"\1_\2", node.name).lower().split("_"))
            assert not words & (BANNED - {"common"}), node.name
            assert "_v2" not in node.name
            assert not any(word in node.name for word in BANNED_WORDS), node.name


@pytest.mark.parametrize("floor", FLOORS)
def test_all_is_sorted_and_complete(floor):
    package = importlib.import_module(f"earthfast.{floor}")
    names = list(getattr(package, "__all__", []))
    assert names == sorted(names)
    imported = {
        alias.asname or alias.name
        for node in ast.walk(ast.parse((SOURCE / floor / "__init__.py").read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module != "__future__"
        for alias in node.names
    }
    if names:
        assert set(names) == imported


@pytest.mark.parametrize("floor", FLOORS)
def test_glossary_knows_every_public_name(floor):
    names = public_objects(floor)
    if names:
        page = (ROOT / "docs" / "glossary" / f"{floor}.md").read_text(encoding="utf-8")
        missing = [name for name in names if f"`{name}`" not in page]
        assert not missing


@pytest.mark.parametrize("function", list(public_functions(PHYSICS)))
def test_relation_names_units_equation_and_sources(function):
    described = relation(function)
    assert described.sentence
    assert described.notes, "Notes with the equation, the symbols and the range"
    assert described.sources, "References: key, place [S]"
    parameters = set(inspect.signature(function).parameters)
    assert parameters <= set(described.parameter_units), parameters - set(described.parameter_units)
    for note in described.sources:
        assert note.key in bibliography(), note.key


@pytest.mark.parametrize("function", list(public_functions(PHYSICS)))
def test_bracketed_units_are_units(function):
    for line in (inspect.getdoc(function) or "").splitlines():
        match = re.search(r"\[([^\]]+)\]\s*$", line)
        if match and (" : " in line or line.startswith("    ")):
            unit = match[1]
            if unit not in {"-", "S", "M", "C", "P", "CP", "GBP"}:
                UNITS.parse_units(unit.replace("·", "*").replace("°C", "degC"))


def test_every_document_of_the_bibliography_is_cited():
    folders = [ROOT / "src" / "earthfast", ROOT / "tests", ROOT / "docs"]
    text = "\n".join(
        path.read_text(encoding="utf-8")
        for folder in folders
        for path in folder.rglob("*")
        if path.suffix in {".py", ".toml", ".md"}
    )
    assert [key for key in bibliography() if not re.search(rf"\b{key}\b", text)] == []


def test_a_relation_and_its_check_values_name_one_status_for_one_document():
    """Read in a reprint or not is said once: by the relation, its table and its check values alike."""
    statuses = {
        status
        for path in [*(ROOT / "src").rglob("*.py"), *(ROOT / "src").rglob("*.toml")]
        for status in re.findall(
            r"bs_5837[^\n\[\"]*(?:\[|\"\nstatus = \")([A-Z]+)", path.read_text(encoding="utf-8")
        )
    }
    assert statuses == {"S"}
