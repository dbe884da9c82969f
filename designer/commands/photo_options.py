"""The options of `photo begin`, `photo read` and `photo draw`."""

from __future__ import annotations

import argparse
from typing import Any

from designer.commands.output import add_output
from designer.commands.table_options import TABLE_HELP

_PIXELS = (
    "Pixels count in the upright picture, x to the right and y down from its upper left. People "
    "may be in a photograph: ask them before you hand it on."
)


def add_photo(commands: Any) -> None:
    """The parser of `photo` and its three parts."""
    photo = commands.add_parser(
        "photo", help="read a set-up off a photograph of the table, or draw lanes onto it"
    )
    parts = photo.add_subparsers(dest="part", metavar="PART", required=True)
    _add_begin(parts)
    _add_read(parts)
    _add_draw(parts)


def _add_begin(parts: Any) -> None:
    begin = parts.add_parser(
        "begin", help="a file to fill in with what is marked in a picture", epilog=_PIXELS
    )
    begin.add_argument("picture", metavar="PICTURE", help="a photograph, JPEG or PNG")
    add_output(begin, "MARKS", "the file, .json", required=True)
    begin.add_argument("--table", default="snooker-12ft", metavar="TABLE", help=TABLE_HELP)


def _add_read(parts: Any) -> None:
    read = parts.add_parser(
        "read",
        help="camera and balls from the marks in a picture",
        epilog="Exit codes: 0 all marks agree, 1 one was set aside or there is something to look "
        f"at again, 2 bad input. {_PIXELS}",
    )
    read.add_argument("marks", metavar="MARKS", help="the file of what was marked")
    add_output(read, "OUT", "the routine file to write")
    read.add_argument("--onto", metavar="FILE", help="a routine whose balls are to be moved there")
    read.add_argument("--table", default="", metavar="TABLE", help=TABLE_HELP)
    read.add_argument(
        "--fit", action="store_true", help="move each ball’s middle onto its outline in the picture"
    )
    read.add_argument("--units", choices=("mm", "inch"), default="mm")
    read.add_argument("--json", action="store_true", help="print JSON")


def _add_draw(parts: Any) -> None:
    from designer.commands.export_options import LAYERS_TOLD, names

    draw = parts.add_parser(
        "draw",
        help="a routine’s lanes over the picture, in its perspective",
        epilog=f"{LAYERS_TOLD}. The file written says nothing of place and device. {_PIXELS}",
    )
    draw.add_argument("marks", metavar="MARKS", help="the file of what was marked")
    draw.add_argument("file", metavar="FILE", help="routine file")
    add_output(draw, "OUT", ".png or .jpg", required=True)
    draw.add_argument(
        "--overlay", action="store_true",
        help="the drawing alone on a see-through ground of the picture’s size (.png)",
    )  # fmt: skip
    for option, told in (
        ("--show", "layers to show besides the usual ones"),
        ("--hide", "layers to leave out"),
        ("--only", "show these layers and no others"),
    ):
        draw.add_argument(option, type=names, default=(), metavar="LAYERS", help=told)
    draw.add_argument("--shot", metavar="ID", help="lines and lanes of this shot alone")
    draw.add_argument("--units", choices=("mm", "inch"), default="mm")


def run(asked: argparse.Namespace) -> int:
    """Do what was asked for."""
    from designer.commands import photo

    if asked.part == "begin":
        return photo.begin(asked.picture, asked.out, asked.table, asked.replace)
    if asked.part == "read":
        wish = photo.ReadWish(
            asked.out, asked.onto, asked.table, asked.fit, asked.units, asked.json, asked.replace
        )
        return photo.read(asked.marks, wish)
    drawn = photo.DrawWish(
        asked.show, asked.hide, asked.only, asked.shot, asked.units, asked.overlay, asked.replace
    )
    return photo.draw(asked.marks, asked.file, asked.out, drawn)
