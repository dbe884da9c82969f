"""The windows of the shelf: routines found and shown, plans made, records kept and deleted."""

import contextlib
import gettext
import json
import tempfile
import time
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QStandardPaths, Qt
from PySide6.QtWidgets import QAbstractButton, QAbstractSpinBox, QComboBox, QLineEdit, QMenu

from designer import places, texts
from designer.files.library_settings import LibrarySettings
from designer.library.alike_window import AlikeWindow
from designer.library.harder_dialog import HarderWindow
from designer.library.library_window import LibraryWindow
from designer.open_routine import Settings
from designer.plans.plan_window import PlanWindow
from designer.practice.records_window import RecordsWindow
from engine.progressions import Rate, Step
from engine.records import Practice
from engine.results import Fact
from engine.routine.values import LaneAsk
from engine.storage import load_plan, load_routine, save_routine
from tests.designer.window.test_translation import FullCatalogue, assert_all_translated, strays
from tests.engine.library.generated_routines import generated, shifted, write_library

MOVES = (("cue", (0.0, 0.0), (3.0, 4.0)), ("blue", (0.0, 0.0), (5.0, 12.0)))
DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"


class Answers:
    """Stands in for the person asked."""

    def __init__(self):
        self.path, self.yes, self.asked = None, True, []

    def folder(self, title, start):
        return self.path

    def file_to_open(self, title, start, kinds):
        return self.path

    def file_to_write(self, title, start, kinds, ending):
        return self.path

    def agrees(self, title, question, yes):
        self.asked.append(question)
        return self.yes

    def about_unsaved(self, told, question):
        self.asked.append(told)
        return "drop" if self.yes else "stay"


@pytest.fixture
def show(qtbot):
    """Shows a window and closes it at the end, whatever it would ask."""
    shown = []

    def make(window):
        window.asker = Answers()
        shown.append(window)
        window.show()
        qtbot.waitExposed(window)
        return window

    yield make
    for window in shown:
        # the test may have closed it
        with contextlib.suppress(RuntimeError):
            window.asker.yes = True
            window.close()


@pytest.fixture
def folder(tmp_path, settings):
    made = tmp_path / "routines"
    write_library(made, 40)
    save_routine(shifted(generated(5), 5.0, 1), made / "again.json")
    LibrarySettings(settings).keep_folders([made])
    return made


@pytest.fixture
def library(qtbot, show, settings, folder):
    window = show(LibraryWindow(settings))
    qtbot.waitUntil(lambda: not window.work.task.running)
    return window


def test_qt_and_the_command_line_mean_the_same_places():
    kinds = QStandardPaths.StandardLocation
    for kind, folder in (
        (kinds.GenericDataLocation, places.data_folder()),
        (kinds.GenericCacheLocation, places.cache_folder()),
    ):
        assert Path(QStandardPaths.writableLocation(kind)) / "Baizewright/baizewright" == folder


def test_all_are_listed_with_their_pictures(qtbot, library):
    assert library.entries.total == 41
    assert "41 of 41 routines" in library.note.text()
    qtbot.waitUntil(lambda: library.entries.pictures_shown >= 5)
    index = library.entries.index(0)
    assert library.entries.data(index, Qt.ItemDataRole.DecorationRole).width() > 100
    assert "level" in library.entries.data(index)


def test_words_and_choices_narrow_the_list(qtbot, library):
    library.filters.words.setText("balls<=3")
    qtbot.waitUntil(lambda: library.entries.total < 41)
    wanted = sum(len(generated(number).balls) <= 3 for number in range(40))
    assert library.entries.total in (wanted, wanted + 1)
    library.filters.words.setText("skill:luck")
    qtbot.waitUntil(lambda: "no skill called" in library.note.text())
    library.filters.clear()
    library.filters.balls.setValue(3)
    library.filters.pocket.setCurrentIndex(library.filters.pocket.findData("middle"))
    qtbot.waitUntil(lambda: 0 < library.entries.total < wanted)
    for row in range(library.entries.rowCount()):
        routine = load_routine(library.entries.entry(row).path)
        assert len(routine.balls) <= 3 and routine.shots[0].pocket.startswith("middle")


def test_new_and_changed_files_appear_by_themselves(qtbot, library, folder):
    save_routine(generated(100), folder / "shelf-00" / "new.json")
    qtbot.waitUntil(lambda: library.entries.total == 42)
    (folder / "deeper").mkdir()
    qtbot.wait(600)
    save_routine(generated(101), folder / "deeper" / "new.json")
    qtbot.waitUntil(lambda: library.entries.total == 43)


def test_a_routine_is_opened_planned_and_made_harder_from_the_list(qtbot, library):
    library.list.setCurrentIndex(library.entries.index(2))
    path = Path(library.chosen.path)
    for button, signal in (
        (library.card.open, library.open_wanted),
        (library.card.plan, library.plan_wanted),
        (library.card.harder, library.harder_wanted),
    ):
        with qtbot.waitSignal(signal) as sent:
            qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        assert sent.args == [path]


