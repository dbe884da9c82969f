"""`diagram`, `handout` and `place`: pictures, sheets and placement tables as files or text."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Literal

from designer.commands.check import BAD_INPUT
from designer.commands.files import read_all, read_routine, tell
from designer.commands.output import OutputError, write_whole
from engine.errors import BaizewrightError, OutOfRangeError
from engine.routine.values import Routine
from engine.units import LengthUnit

DIAGRAM_KINDS = (".svg", ".png", ".pdf")


def diagram(file: str, out: str) -> int:
    """Draw a routine with its lanes into `out`, whose ending says the kind of file."""
    kind = Path(out).suffix.lower()
    if kind not in DIAGRAM_KINDS:
        ending = f"the ending {kind!r}" if kind else "no ending"
        tell(out, OutOfRangeError("this file", f"named with {ending}", ", ".join(DIAGRAM_KINDS)))
        return BAD_INPUT
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT
    try:
        return _written(out, _diagram_bytes(routine, kind))
    except OutputError as error:
        tell(out, error)
    except BaizewrightError as error:
        tell(file, error)
    return BAD_INPUT


def _diagram_bytes(routine: Routine, kind: str) -> bytes:
    from designer.drawing import build_drawing
    from engine.answers import answer

    drawing = build_drawing(routine, answer(routine))
    if kind == ".svg":
        from designer.painters.svg import svg_bytes

        return svg_bytes(drawing)
    if kind == ".pdf":
        from designer.painters.pdf import pdf_bytes

        return pdf_bytes(drawing)
    from designer.painters.png import png_bytes

    return png_bytes(drawing)


def handout(
    files: Sequence[str],
    out: str,
    paper: Literal["a4", "letter"] = "a4",
    audience: Literal["coach", "player"] = "coach",
    unit: LengthUnit = "mm",
) -> int:
    """Write one PDF with the sheets of all routines, in the order given."""
    if Path(out).suffix.lower() != ".pdf":
        tell(out, OutOfRangeError("a handout's file", repr(Path(out).name), "a name in .pdf"))
        return BAD_INPUT
    routines = read_all(files)
    if routines is None:
        return BAD_INPUT
    from designer.handouts import handout_pdf
    from engine.answers import answer

    pages: list[tuple[Routine, Any]] = []
    for file, routine in zip(files, routines, strict=True):
        try:
            pages.append((routine, answer(routine)))
        except BaizewrightError as error:
            tell(file, error)
            return BAD_INPUT
    try:
        return _written(out, handout_pdf(pages, paper, audience, unit))
    except BaizewrightError as error:
        tell(out, error)
        return BAD_INPUT


def place(file: str, unit: LengthUnit = "mm") -> int:
    """Print the placement table of a routine."""
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT
    from engine.placement import placement_text

    try:
        print(placement_text(routine, unit))
    except BaizewrightError as error:
        tell(file, error)
        return BAD_INPUT
    return 0


def _written(out: str, data: bytes) -> int:
    write_whole(out, data)
    print(f"{out} written.")
    return 0
