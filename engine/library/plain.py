"""Texts as plain words, so that searching does not depend on case, accents or signs."""

from __future__ import annotations

import unicodedata


def plain_words(text: str) -> str:
    """The words of a text, small letters and digits only, each with a space before it.

    >>> plain_words("Café – 2 reds!")
    ' cafe 2 reds'
    """
    apart = unicodedata.normalize("NFKD", text.casefold())
    kept = (
        letter if letter.isalnum() else " " for letter in apart if not unicodedata.combining(letter)
    )
    return "".join(f" {word}" for word in "".join(kept).split())
