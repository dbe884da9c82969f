"""What the library knows of a routine file, what it can be asked for, and what it finds."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine.errors import BaizewrightError, OutOfRangeError, short

#: What a routine trains, as a coach would sort it. Found in its shots and gaps; see `facts`.
SKILLS: tuple[str, ...] = (
    "top",
    "stun",
    "screw",
    "run-through",
    "side",
    "pace",
    "cannon",
    "cushion",
    "in order",
)
#: Words for several pockets at once, beside the pockets' own names.
POCKET_WORDS: tuple[str, ...] = ("top", "middle", "bottom", "left", "right")
#: No routine has more of anything.
_LARGEST = 1_000_000


class LibraryError(BaizewrightError):
    """The index cannot be made or read where it was asked for."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the balls of a routine stand: `kinds` and centres (x, y) in mm, in the same order."""

    key: int
    table: str
    width_mm: float
    length_mm: float
    kinds: tuple[str, ...]
    places_mm: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """What can be told of a routine without playing a shot.

    `traits` are pairs (kind, value): "skill", "tag", "pocket", "contact" (fullness by its trade
    name), "gap" (its kind). `text` is everything a coach may search for in words.
    """

    title: str
    coach: str
    club: str
    level: int
    table: str
    shots: int
    gaps: int
    text: str
    traits: tuple[tuple[str, str], ...]
    layout: Layout


@dataclass(frozen=True, slots=True)
class Entry:
    """One routine file of the library, as the index knows it.

    `lowest_pace`: the least pace at which one of its gaps can be threaded, at a quick look; None
    when none can, it has none, or (`reach_known` False) nobody has looked yet. `fault` is what
    is wrong with a file that cannot be read as a routine; the rest is then empty.
    """

    key: int
    path: str
    digest: str
    title: str = ""
    coach: str = ""
    club: str = ""
    level: int = 0
    table: str = ""
    balls: int = 0
    shots: int = 0
    gaps: int = 0
    lowest_pace: float | None = None
    reach_known: bool = False
    skills: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Query:
    """What is looked for; every condition given must hold, lists need all of their values.

    `words` are looked for as beginnings of words in title, tags, names, notes and questions.
    `pockets` holds pocket ids or words of `POCKET_WORDS`. `pace_most`: a gap is reachable at that
    pace or less. `folder`: only below it. `faulty` asks for the files that cannot be read.
    `OutOfRangeError` for numbers that count or measure nothing.
    """

    words: str = ""
    skills: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()
    pockets: tuple[str, ...] = ()
    contacts: tuple[str, ...] = ()
    gap_kinds: tuple[str, ...] = ()
    level_least: int | None = None
    level_most: int | None = None
    balls_least: int | None = None
    balls_most: int | None = None
    pace_most: float | None = None
    table: str = ""
    folder: str = ""
    faulty: bool = False

    def __post_init__(self) -> None:
        for name in ("level_least", "level_most", "balls_least", "balls_most", "pace_most"):
            value = getattr(self, name)
            if value is not None and not abs(value) <= _LARGEST:
                what = f"{name.partition('_')[0]} of the search"
                raise OutOfRangeError(what, short(str(value)), f"a number up to {_LARGEST:,}")


@dataclass(frozen=True, slots=True)
class Scan:
    """What a look through the folders found: counts of files, and whether it was broken off."""

    seen: int = 0
    new: int = 0
    changed: int = 0
    gone: int = 0
    faulty: int = 0
    broken_off: bool = False
    unreadable: tuple[str, ...] = field(default=())

    @property
    def differs(self) -> bool:
        """Whether the index is another than before."""
        return bool(self.new or self.changed or self.gone)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two routines whose balls stand alike: `apart_mm` is the farthest any ball lies off.

    `mirrored`: "" as they are, "long" or "cross" when one is the other's mirror image across
    that line of the table, "both" across both.
    """

    one: int
    other: int
    apart_mm: float
    mirrored: str
