"""Two screens, the pupils' and the coach's, as cables come and go."""

import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, QRect, Qt, Signal

from designer.lesson import lesson as lesson_module
from designer.lesson.screens import LessonScreens, name_of
from designer.open_routine import Settings
from engine.routine import edits

NOTE, TELL = "Quokka: keep the cue level.", "Screw it."


class Screen:
    """As much of a screen as the lesson asks for."""

    def __init__(self, name, x=0):
        self._name, self._x = name, x

    def name(self):
        return self._name

    def manufacturer(self):
        return "Ashgrove"

    def model(self):
        return "P2"

    def serialNumber(self):
        return ""

    def geometry(self):
        return QRect(self._x, 0, 1366, 768)


class Plugs(QObject):
    """Screens that can be plugged in and pulled, told as the application tells them."""

    screenAdded = Signal(object)  # noqa: N815  named by Qt
    screenRemoved = Signal(object)  # noqa: N815

    def __init__(self, *screens):
        super().__init__()
        self.all = list(screens)

    def screens(self):
        return list(self.all)

    def primaryScreen(self):
        return self.all[0]

    def plug(self, screen):
        self.all.append(screen)
        self.screenAdded.emit(screen)

    def pull(self, screen, *, late=False):
        """Pull a screen; `late`: it is still listed while that is told."""
        if not late:
            self.all.remove(screen)
        self.screenRemoved.emit(screen)
        if late:
            self.all.remove(screen)


DESK, WALL = Screen("desk"), Screen("wall", 1366)


@pytest.mark.quick
def test_one_screen_is_the_pupils_and_the_coach_has_none(settings):
    screens = LessonScreens(settings, DESK, Plugs(DESK))
    assert screens.pupils is DESK and screens.coach is None


def test_of_two_the_pupils_get_the_other_at_first_then_the_one_chosen(tmp_path):
    plugs = Plugs(DESK, WALL)
    screens = LessonScreens(Settings(tmp_path / "s.ini"), DESK, plugs)
    assert (screens.pupils, screens.coach) == (WALL, DESK)
    told = []
    screens.changed.connect(lambda: told.append(screens.pupils))
    screens.choose(DESK)
    assert told == [DESK] and screens.coach is WALL
    again = LessonScreens(Settings(tmp_path / "s.ini"), DESK, plugs)
    assert (again.pupils, again.coach) == (DESK, WALL), "remembered"
    assert Settings(tmp_path / "s.ini").lesson_screen == name_of(DESK) == "Ashgrove P2 desk"


@pytest.mark.parametrize("late", [False, True])
def test_a_screen_that_goes_away_and_comes_back(settings, late):
    plugs = Plugs(DESK, WALL)
    screens = LessonScreens(settings, DESK, plugs)
    screens.choose(WALL)
    told = []
    screens.changed.connect(lambda: told.append((screens.pupils, screens.coach)))
    plugs.pull(WALL, late=late)
    assert told == [(DESK, None)] and screens.pupils is DESK
    back = Screen("wall", 1366)
    plugs.plug(back)
    assert told[-1] == (back, DESK)


def test_when_the_coachs_screen_goes_the_pupils_keep_theirs(settings):
    plugs = Plugs(DESK, WALL)
    screens = LessonScreens(settings, DESK, plugs)
    plugs.pull(DESK)
    assert screens.pupils is WALL and screens.coach is None


def test_a_projector_plugged_in_later_is_for_the_pupils(settings):
    plugs = Plugs(DESK)
    screens = LessonScreens(settings, DESK, plugs)
    plugs.plug(WALL)
    assert (screens.pupils, screens.coach) == (WALL, DESK)


def test_what_is_the_coachs_comes_onto_no_other_screen_by_itself(settings):
    third = Screen("third", 2732)
    plugs = Plugs(DESK, WALL)
    screens = LessonScreens(settings, DESK, plugs)
    screens.choose(WALL)
    plugs.plug(third)
    assert (screens.pupils, screens.coach) == (WALL, DESK)
    plugs.pull(DESK)
    assert (screens.pupils, screens.coach) == (WALL, None)
    screens.look_for_coach()
    assert screens.coach is third, "when the coach asks for it"


def test_a_screen_that_shows_the_same_is_not_the_coachs(settings):
    mirror = Screen("mirror")
    screens = LessonScreens(settings, DESK, Plugs(DESK, mirror))
    assert screens.pupils is mirror and screens.coach is None


@pytest.fixture
def plugs():
    return Plugs(DESK, WALL)


