"""Give a lesson of three steps on a screen of its own, by keys as a hand presses them, and look.

The keys come from outside the program (xdotool), the pictures from the screen itself. What is
given on every screen, light and dark: a guess noted, lane by lane, one of them slowly, the answer,
the next step, the whole table, the end. Pictures are kept in build/lesson-SIZE-LOOK-N.png.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PIL import ImageGrab
from see_window import open_screen

HOUSE = Path(__file__).resolve().parents[1]
#: Size of the screen, the program's scale on it, and its look.
SCREENS = [
    (size, scale, look)
    for size, scale in (("1366x768", "1"), ("1920x1080", "1"), ("1920x1080", "1.5"))
    for look in ("light", "dark")
]
PATIENCE_S = 120.0


def routine_of_three() -> object:
    """The reds' routine with two further steps: a question of the program's own, and no pot."""
    from engine.routine.values import Shot
    from engine.storage import load_routine

    found = load_routine(HOUSE / "layouts_demo" / "04-left-right-or-between.json")
    (shot,) = found.shots
    ask = "Which stroke takes the white between the reds?"
    short = replace(shot, id="short", question=ask, answer="", lanes=shot.lanes[1:])
    aimed = Shot("aimed", aim_deg=100.0, lanes=shot.lanes[:2])
    return replace(found, shots=(shot, short, aimed), claims=())


class Hand:
    """Presses keys, waits for what they bring about, and keeps pictures of the screen."""

    def __init__(self, app: object, name: str) -> None:
        self.app, self.name, self.taken = app, name, 0

    def press(self, key: str, until: Callable[[], bool]) -> None:
        """Press a key and wait for a state; it ends the program when that never comes."""
        subprocess.run(["xdotool", "key", key], check=True)
        self.wait(until, f"{key} did nothing")

    def wait(self, until: Callable[[], bool], complaint: str) -> None:
        """Wait for a state; the program ends with a complaint when it never comes."""
        begun = time.monotonic()
        while not until():
            if time.monotonic() - begun > PATIENCE_S:
                raise SystemExit(f"{self.name}: {complaint}.")
            self.app.processEvents()  # type: ignore[attr-defined]
            time.sleep(0.01)

    def look(self) -> None:
        """Keep a picture of the screen."""
        for _ in range(20):
            self.app.processEvents()  # type: ignore[attr-defined]
            time.sleep(0.01)
        self.taken += 1
        ImageGrab.grab(xdisplay=os.environ["DISPLAY"]).save(
            HOUSE / "build" / f"lesson-{self.name}-{self.taken}.png"
        )


def give(look: str, name: str, folder: Path) -> None:
    """Open the window with the routine and give the lesson; the screen is this process's own."""
    from designer.lesson.lesson import Lesson
    from designer.open_routine import OpenRoutine, Settings
    from designer.window.look import put_on
    from designer.window.main_window import DesignerWindow
    from designer.window.start import application
    from engine.routine.document import Document

    app = application()
    put_on(app, look)
    session = OpenRoutine(Document(routine_of_three()))  # type: ignore[arg-type]
    window = DesignerWindow(session, Settings(folder / "settings.ini"))
    window.show()
    session.predictions.prepare()
    hand, player = Hand(app, name), session.player
    hand.wait(lambda: session.shot_answer is not None, "the engine gave no answer")
    window.activateWindow()
    window.canvas.setFocus()
    hand.press("F12", lambda: bool(window.findChildren(Lesson)))
    (lesson,) = window.findChildren(Lesson)
    ended: list[bool] = []
    lesson.left.connect(lambda: ended.append(True))
    screen = app.primaryScreen().geometry()
    hand.wait(lambda: lesson.isActiveWindow() and lesson.geometry() == screen, "it fills no screen")
    place = lesson.table.geometry(), lesson.table.transform()
    hand.look()
    hand.press("2", lambda: lesson.asked.guess == 1)
    hand.press("s", lambda: player.speed < 1.0)
    hand.press("space", lambda: player.is_playing and player.time_s > 0.4)
    hand.look()
    hand.press("s", lambda: player.speed == 1.0)
    for card in range(1, len(lesson.asked.order)):
        hand.press("space", lambda card=card: lesson.asked.current == card)  # type: ignore[misc]
        hand.wait(lambda: player.is_at_end, "the lane did not come to its end")
        if card == 2:
            hand.look()
    hand.press("space", lambda: lesson.asked.is_done and bool(lesson.verdict.text()))
    if (lesson.table.geometry(), lesson.table.transform()) != place:
        raise SystemExit(f"{name}: the table has jumped.")
    hand.look()
    hand.press("Right", lambda: lesson.number == 2 and not lesson.asked.finished)
    hand.look()
    hand.press("space", lambda: player.is_playing)
    hand.press("period", lambda: not player.is_playing and player.time_s > 0.0)
    hand.press("w", lambda: lesson.table.transform() != place[1])
    hand.look()
    hand.press("Right", lambda: lesson.number == 3)
    hand.press("Escape", lambda: bool(ended))
    print(f"{name}: the lesson was given; {hand.taken} pictures in {HOUSE / 'build'}")
    os._exit(0)


def main() -> int:
    """Give the lesson on every screen, each in a process of its own."""
    (HOUSE / "build").mkdir(exist_ok=True)
    failed = 0
    for size, scale, look in SCREENS:
        server, display = open_screen(size)
        env = {**os.environ, "DISPLAY": display, "QT_SCALE_FACTOR": scale}
        for name in ("WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
            env.pop(name, None)
        env["PYTHONPATH"] = str(HOUSE)
        name = f"{size}-{scale}-{look}"
        try:
            command = [sys.executable, __file__, "--give", look, name]
            failed += subprocess.run(command, env=env, cwd=HOUSE).returncode != 0
        finally:
            server.terminate()
            server.wait(10)
    return 1 if failed else 0


if __name__ == "__main__":
    if sys.argv[1:2] == ["--give"]:
        with tempfile.TemporaryDirectory() as made:
            give(*sys.argv[2:4], Path(made))
    sys.exit(main())
