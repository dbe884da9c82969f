"""Run the package installer and the engine's preparation, telling what happens."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from designer.setup_here.faults import SetUpError, from_installer_text

FETCHED = re.compile(
    r"^Collecting (?P<name>[A-Za-z0-9._-]+)|^Processing \S*[/\\](?P<file>[A-Za-z0-9_.]+)-\S+\.whl"
)
QUIET = ["--no-input", "--disable-pip-version-check", "--progress-bar", "off"]


def tell(text: str) -> None:
    """Tell how set-up gets on (on the error stream: commands keep the other one clean)."""
    print(text, file=sys.stderr, flush=True)


def told(line: str) -> str | None:
    """Return the plain words for one line of the installer, None for a line to keep quiet."""
    if found := FETCHED.match(line):
        return f"  fetching {found['name'] or found['file']}"
    if line.startswith("Installing collected packages"):
        return "  unpacking all of them"
    if line.startswith("WARNING: Retrying"):
        return "  the network is slow to answer; trying again"
    return None


def install(pip: Sequence[str], project: Path, extras: Iterable[str], log: Path) -> None:
    """Install the project and its packages; raise SetUpError with the reason when it fails.

    `pip` is the start of the install command; everything it says is kept in `log`.
    """
    listed = ",".join(sorted(extras))
    target = f"{project}[{listed}]" if listed else str(project)
    command = [*pip, "install", *QUIET, "--editable", target]
    lines: list[str] = []
    with (
        log.open("w", encoding="utf-8") as kept,
        subprocess.Popen(
            command,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            errors="replace",
            cwd=project,
        ) as run,
    ):
        assert run.stdout is not None
        last = None
        for line in run.stdout:
            kept.write(line)
            lines.append(line)
            words = told(line)
            if words and words != last:
                tell(words)
                last = words
    if run.returncode:
        raise from_installer_text("".join(lines), project, log)


def prepare_engine(python: Path, project: Path) -> None:
    """Compile the shot engine where that is not done yet, so that no one waits for it later.

    How far it has come is told on the error stream.
    """
    done = subprocess.run([str(python), "-m", "engine.compiled"], cwd=project, check=False)
    if done.returncode:
        raise SetUpError(
            "The shot engine could not be prepared; what went wrong stands above.\n"
            "Delete the folder .venv and run the same command again."
        )
