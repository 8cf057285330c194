"""The page of the marks that say how a figure came to us."""

from __future__ import annotations

from docs.generate.markdown import page, table
from earthfast.estimate import Origin
from earthfast.sources import Status

OPENING = """# Statuses and origins

Every relation, table and default carries a mark that says how it came to us. `earthfast why` and the calculation sheet
print it beside the source. The mark speaks of our reading, not of the quality of the source: *from memory* means that nobody
has held the figure against the document it is attributed to. This page is made from the program.
"""
ORIGINS = "## Origins\n\nEvery figure of a job's trail also says how it came into the calculation."
USE = {
    Status.SEEN: "Trust the transcription; still look whether the source fits your case.",
    Status.MEMORY: "Look it up before you rest a contract on it.",
    Status.COMPUTED: "An exact solution, a definition or a second method; no document is needed.",
    Status.PROPOSED: "A judgement of ours. Replace it where you have a better one.",
    Status.COMMON_PRACTICE: "What the trade does. Nobody need have shown that it works.",
    Status.USER: "As good as what you typed.",
    Status.INVENTED: "Never rest a decision on it; put your own figure in.",
}


def statuses_page() -> str:
    """Every status and every origin."""
    rows = ((f"`{status.value}`", status.words, USE[status]) for status in Status)
    origins = ((f"{origin.value}", ORIGIN_WORDS[origin]) for origin in Origin)
    return page(OPENING, table(("mark", "means", "so"), rows), ORIGINS, table(("origin", "means"), origins))


ORIGIN_WORDS = {
    Origin.GIVEN: "You typed it in the job file.",
    Origin.OBSERVED: "Estimated from what was seen and measured, with the width that leaves.",
    Origin.ASSUMED: "Not given, so taken as usual; listed under Assumed with source and effect.",
    Origin.DERIVED: "By a relation that stands beside it.",
}
