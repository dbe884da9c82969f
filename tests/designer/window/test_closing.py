"""No window lets go of work unasked: closing offers to save it, Escape never ends what is made."""

import contextlib
import time
from dataclasses import replace

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from designer.exporting.handout_dialog import HandoutDialog
from designer.files.library_settings import LibrarySettings
from engine.progressions import Rate, Step
from engine.results import Fact
from engine.routine import edits
from engine.routine.values import Claim
from engine.storage import load_plan, load_routine, save_routine
from engine.storage.photo_files import load_photo_marks
from tests.engine.library.generated_routines import write_library
from tests.shares import mixed

ESCAPE = Qt.Key.Key_Escape


class Asked:
    """Stands in for the person asked: gives what the test put down, notes what was asked."""

    def __init__(self, path):
        self.path, self.answer, self.yes, self.asked = path, "stay", False, []

    def about_unsaved(self, told, question):
        self.asked.append(told)
        return self.answer

    def may_stop(self, what):
        self.asked.append(what)
        return self.yes

    def file_to_write(self, title, start, kinds, ending):
        return self.path

    def to_write(self, what, start):
        return self.path


def alive(widget):
    try:
        return widget.isVisible()
    except RuntimeError:
        return False


def settle():
    for _ in range(3):
        QApplication.processEvents()


# Unsaved work ---------------------------------------------------------------------------------


def a_plan(window, tmp_path, monkeypatch):
    routine = tmp_path / "blue.json"
    save_routine(window.session.routine, routine)
    made = window.menus.dialogs.plan()
    made.asker = Asked(tmp_path / "plan.json")
    assert made.add(routine)
    return made, lambda: len(load_plan(tmp_path / "plan.json").items) == 1


def photograph_marks(window, tmp_path, monkeypatch):
    Image.new("RGB", (320, 240), "green").save(tmp_path / "table.png")
    made = window.menus.dialogs.photo()
    made.asker = Asked(tmp_path / "table.photo.json")
    assert made.open_file(tmp_path / "table.png")
    made.work.put_mark("corner-top-left", (30.0, 40.0))
    return made, lambda: len(load_photo_marks(tmp_path / "table.photo.json").marks) == 1


def practice(window, tmp_path, monkeypatch):
    made = window.menus.dialogs.records()
    made.asker = Asked(tmp_path / "none")
    made.form.player.setCurrentText("QZ")
    made.form.made.setValue(4)
    store = made.keeping.records_file

    def written():
        from engine.records import Records

        again = Records(store)
        try:
            return [one.practice.made for one in again.practice("QZ")] == [4]
        finally:
            again.close()

    return made, written


def steps(window, tmp_path, monkeypatch):
    made = window.menus.dialogs.harder()
    made.asker = Asked(tmp_path / "blue-step-2.json")
    before = Rate(0.6, 0.59, 0.61, -0.4, 5.0, "screw")
    made._on_found((
        Step(replace(window.session.routine, title="Harder"), "club player", "gap", 0.4, before,
             before, True, (), (), Fact("gap-narrowed", mm=90.0, was_mm=100.0)),
    ))  # fmt: skip
    return made, lambda: load_routine(tmp_path / "blue-step-2.json").title == "Harder"


WORK = [a_plan, photograph_marks, practice, steps]


@pytest.mark.parametrize(
    ("work", "by", "answer"),
    mixed(WORK, ("close", "escape", "whole window"), ("stay", "drop", "save"), usual=9),
)
def test_closing_offers_to_save(qtbot, window, tmp_path, monkeypatch, work, by, answer):
    made, saved = work(window, tmp_path, monkeypatch)
    made.asker.answer = answer
    qtbot.waitExposed(made)
    if by == "close":
        made.close()
    elif by == "escape":
        made.setFocus()
        qtbot.keyClick(made, ESCAPE)
    else:
        window.close()
    settle()
    assert len(made.asker.asked) == 1 and "not" in made.asker.asked[0]
    assert alive(made) == (answer == "stay")
    assert alive(window) == (by != "whole window" or answer == "stay")
    if answer == "save":
        assert saved()
    else:
        with pytest.raises(Exception):  # noqa: B017
            assert saved()
    made.asker.answer = "drop"
    if alive(made):
        made.close()


