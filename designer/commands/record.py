"""`record`: practice of players, written down, imported, reported, given away and deleted."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path

from designer.commands.exit_codes import BAD_INPUT, FAILS
from designer.commands.files import tell
from designer.commands.made_at import time_of_making
from designer.commands.output import output_rules
from designer.commands.progress import Told
from designer.places import records_file
from designer.texts import tr
from designer.words.figures import chance
from designer.words.library import RECORDS_CAUTION, line_name
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.records import MISSES, Practice, Records, lines_of, parse_practice
from engine.records import practice_csv as csv_of
from engine.storage import check_write, write_file
from engine.storage.reading import read_text


def run(asked: argparse.Namespace) -> int:
    """Run one action; 2 after a message for bad input."""
    subject = getattr(asked, "file", None) or asked.records or "record"
    try:
        file = Path(asked.records) if asked.records else records_file()
        with Records(file) as records:
            return _ACTIONS[asked.action](records, asked)
    except BaizewrightError as error:
        tell(subject, error)
        return BAD_INPUT


def _add(records: Records, asked: argparse.Namespace) -> int:
    _caution()
    day = _day(asked.day)
    practice = Practice(
        asked.player.strip(), asked.routine.strip(), day, asked.attempts, asked.made, asked.step,
        dict(_missed(given) for given in asked.missed), asked.note,
    )  # fmt: skip
    records.add(practice)
    print(f"Written down: {practice.player}, {practice.made} of {practice.attempts}, {day}.")
    return 0


def _import(records: Records, asked: argparse.Namespace) -> int:
    _caution()
    lines = parse_practice(read_text(asked.file, kind="practice file"), asked.file, asked.player)
    done = records.take_in(lines)
    print(f"{done.taken} lines taken in, {done.there_before} were there before.")
    return 0


def _show(records: Records, asked: argparse.Namespace) -> int:
    for line in lines_of(kept.practice for kept in records.practice(asked.player)):
        total = line.total
        print(
            f"{line_name(line)}: {total.made} of {total.attempts}, {chance(total.share)} "
            f"({chance(total.low)} to {chance(total.high)})"
        )
        for one in line.days:
            part = one.result
            print(
                f"  {one.day.isoformat()}  {part.made} of {part.attempts}  "
                f"({chance(part.low)} to {chance(part.high)})"
            )
    return 0


def _players(records: Records, _asked: argparse.Namespace) -> int:
    _caution()
    for player in records.players():
        print(player)
    return 0


def _report(records: Records, asked: argparse.Namespace) -> int:
    if Path(asked.out).suffix.lower() != ".pdf":
        raise OutOfRangeError("a report’s file", repr(Path(asked.out).name), "a name in .pdf")
    rules = output_rules(asked.replace, records.file, private=True)
    check_write(asked.out, "pdf", rules)
    made_at = time_of_making(asked.made_at)
    practice = [kept.practice for kept in records.practice(asked.player)]
    from designer.handouts.practice_report import report_pdf

    told = Told("drawing", "charts")
    data = report_pdf(asked.player, practice, asked.paper, made_at, progress=told)
    write_file(asked.out, data, "pdf", rules)
    _caution()
    print(f"{asked.out} written.")
    return 0


def _export(records: Records, asked: argparse.Namespace) -> int:
    practice = [kept.practice for kept in records.practice(asked.player)]
    rules = output_rules(asked.replace, records.file, private=True)
    write_file(asked.out, csv_of(practice), "practice", rules)
    _caution()
    print(f"{asked.out} written: {len(practice)} lines.")
    return 0


def _delete(records: Records, asked: argparse.Namespace) -> int:
    if asked.player not in records.players():
        raise UnknownNameError("player", asked.player, records.players())
    if not asked.yes:
        print(f"Delete everything kept of {asked.player}? Type yes to go on: ", end="", flush=True)
        if sys.stdin.readline().strip().lower() != "yes":
            print("Nothing was deleted.")
            return FAILS
    count = records.delete_player(asked.player)
    print(
        f"{asked.player} and {count} line{'s' if count != 1 else ''} deleted from {records.file}. "
        "Files you exported or printed are not touched."
    )
    return 0


_ACTIONS = {
    "add": _add,
    "import": _import,
    "show": _show,
    "players": _players,
    "report": _report,
    "export": _export,
    "delete": _delete,
}


def _caution() -> None:
    print(tr(RECORDS_CAUTION), file=sys.stderr)


def _day(text: str) -> date:
    if not text:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise OutOfRangeError("--day", repr(text), "a day as 2026-03-31") from None


def _missed(text: str) -> tuple[str, int]:
    kind, _, count = text.partition("=")
    if kind not in MISSES or not count.isdecimal():
        raise OutOfRangeError("--missed", repr(text), f"{'|'.join(MISSES)}=N")
    return kind, int(count)
