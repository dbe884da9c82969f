"""Run the package installer and the engine's preparation, telling what happens."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from designer.setup_here.faults import NoBuildError, SetUpError, from_installer_text
from designer.setup_here.wants import lock_files

FETCHED = re.compile(
    r"^Collecting (?P<name>[A-Za-z0-9._-]+)|^Processing \S*[/\\](?P<file>[A-Za-z0-9_.]+)-\S+\.whl"
)
#: No deps: the lists name them all. A package that would have to be built here was not tested.
TESTED = ["--require-hashes", "--no-deps", "--only-binary", ":all:"]
QUIET = ["--no-input", "--disable-pip-version-check", "--progress-bar", "off"]

#: What prepares the engine: its machine code, with a line that tells how far it is, and the byte
#: code of both packages, so that no command has to translate them.
PREPARE = ("-m", "engine.compiled"), ("-m", "compileall", "-q", "engine", "designer")


def tell(text: str) -> None:
    """Tell how set-up gets on (on the error stream: commands keep the other one clean)."""
    print(text, file=sys.stderr, flush=True)


def told(line: str) -> str | None:
    """Return the plain words for one line of the installer, None for a line to keep quiet."""
    if found := FETCHED.match(line):
        return f"  fetching {found['name'] or found['file']}"
    if line.startswith("Installing collected packages") and "," in line:
        return "  unpacking all of them"
    if line.startswith("WARNING: Retrying"):
        return "  the network is slow to answer; trying again"
    return None


def install(pip: Sequence[str], project: Path, extras: Iterable[str], log: Path) -> None:
    """Install the project and its packages; raise SetUpError with the reason when it fails.

    The tested versions come first, each held to its checksum; where one of them has no build for
    this Python, others within the bounds of pyproject.toml do. `pip` is the start of the install
    command; everything it says is kept in `log`.
    """
    listed = ",".join(sorted(extras))
    target = f"{project}[{listed}]" if listed else str(project)
    command = [*pip, "install", *QUIET]
    builder: list[str] = []
    log.unlink(missing_ok=True)
    if locks := lock_files(project, extras):
        files = [part for lock in locks for part in ("-r", str(lock))]
        try:
            _run_installer([*command, *TESTED, *files], project, log)
            builder = ["--no-build-isolation"]  # it is among the tested versions
        except NoBuildError:
            tell("  not every tested version can be had for this Python here; trying others")
    _run_installer([*command, "--prefer-binary", *builder, "--editable", target], project, log)


def _run_installer(command: Sequence[str], project: Path, log: Path) -> None:
    """Run one install command to its end, telling how it gets on."""
    lines: list[str] = []
    with (
        log.open("a", encoding="utf-8") as kept,
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
    """Compile the shot engine once, so that no command and no drag of a ball has to.

    Compiling tells how far it has come on the error stream, which it has to itself meanwhile.
    """
    for step in PREPARE:
        done = subprocess.run(
            [str(python), *step], cwd=project, stdout=subprocess.DEVNULL, check=False
        )
        if done.returncode:
            raise SetUpError(
                "The shot engine could not be prepared: its last words stand above.\n"
                "Delete the folder .venv and run the same command again."
            )
