"""Photographs and the files of what was marked in them: format "baizewright-photo".

The marks' file stands beside the picture and names it; it is read like a routine's file: every
fault is told at once with its path, and unknown keys are kept.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

from engine.errors import Fault, RoutineFileError, printable
from engine.photo.opening import picture_of
from engine.photo.picture import Picture
from engine.photo.values import BallMark, Mark, PhotoMarks
from engine.storage.document import Form, read_document
from engine.storage.files import must_be_writable, save_text
from engine.storage.reading import StrPath, read_bytes, read_text
from engine.storage.write import json_text
from engine.storage.writing import SAVING, WriteRules

FORM = Form("baizewright-photo", 1, "photo marks file", "photo")
#: A photograph of as many pixels as are decoded takes less (see `engine.photo.opening`).
MOST_BYTES = 150_000_000


def parse_photo_marks(text: str, name: str = "photo marks") -> PhotoMarks:
    """What was marked, from a file's text; `RoutineFileError` lists every fault with its path.

    A mark or ball without its pixels is a place not found in the picture, and left out.

    >>> parse_photo_marks(
    ...     '{"format": "baizewright-photo", "version": 1, "size_px": [40, 30]}'
    ... ).size_px
    (40, 30)
    """
    data, findings = read_document(text, name, FORM)
    findings.hold()
    return _built(data)


def _built(data: dict[str, Any]) -> PhotoMarks:
    known = {field.name for field in fields(PhotoMarks)} - {"extra", "marks", "balls", "size_px"}
    given = {key: value for key, value in data.items() if key in known}
    rest = {"format", "version", "marks", "balls", "size_px", *known}
    return PhotoMarks(
        **given,
        size_px=tuple(data["size_px"]),
        marks=tuple(_item(Mark, one) for one in data.get("marks", ()) if _is_seen(one)),
        balls=tuple(_item(BallMark, one) for one in data.get("balls", ()) if _is_seen(one)),
        extra={key: value for key, value in data.items() if key not in rest},
    )


def _is_seen(one: dict[str, Any]) -> bool:
    return one.get("x_px") is not None and one.get("y_px") is not None


def _item(kind: type, data: dict[str, Any]) -> Any:
    known = {field.name for field in fields(kind)} - {"extra"}
    given = {key: value for key, value in data.items() if key in known}
    if "at_mm" in given:
        given["at_mm"] = tuple(given["at_mm"])
    return kind(**given, extra={k: v for k, v in data.items() if k not in known})


def dump_photo_marks(photo: PhotoMarks) -> str:
    """The text of the marks' file; reading it gives the same marks."""
    return json_text(_all(photo))


def _all(photo: PhotoMarks) -> dict[str, Any]:
    data: dict[str, Any] = {"format": FORM.format, "version": FORM.version}
    data |= {
        "picture": photo.picture, "size_px": list(photo.size_px), "table": photo.table,
        "focal_35mm": photo.focal_35mm, "marking_px": photo.marking_px,
        "marks": [_data(one) for one in photo.marks],
        "balls": [_data(one) for one in photo.balls],
    }  # fmt: skip
    for key, value in photo.extra.items():
        data.setdefault(key, value)
    return data


def _data(one: Mark | BallMark) -> dict[str, Any]:
    found = {
        field.name: getattr(one, field.name)
        for field in fields(one)
        if field.name != "extra" and getattr(one, field.name) is not None
    }
    if "at_mm" in found:
        found["at_mm"] = list(found["at_mm"])
    for name in ("x_px", "y_px"):
        found[name] = round(float(found[name]), 3)
    if "spread_px" in found:
        # Rounded to nothing it could not be read again.
        found["spread_px"] = max(round(float(found["spread_px"]), 3), 0.001)
    return {**found, **{k: v for k, v in one.extra.items() if k not in found}}


def load_photo_marks(path: StrPath) -> PhotoMarks:
    """The marks in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_photo_marks(read_text(path, kind=FORM.word), str(path))


def save_photo_marks(photo: PhotoMarks, path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write the marks' file as safely as a routine's."""
    must_be_writable(path, "picture", photo.picture)
    save_text(dump_photo_marks(photo), path, "photo", rules)


def save_blank_marks(
    photo: PhotoMarks, places: Mapping[str, str], path: StrPath, rules: WriteRules = SAVING
) -> None:
    """Write a marks' file to be filled in by hand: every place without its pixels, and one ball.

    `places` says of each place, by its id, where to look for it.
    """
    must_be_writable(path, "picture", photo.picture)
    blank = {"x_px": None, "y_px": None}
    data = _all(photo)
    data["marks"] = [{"place": id_, **blank, "look_for": told} for id_, told in places.items()]
    data["balls"] = [{"id": "cue", "kind": "cue", **blank}]
    save_text(json_text(data), path, "photo", rules)


def load_picture(path: StrPath) -> Picture:
    """The picture in a file, upright; errors as `picture_of`, or `RoutineFileError` for no file."""
    data = read_bytes(path, kind="photograph", most_bytes=MOST_BYTES)
    return picture_of(data, printable(path))


def picture_name(picture: StrPath, marks_path: StrPath) -> str:
    """The picture's name as a marks' file there states it; outright from another drive."""
    whole = os.path.realpath(picture)
    try:
        return Path(os.path.relpath(whole, Path(os.path.realpath(marks_path)).parent)).as_posix()
    except ValueError:
        return Path(whole).as_posix()


def picture_beside(marks_path: StrPath, photo: PhotoMarks) -> Path:
    """Where the picture of a marks' file is; `RoutineFileError` when the file names none."""
    if not photo.picture:
        fault = Fault("picture", "is missing, wanted the name of the picture’s file")
        raise RoutineFileError(str(marks_path), [fault])
    return Path(marks_path).parent / photo.picture


def checked_picture(marks_path: StrPath, photo: PhotoMarks) -> Picture:
    """The picture the marks belong to; `RoutineFileError` when it has another size."""
    path = picture_beside(marks_path, photo)
    picture = load_picture(path)
    if picture.size_px != photo.size_px:
        wide, high = picture.size_px
        message = (
            f"is {photo.size_px[0]} by {photo.size_px[1]}, wanted {wide} by {high}, the upright "
            f"size of {path.name}; marks count in pixels of the picture they were made in"
        )
        raise RoutineFileError(str(marks_path), [Fault("size_px", message)])
    return picture
