"""Files that are no job at all, and the lines that messages point at."""

from __future__ import annotations

import time
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from earthfast.job import JobProblems, load_job, load_price_list, read_job
from earthfast.job.load import DEEPEST, LARGEST
from earthfast.job.positions import line_map, line_of, path_words

BASE = (Path(__file__).parent / "base_job.toml").read_text(encoding="utf-8")


def only_problem(call, *arguments):
    with pytest.raises(JobProblems) as caught:
        call(*arguments)
    (problem,) = caught.value.problems
    return problem


def test_missing_file_and_folder_are_named(tmp_path):
    assert "no such file" in only_problem(load_job, tmp_path / "none.toml").found
    assert "a folder" in only_problem(load_job, tmp_path).found


def test_unreadable_file_is_told_without_a_traceback(tmp_path, monkeypatch):
    path = tmp_path / "job.toml"
    path.write_text(BASE, encoding="utf-8")

    def refuse(*_arguments, **_more):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert "Permission denied" in only_problem(load_job, path).found


@pytest.mark.parametrize("content", [b"", b"\n \n", "\ufeff".encode()])
def test_empty_file_is_told(tmp_path, content):
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    assert "empty" in only_problem(load_job, path).found


def test_binary_file_is_told(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"\x7fELF\x02\x01\x01\x00\x00")
    assert "binary" in only_problem(load_job, path).found


def test_other_encodings_are_told_with_their_line(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(BASE.replace("A path", "Café").encode("latin-1", errors="replace"))
    problem = only_problem(load_job, path)
    assert "UTF-8" in problem.found
    assert problem.line == 4


def test_byte_order_mark_and_windows_line_ends_are_read(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + BASE.replace("\n", "\r\n").encode())
    assert load_job(path).job == read_job(BASE).job


def test_large_file_is_refused_without_reading_it_all(tmp_path):
    path = tmp_path / "job.toml"
    with path.open("wb") as stream:
        stream.write(b"# ")
        stream.truncate(50_000_000)
    started = time.perf_counter()
    assert f"more than {LARGEST // 1000} kB" in only_problem(load_job, path).found
    assert time.perf_counter() - started < 0.5


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 10_000,
        "a = " + "[" * 10_000 + "]" * 10_000,
        "a = " + "{ b = " * 5_000 + "1" + "}" * 5_000,
        "[" + ".".join(["a"] * 100_000) + "]",
        ".".join(["a"] * 100_000) + " = 1",
        "\n".join(f"a{i} = [" for i in range(10_000)),
    ],
    ids=["open", "lists", "tables", "header", "key", "lines"],
)
def test_deep_nesting_is_refused_quickly(text):
    started = time.perf_counter()
    problem = only_problem(read_job, text)
    assert f"more than {DEEPEST} levels" in problem.found
    assert time.perf_counter() - started < 2.0


def test_brackets_in_text_and_comments_are_not_nesting():
    note = "[" * 50 + "." * 50
    text = BASE.replace('title = "A path"', f'title = "A path"\nnote = "{note}" # {note}', 1)
    assert read_job(text).job.heading.note == note


def test_a_number_of_ten_thousand_digits_is_refused():
    with pytest.raises(JobProblems):
        read_job(BASE.replace("people = 2", "people = " + "9" * 10_000))


@settings(max_examples=200)
@given(st.text(max_size=200))
def test_any_text_is_a_job_or_problems(text):
    with pytest.raises(JobProblems) as caught:
        read_job(text)
    assert caught.value.problems


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(BASE) - 1), st.integers(0, 12), st.text(max_size=6))
def test_any_small_damage_is_a_job_or_located_problems(at, length, inserted):
    try:
        read_job(BASE[:at] + inserted + BASE[at + length :])
    except JobProblems as problems:
        for problem in problems.problems:
            assert problem.found
            assert problem.accepted


def leaves(value, path=()):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from leaves(inner, (*path, index))
    else:
        yield path, value


ODD = '''
"quoted key" = 1 # comment with ] and "
bare.dotted."with.dot" = 'a # no comment'
many = [
  "first", # [
  ["inner", {x = 1, y.z = "}"}],
  """
text over
lines with \\" and ] """,
]
[a.b]
c = 2026-11-25
[[a.list]]
n = 1
[[a.list]]
n = 2
[a.list.below]
deep = \'\'\'it's\'\'\'
'''


def test_every_value_of_an_odd_file_has_its_line():
    lines = line_map(ODD)
    rows = ODD.split("\n")
    found = dict(leaves(tomllib.loads(ODD)))
    assert set(found) <= set(lines)
    marks = {
        ("quoted key",): '"quoted key"',
        ("bare", "dotted", "with.dot"): "bare.dotted",
        ("many", 0): '"first"',
        ("many", 1, 0): '["inner"',
        ("many", 1, 1, "y", "z"): '["inner"',
        ("many", 2): '"""',
        ("a", "b", "c"): "c =",
        ("a", "list", 0, "n"): "n = 1",
        ("a", "list", 1, "n"): "n = 2",
        ("a", "list", 1, "below", "deep"): "deep",
    }
    for path, mark in marks.items():
        assert mark in rows[lines[path] - 1], path


def test_a_missing_field_points_at_the_table_around_it():
    lines = line_map(BASE)
    assert line_of(lines, ("site", "climate", "preset")) == lines["site", "climate"]
    assert line_of(lines, ("nothing",)) is None


def test_lists_are_counted_from_one_in_words():
    assert path_words(("plan", "area", 0, "outline", "points", 2, 1)) == "plan.area[1].outline.points[3][2]"


def test_price_list_is_read_and_its_currency_held(tmp_path):
    path = tmp_path / "prices.toml"
    head = 'title = "Merchant"\ncurrency = "GBP"\ndate = 2026-05-01\n'
    path.write_text(head + '[[price]]\nkey = "cement_bag"\nprice = "5.50..8.50 GBP/bag"\n', encoding="utf-8")
    prices = load_price_list(path)
    assert prices.rows[0].price.high == 8.5
    path.write_text(head + '[[price]]\nkey = "cement_bag"\nprice = "5.50 EUR/bag"\n', encoding="utf-8")
    assert only_problem(load_price_list, path).where == "price[1].price"
    path.write_text(head + '[[price]]\nkey = "cement_bag"\nprise = "5.50 GBP/bag"\n', encoding="utf-8")
    with pytest.raises(JobProblems, match="did you mean 'price'"):
        load_price_list(path)