def test_a_faulty_file_is_told_and_not_offered(qtbot, library, folder):
    (folder / "torn.json").write_text("{")
    library.look()
    qtbot.waitUntil(lambda: "1 file cannot be read" in library.note.text())
    assert library.entries.total == 41


@pytest.mark.slow
def test_an_empty_library_says_what_to_do(qtbot, show, settings, folder):
    LibrarySettings(settings).keep_folders([])
    window = show(LibraryWindow(settings))
    assert "add one with the button" in window.note.text()
    window.folders.asker = window.asker
    window.asker.path = folder
    window.folders.add()
    qtbot.waitUntil(lambda: window.entries.total == 41)
    assert LibrarySettings(settings).folders == [folder]


def test_looking_can_be_called_off_and_goes_on_later(qtbot, show, library, folder, monkeypatch):
    """Work without an end is ended by the button; the next look does what is left."""
    usual, calls = library.library.look_at_reach, []

    def endless(progress):
        while progress(1, 2):
            calls.append(1)
            time.sleep(0.005)
        return 0

    monkeypatch.setattr(library.library, "look_at_reach", endless)
    save_routine(generated(77), folder / "late.json")
    library.look()
    qtbot.waitUntil(lambda: len(calls) > 3)
    assert library.work.cancel.isEnabled() and library.work.bar.value() > 30
    qtbot.mouseClick(library.work.cancel, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not library.work.task.running)
    assert library.entries.total == 42, "what was read before is kept"
    monkeypatch.setattr(library.library, "look_at_reach", usual)
    library.look()
    qtbot.waitUntil(lambda: not library.work.task.running)
    assert all(entry.reach_known for entry in library.library.search())


def test_near_duplicates_are_listed(qtbot, show, settings, library):
    window = show(AlikeWindow(settings, library.library))
    qtbot.waitUntil(lambda: window.pairs.topLevelItemCount() == 1)
    item = window.pairs.topLevelItem(0)
    assert {Path(item.text(2)).name, Path(item.child(0).text(2)).name} == {
        "again.json", "routine-0005.json",
    }  # fmt: skip


def test_a_plan_is_made_ordered_saved_and_opened_again(show, settings, folder, tmp_path):
    window = show(PlanWindow(settings))
    paths = [*sorted(folder.rglob("routine-*.json"))[4:8], folder / "again.json"]
    assert all(window.add(path) for path in paths)
    window.title.setText("Tuesday")
    window.title.textEdited.emit("Tuesday")
    window.rows.item(1, 1).setText("25")
    window.rows.item(1, 2).setText("get the feel")
    assert window.lesson.plan.minutes == 65
    window.rows.item(0, 1).setText("long")
    assert "is no number of minutes" in window.note.text()
    assert window.lesson.plan.items[0].minutes == 10
    before = window.lesson.handled
    window.propose()
    assert window.lesson.handled < before
    window.asker.path = tmp_path / "plan.json"
    assert window.save() and not window.unsaved
    assert load_plan(tmp_path / "plan.json").title == "Tuesday"
    assert all(item.file.startswith("routines/") for item in window.lesson.plan.items)
    window.remove()
    window.asker.yes = False
    assert window.close() is False, "unsaved changes are asked about"
    window.asker.yes = True
    assert window.open_file(tmp_path / "plan.json")
    assert window.rows.rowCount() == 5
    assert not window.add(tmp_path / "nowhere.json")


@pytest.mark.slow
def test_many_routines_are_put_in_order_aside(qtbot, show, settings, folder):
    window = show(PlanWindow(settings))
    for path in sorted(folder.rglob("routine-*.json"))[:14]:
        window.add(path)
    before = window.lesson.handled
    window.propose()
    assert window.work.task.running
    qtbot.waitUntil(lambda: window.lesson.handled < before)
    window.propose()
    window.shift(-1)
    qtbot.waitUntil(lambda: "changed meanwhile" in window.note.text())


def test_a_look_that_finds_nothing_new_leaves_the_list_where_it_is(qtbot, library):
    library.list.setCurrentIndex(library.entries.index(20))
    library.list.scrollTo(library.entries.index(20))
    scrolled = library.list.verticalScrollBar().value()
    resets = []
    library.entries.modelReset.connect(lambda: resets.append(1))
    library.look()
    qtbot.waitUntil(lambda: not library.work.task.running)
    assert not resets
    path = Path(library.chosen.path)
    save_routine(replace(load_routine(path), notes="another"), path)
    library.look()
    qtbot.waitUntil(lambda: bool(resets))
    assert library.list.verticalScrollBar().value() == scrolled > 0
    assert Path(library.chosen.path) == path


