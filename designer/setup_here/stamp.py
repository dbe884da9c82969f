"""The stamp left in `.venv` when set-up has finished, and the mark that it is under way."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path


def python_in(venv: Path) -> Path:
    """Return where the Python of a `.venv` folder lies on this system."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def fingerprint(project: Path) -> str:
    """Return a hash of all that makes a finished set-up go stale.

    The wanted packages (pyproject.toml and the lists of tested versions), the place of the
    project (scripts in `.venv` hold whole paths), and the Python behind `.venv` (a system upgrade
    changes it underneath).
    """
    python = python_in(project / ".venv")
    behind = os.path.realpath(python) if python.exists() else "none"
    wanted = (project / "pyproject.toml", *sorted((project / ".packaging").glob("lock*.txt")))
    parts = [*(file.read_bytes() for file in wanted), str(project).encode(), behind.encode()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def engine_state(project: Path) -> str:
    """Return a hash over date and size of the engine's sources.

    The compiled engine is kept by the same two figures: when they differ it compiles anew.
    """
    state = hashlib.sha256()
    for source in sorted((project / "engine").rglob("*.py")):
        about = source.stat()
        state.update(f"{source.name} {about.st_mtime_ns} {about.st_size}\n".encode())
    return state.hexdigest()


@dataclass(frozen=True, slots=True)
class Stamps:
    """The stamp and the under-way mark of one project folder."""

    project: Path

    @property
    def _stamp(self) -> Path:
        return self.project / ".venv" / "set-up-finished.json"

    @property
    def _mark(self) -> Path:
        return self.project / ".venv" / "set-up-under-way"

    def _read(self) -> dict[str, object]:
        try:
            content = json.loads(self._stamp.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return content if isinstance(content, dict) else {}

    def extras(self) -> frozenset[str]:
        """Return the extras installed by the last finished set-up (fresh or stale)."""
        listed = self._read().get("extras")
        return frozenset(map(str, listed)) if isinstance(listed, list) else frozenset()

    def fits(self, extras: Iterable[str] = ()) -> bool:
        """Say whether a finished set-up with these extras still holds."""
        if self.broken_off() or not python_in(self.project / ".venv").exists():
            return False
        if self._read().get("fingerprint") != fingerprint(self.project):
            return False
        return self.extras() >= frozenset(extras)

    def engine_prepared(self) -> bool:
        """Say whether the engine was compiled as it stands now."""
        return self._read().get("engine") == engine_state(self.project)

    def broken_off(self) -> bool:
        """Say whether a set-up was begun and never came to an end, good or bad."""
        return self._mark.exists()

    def begin(self) -> None:
        """Mark set-up as under way."""
        self._mark.write_text("Set-up began and has not ended.\n", encoding="utf-8")

    def give_up(self) -> None:
        """Take the mark away after an orderly failure: what was there before still stands."""
        self._mark.unlink(missing_ok=True)

    def finish(self, extras: Iterable[str]) -> None:
        """Write the stamp, whole or not at all, and take the mark away."""
        content = {
            "fingerprint": fingerprint(self.project),
            "engine": engine_state(self.project),
            "extras": sorted(extras),
        }
        draft = self._stamp.with_suffix(".draft")
        draft.write_text(json.dumps(content) + "\n", encoding="utf-8")
        os.replace(draft, self._stamp)
        self._mark.unlink(missing_ok=True)
