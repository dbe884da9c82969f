"""Whole commands run in this process on a folder of files, with an eye on all they must not do."""

from __future__ import annotations

import contextlib
import io
import os
import random
import shutil
import signal
import sys
import time
import traceback
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import FrameType
from typing import Any

from tests.fuzz.arguments import any_arguments, spoilt
from tests.fuzz.desk_of_files import fingerprints, lay_out, name_for
from tests.fuzz.readers import folder
from tests.fuzz.trying import MOST_WORDS

#: Bounds: processor time of a refusal and of sound work, and memory of the whole process.
REFUSED_S, DONE_S, MOST_KB = 5.0, 20.0, 1_000_000
#: A command is broken off after so much processor time.
PATIENCE_S = 120.0
#: Exit codes by what they say.
DONE, FAILS, BAD_INPUT = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Run:
    """One command as it went: `wrong` is what it did that none may do."""

    arguments: tuple[str, ...]
    code: int | None
    seconds: float
    wrong: tuple[str, ...]
    told: str


class TooLongError(BaseException):
    """Raised in a command that does not end."""


def run(seed: str, number: int, slack: float = 1.0) -> Run:
    """The command of that seed and number (always the same), on files of its own.

    `slack` widens the bounds of time, for a machine that has other work.
    """
    _get_ready()
    dice = random.Random(f"whole {seed} {number}")
    where = folder() / "desk"
    shutil.rmtree(where, ignore_errors=True)
    lay_out(dice, where)
    arguments = any_arguments(dice, name_for)
    if dice.random() < 0.1:
        arguments = spoilt(dice, arguments)
    _must_stay_within(arguments)
    before, works = fingerprints(where), _works(arguments)
    answer = dice.choice(("yes\n", "no\n", ""))
    code, seconds, out, err, fault = _ended(arguments, where, answer)
    after = fingerprints(where)
    wrong = [
        *_wrong_ending(code, seconds / slack / _amount(arguments), out, err, fault),
        *_changed(arguments, works, before, after),
    ]
    if _peak_kb() > MOST_KB:
        wrong.append(f"took {_peak_kb():,} kB of memory")
    return Run(arguments, code, seconds, tuple(wrong), err[-2000:])


def _must_stay_within(arguments: tuple[str, ...]) -> None:
    """No argument may lead out of the folder: what goes wrong would write there, even as root."""
    for argument in arguments:
        joined = argument[2:] if argument.startswith("-") else ""  # as in -oFILE
        for part in (argument, argument.partition("=")[2], joined):
            if part.startswith(("/", "~")) or ".." in part.split("/"):
                raise AssertionError(f"{argument!r} leads out of the folder")


@cache
def _get_ready() -> None:
    """Have the program loaded and its parts compiled before time is taken."""
    home = folder() / "home"
    os.environ |= {
        "HOME": str(home), "XDG_DATA_HOME": str(home / "data"), "QT_QPA_PLATFORM": "offscreen",
        "XDG_CACHE_HOME": str(home / "cache"),
    }  # fmt: skip
    where = folder() / "first"
    lay_out(random.Random(0), where)
    shutil.copy(where / "in" / "one.json", where / "warm.json")
    for words in (["check", "warm.json"], ["diagram", "warm.json", "-o", "warm.png"],
                  ["handout", "warm.json", "-o", "warm.pdf"]):  # fmt: skip
        _ended(tuple(words), where, "")


def _ended(
    arguments: tuple[str, ...], where: Path, answer: str
) -> tuple[int | None, float, str, str, str]:
    """Exit code, processor time, output, error stream, and the traceback of what came out of it."""
    from designer.commands.main import main

    out, err = _stream(), _stream()
    kept = sys.stdin, sys.stdout, sys.stderr, os.getcwd()
    code, fault = None, ""
    sys.stdin, sys.stdout, sys.stderr = io.StringIO(answer), out, err
    os.chdir(where)
    _forget_peak()
    start = time.process_time()
    try:
        with _broken_off():
            code = main(list(arguments))
    except BaseException:
        fault = traceback.format_exc()
    finally:
        seconds = time.process_time() - start
        sys.stdin, sys.stdout, sys.stderr = kept[:3]
        os.chdir(kept[3])
    return code, seconds, _text(out), _text(err), fault


