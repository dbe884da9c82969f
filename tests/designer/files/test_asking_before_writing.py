"""The windows ask before another kind of file goes, and never write over what they read."""

import os
import stat
from datetime import date

import pytest
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from designer.exporting.diagram import write_diagram
from designer.exporting.film import write_film
from designer.exporting.handout_dialog import HandoutDialog
from designer.files import asking
from designer.library.harder_dialog import HarderWindow
from designer.open_routine.condition_edits import ConditionEdits
from designer.plans.plan_window import PlanWindow
from designer.practice.players import PlayersDialog
from designer.practice.records_window import RecordsWindow
from designer.tables.calibration_page import CalibrationPage
from designer.window.start import picture
from engine.records import Practice
from engine.storage import load_routine, previous_copy, save_plan, save_routine
from engine.storage.file_kinds import KINDS, kind_of
from engine.storage.own_plans import Plan

POSIX = pytest.mark.skipif(os.name != "posix", reason="rights as on POSIX systems")


class Person:
    """Answers the questions about files that stand in the way, and notes them."""

    def __init__(self):
        self.agrees, self.asked = False, []

    def about(self, _parent, path, there):
        self.asked.append((path.name, there))
        return self.agrees


@pytest.fixture
def person(monkeypatch):
    made = Person()
    monkeypatch.setattr(asking, "agrees_to_replace", made.about)
    monkeypatch.setattr("designer.library.harder_dialog.agrees_to_replace", made.about)
    return made


@pytest.fixture
def precious(tmp_path):
    """A file of another kind than any window writes."""
    file = tmp_path / "precious"
    file.write_text("milk, eggs\n")
    return file


def test_every_kind_of_file_has_its_question():
    assert set(asking.HOLDS) == set(KINDS)


# Where to write ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "chosen", "path"),
    [
        ("", "B (*.csv)", None),
        ("blue.pdf", "A (*.pdf)", "blue.pdf"),
        ("blue.CSV", "A (*.pdf)", "blue.CSV"),
        ("blue", "B (*.csv)", "blue.csv"),
        ("level 2.5", "A (*.pdf)", "level 2.5.pdf"),
        ("blue", "All files (*)", "blue.pdf"),
    ],
)
def test_a_name_gets_the_ending_of_the_kind_chosen(
    qtbot, tmp_path, monkeypatch, typed, chosen, path
):
    name = str(tmp_path / typed) if typed else ""
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (name, chosen))
    kinds = "A (*.pdf);;B (*.csv);;All files (*)"
    got = asking.where_to_write(QWidget(), "Write", tmp_path, kinds, (".pdf", ".csv"))
    assert got == (tmp_path / path if path else None)


@pytest.mark.parametrize("agrees", [False, True])
def test_a_file_found_by_adding_the_ending_is_asked_about(qtbot, tmp_path, monkeypatch, agrees):
    """Qt asked about the name as it was typed, which no file has."""
    (tmp_path / "blue.pdf").write_bytes(b"%PDF")
    asked = []

    def run(box):
        asked.append(box.text())
        # no is what Enter and Escape say
        assert box.defaultButton().text() == box.escapeButton().text() == "Cancel"
        wanted = "Write over it" if agrees else "Cancel"
        next(button for button in box.buttons() if button.text() == wanted).click()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", run)
    name = str(tmp_path / "blue")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (name, "PDF (*.pdf)"))
    got = asking.where_to_write(QWidget(), "Write", tmp_path, "PDF (*.pdf)", (".pdf",))
    assert asked == ["“blue.pdf” is there already."]
    assert got == (tmp_path / "blue.pdf" if agrees else None)


def test_the_question_names_what_would_be_lost(qtbot, precious, monkeypatch):
    asked = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: asked.append(box.text()))
    assert asking.rules_to_write(QWidget(), precious, "pdf") is None
    assert asked == ["“precious” holds something else."]


# Every window --------------------------------------------------------------------------------


def unchanged_unless_agreed(person, file, kind, act):
    """Nothing is written at first; then it is."""
    before, there = file.read_bytes(), kind_of(file)
    act()
    assert file.read_bytes() == before and person.asked == [(file.name, there)]
    person.agrees = True
    act()
    assert kind_of(file) == kind and len(person.asked) == 2
    act()
    assert len(person.asked) == 2, "its own kind was asked about by Qt's dialog"


def test_saving_a_routine(window, person, precious):
    window.files.asker.save_path = precious
    unchanged_unless_agreed(person, precious, "routine", window.files.save_as)
    assert previous_copy(precious).read_text() == "milk, eggs\n", "and still it is not lost"


@pytest.mark.parametrize("ending", [".svg", ".png", ".pdf"])
@pytest.mark.slow
def test_exporting_a_diagram(session, person, precious, ending):
    file = precious.rename(precious.with_suffix(ending))
    act = lambda: write_diagram(session, file)  # noqa: E731
    unchanged_unless_agreed(person, file, ending[1:], act)


def test_no_export_goes_onto_the_routine_itself(session, window, person, tmp_path, told):
    person.agrees = True
    file = tmp_path / "blue.pdf"
    window.files.asker.save_path = file
    assert window.files.save_as()
    assert not write_diagram(session, file)
    assert "is read here and would be lost" in told[-1].details[0]
    assert load_routine(file) == session.routine


