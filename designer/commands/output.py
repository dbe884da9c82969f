"""Where a command writes: the options `-o` and `--replace`, and what they allow."""

from __future__ import annotations

import argparse
import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from engine.storage.writing import WriteRules


def add_output(
    parser: argparse.ArgumentParser, metavar: str, words: str, *, required: bool = False
) -> None:
    """The options of a command that writes a file."""
    parser.add_argument("-o", "--out", required=required, metavar=metavar, help=words)
    parser.add_argument(
        "--replace", action="store_true",
        help="write over whatever stands there; without it only a PDF, SVG or PNG gives way to "
        "one of its kind, as these can be made again",
    )  # fmt: skip


def output_rules(
    replace: bool, *inputs: str | os.PathLike[str] | None, private: bool = False
) -> WriteRules:
    """What a command may write over: never its inputs (those not given are left out)."""
    from engine.storage.writing import WriteRules

    read = tuple(one for one in inputs if one)
    return WriteRules(read, "any" if replace else "made", private)
