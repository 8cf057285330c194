from __future__ import annotations

from importlib.resources import files

import pytest

from earthfast.job import read_job

ALLOTMENT = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text(
    encoding="utf-8"
)


@pytest.fixture
def allotment_text():
    return ALLOTMENT


@pytest.fixture
def changed():
    """The allotment job with pieces of its text replaced, read anew."""

    def job(*replacements, path=None):
        text = ALLOTMENT
        for old, new in replacements:
            assert old in text, old
            text = text.replace(old, new)
        return read_job(text, path)

    return job