@pytest.mark.parametrize("work", WORK)
def test_saving_that_is_given_up_keeps_the_window(window, tmp_path, monkeypatch, work):
    made, _ = work(window, tmp_path, monkeypatch)
    made.asker.answer, made.asker.path = "save", None
    if work is practice:
        made.form.made.setValue(11)
    made.close()
    settle()
    assert alive(made)
    made.asker.answer = "drop"
    made.close()


@pytest.mark.parametrize("work", WORK)
def test_what_is_saved_is_not_asked_about(window, tmp_path, monkeypatch, work):
    made, saved = work(window, tmp_path, monkeypatch)
    {
        a_plan: lambda: made.save(), photograph_marks: lambda: made.save_button.click(),
        practice: lambda: made.form.write.click(), steps: lambda: made.save.click(),
    }[work]()  # fmt: skip
    assert saved()
    made.close()
    settle()
    assert not alive(made)
    assert window.isVisible()


def test_staying_at_one_question_lets_go_of_nothing(window, session, tmp_path, monkeypatch):
    """The photograph's marks may go, the plan stays: then the window stays, and the marks too."""
    photo, _ = photograph_marks(window, tmp_path, monkeypatch)
    plan, _ = a_plan(window, tmp_path, monkeypatch)
    photo.asker.answer, plan.asker.answer = "drop", "stay"
    window.close()
    settle()
    assert alive(window) and alive(photo) and alive(plan)
    assert photo.work.changed_since_save, "they are not saved, so the next closing asks again"
    session.balls.nudge("red-1", 1.0, 0.0)
    window.files.asker.change_answer = "stay"
    window.close()
    assert alive(photo) and photo.work.changed_since_save
    plan.asker.answer = "drop"


def test_another_routine_made_harder_waits_for_the_steps_found(window, tmp_path, monkeypatch):
    made, _ = steps(window, tmp_path, monkeypatch)
    again = window.menus.dialogs.harder()
    assert again is made and alive(made) and made.asker.asked
    made.asker.answer = "drop"
    assert window.menus.dialogs.harder() is not made


def test_another_photograph_and_another_plan_ask_first(qtbot, window, tmp_path, monkeypatch):
    photo, _ = photograph_marks(window, tmp_path, monkeypatch)
    photo.asker.to_open = lambda folder: tmp_path / "table.png"
    photo.open_button.click()
    assert photo.asker.asked and photo.work.photo.marks
    photo.asker.answer = "save"
    photo.open_button.click()
    assert not photo.work.photo.marks and (tmp_path / "table.photo.json").exists()
    plan, saved = a_plan(window, tmp_path, monkeypatch)
    plan.asker.answer = "save"
    assert plan.open_file(tmp_path / "plan.json") is False or saved()
    photo.asker.answer = plan.asker.answer = "drop"


# What is being typed --------------------------------------------------------------------------


def type_into(qtbot, field, text):
    """Type and do not leave the field."""
    settle()
    field.window().activateWindow()
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    field.selectAll()
    qtbot.keyClicks(field, text)


@pytest.mark.parametrize("by", ["close", "whole window"])
def test_half_typed_fields_are_handed_over_at_closing(qtbot, window, session, tmp_path, by):
    """Levels, own table, conditions and paces count as soon as they are typed, left or not."""
    window.files.asker.change_answer = "drop"
    levels = window.menus.dialogs.levels()
    type_into(qtbot, levels.rows[0].figures["pace"], "0.77")
    (window if by == "whole window" else levels).close()
    settle()
    assert session.levels.players[0].pace == 0.77
    assert window.settings.load_players()[0].pace == 0.77


