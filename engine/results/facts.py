"""A fact: a kind and the figures, balls, gaps… it is about; whoever shows it finds the words.

No branch may hang on the words of a fact, and none needs to: `kind` is one of a closed list,
`designer.words.facts` has a message for each.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.errors import BaizewrightError


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing found, as values: what is not part of a kind stays empty.

    `mm` and `deg` are the room, miss or angle of the kind, `was_…` what it was before a change,
    `size_mm` how large a ball is, `share` a fullness;
    `tip` and `pace` a strike with its word; `then` another fact that belongs to this one; `error`
    why something could not be asked at all.

    >>> Fact("passes-ball", ball="red-1", mm=12.5).kind
    'passes-ball'
    """

    kind: str
    ball: str = ""
    other: str = ""
    cushion: str = ""
    pocket: str = ""
    gap: str = ""
    shot: str = ""
    lane: str = ""
    name: str = ""
    names: tuple[str, ...] = ()
    mm: float | None = None
    was_mm: float | None = None
    size_mm: float | None = None
    deg: float | None = None
    share: float | None = None
    m_s: float | None = None
    was_m_s: float | None = None
    tip: float | None = None
    pace: float | None = None
    count: int | None = None
    after_cushions: int = 0
    then: Fact | None = None
    error: BaizewrightError | None = None
