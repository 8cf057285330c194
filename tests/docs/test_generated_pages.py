"""Generated pages say what the program says, and retold runs show what it prints."""

from __future__ import annotations

import pytest

from docs.generate import PAGES, ROOT, retold, told_pages
from docs.generate.retelling import agrees


@pytest.mark.parametrize("name", PAGES)
def test_page_is_as_the_program_makes_it(name):
    kept = (ROOT / name).read_text(encoding="utf-8")
    assert kept == PAGES[name](), "run `make docs`"


@pytest.mark.slow
@pytest.mark.parametrize("path", told_pages(), ids=lambda path: str(path.relative_to(ROOT)))
def test_commands_of_a_page_run_and_print_what_it_shows(path):
    kept = path.read_text(encoding="utf-8")
    fresh = retold(kept)
    assert agrees(kept, fresh), f"run `make docs`; it prints now:\n{fresh}"


@pytest.mark.parametrize(
    ("old", "new", "same"),
    [
        ("costs £2,441 (1,773 to 3,554)", "costs £2,443 (1,770 to 3,560)", True),
        ("costs £2,441", "costs £2,541", False),
        ("chance 12 %", "risk 12 %", False),
        ("0.0", "0.0", True),
        ("1 way", "1 way, 2 more", False),
    ],
)
def test_retold_runs_agree_in_words_and_nearly_in_numbers(old, new, same):
    assert agrees(old, new) is same


def test_a_retold_run_that_ends_otherwise_than_told_is_refused():
    with pytest.raises(RuntimeError, match="ended with 3"):
        retold("```console\n$ exit 3\n```\n")


def test_an_excerpt_shows_only_what_was_asked_for():
    page = "<!-- shows: two .. three -->\n```console\n$ printf 'one\\ntwo\\nthree\\nfour\\n'\nold\n```\n"
    body = "$ printf 'one\\ntwo\\nthree\\nfour\\n'\n[...]\ntwo\nthree\n[...]\n"
    assert retold(page) == f"<!-- shows: two .. three -->\n```console\n{body}```\n"
