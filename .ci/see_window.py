"""Open the window by the README's command on a screen of its own, look at it, close it.

The picture is taken from the screen itself, not by the program: what is seen is what a coach
would see. It is kept in build/window-on-screen.png.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from PIL import Image, ImageGrab

HOUSE = Path(__file__).resolve().parents[1]
PICTURE = HOUSE / "build" / "window-on-screen.png"
PATIENCE_S = 90.0
STEADY_S = 3.0


def open_screen() -> tuple[subprocess.Popen[bytes], str]:
    """Start a virtual screen on a free number; return its process and its display name."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1600x1000x24", "-nolisten", "tcp"],
        pass_fds=[writing],
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as answer:
        number = answer.readline().strip()
    if not number:
        raise SystemExit("The virtual screen did not start.")
    return server, f":{number}"


def fullness(picture: Image.Image) -> tuple[float, int]:
    """Return the share of the picture that is not its commonest colour, and its colours."""
    small = picture.convert("RGB")
    counts = sorted((n for n, _ in small.getcolors(maxcolors=1 << 24)), reverse=True)
    return 1 - counts[0] / (small.width * small.height), len(counts)


def main() -> int:
    """Open, wait until something is painted, see that it stays open, and close."""
    server, display = open_screen()
    env = {**os.environ, "DISPLAY": display}
    env.pop("WAYLAND_DISPLAY", None)
    env.pop("QT_QPA_PLATFORM", None)
    window = subprocess.Popen(["python3", "-m", "designer"], cwd=HOUSE, env=env)
    try:
        ends = time.monotonic() + PATIENCE_S
        while True:
            if window.poll() is not None:
                print(f"The window closed by itself with code {window.returncode}.")
                return 1
            share, colours = fullness(ImageGrab.grab(xdisplay=display))
            if share > 0.3 and colours > 60:
                break
            if time.monotonic() > ends:
                print(f"Nothing was painted: {share:.0%} differs, {colours} colours.")
                return 1
            time.sleep(0.5)
        time.sleep(STEADY_S)
        if window.poll() is not None:
            print(f"The window did not stay open; it ended with code {window.returncode}.")
            return 1
        picture = ImageGrab.grab(xdisplay=display)
        PICTURE.parent.mkdir(exist_ok=True)
        picture.save(PICTURE)
        share, colours = fullness(picture)
        print(f"The window is open and painted: {colours} colours; picture in {PICTURE}")
        return 0
    finally:
        for process in (window, server):
            process.terminate()
            try:
                process.wait(10)
            except subprocess.TimeoutExpired:
                process.kill()


if __name__ == "__main__":
    sys.exit(main())
