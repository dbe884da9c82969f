"""Try the built folder where there is no Python: a handout is made, the window opens and paints.

    .venv/bin/python .packaging/try_folder.py [FOLDER]

The program runs with an empty environment and a home of its own, and as root in a view of the
disk in which every Python there is lies under an empty folder. The handout is read back with
another library; the window is looked at on a screen of its own (build/program-on-screen.png).
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from pypdf import PdfReader

HOUSE = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(HOUSE / ".ci"))
from see_window import watch  # noqa: E402

PICTURE = HOUSE / "build" / "program-on-screen.png"
PATIENCE_S = 120.0


def pythons() -> list[str]:
    """Every folder a Python lives in here."""
    found = {sys.prefix, sys.base_prefix, str(HOUSE / ".venv")}
    for folder in ("/usr/lib", "/usr/local/lib"):
        found |= {str(one) for one in Path(folder).glob("python3*")}
    return sorted(one for one in found if Path(one).is_dir() and one not in ("/usr", "/usr/local"))


def barred(command: list[str]) -> list[str]:
    """The command where no Python can be found, if this system lets us."""
    if os.getuid() != 0 or shutil.which("unshare") is None:
        return command
    hide = " && ".join(f"mount -t tmpfs none '{one}'" for one in pythons())
    gone = "for p in python3 python; do ! $p -c 1 2>/dev/null || exit 66; done"
    script = f'{hide} && {gone} && exec "$@"'
    return ["unshare", "-m", "sh", "-c", script, "sh", *command]


def main() -> int:
    """Try it; the exit code."""
    given = Path(sys.argv[1]) if len(sys.argv) > 1 else HOUSE / "build" / "program" / "baizewright"
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        env = {"HOME": name, "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8"}
        # Away from the sources, as on another computer.
        folder = home / "programs" / "baizewright"
        shutil.copytree(given, folder, symlinks=True)
        program = str(folder / "baizewright")
        demo = folder / "_internal" / "layouts_demo" / "04-left-right-or-between.json"
        begun = time.monotonic()
        sheets = home / "handout.pdf"
        subprocess.run(
            barred([program, "handout", str(demo), "-o", str(sheets)]),
            env=env,
            cwd=name,
            check=True,
        )
        text = "".join(page.extract_text() for page in PdfReader(sheets).pages)
        assert "Left, right or between" in " ".join(text.split()), "the title is not on it"
        print(f"the handout is made and read back ({time.monotonic() - begun:.0f} s)")
        subprocess.run(barred([program, "check", str(demo)]), env=env, cwd=name, check=True)
        seen = watch(
            barred([program, str(demo)]), env, name, PICTURE, patience_s=PATIENCE_S, steady_s=8.0
        )
        return 0 if seen else 1


if __name__ == "__main__":
    raise SystemExit(main())
