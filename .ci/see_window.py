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
BUILDING = "tests/designer/window/test_building_a_routine.py"
PATIENCE_S = 90.0
STEADY_S = 3.0


def open_screen(size: str = "1600x1000") -> tuple[subprocess.Popen[bytes], str]:
    """Start a virtual screen on a free number; return its process and its display name."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{size}x24", "-nolisten", "tcp"],
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


def watch(
    command: list[str],
    env: dict[str, str],
    folder: str | Path,
    picture: Path,
    *,
    patience_s: float,
    steady_s: float,
) -> bool:
    """Open a window by a command on a screen of its own, wait until something is painted, see that
    it stays open, keep a picture of the screen, and close; False, and told why, when it failed."""
    server, display = open_screen()
    begun = time.monotonic()
    window = subprocess.Popen(command, cwd=folder, env={**env, "DISPLAY": display})
    try:
        while True:
            if window.poll() is not None:
                print(f"The window closed by itself with code {window.returncode}.")
                return False
            share, colours = fullness(ImageGrab.grab(xdisplay=display))
            if share > 0.3 and colours > 60:
                break
            if time.monotonic() - begun > patience_s:
                print(f"Nothing was painted: {share:.0%} differs, {colours} colours.")
                return False
            time.sleep(0.5)
        opened = time.monotonic() - begun
        time.sleep(steady_s)
        if window.poll() is not None:
            print(f"The window did not stay open; it ended with code {window.returncode}.")
            return False
        seen = ImageGrab.grab(xdisplay=display)
        picture.parent.mkdir(exist_ok=True)
        seen.save(picture)
        _, colours = fullness(seen)
        print(f"The window is open and painted after {opened:.1f} s: {colours} colours; picture in "
              f"{picture}")  # fmt: skip
        return True
    finally:
        for process in (window, server):
            process.terminate()
            try:
                process.wait(10)
            except subprocess.TimeoutExpired:
                process.kill()


def build_a_routine() -> bool:
    """Have the tests that build routines by hand do so in a window on a screen."""
    server, display = open_screen()
    env = {**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
    try:
        command = [sys.executable, "-m", "pytest", "-q", BUILDING]
        return subprocess.run(command, cwd=HOUSE, env=env).returncode == 0
    finally:
        server.terminate()
        server.wait(10)


def main() -> int:
    """Look at the window of the README's command."""
    env = {**os.environ}
    env.pop("WAYLAND_DISPLAY", None)
    env.pop("QT_QPA_PLATFORM", None)
    command = ["python3", "-m", "designer"]
    seen = watch(command, env, HOUSE, PICTURE, patience_s=PATIENCE_S, steady_s=STEADY_S)
    return 0 if seen and build_a_routine() else 1


if __name__ == "__main__":
    sys.exit(main())
