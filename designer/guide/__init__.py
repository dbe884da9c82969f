"""The user's guide: one folder of Markdown pages a language, and the pictures they share.

The pictures are made by `.ci/guide_pictures.py`; `tests/designer/guide` holds every menu, button,
key and command the pages mention against the program itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).resolve().parent
PICTURES = FOLDER / "pictures"
#: The pages in reading order.
ORDER = (
    "index",
    "first-routine",
    "prediction",
    "how-far",
    "your-table",
    "lesson",
    "handouts",
    "files",
    "commands",
    "glossary",
    "what-is-new",
)


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its name, its title as a reader sees it, and its file."""

    name: str
    title: str
    file: Path

    @property
    def text(self) -> str:
        """The Markdown of the page."""
        return self.file.read_text(encoding="utf-8")


def pages(language: str = "") -> tuple[Page, ...]:
    """The guide in that language ("de_AT", "de"), in English where there is none.

    >>> [page.title for page in pages()][:2]
    ['Guide to Baizewright', 'Your first routine']
    """
    names = (language, language.split("_")[0], "en")
    folder = next(FOLDER / name for name in names if name and (FOLDER / name / "index.md").exists())
    return tuple(
        Page(name, _title(file), file) for name in ORDER if (file := folder / f"{name}.md").exists()
    )


def _title(file: Path) -> str:
    first = file.read_text(encoding="utf-8").lstrip().partition("\n")[0]
    return first.lstrip("# ").strip()
