"""Programs killed at any moment: let work until they have said so much, and killed a little later.

Nothing is waited for by the clock but the moment of the kill, which falls anywhere within what the
program does next, as long as that takes on this machine: a busy one changes nothing.
"""

from __future__ import annotations

import os
import queue
import random
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Sequence
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]


class Worker:
    """A Python program that says "ready", and then a line for each thing it has done."""

    def __init__(self, arguments: Sequence[object]) -> None:
        self._complaints = tempfile.TemporaryFile("w+")  # noqa: SIM115 - as long as the worker
        self._process = subprocess.Popen(
            [sys.executable, *map(str, arguments)],
            cwd=HOUSE,
            text=True,
            stdout=subprocess.PIPE,
            stderr=self._complaints,
            env={**os.environ, "PYTHONPATH": str(HOUSE), "QT_QPA_PLATFORM": "offscreen"},
        )
        self._lines: queue.SimpleQueue[str] = queue.SimpleQueue()
        self._reader = threading.Thread(target=self._read)
        self._reader.start()
        self.said: list[str] = []

    def work_and_die(self, least: int, dice: random.Random) -> list[str]:
        """Let it do so many things, kill it at a moment after; all it has said to be done."""
        try:
            assert self._next() == "ready\n", self._why()
            begun = time.monotonic()
            for _ in range(least):
                self.said.append(self._next())
            each_s = (time.monotonic() - begun) / least
            time.sleep(dice.uniform(0.0, 2.0 * each_s))
            assert self._process.poll() is None, self._why()
        finally:
            self._process.kill()
        self._process.wait()
        self._reader.join()
        while not self._lines.empty():
            self.said.append(self._lines.get())
        self._complaints.close()
        # a line cut short by the kill was never said
        return [line.strip() for line in self.said if line.endswith("\n")]

    def _read(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            self._lines.put(line)
        self._lines.put("")

    def _next(self) -> str:
        line = self._lines.get()
        assert line, f"it ended by itself: {self._why()}"
        return line

    def _why(self) -> str:
        self._complaints.seek(0)
        return self._complaints.read()


def killed_together(
    programs: Sequence[Sequence[object]], least: int, dice: random.Random
) -> list[list[str]]:
    """What each of several programs at work at the same time has said before it was killed."""
    workers = [Worker(arguments) for arguments in programs]
    # each has dice of its own: threads would take turns at one set in any order
    own = [random.Random(dice.random()) for _ in workers]
    said: list[list[str]] = [[] for _ in workers]
    faults: list[BaseException] = []

    def see_to(at: int) -> None:
        try:
            said[at] = workers[at].work_and_die(least, own[at])
        except BaseException as fault:
            faults.append(fault)

    threads = [threading.Thread(target=see_to, args=(at,)) for at in range(len(workers))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if faults:
        raise faults[0]
    return said


def swept(*folders: Path) -> int:
    """Clear up as the next writing in each folder does; how much had been left there."""
    from engine.storage import write_file

    before = [one for folder in folders for one in folder.glob(".baizewright-*")]
    for folder in folders:
        if folder.is_dir():
            write_file(folder / "swept.pdf", b"%PDF", "pdf")
            (folder / "swept.pdf").unlink()
            assert not list(folder.glob(".baizewright-*")), "nothing is left lying"
    return len(before)