def test_tags_are_offered_at_once_from_a_finished_index(qtbot, show, settings, library):
    library.close()
    again = show(LibraryWindow(settings))
    assert again.filters.tag.count() > 3
    again.list.setCurrentIndex(again.entries.index(0))
    path = Path(again.chosen.path)
    assert again.write_tags(path, ["for Tuesday"])
    assert load_routine(path).tags == ("for Tuesday",)
    qtbot.waitUntil(lambda: again.filters.tag.findData("for Tuesday") > 0)


def test_the_booklet_is_written_aside(qtbot, show, settings, folder, tmp_path):
    window = show(PlanWindow(settings))
    window.add(sorted(folder.rglob("routine-*.json"))[2])
    window.asker.path = tmp_path / "booklet.pdf"
    window.print_booklet()
    qtbot.waitUntil(lambda: "written" in window.note.text())
    assert (tmp_path / "booklet.pdf").read_bytes().startswith(b"%PDF")
    assert window.links.file == tmp_path / "booklet.pdf"


@pytest.fixture
def records(show, settings):
    return show(RecordsWindow(settings))


def test_practice_is_written_down_and_charted(qtbot, records):
    form = records.form
    form.player.setCurrentText("QZ")
    form.routine.setCurrentText("Round the black")
    form.made.setValue(6)
    form.misses["long"].setValue(2)
    qtbot.mouseClick(form.write, Qt.MouseButton.LeftButton)
    assert "6 of 10" in records.note.text()
    assert records.shown_player == "QZ"
    assert "6 of 10" in records.success.drawing.description
    assert "long 2" in records.misses.drawing.description
    form.made.setValue(11)
    qtbot.mouseClick(form.write, Qt.MouseButton.LeftButton)
    assert "wanted 0 to 10" in records.note.text()
    assert len(records.records.practice()) == 1


def test_the_caution_is_on_show(records):
    assert records.caution.isVisible() and "under 18" in records.caution.text()


def test_import_export_report_and_delete(qtbot, records, tmp_path):
    table = tmp_path / "p.csv"
    table.write_text("player,routine,date,attempts,made\nQZ,Blue,2026-03-08,10,8\n")
    records.import_file(table)
    assert records.shown_player == "QZ"
    table.write_text("player,routine,date,attempts,made\nQZ,Blue,2026-03-08,10,88\n")
    records.import_file(table)
    assert "line 2, column made" in records.note.text()
    records.asker.path = tmp_path / "r.pdf"
    records.report()
    qtbot.waitUntil(lambda: "r.pdf written" in records.note.text())
    assert records.links.file == tmp_path / "r.pdf"
    records.asker.path = tmp_path / "e.csv"
    records.export()
    assert (tmp_path / "e.csv").read_text().count("QZ") == 1
    records.records.add(Practice("AB", "Blue", date(2026, 3, 1), 10, 1))
    records.asker.yes = False
    records.delete_player()
    assert records.records.players() == ("AB", "QZ")
    records.asker.yes = True
    records.delete_player()
    assert "1 line" in records.asker.asked[-1]
    assert records.records.players() == ("AB",) and records.shown_player == "AB"


def test_steps_are_looked_for_shown_and_saved(qtbot, show, settings, tmp_path, monkeypatch):
    """What is asked for is handed to the engine, whose own tests see to what it finds."""
    asked = []
    routine = load_routine(DEMO / "01-three-ways-off-the-blue.json")

    def chain(given, shot, gap, player, count, drop, *, ways, titled, progress):
        asked.append((given, shot, gap, player.name, count, drop, ways))
        assert progress(0.5)
        made = [replace(given, title=titled(number + 2)) for number in range(count)]
        before = Rate(0.6, 0.59, 0.61, -0.4, 5.0, "screw")
        now = replace(before, chance=0.4, low=0.39, high=0.41)
        return tuple(
            Step(
                one,
                player.name,
                "gap",
                0.4,
                before,
                now,
                at == 0,
                MOVES,
                (0,) * at,
                Fact("gap-narrowed", was_mm=200.0 - at, mm=150.0 - at),
            )
            for at, one in enumerate(made)
        )

    monkeypatch.setattr("engine.progressions.a_chain", chain)
    window = show(HarderWindow(settings, routine, tmp_path / "three.json"))
    window.ways["distance"].setChecked(False)
    window.points.setValue(2.0)
    window.count.setValue(2)
    window.look()
    qtbot.waitUntil(lambda: bool(window.steps))
    assert asked == [
        (routine, routine.shots[0].id, "left-stretch", "club player", 2, 0.2, ("gap", "pot"))
    ]
    assert "1/2  Gap narrowed from 200 mm to 150 mm" in window.note.text()
    assert "Moved: cue ball by 5 mm and blue by 13 mm." in window.note.text()
    qtbot.mouseClick(window.after, Qt.MouseButton.LeftButton)
    told = window.note.text()
    assert (
        "2/2  Gap narrowed from 199 mm to 149 mm" in told
        and "as near to 4 in 10" in told
        and "1 claim no longer" in told
    )
    window.asker.path = tmp_path / "three-step-2.json"
    window.write()
    assert load_routine(tmp_path / "three-step-2.json").title == f"{routine.title} – step 2"
    assert load_routine(tmp_path / "three-step-3.json").title == f"{routine.title} – step 3"
    for box in window.ways.values():
        box.setChecked(False)
    window.look()
    assert "Tick at least one" in window.note.text()


