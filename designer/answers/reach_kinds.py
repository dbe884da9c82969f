"""What a strike can come to, as the reach map shows it: each with a word, a tint and a hatch."""

from __future__ import annotations

from dataclasses import dataclass

from designer.drawing.look import INK, PAPER
from designer.texts import mark


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of region: its word, the ground it is painted on, its hatch and the hatch's ink.

    `hatch` is "", "rising", "falling", "crossed", "upright", "level", "dots" or "dense".
    """

    word: str
    ground: str
    hatch: str
    ink: str = INK


#: In the order of the key below the map. Grounds are tints of Okabe & Ito's colours.
THREADS, EDGE, BLOCKED, MISSES, NOT_POTTED, STOPS_SHORT, IN_OFF, NO_ROOM = range(8)
KINDS: tuple[Kind, ...] = (
    Kind(mark("threads"), "#8fd0b8", ""),
    Kind(mark("touches an edge"), "#f6dfae", "rising", "#b98412"),
    Kind(mark("blocked"), "#eec4ae", "crossed", "#a84a10"),
    Kind(mark("misses"), PAPER, "dots", "#8a9296"),
    Kind(mark("not potted"), "#dcd3e4", "upright", "#7d5f8f"),
    Kind(mark("stops short"), "#d5e4ef", "level", "#5485a8"),
    Kind(mark("in-off"), "#c9ccce", "falling", "#33393c"),
    Kind(mark("no room for the cue"), "#e6e2d8", "dense", "#8c8471"),
)
