"""The options of `diagram`, `handout` and `place`, and what they ask for."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from designer.commands.output import add_output

if TYPE_CHECKING:
    from designer.commands.exports import DiagramWish, HandoutWish

_MADE_AT = (
    "time the file says it was made, so that the same input gives the same bytes; the "
    "environment’s SOURCE_DATE_EPOCH does the same"
)
LAYERS_TOLD = (
    "layers: table, marks, cloth-marks, balls, ball-letters, potting-line, 90-degree-line, "
    "contact, lanes, corridors, bands, letters, gaps, verdicts, measurements, checks, rim-letters; "
    "several with commas"
)


def add_diagram(commands: Any) -> None:
    """The parser of `diagram`."""
    diagram = commands.add_parser(
        "diagram", help="the drawing as a picture file", epilog=LAYERS_TOLD + "."
    )
    diagram.add_argument("file", metavar="FILE", help="routine file")
    add_output(diagram, "OUT", ".svg, .png or .pdf; .gif for the lane in motion", required=True)
    for option, told in (
        ("--show", "layers to show besides the usual ones"),
        ("--hide", "layers to leave out"),
        ("--only", "show these layers and no others"),
    ):
        diagram.add_argument(option, type=names, default=(), metavar="LAYERS", help=told)
    diagram.add_argument("--shot", metavar="ID", help="lines and lanes of this shot alone")
    diagram.add_argument(
        "--width",
        type=float,
        metavar="N",
        help="pixels for PNG (1200) and GIF (960), mm for SVG and PDF (180)",
    )
    diagram.add_argument(
        "--transparent", action="store_true", help="no background (SVG and PNG); for laying over "
        "another picture, add --hide table",
    )  # fmt: skip
    diagram.add_argument("--landscape", action="store_true", help="baulk on the left")
    diagram.add_argument(
        "--other-end", action="store_true", help="seen from the other end: baulk at the top, or "
        "on the right with --landscape",
    )  # fmt: skip
    diagram.add_argument(
        "--projector", action="store_true", help="exactly 16:9, the table lying on its side"
    )
    diagram.add_argument("--lane", default="", metavar="LETTER", help="the lane of a .gif (first)")
    diagram.add_argument(
        "--speed", type=float, default=1.0, metavar="N", help="speed of a .gif over the true one"
    )
    diagram.add_argument("--units", choices=("mm", "inch"), default="mm")
    diagram.add_argument("--made-at", metavar="TIME", help=_MADE_AT)


def add_handout(commands: Any) -> None:
    """The parser of `handout`."""
    handout = commands.add_parser("handout", help="sheets to print, as one PDF")
    handout.add_argument("files", nargs="+", metavar="FILE", help="routine files")
    add_output(handout, "OUT", "the PDF to write", required=True)
    handout.add_argument("--paper", choices=("a3", "a4", "a5", "letter"), default="a4")
    handout.add_argument("--landscape", action="store_true", help="pages on their side")
    handout.add_argument(
        "--for", dest="audience", choices=("coach", "player"), default="coach", help="whose sheets"
    )
    handout.add_argument(
        "--sheet", choices=("full", "steps", "record", "card", "strip", "poster"), default="full",
        help="the whole sheet; the routine step by step; a practice record; A6 table cards, four "
        "to a sheet; full-size strips to set clusters of balls by; a poster for the wall",
    )  # fmt: skip
    handout.add_argument(
        "--answer", dest="answers", choices=("none", "upside-down", "last-page"), default="none",
        help="where the player’s sheet tells the answer",
    )  # fmt: skip
    handout.add_argument(
        "--tolerance", action="store_true",
        help="tell how far off its place each ball may be set (takes a second or two a routine)",
    )  # fmt: skip
    handout.add_argument("--booklet", action="store_true", help="begin with a page of contents")
    handout.add_argument("--title", default="", metavar="TEXT", help="title of the booklet")
    handout.add_argument("--units", choices=("mm", "inch"), default="mm")
    handout.add_argument("--made-at", metavar="TIME", help=_MADE_AT)


def add_place(commands: Any) -> None:
    """The parser of `place`."""
    place = commands.add_parser("place", help="the placement of every ball, to measure out")
    place.add_argument("file", metavar="FILE", help="routine file")
    place.add_argument("--units", choices=("mm", "inch"), default="mm")


def diagram_wish(asked: argparse.Namespace) -> DiagramWish:
    """What the options of `diagram` ask for."""
    from designer.commands.exports import DiagramWish

    return DiagramWish(
        asked.show, asked.hide, asked.only, asked.shot, asked.units,
        asked.landscape or asked.projector, asked.transparent, asked.width, asked.made_at,
        asked.other_end, asked.projector, asked.lane, asked.speed,
    )  # fmt: skip


def handout_wish(asked: argparse.Namespace) -> HandoutWish:
    """What the options of `handout` ask for."""
    from designer.commands.exports import HandoutWish

    return HandoutWish(
        asked.paper, asked.audience, asked.units, asked.sheet, asked.landscape, asked.answers,
        asked.booklet, asked.title, asked.tolerance, asked.made_at,
    )  # fmt: skip


def names(text: str) -> tuple[str, ...]:
    """Names given with commas between them."""
    return tuple(part.strip() for part in text.split(",") if part.strip())