def test_windows_open_from_the_menu_and_close_with_their_window(qtbot, window, folder):
    shelf = window.menus.dialogs
    library, plan, records = shelf.library(), shelf.plan(), shelf.records()
    assert shelf.library() is library, "each once"
    qtbot.waitUntil(lambda: not library.work.task.running)
    path = sorted(folder.rglob("routine-*.json"))[0]
    library.open_wanted.emit(path)
    assert window.session.document.path == path
    library.plan_wanted.emit(path)
    assert plan.rows.rowCount() == 1
    shelf.tag(path, ["on the table"])
    assert window.session.document.routine.tags == ("on the table",)
    assert json.loads(path.read_text()).get("tags") != ["on the table"], "kept when saved"
    plan.asker = Answers()
    plan.asker.yes = False
    window.files.asker.change_answer = "drop"
    assert window.close() is False, "the plan is not saved"
    plan.asker.yes = True
    assert window.close()
    assert not records.isVisible() if _alive(records) else True


def _alive(widget):
    try:
        widget.objectName()
    except RuntimeError:
        return False
    return True


def test_every_control_has_a_name_to_be_read_out(library, records, show, settings):
    plan = show(PlanWindow(settings))
    harder = show(HarderWindow(settings, generated(2), None))
    nameless = []
    for window in (library, records, plan, harder):
        for kind in (QAbstractButton, QAbstractSpinBox, QComboBox, QLineEdit):
            for control in window.findChildren(kind):
                inner = isinstance(control.parent(), QAbstractSpinBox | QComboBox)
                if inner or not control.isVisible() or control.objectName().startswith("qt_"):
                    continue
                words = getattr(control, "text", lambda: "")()
                if not (control.accessibleName() or (kind is QAbstractButton and words)):
                    nameless.append((type(window).__name__, type(control).__name__))
    assert nameless == []


@pytest.fixture
def made_up_language():
    texts.use_catalogue(FullCatalogue())
    yield
    texts.use_catalogue(gettext.NullTranslations())


@pytest.mark.usefixtures("made_up_language")
def test_every_text_passes_the_wrapper(qtbot, show, tmp_path):
    """Titles, names and paths are the coach's own: here without a letter of ours."""
    settings = Settings(tmp_path / "settings.ini")
    lanes = (LaneAsk("A", 0.4, 3.0), LaneAsk("B", -0.4, 4.0))
    routine = replace(generated(2), title="一", coach="二", club="三", notes="", tags=("四",))
    shots = tuple(replace(shot, lanes=lanes, question="五") for shot in routine.shots)
    routine = replace(routine, shots=shots)
    folder = Path(tempfile.mkdtemp(dir=tmp_path))
    save_routine(routine, folder / "1.json")
    save_routine(routine, folder / "2.json")
    LibrarySettings(settings).keep_folders([folder])
    library = show(LibraryWindow(settings))
    qtbot.waitUntil(lambda: not library.work.task.running)
    library.list.setCurrentIndex(library.entries.index(0))
    library.card.file.clear()
    shown = library.entries.data(library.entries.index(0))
    assert not strays(shown), shown
    plan = show(PlanWindow(settings))
    for _ in range(2):
        plan.add(folder / "1.json")
    records = show(RecordsWindow(settings))
    for step in (1, 2):
        records.records.add(Practice("六", "七", date(2026, 3, 1), 10, 6, step, {"long": 2}, "八"))
    records.refresh("六")
    records.form.offer((), ())
    harder = show(HarderWindow(settings, routine, None))
    alike = show(AlikeWindow(settings, library.library))
    qtbot.waitUntil(lambda: alike.pairs.topLevelItemCount() == 1)
    for item in (alike.pairs.topLevelItem(0), alike.pairs.topLevelItem(0).child(0)):
        item.setText(2, "")
    for window in (library, plan, records, harder, alike):
        for menu in window.findChildren(QMenu):
            menu.clear()
        assert_all_translated(window)
    for row in range(plan.rows.rowCount()):
        for column in range(plan.rows.columnCount()):
            assert not strays(plan.rows.item(row, column).text())