def _wrong_ending(
    code: int | None, seconds: float, out: str, err: str, fault: str
) -> Iterator[str]:
    if fault:
        yield f"an error came out: {fault}"
    elif code not in (DONE, FAILS, BAD_INPUT):
        yield f"ended with {code}"
    if "Traceback" in err or "Something in the program went wrong" in err:
        yield f"an error nobody foresaw: {err[-1500:]}{_report(err)}"
    if code == BAD_INPUT and not err.strip():
        yield "refused without a word"
    if len(err) > MOST_WORDS * 3:
        yield f"told {len(err):,} letters of faults"
    most = REFUSED_S if code == BAD_INPUT else DONE_S
    if seconds > most:
        yield f"took {seconds:.1f} s of processor time with {len(out):,} letters told"


def _report(err: str) -> str:
    """The report on an error nobody foresaw, from where the error stream says it is."""
    path = err.partition("words of yours is in ")[2].partition(";")[0]
    return Path(path).read_text(encoding="utf-8") if path else ""


def _amount(arguments: tuple[str, ...]) -> int:
    """How many times its usual work a command is asked to do: routines, and steps of a chain."""
    asked = _understood(arguments)
    files = asked.get("files")
    return max(1, len(files) if isinstance(files, list) else 1, int(asked.get("steps") or 1))


def _changed(
    arguments: tuple[str, ...],
    works: list[str],
    before: dict[str, tuple[str, str]],
    after: dict[str, tuple[str, str]],
) -> Iterator[str]:
    """What was changed in the folder that is not this command's work."""
    for path in sorted(set(before) | set(after)):
        was, now = before.get(path), after.get(path)
        if was == now:
            continue
        name = os.path.basename(path)
        mine = [one for one in works if _is_of(path, one)]
        if now is None:
            yield f"{path!r} is gone"
        elif not mine:
            yield f"{path!r} was {'made' if was is None else 'changed'}"
        elif was is not None and was[0] != now[0] and "--replace" not in arguments:
            yield f"{path!r} was {was[0]} and is {now[0]}"
        elif name.startswith(".") and not name.endswith(".previous"):
            yield f"{path!r} was left lying"


def _is_of(path: str, work: str) -> bool:
    """Whether a path is what a command works on, a file beside it of its name, or within it."""
    here, name = os.path.split(path)
    there, own = os.path.split(work)
    beside = here == there and (name in (own, f".{own}.previous") or name.startswith(f"{own}-"))
    # a folder that the file is to lie in is made
    return beside or here == work or name.startswith(f".{own}.") or there.startswith(path)


def _works(arguments: tuple[str, ...]) -> list[str]:
    """The files a command may write, relative to the folder."""
    asked = _understood(arguments)
    command, what = asked.get("command"), asked.get("action")
    named = [asked.get("out")]
    if command == "library":
        named += [asked.get("index"), *(asked["files"] if what == "tag" else ())]
    if command == "record" and (what in ("add", "import", "delete") or not _there(asked)):
        named.append(asked["records"])
    return [os.path.normpath(one) for one in named if one]


def _understood(arguments: tuple[str, ...]) -> dict[str, Any]:
    """What the parser makes of the arguments; nothing when it refuses them."""
    from designer.commands.main import understood

    try:
        with contextlib.redirect_stderr(_stream()), contextlib.redirect_stdout(_stream()):
            return vars(understood(arguments))
    except SystemExit:
        return {}


def _there(asked: dict[str, Any]) -> bool:
    """Whether the records named are a file already: one that is not there is made."""
    return os.path.exists(folder() / "desk" / str(asked["records"] or "").replace("\0", ""))


def _stream() -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(), "utf-8", errors="backslashreplace")


def _text(stream: io.TextIOWrapper) -> str:
    stream.flush()
    return stream.buffer.getvalue().decode("utf-8")  # type: ignore[attr-defined]


@contextlib.contextmanager
def _broken_off() -> Iterator[None]:
    """Break off what takes too much processor time, where the system has such a clock."""
    if not hasattr(signal, "setitimer"):
        yield
        return

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TooLongError

    old = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, PATIENCE_S)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, old)


def _forget_peak() -> None:
    """Begin the count of the most memory anew, where Linux lets one."""
    with contextlib.suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5")


def _peak_kb() -> int:
    """The most memory since then, 0 where it cannot be told."""
    with contextlib.suppress(OSError):
        for line in Path("/proc/self/status").read_text().splitlines():
            if line.startswith("VmHWM"):
                return int(line.split()[1])
    return 0