@pytest.mark.parametrize("by", ["close", "whole window"])
@pytest.mark.parametrize("page", ["measured", "conditions", "pace"])
def test_half_typed_tables_are_part_of_the_routine_at_closing(
    qtbot, window, session, tmp_path, page, by
):
    window.files.asker.change_answer = "save"
    window.files.asker.save_path = tmp_path / "kept.json"
    dialog = window.menus.dialogs.table()
    shown = getattr(dialog, page)
    dialog.parts.setCurrentWidget(shown)
    dialog.catch_up()
    field, text = {
        "measured": lambda: (shown.rows["width_mm"].field, "1771"),
        "conditions": lambda: (shown.rows["rolling_resistance"].field, "0.0131"),
        "pace": lambda: (shown.fields[3], "2.2"),
    }[page]()
    type_into(qtbot, field, text)
    (window if by == "whole window" else dialog).close()
    settle()
    if by == "close":
        window.close()
    kept = load_routine(tmp_path / "kept.json")
    if page == "measured":
        assert kept.measured_table.values["width_mm"] == 1771.0
    elif page == "conditions":
        assert kept.conditions["rolling_resistance"] == 0.0131
    else:
        assert kept.conditions["pace_speeds_m_s"][3] == 2.2


def test_half_typed_tags_are_written_at_closing(qtbot, window, settings, tmp_path):
    write_library(tmp_path / "r", 3)
    LibrarySettings(settings).keep_folders([tmp_path / "r"])
    library = window.menus.dialogs.library()
    qtbot.waitUntil(lambda: library.entries.total == 3, timeout=60_000)
    qtbot.waitUntil(lambda: not library.work.task.running, timeout=60_000)
    library.list.setCurrentIndex(library.entries.index(1))
    path = library.chosen.path
    type_into(qtbot, library.card.tags, "for Tuesday")
    library.close()
    settle()
    assert load_routine(path).tags == ("for Tuesday",)


def test_a_half_typed_cell_of_a_plan_is_asked_about(qtbot, window, tmp_path, monkeypatch):
    plan, _ = a_plan(window, tmp_path, monkeypatch)
    assert plan.save()
    plan.activateWindow()
    plan.rows.setFocus()
    qtbot.waitUntil(plan.rows.hasFocus)
    plan.rows.setCurrentCell(0, 2)
    plan.rows.editItem(plan.rows.item(0, 2))
    qtbot.keyClicks(QApplication.focusWidget(), "feel the pace")
    plan.asker.answer = "save"
    plan.close()
    settle()
    assert len(plan.asker.asked) == 1
    assert load_plan(tmp_path / "plan.json").items[0].aim == "feel the pace"


# A day typed by hand --------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["31.3.2026", "2026-3-31", "2026-02-30", "Tuesday", "2026-3"])
def test_a_day_that_is_none_is_told_as_it_is_left(qtbot, window, tmp_path, monkeypatch, typed):
    plan, _ = a_plan(window, tmp_path, monkeypatch)
    type_into(qtbot, plan.day, typed)
    assert typed not in plan.note.text()
    plan.title.setFocus()
    told = plan.note.text()
    assert typed in told and "2026-03-31" in told and "empty" in told
    assert plan.day.text() == typed, "what was typed stays"
    assert not plan.save() and plan.note.text() == told
    assert plan.day.text() == typed and plan.unsaved and not (tmp_path / "plan.json").exists()
    type_into(qtbot, plan.day, "2026-03-31")
    plan.title.setFocus()
    assert plan.note.text() == ""
    assert plan.save() and load_plan(tmp_path / "plan.json").day == "2026-03-31"


def test_a_day_left_empty_is_fine(qtbot, window, tmp_path, monkeypatch):
    plan, saved = a_plan(window, tmp_path, monkeypatch)
    type_into(qtbot, plan.day, " ")
    plan.title.setFocus()
    assert "day" not in plan.note.text()
    assert plan.save() and saved()


