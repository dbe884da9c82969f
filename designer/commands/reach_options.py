"""The options of `check` and `reach`, and what they ask for."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from typing import Any

from engine.errors import OutOfRangeError


@dataclass(frozen=True, slots=True)
class AdviceAsked:
    """A gap that should be reachable, as the command line asks for it."""

    gap: str
    pace: tuple[float, float] = (1.0, 10.0)
    margin_mm: float = 0.0
    apart_mm: float = 0.0
    movable: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReachAsked:
    """What `reach` is to tell of a routine file."""

    file: str
    as_json: bool = False
    shot: str = ""
    players: str = ""
    advice: AdviceAsked | None = None


def add_check(commands: Any) -> None:
    """The parser of `check`."""
    check = commands.add_parser("check", help="pots, lanes, clearances, gaps, and every claim")
    check.add_argument("files", nargs="+", metavar="FILE", help="routine files")
    check.add_argument("--json", action="store_true", help="everything as JSON")
    check.add_argument(
        "--tolerance", action="store_true",
        help="also how far each ball may be misplaced before a claim changes (takes a second)",
    )  # fmt: skip
    check.add_argument(
        "--bands", action="store_true",
        help="also how far each lane may stray when the table’s conditions are only known as "
        "likely ranges",
    )  # fmt: skip


def add_reach(commands: Any) -> None:
    """The parser of `reach`."""
    reach = commands.add_parser(
        "reach",
        help="tip heights and paces that thread each gap, and what they forgive",
        epilog="With --advise, the smallest moves of balls that make the gap reachable are "
        "looked for; locked balls stay. Ctrl-C stops the search.",
    )
    reach.add_argument("file", metavar="FILE", help="routine file")
    reach.add_argument("--json", action="store_true", help="as JSON")
    reach.add_argument("--shot", default="", metavar="S", help="this shot only")
    reach.add_argument(
        "--players", default="", metavar="PLAYERS", help="a file of player levels of your own"
    )
    reach.add_argument(
        "--advise", default="", metavar="GAP", help="how to make this gap reachable, or roomier"
    )
    reach.add_argument(
        "--pace", type=paces, metavar="LOW-HIGH",
        help="with --advise: at some pace of these (1-10)",
    )  # fmt: skip
    reach.add_argument(
        "--margin", type=float, metavar="MM", help="with --advise: room to the nearer edge (0)"
    )
    reach.add_argument(
        "--apart", type=float, metavar="MM",
        help="with --advise: how far apart the shot’s lanes must lie where the player points (0)",
    )  # fmt: skip
    reach.add_argument(
        "--move", nargs="+", action="extend", metavar="BALL",
        help="with --advise: the balls that may be moved (all that are not locked)",
    )  # fmt: skip


def paces(text: str) -> tuple[float, float]:
    """A range of paces as typed: "3-6", or one pace."""
    low, dash, high = text.replace("–", "-").partition("-")
    try:
        return float(low), float(high if dash else low)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no range of paces; wanted two paces from 1 to 10, as 3-6"
        ) from None


def reach_asked(asked: argparse.Namespace) -> ReachAsked:
    """What `reach` is to tell; `OutOfRangeError` for advice options without --advise."""
    given = {
        "--pace": asked.pace, "--margin": asked.margin, "--apart": asked.apart,
        "--move": asked.move,
    }  # fmt: skip
    advice = None
    if asked.advise:
        advice = AdviceAsked(
            asked.advise, asked.pace or (1.0, 10.0), asked.margin or 0.0, asked.apart or 0.0,
            tuple(asked.move or ()),
        )  # fmt: skip
    else:
        stray = [name for name, value in given.items() if value is not None]
        if stray:
            raise OutOfRangeError(", ".join(stray), "given without --advise", "--advise GAP too")
    return ReachAsked(asked.file, asked.json, asked.shot, asked.players, advice)