def test_exporting_a_film(session, person, precious, tmp_path):
    file = precious.rename(tmp_path / "shot.gif")
    assert session.player.open()
    assert not write_film(session, file, width_px=160)
    assert file.read_text() == "milk, eggs\n" and person.asked == [("shot.gif", "other")]
    person.agrees = True
    assert write_film(session, file, width_px=160) and kind_of(file) == "gif"


def test_making_a_handout_asks_before_the_work(qtbot, window, session, person, precious):
    dialog = HandoutDialog(session, lambda: precious, list, window)
    dialog.work.begun.emit()
    assert not dialog.work.task.running and precious.read_text() == "milk, eggs\n"
    person.agrees = True
    with qtbot.waitSignal(dialog.work.task.finished, timeout=60_000):
        dialog.work.begun.emit()
    assert kind_of(precious) == "pdf" and len(person.asked) == 2


def test_saving_a_plan(qtbot, settings, person, precious):
    plan = PlanWindow(settings)
    plan.asker.file_to_write = lambda *_: precious

    def act():
        plan.path = None
        plan.save()

    unchanged_unless_agreed(person, precious, "plan", act)
    plan.close()


def test_no_booklet_goes_onto_its_plan(qtbot, settings, person, tmp_path, routine):
    person.agrees = True
    file = tmp_path / "plan.pdf"
    save_routine(routine, tmp_path / "blue.json")
    save_plan(Plan("Tuesday"), file)
    plan = PlanWindow(settings)
    assert plan.open_file(file) and plan.add(tmp_path / "blue.json")
    for target in (file, tmp_path / "blue.json"):
        plan.asker.file_to_write = lambda *_, target=target: target
        with qtbot.waitSignal(plan.work.task.failed, timeout=60_000):
            plan.print_booklet()
        assert "is read here and would be lost" in plan.note.text()
    assert kind_of(file) == "plan" and load_routine(tmp_path / "blue.json") == routine
    plan.unsaved = False
    plan.close()


@pytest.fixture
def records(qtbot, settings, tmp_path):
    made = RecordsWindow(settings, tmp_path / "r.sqlite")
    made.records.add(Practice("QZ", "Blue", date(2026, 3, 1), 10, 6))
    made.refresh()
    yield made
    made.close()


@POSIX
def test_exporting_a_record(qtbot, records, person, precious, tmp_path):
    records.asker.file_to_write = lambda *_: precious
    unchanged_unless_agreed(person, precious, "practice", records.export)
    assert stat.S_IMODE(precious.stat().st_mode) == 0o600
    records.asker.file_to_write = lambda *_: tmp_path / "r.sqlite"
    records.export()
    assert "is read here and would be lost" in records.note.text()
    assert records.records.players() == ("QZ",)


@POSIX
def test_a_report_of_a_player_is_for_its_owner_alone(qtbot, records, person, tmp_path):
    records.asker.file_to_write = lambda *_: tmp_path / "r.pdf"
    with qtbot.waitSignal(records.work.task.finished, timeout=60_000):
        records.report()
    assert stat.S_IMODE((tmp_path / "r.pdf").stat().st_mode) == 0o600


class Step:
    """What a step of a chain leaves to be written."""

    def __init__(self, routine):
        self.routine = routine


def test_steps_beyond_the_first_are_asked_about(
    qtbot, settings, person, tmp_path, routine, monkeypatch
):
    """Only the first one's name was chosen; the others follow from it."""
    own = tmp_path / "blue.json"
    save_routine(routine, own)
    window = HarderWindow(settings, routine, own)
    window.steps = (Step(routine), Step(routine), Step(routine))
    made = []
    window.made.connect(made.append)
    mine = tmp_path / "blue-step-3.json"
    mine.write_text('{"format": "baizewright-routine", "version": 1, "title": "mine"}')
    window.asker.file_to_write = lambda *_: tmp_path / "blue-step-2.json"
    window.write()
    assert person.asked == [("blue-step-3.json", "routine")] and made == []
    assert not (tmp_path / "blue-step-2.json").exists(), "all of them or none"
    person.agrees = True
    window.write()
    assert [path.name for path in made] == [f"blue-step-{n}.json" for n in (2, 3, 4)]
    assert load_routine(mine) == routine
    window.asker.file_to_write = lambda *_: own
    window.write()
    assert "is read here and would be lost" in window.note.text()
    window.close()


def test_saving_player_levels(qtbot, window, session, person, precious):
    dialog = PlayersDialog(session, window)
    dialog.ask_where = lambda: precious
    unchanged_unless_agreed(person, precious, "players", dialog._on_save)


def test_the_form_to_fill_in(qtbot, session, person, precious, tmp_path):
    page = CalibrationPage(session, ConditionEdits(session))
    qtbot.addWidget(page)
    file = precious.rename(tmp_path / "obs.csv")
    page.ask_target = lambda ending: file
    unchanged_unless_agreed(person, file, "observations", page.list.click)


@POSIX
def test_unsaved_copies_are_their_owners_alone(window, session):
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.recovery.keep()
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.recovery.keep()
    file = window.recovery.file
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    # a copy of what it was a moment ago could outlive it
    assert {one.name for one in file.parent.iterdir() if one.is_file()} == {
        file.name, file.with_suffix(".lock").name,
    }  # fmt: skip


def test_a_picture_of_the_window_spares_what_is_there(qtbot, precious, tmp_path, capsys):
    assert not picture(None, precious)
    assert "holds something else, which would be lost" in capsys.readouterr().err
    assert precious.read_text() == "milk, eggs\n"
    assert picture(None, tmp_path / "window.png") and kind_of(tmp_path / "window.png") == "png"
