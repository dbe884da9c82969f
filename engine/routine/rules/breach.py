"""One breach of a rule, told by path for a file and in words for the designer."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property
from typing import Any

from engine.errors import OutOfRangeError, listed, short

#: A near name is looked for among so many, and for a name of so many letters at most: it is slow.
_MOST_COMPARED, _LONGEST_COMPARED = 200, 60


class Names:
    """Names that can be referred to: asked thousands of times, listed and compared when told."""

    def __init__(self, names: Iterable[str]) -> None:
        self._names = tuple(names)
        self._set = frozenset(self._names)

    def __contains__(self, name: str) -> bool:
        return name in self._set

    @cached_property
    def listed(self) -> str:
        """The names in a sentence."""
        return listed(self._names, "none yet")

    def near(self, name: str) -> str:
        """The name that was probably meant, "" when none is near."""
        if len(name) > _LONGEST_COMPARED:
            return ""
        near = get_close_matches(name, self._names[:_MOST_COMPARED], n=1)
        return near[0] if near else ""


@dataclass(frozen=True, slots=True)
class Breach:
    """Where (`path` in the routine, `what` in words), what was given and what is wanted.

    `refers` names the family a reference points into ("balls", "shots"…), "" for other rules.
    `unknown` is a name that is not among those `known`.
    """

    path: str
    what: str
    got: str
    wanted: str
    hint: str = ""
    refers: str = ""
    unknown: str = ""
    known: Names | None = None

    @property
    def advice(self) -> str:
        """What to do, "" when there is nothing to say; worked out only when it is told."""
        near = self.known.near(self.unknown) if self.known is not None else ""
        return f"did you mean {shown(near)}?" if near else self.hint

    @property
    def message(self) -> str:
        """The sentence for a file, to stand after the path."""
        advice = self.advice
        tail = f"; {advice}" if advice else ""
        return f"is {self.got}, wanted {self.wanted}{tail}"


def hold(breaches: Iterable[Breach]) -> None:
    """Raise `OutOfRangeError` for the first breach, if there is any."""
    for breach in breaches:
        raise OutOfRangeError(breach.what, breach.got, breach.wanted, sentence(breach.advice))


def sentence(text: str) -> str:
    """With a capital and a full stop; nothing of nothing."""
    return f"{text[0].upper()}{text[1:]}." if text else ""


def shown(value: Any) -> str:
    """A value as it would stand in a file, shortened."""
    if isinstance(value, float) and not math.isfinite(value):
        return "not a number" if math.isnan(value) else "infinite"
    try:
        text = json.dumps(value, ensure_ascii=False)
    except (TypeError, ValueError):
        text = repr(value)
    return short(text)


def key_text(key: str) -> str:
    """A key as it stands in a path; one that would not fit on a line is written out.

    >>> key_text("x_mm"), key_text("a\\n")
    ('x_mm', "'a\\\\n'")
    """
    return short(key if key and key.isprintable() else repr(key))


def unknown(path: str, what: str, got: str, known: Names, wanted: str, refers: str = "") -> Breach:
    """The breach of a name that is not known; the nearest known name is offered."""
    return Breach(
        path, what, shown(got), f"{wanted}: {known.listed}", "", refers, unknown=got, known=known
    )


def number(
    path: str, what: str, value: float | None, low: float, high: float, unit: str = ""
) -> Iterator[Breach]:
    """A breach if a number is not finite or not within low..high; None is left alone."""
    if value is None or (math.isfinite(value) and low <= value <= high):
        return
    wanted = f"a number from {low:g} to {high:g}{' ' + unit if unit else ''}"
    yield Breach(path, what, shown(value), wanted)


def finite(path: str, what: str, value: float | None, unit: str) -> Iterator[Breach]:
    """A breach if a number is not finite; None is left alone."""
    if value is not None and not math.isfinite(value):
        yield Breach(path, what, shown(value), f"a finite number of {unit}")


def names_once(path: str, key: str, what: str, names: Sequence[str]) -> Iterator[Breach]:
    """Breaches of names that are empty or used twice; `path` is the list's."""
    first: dict[str, int] = {}
    for index, name in enumerate(names):
        here = f"{path}[{index}].{key}"
        if not name:
            yield Breach(here, what, '""', "a name that is not empty")
        elif name in first:
            yield Breach(
                here,
                what,
                shown(name),
                "a name of its own",
                f"{path}[{first[name]}] has the same",
            )
        else:
            first[name] = index
