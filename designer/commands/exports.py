"""`diagram`, `handout` and `place`: pictures, sheets and placement tables as files or text."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from designer.commands.exit_codes import BAD_INPUT
from designer.commands.files import read_all, read_routine, tell
from designer.commands.made_at import time_of_making
from designer.commands.output import output_rules
from designer.commands.progress import Told
from engine.errors import BaizewrightError, OutOfRangeError
from engine.routine.values import Routine
from engine.storage import WriteRules, check_write, write_file
from engine.storage.file_kinds import KIND_OF_ENDING
from engine.units import LengthUnit

if TYPE_CHECKING:
    from designer.drawing import Drawing, Layers
    from engine.results import RoutineAnswer

DIAGRAM_KINDS = (".svg", ".png", ".pdf", ".gif")
#: The shape of a projector's picture.
PROJECTOR = 16.0 / 9.0


@dataclass(frozen=True, slots=True)
class DiagramWish:
    """What a diagram is to show and how; `width` is in pixels for PNG, in mm on paper else."""

    show: Sequence[str] = ()
    hide: Sequence[str] = ()
    only: Sequence[str] = ()
    shot: str | None = None
    unit: LengthUnit = "mm"
    landscape: bool = False
    transparent: bool = False
    width: float | None = None
    made_at: str | None = None
    other_end: bool = False
    projector: bool = False
    lane: str = ""
    speed: float = 1.0


def diagram(file: str, out: str, wish: DiagramWish | None = None, replace: bool = False) -> int:
    """Draw a routine with its lanes into `out`, whose ending says the kind of file.

    With `replace` whatever stands there may go.
    """
    wish = wish or DiagramWish()
    kind = Path(out).suffix.lower()
    if kind not in DIAGRAM_KINDS:
        ending = f"the ending {kind!r}" if kind else "no ending"
        tell(out, OutOfRangeError("this file", f"named with {ending}", ", ".join(DIAGRAM_KINDS)))
        return BAD_INPUT
    from designer.drawing import Layers, chosen_layers

    rules = output_rules(replace, file)
    try:
        check_write(out, KIND_OF_ENDING[kind], rules)
        made_at = time_of_making(wish.made_at)
        layers = chosen_layers(Layers(), wish.show, wish.hide, wish.only)
    except BaizewrightError as error:
        tell(out, error)
        return BAD_INPUT
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT
    try:
        if kind == ".gif":
            return _written(out, _film(routine, layers, wish), rules)
        drawing = _drawn(routine, layers, wish)
        if wish.projector:
            drawing = drawing.shaped(PROJECTOR)
        return _written(out, _picture(drawing, kind, wish, made_at), rules)
    except BaizewrightError as error:
        tell(file, error)
    return BAD_INPUT


def _drawn(routine: Routine, layers: Layers, wish: DiagramWish) -> Drawing:
    from designer.drawing import Look, build_drawing

    if wish.shot is not None:
        routine.shot(wish.shot)
    return build_drawing(
        routine, answer_for(routine, layers), layers, wish.unit,
        look=Look(turned=wish.landscape, far=wish.other_end), shot=wish.shot,
    )  # fmt: skip


def _film(routine: Routine, layers: Layers, wish: DiagramWish) -> bytes:
    from designer.exporting.film_of import FilmOptions, routine_film

    options = FilmOptions(
        wish.shot or "", wish.lane, wish.speed, 960 if wish.width is None else round(wish.width),
        layers, wish.landscape, wish.other_end,
    )  # fmt: skip
    return routine_film(routine, options)


def answer_for(routine: Routine, layers: Layers) -> RoutineAnswer:
    """The whole answer when the layers need it, else where the balls stand."""
    from designer.drawing import needs_answer

    if needs_answer(layers):
        from engine.answers import answer, with_bands

        found = answer(routine, chances=False)
        return with_bands(routine, found) if layers.bands else found
    from engine.placement import placements
    from engine.results import RoutineAnswer
    from engine.version import VERSION

    return RoutineAnswer(VERSION, (), (), (), (), placements(routine))


def _picture(drawing: Drawing, kind: str, wish: DiagramWish, made_at: datetime | None) -> bytes:
    if kind == ".svg":
        from designer.painters.svg import svg_bytes

        return svg_bytes(drawing, 180.0 if wish.width is None else wish.width, wish.transparent)
    if kind == ".pdf":
        from designer.painters.pdf import pdf_bytes

        return pdf_bytes(drawing, 180.0 if wish.width is None else wish.width, made_at)
    from designer.painters.png import png_bytes

    return png_bytes(drawing, 1200 if wish.width is None else round(wish.width), wish.transparent)


@dataclass(frozen=True, slots=True)
class HandoutWish:
    """Which sheets, for whom, on which paper."""

    paper: Any = "a4"
    audience: Any = "coach"
    unit: LengthUnit = "mm"
    sheet: Any = "full"
    landscape: bool = False
    answers: Any = "none"
    booklet: bool = False
    title: str = ""
    tolerance: bool = False
    made_at: str | None = None


def handout(
    files: Sequence[str], out: str, wish: HandoutWish | None = None, replace: bool = False
) -> int:
    """Write one PDF with the sheets of all routines, in the order given.

    With `replace` whatever stands there may go.
    """
    wish = wish or HandoutWish()
    if Path(out).suffix.lower() != ".pdf":
        tell(out, OutOfRangeError("a handout’s file", repr(Path(out).name), "a name in .pdf"))
        return BAD_INPUT
    rules = output_rules(replace, *files)
    try:
        check_write(out, "pdf", rules)
        made_at = time_of_making(wish.made_at)
    except BaizewrightError as error:
        tell(out, error)
        return BAD_INPUT
    routines = read_all(files)
    if routines is None:
        return BAD_INPUT
    pages = _answered(files, routines)
    if pages is None:
        return BAD_INPUT
    for file, (routine, found) in zip(files, pages, strict=True):
        warn_of_unplayable(file, routine, found)
    rooms = _tolerances(routines) if wish.tolerance else None
    from designer.handouts import handout_pdf

    try:
        data = handout_pdf(
            pages, wish.paper, wish.audience, wish.unit, made_at, sheet=wish.sheet,
            landscape=wish.landscape, answers=wish.answers,
            booklet=wish.booklet or bool(wish.title), booklet_title=wish.title,
            tolerances=rooms, progress=Told("writing"),
        )  # fmt: skip
        return _written(out, data, rules)
    except BaizewrightError as error:
        tell(out, error)
        return BAD_INPUT


def _answered(
    files: Sequence[str], routines: Sequence[Routine]
) -> list[tuple[Routine, Any]] | None:
    """Every routine with its answer; None after the fault of one was told."""
    from designer.handouts.answered import answered

    told = Told("answering")
    pages: list[tuple[Routine, Any]] = []
    for file, routine in zip(files, routines, strict=True):
        try:
            pages.append((routine, answered(routine)))
        except BaizewrightError as error:
            tell(file, error)
            return None
        told(len(pages), len(routines))
    return pages


def warn_of_unplayable(file: str, routine: Routine, answer: RoutineAnswer) -> None:
    """Say before a sheet is printed which of its shots cannot be played."""
    from designer.words.facts import unplayable, unplayable_told
    from designer.words.wording import Wording

    for shot, why in unplayable(Wording(routine), answer):
        print(f"{file}: {unplayable_told(shot, why)}", file=sys.stderr)


def _tolerances(routines: Sequence[Routine]) -> list[Any]:
    """How far off its place each ball may be set, routine by routine."""
    from engine.answers import set_up_tolerance

    told = Told("setting balls off their places")
    found: list[Any] = []
    for routine in routines:
        found.append(set_up_tolerance(routine))
        told(len(found), len(routines))
    return found


def place(file: str, unit: LengthUnit = "mm") -> int:
    """Print the placement table of a routine."""
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT
    from designer.words.placement import placement_text

    try:
        print(placement_text(routine, unit))
    except BaizewrightError as error:
        tell(file, error)
        return BAD_INPUT
    return 0


def _written(out: str, data: bytes, rules: WriteRules) -> int:
    write_file(out, data, KIND_OF_ENDING[Path(out).suffix.lower()], rules)
    print(f"{out} written.")
    return 0
