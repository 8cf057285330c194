"""The document's shape: what is optional, what is described, what the ground gives to it."""

from __future__ import annotations

import json
import re
import tomllib
from datetime import date
from pathlib import Path

import jsonschema
import pytest

from earthfast.ground.observation import OBSERVATION_KINDS, Observer
from earthfast.job import (
    Job,
    LoadedJob,
    NewJobAnswers,
    PriceList,
    job_reference,
    load_job,
    new_job_text,
    read_job,
    schema_text,
)
from earthfast.job.observations import MEASURED, OBSERVATION_MODELS
from earthfast.job.schema import SCHEMA_FILE
from earthfast.job.units import written
from earthfast.job.wording import accepted_words, field_shape, model_of

ROOT = Path(__file__).parent.parent.parent
BASE = (Path(__file__).parent / "base_job.toml").read_text(encoding="utf-8")
DEMONSTRATIONS = sorted((ROOT / "src" / "earthfast" / "job" / "demonstrations").glob("*.toml"))
SCHEMA = jsonschema.Draft202012Validator(json.loads(schema_text()))


def as_json(text):
    return json.loads(json.dumps(tomllib.loads(text), default=lambda value: value.isoformat()))


def models(model=Job):
    yield model
    for field in model.model_fields.values():
        inner = model_of(field_shape(field))
        if inner is not None:
            yield from models(inner)


ALL_MODELS = list(dict.fromkeys([*models(), *models(PriceList), *OBSERVATION_MODELS.values()]))


@pytest.mark.parametrize("model", ALL_MODELS, ids=lambda model: model.__name__)
def test_every_key_says_what_it_means_and_what_it_accepts(model):
    assert model.__doc__
    assert model.model_config["extra"] == "forbid"
    for name, field in model.model_fields.items():
        assert (field.description or "").endswith("."), name
        assert accepted_words(field_shape(field))


def test_only_heading_plan_use_and_one_observation_are_needed():
    needed = {field.alias or name for name, field in Job.model_fields.items() if field.is_required()}
    assert needed == {"schema_version", "job", "plan", "use", "observation"}


@pytest.mark.parametrize("model", ALL_MODELS, ids=lambda model: model.__name__)
def test_nothing_is_assumed_silently(model):
    for name, field in model.model_fields.items():
        if not field.is_required():
            default = field.get_default(call_default_factory=True)
            assert default in (None, (), {}, False), f"{model.__name__}.{name} hides the default {default}"


@pytest.mark.parametrize("path", DEMONSTRATIONS, ids=lambda path: path.stem)
def test_demonstration_loads_fits_the_schema_and_says_it_is_invented(path):
    loaded = load_job(path)
    SCHEMA.validate(as_json(loaded.text))
    assert loaded.job.heading.invented
    assert "invented" in loaded.text.split("schema_version")[0]
    assert all(entry.row() for entry in loaded.job.observations)


@pytest.mark.parametrize("kind", OBSERVATION_KINDS.values(), ids=lambda kind: kind.kind)
def test_an_ordinary_outcome_of_every_observation_is_within_its_limits(kind):
    def in_words(value, entry):
        if entry.dimension in MEASURED:
            return written(value, MEASURED[entry.dimension])
        return value

    fields = {}
    for entry in kind.fields:
        value = getattr(kind.example, entry.name)
        if value is not None:
            fields[entry.name] = (
                [in_words(one, entry) for one in value] if entry.many else in_words(value, entry)
            )
    row = (
        OBSERVATION_MODELS[kind.kind]
        .model_validate({"kind": kind.kind, "depth": kind.deepest, **fields})
        .row()
    )
    assert type(row) is kind.row_type


def test_demonstrations_are_the_scenarios_they_claim():
    fernhill, marl_lane = (load_job(path).job for path in DEMONSTRATIONS)
    sizes = [(area.length.low, area.width.low) for area in fernhill.plan.areas]
    assert sizes == [(4.2, 3.0), (14.0, 1.2)]
    assert fernhill.strata[0].bottom.low == pytest.approx(0.150)
    assert (marl_lane.plan.areas[0].length.low, marl_lane.plan.areas[0].width.low) == (22.0, 14.0)
    assert sum(entry.kind == "cone penetrometer" for entry in marl_lane.observations) == 11


def test_stored_schema_is_up_to_date():
    assert SCHEMA_FILE.read_text(encoding="utf-8") == schema_text(), "run `make docs`"


