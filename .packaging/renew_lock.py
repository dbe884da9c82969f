"""Write the lock of tested versions anew, and see that every system can get them.

    .venv/bin/python -m pip install "uv>=0.5,<1"
    .venv/bin/python .packaging/renew_lock.py              # what pyproject.toml no longer allows
    .venv/bin/python .packaging/renew_lock.py --upgrade    # the newest of everything
    .venv/bin/python .packaging/renew_lock.py --check      # the lock as it stands, elsewhere

`lock.txt` holds what the program needs and the builder of the project, `lock-test.txt` what the
tests add. One version serves every Python (but see `tool.uv` in pyproject.toml for Intel Macs).
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import tomllib
from itertools import product
from pathlib import Path

HERE = Path(__file__).resolve().parent
PYPROJECT = HERE.parent / "pyproject.toml"
RUN, TEST = HERE / "lock.txt", HERE / "lock-test.txt"
HEAD = "# Written by .packaging/renew_lock.py from pyproject.toml; not to be edited.\n"
OLDEST = "3.11"
PYTHONS = (OLDEST, "3.12", "3.13")
#: Systems as uv calls them; PySide6 asks for these releases of the C library.
SYSTEMS = (
    "x86_64-manylinux_2_34",
    "aarch64-manylinux_2_39",
    "x86_64-pc-windows-msvc",
    "aarch64-apple-darwin",
    "x86_64-apple-darwin",
)
#: Ready-made OpenCV for Intel Macs begins here.
OLDEST_MACOS = "14.0"


def uv(*arguments: str, said: str = "") -> int:
    """Run uv's pip, with something said to it; return its exit code."""
    command = [sys.executable, "-m", "uv", "pip", *arguments]
    env = {**os.environ, "MACOSX_DEPLOYMENT_TARGET": OLDEST_MACOS}
    return subprocess.run(command, input=said, text=True, check=False, env=env).returncode


def compiled(out: Path, *asked: str) -> list[str]:
    """The packages with their hashes, one text each, keeping what `out` holds where it fits."""
    builders = tomllib.loads(PYPROJECT.read_text(encoding="utf-8"))["build-system"]["requires"]
    wanted = ["compile", str(PYPROJECT), "-", "--universal", "--python-version", OLDEST]
    told = ["--generate-hashes", "--no-header", "--no-annotate", "--quiet"]
    # One version for every Python, not the newest for each.
    fewest = ["--fork-strategy", "fewest"]
    code = uv(*wanted, *told, *fewest, *asked, "-o", str(out), said="\n".join(builders))
    if code:
        raise SystemExit(code)
    return re.split(r"\n(?=\S)", out.read_text(encoding="utf-8").strip())


def renew(*, upgrade: bool) -> None:
    """Write both files."""
    with tempfile.TemporaryDirectory() as name:
        whole, part = Path(name) / "whole.txt", Path(name) / "part.txt"
        if not upgrade:
            whole.write_text("".join(file.read_text(encoding="utf-8") for file in (RUN, TEST)))
        everything = compiled(whole, "--extra", "test")
        run = compiled(part, "--constraint", str(whole))
    RUN.write_text(HEAD + "\n".join(run) + "\n", encoding="utf-8")
    added = [one for one in everything if one not in run]
    TEST.write_text(HEAD + "\n".join(added) + "\n", encoding="utf-8")


def check() -> int:
    """Ask for ready-made builds of all of it, for each system and Python; 1 where one lacks."""
    worst = 0
    with tempfile.TemporaryDirectory() as nowhere:
        for system, python in product(SYSTEMS, PYTHONS):
            code = uv(
                "install", "--no-config", "--dry-run", "--quiet", "--no-deps", "--require-hashes",
                "--only-binary", ":all:", "--python-platform", system, "--python-version", python,
                "--target", nowhere, "-r", str(RUN), "-r", str(TEST),
            )  # fmt: skip
            print(f"{system}, Python {python}: {'not to be had' if code else 'all there'}")
            worst = max(worst, int(code != 0))
    return worst


def main() -> int:
    """Renew unless only a look is asked for, then look; the exit code."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--upgrade", action="store_true")
    parser.add_argument("--check", action="store_true")
    asked = parser.parse_args()
    if not asked.check:
        renew(upgrade=asked.upgrade)
    return check()


if __name__ == "__main__":
    raise SystemExit(main())
