"""A lesson plan that was not saved survives a crash and is offered, not forced."""

import os
import subprocess
import sys

import pytest
from PySide6.QtCore import Qt

from designer.plans.left_plans import left_plans, plans_folder
from designer.plans.plan_window import PlanWindow
from designer.window.application import Application
from engine.storage import Plan, PlanItem, load_plan, save_plan, save_routine

LEFT = Qt.MouseButton.LeftButton

_CRASH = """
import os, sys
from pathlib import Path
from designer.window.start import application
from designer.window.application import Application
from designer.open_routine import Settings
application()
desk = Application(Settings(Path(sys.argv[1])), aside=False)
plan = desk.open_window().menus.dialogs.plan()
if len(sys.argv) > 3:
    assert plan.open_file(Path(sys.argv[3]))
assert plan.add(Path(sys.argv[2]))
plan.aims.setPlainText("stun on every angle")
assert plan.kept.keep()
assert desk.offer_left_work() is None, "a running program's work is no left work"
sys.stdout.flush()
os._exit(9)
"""


def crash(tmp_path, *files):
    done = subprocess.run(
        [sys.executable, "-c", _CRASH, str(tmp_path / "settings.ini"), *map(str, files)],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 9, done.stderr


@pytest.fixture
def file(tmp_path, routine):
    """A routine's file in a folder of its own."""
    made = tmp_path / "routines" / "blue.json"
    made.parent.mkdir()
    save_routine(routine, made)
    return made


@pytest.fixture
def desk(qtbot, settings):
    made = Application(settings, aside=False)
    made.open_window()
    yield made
    for window in list(made.windows):
        plan = window.menus.dialogs.opened(PlanWindow)
        if plan is not None:
            plan.unsaved = False
        window.session.document.mark_saved()
        window.close()


@pytest.fixture
def window(qtbot, settings):
    made = PlanWindow(settings)
    yield made
    made.unsaved = False
    made.close()


@pytest.mark.slow
def test_a_new_plan_is_offered_and_taken_up_as_unsaved(qtbot, settings, tmp_path, file, desk):
    crash(tmp_path, file)
    dialog = desk.offer_left_work()
    assert "Lesson plan “New plan” – 1 routine" in dialog.list.item(0).text()
    qtbot.mouseClick(dialog.open_button, LEFT)
    plan = desk.windows[0].menus.dialogs.opened(PlanWindow)
    assert plan.isVisible() and plan.unsaved and plan.path is None
    assert plan.aims.toPlainText() == "stun on every angle" and plan.rows.rowCount() == 1
    # It is kept again at once, by this program now.
    assert left_plans(settings) == () and plan.kept.file.exists()
    plan.asker.file_to_write = lambda *_: tmp_path / "plan.json"
    assert plan.save()
    assert load_plan(tmp_path / "plan.json").items[0].file == "routines/blue.json"
    assert not plan.kept.file.exists() and not list(plans_folder(settings).glob("*.json"))


@pytest.mark.slow
def test_a_plan_with_a_file_of_its_own_goes_back_to_it(settings, tmp_path, file, desk):
    own = tmp_path / "tuesday.json"
    before = Plan("Tuesday", items=(PlanItem("routines/blue.json", 12.0),), extra={"room": "2"})
    save_plan(before, own)
    crash(tmp_path, file, own)
    assert load_plan(own) == before, "the coach’s own file is as it was saved"
    (left,) = left_plans(settings)
    assert left.path == own and left.plan.extra == {"room": "2"}
    assert left.told() == "Lesson plan “Tuesday” – 2 routines"
    plan = desk.windows[0].menus.dialogs.plan()
    assert plan.take_up(left) and plan.path == own
    assert plan.save()
    saved = load_plan(own)
    assert [item.file for item in saved.items] == ["routines/blue.json"] * 2
    assert saved.aims == "stun on every angle" and saved.extra == {"room": "2"}


def test_changes_are_kept_a_little_later_and_dropped_when_saved(qtbot, window, file, tmp_path):
    assert window.add(file)
    assert not window.kept.file.exists()
    qtbot.waitUntil(window.kept.file.exists)
    window.asker.file_to_write = lambda *_: tmp_path / "plan.json"
    assert window.save()
    assert not window.kept.file.exists()


def test_a_day_half_typed_does_not_cost_the_rest(window, file, settings):
    window.add(file)
    window.title.setText("Tuesday")
    window.day.setText("2026-0")
    window.day.textEdited.emit("2026-0")
    assert window.kept.keep()
    kept = load_plan(window.kept.file)
    assert (kept.title, kept.day, len(kept.items)) == ("Tuesday", "", 1)


def test_a_plan_let_go_leaves_nothing_behind(window, file, settings):
    window.add(file)
    assert window.kept.keep()
    window.asker.about_unsaved = lambda *_: "drop"
    assert window.close()
    assert not list(plans_folder(settings).glob("*"))


@pytest.mark.slow
def test_a_left_plan_whose_routine_is_gone_is_told_and_stays(settings, tmp_path, file, desk):
    crash(tmp_path, file)
    (left,) = left_plans(settings)
    file.unlink()
    plan = desk.windows[0].menus.dialogs.plan()
    assert not plan.take_up(left)
    assert "blue.json" in plan.note.text() and left.file.exists()
    plan.unsaved = True
    plan.asker.about_unsaved = lambda *_: "stay"
    assert not plan.take_up(left), "what is in the window is asked about first"


def test_damaged_left_plans_are_passed_over(settings, tmp_path):
    folder = plans_folder(settings)
    folder.mkdir(parents=True)
    (folder / "1-a.json").write_text("{")
    assert left_plans(settings) == ()
    assert (folder / "1-a.json").exists()


def test_a_fault_in_the_program_keeps_the_plan_at_once(desk, file, capsys):
    plan = desk.windows[0].menus.dialogs.plan()
    plan.add(file)
    desk.on_error(ValueError, ValueError("made up"), None)
    assert len(load_plan(plan.kept.file).items) == 1
    capsys.readouterr()
