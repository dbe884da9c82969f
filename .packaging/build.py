"""Build the one-folder program for the system this runs on: build/program/baizewright.

.venv/bin/python -m pip install "pyinstaller>=6.6,<7"
.venv/bin/python .packaging/build.py
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
HOUSE = HERE.parent
OUT = HOUSE / "build" / "program"


def icons() -> None:
    """Write the icons Windows and macOS want, from the program's own drawing."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    sys.path.insert(0, str(HOUSE))
    from PIL import Image
    from PySide6.QtCore import QBuffer
    from PySide6.QtGui import QGuiApplication

    from designer.window.look import icon_picture

    app = QGuiApplication.instance() or QGuiApplication([])
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    icon_picture(512).save(buffer, "PNG")
    picture = Image.open(io.BytesIO(bytes(buffer.data().data())))
    sizes = [(side, side) for side in (16, 32, 48, 64, 128, 256)]
    picture.save(HERE / "baizewright.ico", sizes=sizes)
    picture.save(HERE / "baizewright.icns")
    del app


def main() -> int:
    """Build, and say where."""
    icons()
    work = HOUSE / "build" / "pyinstaller"
    done = subprocess.run(
        [
            sys.executable, "-m", "PyInstaller", str(HERE / "baizewright.spec"), "--noconfirm",
            "--distpath", str(OUT), "--workpath", str(work), "--log-level", "WARN",
        ],
        cwd=HOUSE,
        check=False,
    )  # fmt: skip
    if done.returncode == 0:
        files = [file for file in (OUT / "baizewright").rglob("*") if file.is_file()]
        size = sum(file.stat().st_size for file in files) / 1e6
        print(f"{OUT / 'baizewright'}: {len(files)} files, {size:.0f} MB")
    return done.returncode


if __name__ == "__main__":
    raise SystemExit(main())
