"""Texts on show have typographic quotes; what is typed as it stands keeps its own."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
#: The straight sign after a figure is that of inches; within tags it belongs to the mark-up.
ALLOWED = re.compile(r"(?<=\d)\"|<[^>]*>|https?://\S+")


def shown_texts(source: str) -> Iterator[tuple[int, str]]:
    """Line and text of everything that goes through the wrapper of texts."""
    for node in ast.walk(ast.parse(source)):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args):
            continue
        told = node.args[0]
        if node.func.id in ("tr", "mark") and isinstance(told, ast.Constant):
            yield told.lineno, str(told.value)


def straight(text: str) -> bool:
    """Whether a text has a straight quote or apostrophe that a reader would see."""
    return bool(re.search(r"[\"']", ALLOWED.sub("", text)))


def test_no_text_on_show_has_straight_quotes():
    texts = [
        (f"{file.relative_to(HOUSE)}:{line}: {text}", text)
        for file in sorted((HOUSE / "designer").rglob("*.py"))
        for line, text in shown_texts(file.read_text(encoding="utf-8"))
    ]
    assert len(texts) > 1_000
    assert [place for place, text in texts if straight(text)] == []


def test_no_page_of_the_guide_has_straight_apostrophes():
    pages = sorted((HOUSE / "designer" / "guide" / "en").glob("*.md"))
    assert len(pages) > 8
    for page in pages:
        prose = re.sub(r"```.*?```|`[^`]*`", "", page.read_text(encoding="utf-8"), flags=re.S)
        assert re.findall(r"\w'\w", prose) == [], page.name


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("the ball's middle", True), ('called "top"', True), ("the ball’s middle", False),
        ('under 1/16"', False), ("<font size='11'>x</font>", False),
    ],
)  # fmt: skip
def test_straight_quotes_are_found(text, wrong):
    assert straight(text) == wrong
