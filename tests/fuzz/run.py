"""Give readers damaged input, and whole commands damaged files, for as long as wanted.

    python tests/fuzz/run.py --seconds 60                  half readers, half commands, a new seed
    python tests/fuzz/run.py --inputs 1000000 --what readers --seed 7
    python tests/fuzz/run.py --what commands --seed 7 --first 412 --inputs 1      one again

The seed is told first: with it, the same inputs come again. Exit code 1 when something is found.
"""

from __future__ import annotations

import argparse
import secrets
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.fuzz import trying, whole

MOST_TOLD = 200


class Tally:
    """What was tried, by name: how often, how it ended, the most processor time, and findings."""

    def __init__(self) -> None:
        self.tried: Counter[str] = Counter()
        self.ends: Counter[tuple[str, str]] = Counter()
        self.longest: dict[str, float] = {}
        self.found = 0

    def note(self, name: str, end: str, seconds: float, wrong: str) -> None:
        """Note one input; what is wrong with it is told at once."""
        self.tried[name] += 1
        self.ends[name, end] += 1
        self.longest[name] = max(seconds, self.longest.get(name, 0.0))
        if wrong:
            self.found += 1
            if self.found <= MOST_TOLD:
                print(wrong, flush=True)

    def tell(self) -> None:
        """Print all of it."""
        for name, count in sorted(self.tried.items()):
            ends = ", ".join(
                f"{end} {n:,}" for (of, end), n in sorted(self.ends.items()) if of == name
            )
            print(f"  {name}: {count:,} ({ends}), longest {self.longest[name]:.2f} s")


def read_one(seed: str, number: int, slack: float, tally: Tally) -> None:
    """One damaged input for one reader."""
    start = time.process_time()
    name, was_read, finding = trying.attempt(seed, number)
    seconds = time.process_time() - start
    wrong = f"readers {number}: {name}: {finding.what}\n{finding.given!r:.600}" if finding else ""
    if seconds > whole.REFUSED_S * slack:
        wrong += f"readers {number}: {name}: took {seconds:.1f} s of processor time"
    tally.note(name, "read" if was_read else "refused", seconds, wrong)


def run_one(seed: str, number: int, slack: float, tally: Tally) -> None:
    """One whole command on damaged files."""
    done = whole.run(seed, number, slack)
    name = " ".join(done.arguments[:2] if done.arguments[0] in _PARTED else done.arguments[:1])
    wrong = "\n".join(done.wrong)
    told = f"commands {number}: {done.arguments!r:.600}\n{wrong}" if wrong else ""
    tally.note(name, f"exit {done.code}", done.seconds, told)


_PARTED = ("photo", "library", "plan", "record")
_WAYS: dict[str, Callable[[str, int, float, Tally], None]] = {
    "readers": read_one,
    "commands": run_one,
}


def main() -> int:
    """Run until the time is over or the inputs are through; 1 when something was found."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--seconds", type=float, help="how long (of the clock)")
    parser.add_argument("--inputs", type=int, help="how many of each")
    parser.add_argument("--seed", default="", help="a new one when left out")
    parser.add_argument("--first", type=int, default=0, metavar="N", help="begin with input N")
    parser.add_argument("--what", choices=(*_WAYS, "both"), default="both")
    parser.add_argument(
        "--slack", type=float, default=1.0, help="bounds of time so many times as wide"
    )
    asked = parser.parse_args()
    if asked.seconds is None and asked.inputs is None:
        parser.error("say --seconds or --inputs")
    seed = asked.seed or secrets.token_hex(4)
    print(f"seed {seed}", flush=True)
    ways = [asked.what] if asked.what != "both" else list(_WAYS)
    found = 0
    for way in ways:
        share = None if asked.seconds is None else asked.seconds / len(ways)
        tally = Tally()
        for number in _numbers(asked.first, asked.inputs, share):
            _WAYS[way](seed, number, asked.slack, tally)
        print(f"{way}: {sum(tally.tried.values()):,} inputs, {tally.found} findings")
        tally.tell()
        found += tally.found
    if found:
        print(f"Again: python tests/fuzz/run.py --seed {seed} --what WAY --first N --inputs 1")
    return 1 if found else 0


def _numbers(first: int, inputs: int | None, seconds: float | None) -> Iterator[int]:
    ends = None if seconds is None else time.monotonic() + seconds
    number = first
    while (inputs is None or number < first + inputs) and (ends is None or time.monotonic() < ends):
        yield number
        number += 1


if __name__ == "__main__":
    raise SystemExit(main())
