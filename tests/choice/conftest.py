from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from earthfast.job import load_job
from earthfast.stages.choose import candidates_of
from earthfast.stages.understanding import understand


@pytest.fixture(scope="session")
def demonstration():
    """Area, and every candidate, of a demonstration job."""

    def of(name, place=0):
        path = Path(str(files("earthfast.job"))) / "demonstrations" / f"{name}.toml"
        understanding = understand(load_job(path))
        area = understanding.areas[place]
        return area, candidates_of(area, understanding)

    return of


@pytest.fixture(scope="session")
def hall(demonstration):
    return demonstration("marl-lane-hall")


@pytest.fixture(scope="session")
def allotment(demonstration):
    return demonstration("fernhill-allotments")
