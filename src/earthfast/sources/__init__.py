"""Where figures come from: bibliography, published tables, the relation behind a formula."""

from earthfast.sources.bibliography import Reference, bibliography
from earthfast.sources.relation import Relation, SourceNote, docstring_sections, relation, source_note
from earthfast.sources.status import Status
from earthfast.sources.tables import Table, read_table

__all__ = [
    "Reference",
    "Relation",
    "SourceNote",
    "Status",
    "Table",
    "bibliography",
    "docstring_sections",
    "read_table",
    "relation",
    "source_note",
]
