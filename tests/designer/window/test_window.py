"""The window as a whole: files, questions before work is lost, menus, exports, layout."""

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QColor, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QMessageBox

from designer.drawing.look import RIM
from designer.window.application import Application
from designer.window.faults import FaultsDialog
from designer.window.menus import EXAMPLES
from engine.routine.values import Routine
from engine.storage import load_routine, previous_copy, save_routine

CTRL = Qt.KeyboardModifier.ControlModifier


def faults_of(window):
    return [d for d in window.findChildren(FaultsDialog) if d.isVisible()]


def drop(window, path):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    event = QDropEvent(
        QPointF(200, 200), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    entering = QDragEnterEvent(
        QPoint(200, 200), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(window, entering)
    assert entering.isAccepted()
    QApplication.sendEvent(window, event)


@pytest.mark.quick
def test_save_and_open_round_trip(window, session, tmp_path):
    path = tmp_path / "blue.json"
    window.files.asker.save_path = tmp_path / "blue.json"
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.isWindowModified()
    assert window.files.save()
    assert not window.isWindowModified()
    saved = session.routine
    assert load_routine(path) == saved
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.files.save()
    assert load_routine(previous_copy(path)) == saved
    window.files.new()
    assert session.routine.balls == () and session.routine.coach == "Wren Ashgrove"
    window.files.asker.open_path = path
    assert window.files.open()
    assert session.routine == load_routine(path)
    assert session.document.undo_name == ""
    assert window.settings.recent_files[0] == path.resolve()


@pytest.mark.parametrize("doing", ["new", "open", "close"])
@pytest.mark.parametrize("answer", ["stay", "drop", "save"])
def test_nothing_unsaved_goes_without_being_asked(window, session, tmp_path, doing, answer):
    other = tmp_path / "other.json"
    save_routine(session.routine, other)
    asker = window.files.asker
    asker.change_answer, asker.open_path = answer, other
    asker.save_path = tmp_path / "mine.json"
    session.balls.nudge("red-1", 3.0, 0.0)
    mine = session.routine
    done = {"new": window.files.new, "open": window.files.open, "close": window.close}[doing]()
    assert [name for name, _ in asker.asked] == ["Blue to the top"]
    assert bool(done) == (answer != "stay")
    if answer == "stay":
        assert session.routine is mine and window.isVisible()
    if answer == "save":
        assert load_routine(tmp_path / "mine.json") == mine
        assert asker.offered.name == "blue-to-the-top.json"


def test_nothing_is_asked_when_nothing_would_be_lost(window, session):
    session.balls.nudge("red-1", 3.0, 0.0)
    session.undo()
    assert window.files.new()
    assert window.files.asker.asked == []


def test_saving_given_up_keeps_the_work(window, session):
    asker = window.files.asker
    asker.change_answer, asker.save_path = "save", None
    session.balls.nudge("red-1", 3.0, 0.0)
    mine = session.routine
    assert not window.files.new()
    assert session.routine is mine


def test_what_is_being_typed_is_saved_too(qtbot, window, session, tmp_path):
    window.files.asker.save_path = tmp_path / "typed.json"
    window.show_panel("Words")
    field = window.sheet.lines["club"]
    field.setFocus()
    qtbot.keyClicks(field, "Millrace Cue Club")
    qtbot.keyClick(window, Qt.Key.Key_S, CTRL)
    assert load_routine(tmp_path / "typed.json").club == "Millrace Cue Club"


def test_an_examples_coach_and_club_never_stick(window, session, settings, tmp_path):
    files, asker = window.files, window.files.asker
    asker.change_answer = "drop"
    session.sheet.set_text("coach", "Tamsin Hale")
    session.sheet.set_text("club", "Millrace Cue Club")
    asker.save_path = tmp_path / "mine.json"
    assert files.save()
    example = sorted(EXAMPLES.glob("*.json"))[0]
    theirs = load_routine(example)
    assert theirs.coach and theirs.club
    assert files.open(example) and files.new()
    own = ("Tamsin Hale", "Millrace Cue Club")
    assert (session.routine.coach, session.routine.club) == own
    # Nor do they when the example is saved as a file of the coach's own, with or without a name.
    assert files.open(example)
    asker.save_path = tmp_path / "copy.json"
    session.sheet.set_text("club", "")
    assert files.save_as() and files.open(tmp_path / "copy.json")
    session.balls.nudge(session.routine.balls[0].id, 1.0, 0.0)
    assert files.save() and files.new()
    assert (session.routine.coach, session.routine.club) == own
    # What is written over them is the coach's.
    assert files.open(example)
    session.sheet.set_text("club", "Marram Street Cue Club")
    assert files.save_as() and files.new()
    assert (session.routine.coach, session.routine.club) == (
        "Tamsin Hale",
        "Marram Street Cue Club",
    )
    assert not session.document.changed_since_save and not session.document.undo_name


def test_the_first_example_of_all_leaves_new_empty(window, session):
    window.files.asker.change_answer = "drop"
    assert window.files.open(sorted(EXAMPLES.glob("*.json"))[0])
    assert window.files.new()
    assert (session.routine.coach, session.routine.club) == ("", "")


def test_another_window_begins_with_the_coachs_own_name(qtbot, settings):
    settings.save_own("coach", "Tamsin Hale")
    desk = Application(settings, aside=False)
    window = desk.open_window()
    begun = window.session.routine
    assert begun == Routine(id=begun.id, coach="Tamsin Hale") and begun.id
    assert not window.session.document.changed_since_save
    window.close()


def test_a_faulty_file_lists_every_fault_and_loses_nothing(qtbot, window, session, tmp_path, told):
    faulty = tmp_path / "faulty.json"
    faulty.write_text(
        '{"format": "baizewright-routine", "version": 1, "level": 9, "balls": ['
        '{"id": "cue", "kind": "cue", "x_mm": "left", "y_mm": 5},'
        '{"id": "b", "kind": "purple", "x_mm": 5, "y_mm": 5}]}'
    )
    session.balls.nudge("red-1", 3.0, 0.0)
    mine = session.routine
    window.files.asker.open_path = faulty
    assert not window.files.open()
    assert session.routine is mine and session.document.changed_since_save
    assert window.files.asker.asked == []
    message = told[-1]
    assert (
        message.weight == "error" and "faulty.json" in message.what and "3 faults" in message.what
    )
    (dialog,) = faults_of(window)
    lines = [dialog.list.item(i).text() for i in range(dialog.list.count())]
    assert [line.split(":")[0] for line in lines] == [
        "level",
        "balls[0].x_mm",
        "balls[1].kind",
    ] or {line.split(":")[0] for line in lines} == {"level", "balls[0].x_mm", "balls[1].kind"}
    assert window.messages.message is message
    dialog.reject()


def test_a_file_that_is_gone_is_told_and_forgotten(window, session, tmp_path, told):
    path = tmp_path / "gone.json"
    window.settings.note_recent(path)
    assert not window.files.open(path)
    assert told[-1].weight == "error"
    assert path.resolve() not in window.settings.recent_files


def test_a_save_that_fails_keeps_the_work(window, session, tmp_path, told):
    window.files.asker.save_path = tmp_path / "no-such-folder" / "mine.json"
    session.balls.nudge("red-1", 3.0, 0.0)
    assert not window.files.save()
    assert session.document.changed_since_save
    assert told[-1].weight == "error" and "still in the window" in told[-1].todo


def test_a_file_dropped_on_the_window_opens(window, session, tmp_path, routine_with_gaps):
    path = tmp_path / "dropped.json"
    save_routine(routine_with_gaps, path)
    drop(window, path)
    assert session.routine == routine_with_gaps
    assert session.document.path == path


def test_the_real_question_names_the_routine_and_its_ways(qtbot, window):
    from designer.files.asker import Asker

    seen = {}

    def look():
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        seen["text"] = box.text()
        seen["buttons"] = [button.text() for button in box.buttons()]
        next(b for b in box.buttons() if b.text() == "Do not save").click()

    QTimer.singleShot(50, look)
    assert Asker(window).about_changes("Blue", "Save them before the window closes?") == "drop"
    assert "Blue" in seen["text"]
    assert {"Save", "Do not save", "Cancel"} == set(seen["buttons"])


def test_menus_name_the_step(qtbot, window, session):
    session.balls.nudge("red-1", 1.0, 0.0)
    assert window.menus.undo.text() == "Undo: Move red R1"
    assert not window.menus.redo.isEnabled()
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    assert window.menus.redo.text() == "Redo: Move red R1"
    assert not window.menus.undo.isEnabled()
    qtbot.keyClick(window, Qt.Key.Key_Y, CTRL)
    assert window.menus.undo.isEnabled()


def test_the_key_of_the_menu_takes_a_ball_away_from_anywhere(qtbot, window, session):
    session.point_at_ball("red-1")
    window.show_panel("Shot")
    qtbot.keyClick(window.shot.lanes, Qt.Key.Key_Delete, CTRL)
    assert len(session.routine.balls) == 4


def test_layers_are_switched_from_the_menu(window, session):
    tick = next(t for t in window.menus.layers.ticks if t.text() == "Measurements")
    tick.trigger()
    assert session.view.layers.measurements and tick.isChecked()
    assert window.settings.load_view().layers.measurements
    tick.trigger()
    assert not session.view.layers.measurements


def test_units_switch_everywhere(window, session):
    window.show_panel("Balls")
    window.menus.units.inch.trigger()
    assert session.view.unit == "inch"
    assert '12 3/4" top' in window.balls.list.topLevelItem(4).text(2)
    window.menus.units.mm.trigger()
    assert window.balls.list.topLevelItem(4).text(2) == "324 mm top"


def test_a_message_says_what_and_what_to_do_and_can_be_put_away(window, session):
    session.messages.warn("The red is locked.", "Unlock it.")
    assert "The red is locked." in window.messages.words.text()
    assert "Unlock it." in window.messages.words.text()
    window.messages.close_button.click()
    assert "Drag a ball" in window.messages.words.text()


def test_nothing_moves_when_a_message_comes(window, session):
    before = window.canvas.geometry()
    session.messages.warn("A word. " * 12, "And what to do. " * 5)
    QApplication.processEvents()
    assert window.canvas.geometry() == before


@pytest.mark.parametrize(
    ("size", "share"), [((1366, 768), 50), ((1920, 1080), 60), ((1280, 720), 48)]
)
def test_the_table_has_the_window(window, size, share):
    """Its outer frame, as painted; 1280 x 720 is what 1920 x 1080 leaves at scale 1.5."""
    window.resize(*size)
    QApplication.processEvents()
    assert (window.width(), window.height()) == size
    picture = window.grab().toImage()
    rim = QColor(RIM)
    corner = window.canvas.mapTo(window, QPoint(0, 0))
    middle = corner + QPoint(window.canvas.width() // 2, window.canvas.height() // 2)
    across = [
        x for x in range(picture.width()) if _near(picture.pixelColor(x, middle.y() - 120), rim)
    ]
    down = [
        y for y in range(picture.height()) if _near(picture.pixelColor(middle.x() - 160, y), rim)
    ]
    area = (across[-1] - across[0]) * (down[-1] - down[0])
    assert 100.0 * area / (size[0] * size[1]) >= share


def _near(one, other):
    pairs = zip(one.getRgb()[:3], other.getRgb()[:3], strict=True)
    return all(abs(a - b) < 6 for a, b in pairs)


def test_nothing_stands_below_the_table_but_one_line(window):
    window.resize(1366, 768)
    QApplication.processEvents()
    below = window.canvas.mapTo(window, QPoint(0, window.canvas.height())).y()
    assert window.messages.mapTo(window, QPoint(0, 0)).y() == below
    assert below + window.messages.height() == window.height()
    assert window.messages.height() < 2.5 * window.fontMetrics().height()


def test_the_table_alone_hides_column_and_commands(window):
    before = window.canvas.width()
    window.menus.toggle_column()
    QApplication.processEvents()
    assert not window.column.isVisible() and not window.menus.bar.isVisible()
    assert window.canvas.width() == window.width() > before
    window.show_panel("Gaps")
    assert window.gaps.isVisible()


def test_a_message_too_long_for_the_line_is_read_whole(window, session):
    session.messages.warn("It could not be done.", "What to do about it is a long story. " * 12)
    QApplication.processEvents()
    assert window.messages.whole.isVisible()
    window.messages.whole.click()
    (dialog,) = faults_of(window)
    dialog.close()
    session.messages.note("Done.")
    assert not window.messages.whole.isVisible()


def test_turning_the_table(window, session):
    window.canvas.grab()
    assert window.canvas.shape() > 1.5
    window.menus.turn.trigger()
    assert window.canvas.shape() < 0.7
    assert not session.view.turned


def test_every_field_has_a_name_for_screen_readers(window):
    from PySide6.QtWidgets import (
        QAbstractSpinBox,
        QComboBox,
        QLineEdit,
        QPlainTextEdit,
        QTreeWidget,
    )

    kinds = (QAbstractSpinBox, QComboBox, QLineEdit, QPlainTextEdit, QTreeWidget)
    for widget in window.findChildren(object):
        inner = isinstance(widget, QLineEdit) and isinstance(widget.parent(), QAbstractSpinBox)
        if isinstance(widget, kinds) and not inner:
            assert widget.accessibleName(), widget


def test_the_table_is_seen_from_either_end_and_from_the_players(
    qtbot, window, canvas, session, on_table
):
    ctrl_shift = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    baulk = on_table(889.0, 0.0)
    qtbot.keyClick(window, Qt.Key.Key_U, ctrl_shift)
    canvas.grab()
    assert session.view.far and window.menus.about.isChecked()
    assert on_table(889.0, 0.0).x() > canvas.width() / 2 > baulk.x()
    # The cue ball is played up the table to the blue: the player stands at the baulk end.
    qtbot.keyClick(window, Qt.Key.Key_Y, ctrl_shift)
    canvas.grab()
    assert not session.view.turned and not session.view.far
    assert on_table(889.0, 0.0).y() > on_table(889.0, 3569.0).y()
    session.balls.place("cue", (640.0, 2300.0))
    session.shots.set_pocket("bottom-right")
    qtbot.keyClick(window, Qt.Key.Key_Y, ctrl_shift)
    canvas.grab()
    assert session.view.far
    cue, blue = session.routine.ball("cue"), session.routine.ball("blue")
    assert on_table(*cue.centre_mm).y() > on_table(*blue.centre_mm).y()
    assert window.settings.load_view().far
    # Arrow keys still go the way they point.
    session.point_at_ball("red-1")
    before = on_table(*session.ball.centre_mm)
    qtbot.keyClick(canvas, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert on_table(*session.ball.centre_mm).x() > before.x()


def test_a_routine_keeps_its_id_and_a_copy_gets_its_own(window, session, tmp_path):
    files, asker = window.files, window.files.asker
    asker.change_answer = "drop"
    assert files.new() and session.routine.id
    first = session.routine.id
    session.sheet.set_text("title", "Round the black")
    asker.save_path = tmp_path / "one.json"
    assert files.save()
    session.sheet.set_text("title", "Round the pink")
    assert files.save() and session.routine.id == first
    asker.save_path = tmp_path / "two.json"
    assert files.save_as()
    own = session.routine.id
    assert own != first and not session.document.changed_since_save
    session.document.undo()
    assert session.routine.title == "Round the black" and session.routine.id == own
    assert load_routine(tmp_path / "one.json").id == first
    assert load_routine(tmp_path / "two.json").id == own
    assert files.save_as(), "onto its own file: it stays what it is"
    assert session.routine.id == own == load_routine(tmp_path / "two.json").id
    assert files.new() and session.routine.id not in (first, own)
