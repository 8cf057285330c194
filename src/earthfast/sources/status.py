"""How a figure came to us."""

from __future__ import annotations

from enum import StrEnum


class Status(StrEnum):
    """The marks of the reference sheets, and two for what a job itself holds."""

    SEEN = "S"
    MEMORY = "M"
    COMPUTED = "C"
    PROPOSED = "P"
    COMMON_PRACTICE = "CP"
    USER = "U"
    INVENTED = "I"

    @property
    def words(self) -> str:
        """The mark in words, as shown to a person."""
        return WORDS[self]


WORDS = {
    Status.SEEN: "read in the source named",
    Status.MEMORY: "from memory, not checked against the source",
    Status.COMPUTED: "computed independently",
    Status.PROPOSED: "our own proposal, no publication behind it",
    Status.COMMON_PRACTICE: "common practice, no source",
    Status.USER: "given in the job",
    Status.INVENTED: "invented for demonstration",
}