def test_schema_is_a_schema_and_refuses_what_loading_refuses():
    jsonschema.Draft202012Validator.check_schema(SCHEMA.schema)
    SCHEMA.validate(as_json(BASE))
    for before, after in [
        ('length = "14 m"', 'length = "14"'),
        ('length = "14 m"', "length = 14"),
        ('length = "14 m"', 'length = "14 kg"'),
        ('length = "14 m"', 'lenght = "14 m"'),
        ('season = "wet"', 'season = "wett"'),
        ('wanted = "1 in 60"', 'wanted = "60"'),
        ('most_price = "£1500"', 'most_price = "1500"'),
        ("people = 2", "people = 0"),
        ('kind = "thread"', 'kind = "thred"'),
    ]:
        assert not SCHEMA.is_valid(as_json(BASE.replace(before, after, 1))), after


def test_reference_page_is_up_to_date_and_names_every_key():
    page = (ROOT / "docs" / "reference" / "job-file.md").read_text(encoding="utf-8")
    assert page == job_reference(), "run `make docs`"
    for model in ALL_MODELS:
        for name, field in model.model_fields.items():
            assert f"`{field.alias or name}`" in page
    for kind in OBSERVATION_KINDS:
        assert f"### `{kind}`" in page


def test_every_kind_of_the_ground_can_be_written_in_a_job():
    assert set(OBSERVATION_MODELS) == set(OBSERVATION_KINDS)
    for name, kind in OBSERVATION_KINDS.items():
        fields = OBSERVATION_MODELS[name].model_fields
        for entry in kind.fields:
            assert fields[entry.name].is_required() == entry.required, (name, entry.name)


def test_observation_reaches_the_ground_in_si():
    row = read_job(BASE).job.observations[1].row()
    assert row.blows == (3, 3, 2)
    assert row.depths == pytest.approx((0.18, 0.26, 0.35))
    assert row.start == pytest.approx(0.1)
    thread = read_job(BASE).job.observations[0].row()
    assert (thread.depth, thread.x, thread.y) == pytest.approx((0.3, 2.0, 1.0))
    assert thread.observer is Observer.HOUSEHOLDER


def test_dates_are_read_bare_and_in_quotes():
    job = read_job(BASE).job
    assert job.heading.date == date(2026, 11, 25)
    assert job.prices.date == date(2026, 10, 1)


def test_what_was_typed_is_kept_as_typed():
    loaded = read_job(BASE)
    assert isinstance(loaded, LoadedJob)
    assert str(loaded.job.binder.dose) == "4..9 %"
    assert str(loaded.job.choose.most_price) == "£1500"
    again = Job.model_validate(json.loads(loaded.job.model_dump_json(by_alias=True, exclude_none=True)))
    assert again == loaded.job


def test_line_of_a_field_is_known_after_loading():
    loaded = read_job(BASE)
    assert "thickness" in BASE.split("\n")[loaded.line("use", 0, "paving", "thickness") - 1]
    assert loaded.line("use", 0, "paving", "bedding") == loaded.line("use", 0, "paving")


def test_new_job_is_valid_as_written():
    answers = NewJobAnswers('A "quoted" path \\ yard', "14 m", "4 ft", loads=("person", "wheelbarrow"))
    job = read_job(new_job_text(answers)).job
    assert job.heading.title == answers.title
    assert [load.name for load in job.uses[0].loads] == ["person", "wheelbarrow"]


def commented_keys():
    blocks = new_job_text(NewJobAnswers("A path", "14 m", "1.2 m")).split("\n\n")
    for number, block in enumerate(blocks):
        for row in block.split("\n"):
            if row.startswith("# ") and " = " in row:
                yield pytest.param(blocks, number, row, id=f"{number} {row[2:30]}")


# keys that mean nothing without another
TOGETHER = {
    "# [use.paving]": ["kind"],
    "# [[stratum]]": ["name", "top"],
    "# [binder]": ["bags", "bags_over"],
    "# [weights]": ["price"],
}


@pytest.mark.parametrize(("blocks", "number", "row"), list(commented_keys()))
def test_every_commented_key_of_a_new_job_can_be_uncommented(blocks, number, row):
    rows = blocks[number].split("\n")
    header = next((one for one in rows if re.match(r"# \[", one)), "")
    partners = tuple(f"# {key} = " for key in TOGETHER.get(header, ()))
    wanted = [one for one in rows if one in (header, row) or one.startswith(partners or "#!")]
    changed = "\n".join(one.removeprefix("# ") if one in wanted else one for one in rows)
    text = "\n\n".join([*blocks[:number], changed, *blocks[number + 1 :]])
    assert text != "\n\n".join(blocks)
    read_job(text)


def test_closed_choices_stand_beside_their_key_as_they_are_typed():
    text = new_job_text(NewJobAnswers("A path", "14 m", "1.2 m"))
    assert re.search(r"^# frost_rule = .*'UK', 'German', 'US'\.$", text, re.MULTILINE)
    assert re.search(r"^# skill = .*'first time', 'practised'\.$", text, re.MULTILINE)
