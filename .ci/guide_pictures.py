"""Make the pictures of the guide with the project's own commands and windows.

.venv/bin/python .ci/guide_pictures.py        (needs no screen)
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

PROJECT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(PROJECT))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pypdfium2  # noqa: E402
from PIL import Image  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from designer.guide import FOLDER, PICTURES  # noqa: E402

ROUTINE = FOLDER / "first-routine.json"
WIDTH_PX, PAGE_WIDTH_PX = 720, 520
PATIENCE_S = 180.0


def commands(*arguments: str) -> None:
    """Run one of the project's commands."""
    subprocess.run([sys.executable, "-m", "designer", *arguments], cwd=PROJECT, check=True)


def keep(picture: Image.Image, name: str, width_px: int) -> None:
    """Write a picture no wider than a page of the guide."""
    high = round(picture.height * width_px / picture.width)
    small = picture.convert("RGB").resize((width_px, high), Image.Resampling.LANCZOS)
    small.save(PICTURES / name, optimize=True)


def until(done: Callable[[], bool]) -> None:
    """Let the window work until that is so."""
    ends = time.monotonic() + PATIENCE_S
    while not done():
        if time.monotonic() > ends:
            raise SystemExit("The window did not get ready in time.")
        QApplication.processEvents()
        time.sleep(0.02)


def from_window(folder: Path) -> None:
    """The reach map as its tab shows it."""
    from designer.open_routine import Settings
    from designer.window.application import Application
    from designer.window.start import application

    app = application()
    desk = Application(Settings(folder / "settings.ini"))
    window = desk.open_window()
    window.resize(1400, 900)
    window.files.open(ROUTINE)
    until(lambda: window.session.predictions.is_ready)
    window.session.predictions.ask_now(window.session.routine)
    until(lambda: window.session.answer_is_full)
    reach = window.menus.dialogs.reach()
    ends = time.monotonic() + 8.0
    until(lambda: time.monotonic() > ends)
    reach.grab().save(str(folder / "reach.png"), "PNG")
    window.close()
    app.processEvents()


def main() -> None:
    """Write every picture the guide shows."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        diagram = folder / "first.png"
        commands("diagram", str(ROUTINE), "-o", str(diagram), "--landscape", "--width", "1440")
        keep(Image.open(diagram), "first-routine.png", WIDTH_PX)
        sheets = folder / "sheets.pdf"
        commands("handout", str(ROUTINE), "-o", str(sheets))
        page = pypdfium2.PdfDocument(sheets)[0]
        keep(page.render(scale=1.6).to_pil(), "handout.png", PAGE_WIDTH_PX)
        from_window(folder)
        reach = Image.open(folder / "reach.png")
        keep(reach, "reach-map.png", min(reach.width, WIDTH_PX))


if __name__ == "__main__":
    main()
