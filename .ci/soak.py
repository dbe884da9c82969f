"""Edit in the real window for half an hour and watch memory and Qt's complaints.

    .venv/bin/python .ci/soak.py [--minutes 30] [--growth 5]

Opens a virtual screen, then edits as a coach would: balls dragged by the pointer, nudged, added,
taken away and brought back; strikes, gaps, panels, views, dialogs, playing, saving, opening,
diagrams and handouts. After the warm-up (a fifth of the time) memory is measured at rest after
each round; the growth told is that of the medians of the first and last quarter of what follows.
Exit code 1 when it is more than wanted, or when Qt complained, or when an error was reported.
"""

from __future__ import annotations

import argparse
import gc
import os
import random
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

PROJECT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(PROJECT), str(PROJECT / ".ci")]
from see_window import open_screen  # noqa: E402

from designer.window.names import PANELS  # noqa: E402

DEMOS = sorted((PROJECT / "layouts_demo").glob("*.json"))
WARM_UP = 0.2


def rss_mb() -> float:
    """Memory of this process that is in use, MB."""
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise SystemExit("The memory in use cannot be read here.")


class Coach:
    """Edits in a window, the same way for the same number."""

    def __init__(self, desk: Any, folder: Path, seed: int) -> None:
        self.desk, self.folder, self.dice = desk, folder, random.Random(seed)
        self.window = desk.open_window()
        self.done = 0

    def settle(self, ms: int = 30) -> None:
        """Let the window work."""
        from PySide6.QtTest import QTest

        QTest.qWait(ms)

    def round(self) -> None:
        """Open a routine, edit it for a while, save it and make its papers."""
        window, dice = self.window, self.dice
        window.session.document.mark_saved()
        window.files.open(dice.choice(DEMOS))
        acts = [
            self.drag, self.nudge, self.strike, self.panel, self.view, self.undo, self.balls,
            self.gap, self.play, self.dialogs, self.mirror, self.words,
        ]  # fmt: skip
        for _ in range(40):
            dice.choice(acts)()
            self.done += 1
            self.settle(10)
        self.papers()
        self.settle(400)

    def drag(self) -> None:
        """Drag a ball by the pointer."""
        from PySide6.QtCore import QPointF, Qt
        from PySide6.QtTest import QTest

        canvas, session = self.window.canvas, self.window.session
        if not session.routine.balls:
            return
        ball = self.dice.choice(session.routine.balls)
        place = canvas.frame.transform().map
        start = place(QPointF(*ball.centre_mm)).toPoint()
        QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
        for step in range(8):
            dx, dy = self.dice.uniform(-25, 25), self.dice.uniform(-25, 25)
            QTest.mouseMove(canvas, start + QPointF(step * dx / 4, step * dy / 4).toPoint())
            self.settle(5)
        QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start + QPointF(dx, dy).toPoint())

    def nudge(self) -> None:
        """Nudge a ball by keys."""
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        self.window.canvas.setFocus()
        QTest.keyClick(self.window.canvas, Qt.Key.Key_Tab)
        for _ in range(5):
            key = self.dice.choice([Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up])
            QTest.keyClick(self.window.canvas, key)

    def strike(self) -> None:
        """Change a strike."""
        shots = self.window.session.shots
        shots.set_strike(self.dice.uniform(-0.5, 0.5), self.dice.uniform(1.0, 10.0))

    def panel(self) -> None:
        """Look at a panel."""
        self.window.show_panel(self.dice.choice(PANELS))

    def view(self) -> None:
        """Turn, zoom, change the unit, the look."""
        window = self.window
        self.dice.choice(
            [
                window.turn, window.canvas.zoom_in, window.canvas.zoom_out, window.canvas.show_all,
                lambda: window.session.set_unit(self.dice.choice(["mm", "inch"])),
                lambda: window.set_look(self.dice.choice(["light", "dark"])),
                lambda: window.resize(self.dice.randint(900, 1550), self.dice.randint(560, 950)),
            ]
        )()  # fmt: skip

    def undo(self) -> None:
        """Undo and redo."""
        for _ in range(self.dice.randint(1, 6)):
            self.window.session.undo()
        for _ in range(self.dice.randint(0, 3)):
            self.window.session.redo()

    def balls(self) -> None:
        """Put a ball on and take one off."""
        session = self.window.session
        session.balls.add(self.dice.choice(["red", "pink", "black", "yellow"]))
        if len(session.routine.balls) > 7:
            session.balls.remove(self.dice.choice(session.routine.balls[1:]).id)

    def gap(self) -> None:
        """Add a gap beside a cushion."""
        session = self.window.session
        others = [ball for ball in session.routine.balls if not ball.is_cue]
        if others and len(session.routine.gaps) < 4:
            session.gaps.add_beside_cushion(self.dice.choice(others).id, "right")

    def play(self) -> None:
        """Play the shot for a moment."""
        player = self.window.session.player
        player.toggle()
        self.settle(250)
        player.step(1)
        player.close()

    def dialogs(self) -> None:
        """Open and close the windows beside the table."""
        from PySide6.QtWidgets import QDialog

        asides = self.window.menus.dialogs
        self.dice.choice(
            [asides.report, asides.advice, asides.table, self.window.menus._show_guide]
        )()
        self.settle(60)
        for dialog in self.window.findChildren(QDialog):
            dialog.close()

    def mirror(self) -> None:
        """Mirror the routine."""
        self.window.session.choose_balls([])
        self.window.session.group.mirror(self.dice.choice(["long", "cross"]))

    def words(self) -> None:
        """Write a title."""
        self.window.session.sheet.set_text("title", f"Soak {self.dice.randint(0, 999)}")

    def papers(self) -> None:
        """Save, keep, and write a diagram and a handout."""
        from designer.exporting.diagram import diagram_bytes
        from designer.handouts import handout_pdf

        session = self.window.session
        self.window.recovery.keep()
        self.window.files._save(self.folder / f"soak-{self.done % 5}.json")
        for ending in (".svg", ".png", ".pdf"):
            diagram_bytes(session, ending)
        handout_pdf([(session.routine, session.full_answer())], "a4", "coach", "mm")


