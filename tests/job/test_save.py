"""Saving: comments kept, whole or not at all, the version before kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from earthfast.job import (
    JobNotSaved,
    JobProblems,
    SpecimenEntry,
    load_job,
    previous_version,
    read_job,
    save_job,
    with_specimens,
)

BASE = (Path(__file__).parent / "base_job.toml").read_text(encoding="utf-8")
SPECIMEN = SpecimenEntry.model_validate(
    {
        "kind": "cylinder",
        "diameter": "100 mm",
        "height": "200 mm",
        "dose": "8 %",
        "age": "7 days",
        "made": "2026-11-25",
        "soaked": True,
        "failure_load": "9.5 kN",
        "note": 'a "good" one',
    }
)
WITHOUT_TRIAL = BASE[: BASE.index("[[trial.specimen]]")] + BASE[BASE.index("[weights]") :]


@pytest.mark.parametrize(
    ("text", "before"),
    [
        (BASE, 1),
        (WITHOUT_TRIAL, 0),
        (WITHOUT_TRIAL + '\n[trial]\ntarget_strength = "2 MPa"\n', 0),
        (WITHOUT_TRIAL.rstrip("\n"), 0),
    ],
    ids=["some", "no trial", "trial without specimens", "no last line end"],
)
def test_specimens_are_added_and_everything_else_stays_as_typed(text, before):
    commented = text.replace("[crew]", "# the neighbours\n[crew] # all two", 1)
    added = with_specimens(commented, [SPECIMEN, SPECIMEN])
    specimens = read_job(added).job.trial.specimens
    assert len(specimens) == before + 2
    assert specimens[-1] == SPECIMEN
    for line in commented.split("\n"):
        assert line in added
    assert read_job(added).job.model_copy(update={"trial": None}) == read_job(text).job.model_copy(
        update={"trial": None}
    )


@pytest.mark.parametrize(
    "inline",
    ['trial = { target_strength = "2 MPa" }', 'trial.specimen = [{ kind = "lump", dose = "5 %" }]'],
)
def test_a_trial_in_one_line_is_left_alone(inline):
    text = WITHOUT_TRIAL.replace("schema_version = 1", f"schema_version = 1\n{inline}", 1)
    read_job(text)
    with pytest.raises(JobNotSaved, match="one line"):
        with_specimens(text, [SPECIMEN])


def saved(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(BASE, encoding="utf-8")
    return path


def test_save_replaces_the_file_and_keeps_the_version_before(tmp_path):
    path = saved(tmp_path)
    text = with_specimens(BASE, [SPECIMEN])
    save_job(path, text, read_as=load_job(path).text)
    assert path.read_text(encoding="utf-8") == text
    assert previous_version(path).read_text(encoding="utf-8") == BASE
    assert sorted(one.name for one in tmp_path.iterdir()) == ["job.toml", "job.toml.previous"]


def test_save_keeps_the_mode_and_follows_a_link(tmp_path):
    path = saved(tmp_path)
    path.chmod(0o640)
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    save_job(link, with_specimens(BASE, [SPECIMEN]), read_as=BASE)
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert load_job(link).job.trial.specimens[-1] == SPECIMEN


def test_text_that_is_no_job_is_never_saved(tmp_path):
    path = saved(tmp_path)
    with pytest.raises(JobProblems):
        save_job(path, BASE.replace("people = 2", "people = 0"), read_as=BASE)
    assert path.read_text(encoding="utf-8") == BASE


def test_a_file_changed_in_the_meantime_is_left_alone(tmp_path):
    path = saved(tmp_path)
    path.write_text(BASE + "\n# edited\n", encoding="utf-8")
    with pytest.raises(JobNotSaved, match="in the meantime"):
        save_job(path, with_specimens(BASE, [SPECIMEN]), read_as=BASE)
    assert path.read_text(encoding="utf-8").endswith("# edited\n")


def test_a_failed_replacement_leaves_the_file_and_no_litter(tmp_path, monkeypatch):
    path = saved(tmp_path)

    def refuse(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(JobNotSaved, match="No space left"):
        save_job(path, with_specimens(BASE, [SPECIMEN]), read_as=BASE)
    assert path.read_text(encoding="utf-8") == BASE
    assert not [one for one in tmp_path.iterdir() if one.name.startswith(".")]
