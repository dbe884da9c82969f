"""The library: folders of routine files, an index of them, search and near-duplicates."""

from engine.library.alike import alike, compared, families
from engine.library.facts import facts_of, skills_of
from engine.library.library import Library, tag_file
from engine.library.typed import as_argument, query_of
from engine.library.values import (
    SKILLS,
    Entry,
    Facts,
    Layout,
    LibraryError,
    Pair,
    Query,
    Scan,
)

__all__ = [
    "SKILLS",
    "Entry",
    "Facts",
    "Layout",
    "Library",
    "LibraryError",
    "Pair",
    "Query",
    "Scan",
    "alike",
    "as_argument",
    "compared",
    "facts_of",
    "families",
    "query_of",
    "skills_of",
    "tag_file",
]