# Work in the making ---------------------------------------------------------------------------


class Endless:
    """Work that goes on until it is called off."""

    def __init__(self, found):
        self.calls, self.found = 0, found

    def __call__(self, progress):
        while progress(0.5):
            self.calls += 1
            time.sleep(0.005)
        return self.found


def making(qtbot, window, tmp_path, which):
    """A window with work under way that would be lost; and what tells about it."""
    session, shelf = window.session, window.menus.dialogs
    session.apply("claim", lambda r: edits.add_claim(r, Claim("pot-on", "shot-1")))
    if which == "booklet":
        made = shelf.plan()
        told = made.note
    elif which == "report of practice":
        made = shelf.records()
        told = made.note
    elif which == "steps":
        made = shelf.harder()
        told = made.note
    elif which == "handout":
        made = HandoutDialog(session, lambda: None, list, window)
        made.open()
        told = made.note
    elif which == "advice":
        made = window.menus.dialogs.advice()
        told = made.note
    else:
        made = window.menus.dialogs.report()
        made.parts.setCurrentIndex(0)
        told = made.tolerance_note
    if hasattr(made, "asker"):
        made.asker = Asked(None)
    found = {"steps": (), "advice": (session.routine, ()), "tolerances": (session.routine, ())}
    work = Endless(found.get(which))
    made.work.start(work)
    qtbot.waitUntil(lambda: work.calls > 2)
    return made, told


FILES = ["booklet", "report of practice", "handout"]


@pytest.mark.parametrize("which", [*FILES, "steps", "advice", "tolerances"])
def test_escape_never_ends_what_is_being_made(qtbot, window, tmp_path, which):
    made, told = making(qtbot, window, tmp_path, which)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    qtbot.keyClick(made, ESCAPE)
    settle()
    assert alive(made) and made.work.task.running and not made.work.task.called_off
    assert "Cancel" in told.text()
    # an answer that comes in the meantime does not wipe the words
    window.session.apply("note", lambda r: replace(r, notes="Bring chalk."))
    if which in ("advice", "tolerances"):
        made.catch_up()
    settle()
    assert "Cancel" in told.text()
    made.work.cancel.click()
    qtbot.waitUntil(lambda: not made.work.task.running)
    qtbot.keyClick(made, ESCAPE)
    settle()
    assert not alive(made)


@pytest.mark.parametrize("which", FILES)
def test_closing_asks_before_a_file_in_the_making_is_dropped(qtbot, window, tmp_path, which):
    made, _ = making(qtbot, window, tmp_path, which)
    asked = Asked(None)
    made.asker = asked
    made.close()
    settle()
    assert alive(made) and made.work.task.running and len(asked.asked) == 1
    asked.yes = True
    made.close()
    settle()
    assert not alive(made)


def test_the_whole_window_stays_while_a_booklet_is_made(qtbot, window, tmp_path):
    made, _ = making(qtbot, window, tmp_path, "booklet")
    window.close()
    settle()
    assert alive(window) and made.work.task.running
    made.asker.yes = True
    window.files.asker.change_answer = "drop"
    window.close()
    settle()
    assert not alive(window)


def test_escape_does_not_cancel_a_film(qtbot, window, tmp_path, monkeypatch):
    from designer.exporting import film

    seen = []

    def press(session, ending, width_px, step):
        assert step(1, 3)
        for box in QApplication.topLevelWidgets():
            if isinstance(box, film.FilmProgress):
                box.show()
                settle()
                qtbot.keyClick(box, ESCAPE)
                seen.append(step(2, 3))
                box.cancel_button.click()
                seen.append(step(3, 3))
        return b""

    monkeypatch.setattr(film, "film_bytes", press)
    with contextlib.suppress(AssertionError):
        film.write_film(window.session, tmp_path / "x.gif", window)
    assert seen == [True, False]
