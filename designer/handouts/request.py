"""What is asked of a handout, checked before any page is made."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import get_args

from designer.handouts.papers import Paper, PaperName, paper_of
from designer.handouts.sheet import Answers, Audience, SheetKind, Tolerances
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.units import LengthUnit

#: Called with (routines done, routines in all); False stops the work.
Progress = Callable[[int, int], bool | None]


class HandoutStoppedError(BaizewrightError):
    """The work on a handout was called off; nothing was made."""

    def __init__(self, done: int, wanted: int) -> None:
        self.done, self.wanted = done, wanted
        super().__init__(
            f"stopped after {done} of {wanted} routines; no handout was made. "
            "Ask for it again when there is time."
        )


@dataclass(frozen=True, slots=True)
class Request:
    """One handout as asked for; `booklet_title` is the heading of a booklet's contents page."""

    paper: Paper
    audience: Audience
    unit: LengthUnit
    sheet: SheetKind
    answers: Answers
    booklet: bool
    booklet_title: str
    made_at: datetime | None
    progress: Progress | None

    def tell(self, done: int, wanted: int) -> None:
        """Report progress; `HandoutStoppedError` when asked to stop."""
        if self.progress is not None and self.progress(done, wanted) is False:
            raise HandoutStoppedError(done, wanted)


def checked(
    paper: PaperName,
    audience: Audience,
    unit: LengthUnit,
    sheet: SheetKind,
    answers: Answers,
    *,
    landscape: bool,
    tolerances: bool,
    booklet: bool,
    booklet_title: str,
    made_at: datetime | None,
    progress: Progress | None,
) -> Request:
    """The request; `UnknownNameError` for a choice that does not exist."""
    for what, given, known in (
        ("reader", audience, get_args(Audience)),
        ("unit", unit, get_args(LengthUnit)),
        ("sheet", sheet, get_args(SheetKind)),
        ("way to tell answers", answers, get_args(Answers)),
    ):
        if given not in known:
            raise UnknownNameError(what, str(given), known)
    if answers != "none" and (audience, sheet) != ("player", "full"):
        raise OutOfRangeError(
            "the way to tell answers", answers, "none but on the player’s full sheet",
            "The coach’s sheet tells them anyway.",
        )  # fmt: skip
    return Request(
        paper_of(paper, landscape), audience, unit,
        sheet, answers, booklet, booklet_title, made_at, progress,
    )  # fmt: skip


def tolerances_for(
    given: Sequence[Tolerances | None] | None, count: int
) -> Sequence[Tolerances | None]:
    """One set of tolerances for each routine; `OutOfRangeError` when their numbers differ."""
    if given is None:
        return [None] * count
    if len(given) != count:
        raise OutOfRangeError("number of tolerances", len(given), f"{count}, one for each routine")
    return given
