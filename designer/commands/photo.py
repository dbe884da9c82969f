"""`photo begin`, `photo read` and `photo draw`: from a photograph of the table, and onto it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from designer.commands.exit_codes import BAD_INPUT, FAILS, HOLDS
from designer.commands.files import tell
from designer.commands.output import output_rules
from designer.commands.own_table import named_table
from designer.texts import tr
from designer.words.notes import note_told
from designer.words.photo import PEOPLE, TITLE, reading_told, where_to_look
from engine.errors import BaizewrightError, OutOfRangeError
from engine.photo import (
    BallMark,
    PhotoMarks,
    PhotoReading,
    Picture,
    check_table,
    fit_camera,
    jpeg_of,
    laid_over,
    mark_places,
    png_of,
    read_photo,
    report_json,
    suggest_middle,
)
from engine.results import Note
from engine.routine.context import conditions_of, table_of
from engine.routine.identity import copied
from engine.routine.values import Routine
from engine.storage import check_write, load_routine, save_routine, write_file
from engine.storage.file_kinds import KIND_OF_ENDING
from engine.storage.photo_files import (
    checked_picture,
    load_photo_marks,
    load_picture,
    picture_beside,
    picture_name,
    save_blank_marks,
)
from engine.tables import load_table
from engine.units import LengthUnit

PICTURE_KINDS = (".png", ".jpg", ".jpeg")


@dataclass(frozen=True, slots=True)
class ReadWish:
    """What is to be read, and onto what."""

    out: str | None = None
    onto: str | None = None
    table: str = ""
    fit: bool = False
    unit: LengthUnit = "mm"
    as_json: bool = False
    replace: bool = False


@dataclass(frozen=True, slots=True)
class DrawWish:
    """What is to be drawn over a picture."""

    show: Sequence[str] = ()
    hide: Sequence[str] = ()
    only: Sequence[str] = ()
    shot: str | None = None
    unit: LengthUnit = "mm"
    overlay: bool = False
    replace: bool = False


def begin(picture: str, out: str, table: str, replace: bool = False) -> int:
    """Write a marks' file for a picture, with every place of the table to be filled in.

    With `replace` whatever stands there may go, marks filled in among it.
    """
    asked = table
    rules = output_rules(replace, picture, table)
    try:
        check_write(out, "photo", rules)
        table_id, measured = named_table(table)
        known = mark_places(load_table(table_id, measured=measured))
        places = {one.id: where_to_look(one.id) for one in known}
        asked = picture
        seen = load_picture(picture)
        photo = PhotoMarks(picture_name(picture, out), seen.size_px, table_id, seen.focal_35mm)
        asked = out
        save_blank_marks(photo, places, out, rules)
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    wide, high = seen.size_px
    print(f"{out} written for {picture}, {wide} by {high} px upright.")
    if seen.shrunk > 1:
        print(f"The picture is so large that it is opened at 1/{seen.shrunk} of its size: pixels "
              "count in the picture of that size.")  # fmt: skip
    print(
        "Put pixels in place of null for 4 places or more, better all that can be seen, and list "
        "the balls: id, kind and the middle of the outline. What stays null is left out."
    )
    print(tr(PEOPLE))
    return HOLDS


def read(marks: str, wish: ReadWish) -> int:
    """Print camera, marks and balls; write the routine when `out` is given."""
    asked = marks
    try:
        photo = load_photo_marks(marks)
        rules = output_rules(
            wish.replace, marks, picture_of_marks(marks, photo), wish.onto, wish.table
        )
        if wish.out:
            check_write(wish.out, "routine", rules)
        asked = wish.onto or wish.table or marks
        base = _base(wish, photo)
        if wish.table:
            photo = replace(photo, table=base.table)
        asked = marks
        if wish.fit:
            photo, kept = fitted(photo, checked_picture(marks, photo), base)
        found = read_photo(photo, base)
        if wish.fit and kept:
            found = replace(found, notes=(*found.notes, Note("no-outline", {"balls": kept})))
        if wish.out:
            asked = wish.out
            made = found.routine
            if base is not None and wish.onto and Path(wish.out) != Path(wish.onto):
                made = copied(made, base)
            save_routine(made, wish.out, rules)
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    _print_reading(found, wish)
    return FAILS if found.fit.bad_marks or found.fit.doubtful else HOLDS


def _print_reading(found: PhotoReading, wish: ReadWish) -> None:
    if wish.as_json:
        print(json.dumps(report_json(found, words=note_told), indent=2))
        return
    print(reading_told(found, wish.unit))
    if wish.out:
        print(f"\n{tr('{path} written.', path=wish.out)}")


def _base(wish: ReadWish, photo: PhotoMarks) -> Routine:
    """The routine the reading goes onto: the one named, or an empty one on its table."""
    if wish.onto:
        return load_routine(wish.onto)
    table_id, measured = named_table(wish.table) if wish.table else (photo.table, None)
    return Routine(title=tr(TITLE), table=table_id, measured_table=measured)


def picture_of_marks(marks: str, photo: PhotoMarks) -> Path | None:
    """Where the picture of a marks' file is, if it names one."""
    return picture_beside(marks, photo) if photo.picture else None