@pytest.fixture
def lesson(qtbot, monkeypatch, window, session, plugs):
    """A lesson on two screens that are not there; where each window was put is noted."""

    def fill(screen, widget):
        widget.put_on = screen
        widget.resize(1366, 768)
        widget.show()

    def screens_of(settings, at):
        return LessonScreens(settings, DESK, plugs)

    monkeypatch.setattr(lesson_module, "LessonScreens", screens_of)
    monkeypatch.setattr(lesson_module, "fill", fill)
    monkeypatch.setattr(lesson_module, "put_beside", fill)
    shot = replace(session.shot, note=NOTE, answer=TELL)
    session.apply("words", lambda r: edits.set_shot(r, shot.id, shot))
    made = window.begin_lesson()
    qtbot.waitExposed(made)
    return made


def test_the_coach_sees_answers_and_note_and_pupils_do_not(qtbot, lesson, session):
    assert (lesson.put_on, lesson.coach.put_on) == (WALL, DESK)
    told = lesson.coach.told.text()
    assert NOTE in told and TELL in told
    assert all(f"lane {label}" in told for label in "ABC") and "Card 3" in told
    assert lesson.coach not in lesson.findChildren(QObject)
    shown = " ".join(part.text() for part in lesson.findChildren(QObject) if hasattr(part, "text"))
    assert NOTE not in shown and TELL not in shown


def test_keys_steer_the_lesson_from_the_coachs_window(qtbot, lesson, session):
    qtbot.keyClick(lesson.coach, "2")
    assert lesson.asked.guess == 1 and "card 2" in lesson.coach.told.text()
    qtbot.keyClick(lesson.coach, Qt.Key.Key_Space)
    assert session.player.is_playing
    with qtbot.waitSignal(lesson.left):
        qtbot.keyClick(lesson.coach, Qt.Key.Key_Escape)


def test_a_cable_pulled_in_the_midst_of_it_loses_nothing(qtbot, lesson, session, plugs):
    qtbot.keyClick(lesson, "2")
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    coach = lesson.coach
    plugs.pull(WALL)
    assert lesson.put_on is DESK and lesson.isVisible() and not coach.isVisible()
    assert lesson.asked.guess == 1 and session.player.is_playing
    assert NOTE not in lesson.verdict.text()
    plugs.plug(WALL)
    assert (lesson.put_on, coach.put_on) == (WALL, DESK) and coach.isVisible()


def test_the_screen_is_chosen_in_the_coachs_window(qtbot, lesson, window):
    choice = lesson.coach.choice
    assert [choice.itemText(i) for i in range(2)] == ["Ashgrove P2 desk", "Ashgrove P2 wall"]
    assert choice.currentIndex() == 1
    choice.setCurrentIndex(0)
    choice.activated.emit(0)
    assert (lesson.put_on, lesson.coach.put_on) == (DESK, WALL)
    assert window.settings.lesson_screen == "Ashgrove P2 desk"


def test_the_coachs_window_can_be_put_away_and_goes_with_the_lesson(qtbot, lesson):
    coach, ended = lesson.coach, []
    coach.destroyed.connect(lambda: ended.append(True))
    qtbot.keyClick(lesson, "C")
    assert not coach.isVisible()
    qtbot.keyClick(lesson, "C")
    assert coach.isVisible()
    lesson.close()
    qtbot.waitUntil(lambda: bool(ended))


ON_TWO = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from designer.open_routine import OpenRoutine, Predictions, Settings
from designer.window.main_window import DesignerWindow
from engine.routine.document import Document
from engine.storage import load_routine

app = QApplication([])
session = OpenRoutine(Document(load_routine(sys.argv[1])), Predictions(aside=False))
session.predictions.prepare()
window = DesignerWindow(session, Settings(Path(sys.argv[2])))
window.show()
desk = window.screen()
lesson = window.begin_lesson()
app.processEvents()

def where(one):
    return one.screen().name(), one.isVisible(), one.screen().geometry().contains(one.geometry())

print(desk.name(), where(lesson), lesson.geometry() == lesson.screen().geometry(),
      where(lesson.coach))
lesson.screens.choose(desk)
app.processEvents()
print(where(lesson), lesson.geometry() == desk.geometry(), where(lesson.coach))
lesson.close()
"""


def test_on_two_screens_of_qts_own(tmp_path):
    """The platform without a screen can have two; each window is whole on its own."""
    screens = [
        {"name": name, "x": x, "y": 0, "width": 1366, "height": 768, "logicalDpi": 96, "dpr": 1}
        for name, x in (("desk", 0), ("wall", 1366))
    ]
    config = tmp_path / "screens.json"
    config.write_text(json.dumps({"screens": screens}))
    env = {**os.environ, "QT_QPA_PLATFORM": f"offscreen:configfile={config}"}
    house = Path(__file__).resolve().parents[3]
    routine = house / "layouts_demo" / "04-left-right-or-between.json"
    done = subprocess.run(
        [sys.executable, "-c", ON_TWO, routine, tmp_path / "s.ini"],
        env=env, cwd=house, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == [
        "desk ('wall', True, True) True ('desk', True, True)",
        "('desk', True, True) True ('wall', True, True)",
    ]
