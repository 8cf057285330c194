"""Every generated page by its place in the repository."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from docs.generate.answers import answers_page
from docs.generate.cautions import cautions_page
from docs.generate.checks import checks_page
from docs.generate.command_line import command_line_page
from docs.generate.statuses import statuses_page
from earthfast.job import job_reference
from earthfast.job.schema import schema_text

ROOT = Path(__file__).parents[2]
PAGES: dict[str, Callable[[], str]] = {
    "docs/reference/answers.md": answers_page,
    "docs/reference/cautions.md": cautions_page,
    "docs/reference/checks.md": checks_page,
    "docs/reference/cli.md": command_line_page,
    "docs/reference/job-file.md": job_reference,
    "docs/reference/statuses.md": statuses_page,
    "src/earthfast/job/job.schema.json": schema_text,
}