def main() -> int:
    """Soak, and tell."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("--growth", type=float, default=5.0, help="per cent allowed")
    parser.add_argument("--seed", type=int, default=9)
    asked = parser.parse_args()
    server, os.environ["DISPLAY"] = open_screen()
    os.environ["QT_QPA_PLATFORM"] = "xcb"
    try:
        return soak(asked)
    finally:
        server.terminate()


def soak(asked: argparse.Namespace) -> int:
    """Edit until the time is over; the exit code."""
    from PySide6.QtCore import qInstallMessageHandler

    complaints: list[str] = []
    qInstallMessageHandler(lambda _kind, _where, words: complaints.append(words))
    from designer.open_routine import Settings
    from designer.window.application import Application
    from designer.window.start import application

    app = application()
    measured: list[tuple[float, float]] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        settings = Settings(folder / "settings.ini")
        desk = Application(settings)
        desk.watch_for_errors()
        coach = Coach(desk, folder, asked.seed)
        coach.window.files.asker.about_changes = lambda *_: "drop"
        coach.window.files.asker.about_changed_file = lambda *_: True
        while not coach.window.session.predictions.is_ready:
            coach.settle(50)
        begun, length = time.monotonic(), 60.0 * asked.minutes
        while (spent := time.monotonic() - begun) < length:
            coach.round()
            gc.collect()
            measured.append((spent, rss_mb()))
            if len(measured) % 10 == 0:
                print(f"{spent:6.0f} s  {coach.done:6} acts  {measured[-1][1]:7.1f} MB", flush=True)
        reports = (
            sorted(settings.report_folder.glob("*.txt")) if settings.report_folder.is_dir() else []
        )
        for report in reports[:5]:
            print(report.read_text())
        coach.window.session.document.mark_saved()
        coach.window.close()
        app.processEvents()
    warm = [mb for spent, mb in measured if spent >= WARM_UP * length]
    quarter = max(len(warm) // 4, 1)
    first, last = statistics.median(warm[:quarter]), statistics.median(warm[-quarter:])
    growth = 100.0 * (last / first - 1.0)
    print(f"{coach.done} acts in {length / 60:.0f} minutes, memory at rest after the warm-up:")
    print(f"{first:.1f} MB at first, {last:.1f} MB at last: {growth:+.1f} %")
    print(f"{len(complaints)} complaints of Qt, {len(reports)} errors reported")
    for words in sorted(set(complaints))[:20]:
        print("  ", words)
    return 1 if complaints or reports or growth > asked.growth else 0


if __name__ == "__main__":
    raise SystemExit(main())
