"""Give the readers damaged input for as long as wanted; it goes on where it left off.

    .venv/bin/python -m tests.fuzz.run --minutes 20 [--upto 1000000] [--state FOLDER]

The state (how many inputs so far, what was found) is kept in a folder outside the repository,
`~/.cache/baizewright-fuzz` unless said otherwise. Exit code 1 when something was found.
"""

from __future__ import annotations

import argparse
import json
import os
import time
from collections import Counter
from pathlib import Path

from tests.fuzz.trying import attempt

STEP = 1_000
MOST_KEPT = 200


def main() -> int:
    """Run until the time or the number is reached."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--upto", type=int, default=1_000_000)
    parser.add_argument("--state", type=Path, default=Path.home() / ".cache" / "baizewright-fuzz")
    asked = parser.parse_args()
    asked.state.mkdir(parents=True, exist_ok=True)
    file = asked.state / "state.json"
    state = json.loads(file.read_text()) if file.exists() else {"done": 0, "read": {}, "found": []}
    tried, read = Counter(state.get("tried", {})), Counter(state["read"])
    ends = time.monotonic() + 60.0 * asked.minutes
    while state["done"] < asked.upto and time.monotonic() < ends:
        for number in range(state["done"], min(state["done"] + STEP, asked.upto)):
            name, was_read, finding = attempt(number)
            tried[name] += 1
            read[name] += was_read
            if finding is not None and len(state["found"]) < MOST_KEPT:
                state["found"].append([finding.reader, number, finding.what[:300]])
                (asked.state / f"found-{number}.txt").write_text(
                    finding.text, encoding="utf-8", errors="surrogatepass"
                )
        state["done"] = min(state["done"] + STEP, asked.upto)
        state["tried"], state["read"] = dict(tried), dict(read)
        fresh = file.with_suffix(".part")
        fresh.write_text(json.dumps(state))
        os.replace(fresh, file)
    told = ", ".join(f"{name} {read[name]}/{count}" for name, count in sorted(tried.items()))
    print(f"{state['done']:,} inputs, {len(state['found'])} findings; read: {told}")
    for finding in state["found"]:
        print("  ", *finding)
    return 1 if state["found"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