def fitted(
    photo: PhotoMarks, picture: Picture, base: Routine
) -> tuple[PhotoMarks, tuple[str, ...]]:
    """The marks with each ball's middle moved onto its outline where one is made out.

    Also the balls without an outline, which stay where they were marked.
    """
    camera = fit_camera(table_of(base), photo).camera
    conditions = conditions_of(base)
    balls: list[BallMark] = []
    kept: list[str] = []
    for ball in photo.balls:
        radius = conditions.cue_radius_mm if ball.kind == "cue" else conditions.ball_radius_mm
        seen = suggest_middle(picture.pixels, ball.at_px, camera=camera, radius_mm=radius)
        if seen is None:
            kept.append(ball.id)
        else:
            x, y = seen.middle_px
            ball = replace(ball, x_px=x, y_px=y, spread_px=seen.spread_px)
        balls.append(ball)
    return replace(photo, balls=tuple(balls)), tuple(kept)


def draw(marks: str, file: str, out: str, wish: DrawWish) -> int:
    """Draw a routine over the picture (or on a see-through ground of its size) into `out`."""
    asked = out
    kind = Path(out).suffix.lower()
    try:
        wanted = (".png",) if wish.overlay else PICTURE_KINDS
        if kind not in wanted:
            ending = f"named with the ending {kind!r}" if kind else "named with no ending"
            raise OutOfRangeError("this file", ending, ", ".join(wanted))
        from designer.drawing import chosen_layers
        from designer.overlay import PHOTO_LAYERS

        layers = chosen_layers(PHOTO_LAYERS, wish.show, wish.hide, wish.only)
        asked = marks
        photo = load_photo_marks(marks)
        rules = output_rules(wish.replace, marks, file, picture_of_marks(marks, photo))
        check_write(out, KIND_OF_ENDING[kind], rules)
        picture = checked_picture(marks, photo)
        asked = file
        routine = load_routine(file)
        if wish.shot is not None:
            routine.shot(wish.shot)
        from designer.commands.exports import answer_for
        from designer.overlay.onto import seen_balls

        answer = answer_for(routine, layers)
        asked = marks
        check_table(photo, routine)
        fit = fit_camera(table_of(routine), photo)
        balls, notes = seen_balls(routine, photo, fit)
        from designer.overlay import photo_drawing
        from designer.overlay.paint import overlay_pixels

        drawing = photo_drawing(
            routine, answer, fit.camera, layers, wish.unit, shot=wish.shot, balls=balls
        )
        asked = out
        data = picture_file(picture, overlay_pixels(drawing), kind, wish.overlay)
        write_file(out, data, KIND_OF_ENDING[kind], rules)
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    for note in (*fit.notes, *notes):
        print(tr("Note: {note}", note=note_told(note)))
    print(f"{tr('{path} written.', path=out)} {'' if wish.overlay else tr(PEOPLE)}".rstrip())
    return FAILS if fit.bad_marks or fit.doubtful else HOLDS


def picture_file(picture: Picture, overlay: object, kind: str, alone: bool) -> bytes:
    """The overlay alone, or laid over the picture, as a file of pixels and nothing else."""
    import numpy as np

    cover = np.asarray(overlay)
    if alone:
        return png_of(cover)
    both = laid_over(picture.pixels, cover)
    return png_of(both) if kind == ".png" else jpeg_of(both)
