"""Make the README's pictures with the project's own commands: the window and a handout page.

.venv/bin/python .ci/pictures.py        (needs a screen, real or virtual)
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import pypdfium2

PROJECT = Path(__file__).resolve().parent.parent
DEMO = PROJECT / "layouts_demo" / "04-left-right-or-between.json"
PICTURES = PROJECT / "layouts_demo" / "pictures"
HANDOUT_PAGE, HANDOUT_DPI = 1, 80


def _run(*arguments: str) -> None:
    subprocess.run([sys.executable, "-m", "designer", *arguments], cwd=PROJECT, check=True)


def main() -> None:
    """Write window.png and handout.png."""
    PICTURES.mkdir(exist_ok=True)
    _run("--picture", str(PICTURES / "window.png"), str(DEMO), "--size", "1400x900")
    with tempfile.TemporaryDirectory() as folder:
        sheets = Path(folder) / "handout.pdf"
        _run("handout", str(DEMO), "-o", str(sheets))
        page = pypdfium2.PdfDocument(sheets)[HANDOUT_PAGE]
        page.render(scale=HANDOUT_DPI / 72).to_pil().convert("RGB").quantize(96, dither=0).save(
            PICTURES / "handout.png"
        )


if __name__ == "__main__":
    main()
