"""The photograph beside its plan: marks by hand, balls by click, drawing, files."""

import contextlib
import gettext
import io
import math
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from designer import texts
from designer.photo.guides import Guides
from designer.photo.photo_window import BALLS, DRAW, PLACES
from engine.photo import jpeg_of, laid_over
from engine.storage.photo_files import load_photo_marks, save_photo_marks
from tests.designer.window.test_translation import FullCatalogue, assert_all_translated
from tests.engine.photo.cases import PLACES as ALL_PLACES
from tests.engine.photo.cases import plain_case
from tests.engine.photo.darkroom import RADIUS_MM, Pose, render

POSE = Pose((750, -700, 1250), (900, 1500, 0), (800, 600), 24.0)
LEFT, SHIFT = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier


class Asked:
    """Stands in for the person asked for files."""

    def __init__(self):
        self.open_path = self.write_path = None
        self.drop = True
        self.questions = 0

    def to_open(self, folder):
        return self.open_path

    def to_write(self, what, start):
        return self.write_path

    def about_unsaved(self, told, question):
        self.questions += 1
        return "drop" if self.drop else "stay"


@pytest.fixture(scope="module")
def photograph():
    balls = [
        ("cue", 640.0, 1420.0), ("blue", 889.0, 1784.5), ("red", 1180.0, 1250.0),
        ("red", 1420.0, 1180.0), ("black", 889.0, 3245.0),
    ]  # fmt: skip
    return jpeg_of(render(POSE, balls, finer=1))


@pytest.fixture
def picture(tmp_path, photograph):
    (tmp_path / "table.jpg").write_bytes(photograph)
    return tmp_path / "table.jpg"


@pytest.fixture
def dialog(qtbot, window, picture):
    made = window.menus.dialogs.photo()
    made.asker = Asked()
    made.resize(1320, 820)
    qtbot.waitExposed(made)
    assert made.open_file(picture)
    yield made
    made.asker.drop = True
    with contextlib.suppress(RuntimeError):
        made.close()


def on_view(dialog, pixel) -> QPoint:
    return dialog.view.to_screen(float(pixel[0]), float(pixel[1])).toPoint()


def press(dialog, pixel):
    QTest.mouseClick(dialog.view, LEFT, Qt.KeyboardModifier.NoModifier, on_view(dialog, pixel))


def drag(dialog, start, end, modifier=Qt.KeyboardModifier.NoModifier):
    view = dialog.view
    one, other = on_view(dialog, start), on_view(dialog, end)
    QTest.mousePress(view, LEFT, modifier, one)
    for share in (0.3, 0.7, 1.0):
        QTest.mouseMove(view, one + (other - one) * share)
    QTest.mouseRelease(view, LEFT, modifier, other)


def middle_of(routine, ball_id):
    ball = routine.ball(ball_id)
    return POSE.ball_middle(np.array([ball.x_mm, ball.y_mm, RADIUS_MM]))


def mark_all(dialog):
    """Marks with little error, as if set by hand; the last one is not saved."""
    photo = replace(plain_case(POSE, 0.3), picture="table.jpg", marking_px=0.5)
    *most, last = photo.marks
    path = dialog.work.picture_path.with_name("most.json")
    save_photo_marks(replace(photo, marks=tuple(most)), path)
    dialog.work.open_marks(path)
    dialog.work.marks_path = None
    dialog.work.put_mark(last.place, last.at_px)


@pytest.mark.slow
def test_pressing_marks_the_chosen_place_and_goes_on_to_the_next(dialog):
    seen = [place for place in ALL_PLACES if POSE.holds(POSE.sees(np.array(place.at_mm)))]
    for place in seen:
        dialog.places.choose(place.id)
        press(dialog, POSE.sees(np.array(place.at_mm)))
    assert [mark.place for mark in dialog.work.photo.marks] == [place.id for place in seen]
    assert len(seen) >= 8
    # a press on the screen is exact to its own pixels
    assert dialog.work.fit is not None
    assert np.hypot(*(dialog.work.fit.camera.at_mm - POSE.at)[:2]) < 150.0
    rows = dialog.places.rows
    words = [rows.topLevelItem(i).text(1) for i in range(rows.topLevelItemCount())]
    assert sum("px" in text for text in words) == len(seen)
    assert "m above the cloth" in dialog.places.state.text()
    assert dialog.places.place not in {place.id for place in seen} or len(seen) == 12


def test_what_is_missing_is_told_until_there_is_a_camera(dialog):
    assert "number of marks is 0" in dialog.places.state.text()
    assert not dialog.draw.picture.isEnabled()
    mark_all(dialog)
    assert "number of marks" not in dialog.places.state.text()
    assert dialog.draw.picture.isEnabled() and len(dialog.view.lines) > 5


@pytest.mark.slow
def test_marks_are_dragged_nudged_taken_away_and_brought_back(dialog):
    mark_all(dialog)
    mark = dialog.work.photo.mark("spot-brown")
    drag(dialog, mark.at_px, (mark.x_px + 20, mark.y_px + 10))
    moved = dialog.work.photo.mark("spot-brown")
    assert moved.x_px == pytest.approx(mark.x_px + 20, abs=1.5)
    assert dialog.places.place == "spot-brown"
    QTest.keyClick(dialog.view, Qt.Key.Key_Left)
    assert dialog.work.photo.mark("spot-brown").x_px == moved.x_px - 0.25
    dialog.undo_button.click()
    dialog.undo_button.click()
    assert dialog.work.photo.mark("spot-brown") == mark
    dialog.redo_button.click()
    assert dialog.work.photo.mark("spot-brown") == moved
    dialog.places.remove.click()
    assert dialog.work.photo.mark("spot-brown") is None
    dialog.undo_button.click()
    assert dialog.work.photo.mark("spot-brown") == moved


def test_a_trembling_press_on_a_mark_moves_nothing(dialog):
    mark_all(dialog)
    mark = dialog.work.photo.mark("spot-brown")
    at = on_view(dialog, mark.at_px)
    QTest.mousePress(dialog.view, LEFT, Qt.KeyboardModifier.NoModifier, at)
    QTest.mouseMove(dialog.view, at + QPoint(1, 1))
    QTest.mouseRelease(dialog.view, LEFT, Qt.KeyboardModifier.NoModifier, at + QPoint(1, 1))
    assert dialog.work.photo.mark("spot-brown") == mark


def test_a_bad_mark_is_named_in_its_row_and_drawn_otherwise(dialog):
    mark_all(dialog)
    mark = dialog.work.photo.mark("spot-blue")
    dialog.work.put_mark("spot-blue", (mark.x_px + 25, mark.y_px + 5))
    assert "blue spot is set aside" in dialog.places.state.text()
    shown = {one.key: one for one in dialog.view.shown}
    assert shown["place spot-blue"].bad and not shown["place spot-pink"].bad


@pytest.mark.slow
def test_clicked_balls_are_fitted_named_and_read(dialog, routine, session):
    mark_all(dialog)
    dialog.pages.setCurrentIndex(BALLS)
    for ball in routine.balls:
        at = middle_of(routine, ball.id)
        press(dialog, (at[0] + 1.5, at[1] - 1.0))
    assert {one.id for one in dialog.work.photo.balls} == {b.id for b in routine.balls}
    for one in dialog.work.photo.balls:
        assert one.spread_px is not None
        assert math.dist(one.at_px, middle_of(routine, one.id)) < 1.2
    read = {one.mark.id: one for one in dialog.work.reading.balls}
    for ball in routine.balls:
        off = math.dist(read[ball.id].read_mm, ball.centre_mm)
        assert off < max(read[ball.id].within_mm * 1.5, 30.0)
    assert dialog.balls.rows.topLevelItemCount() == 5
    assert "mm" in dialog.balls.rows.topLevelItem(0).text(3)


@pytest.mark.slow
def test_the_kind_is_corrected_by_hand_and_the_middle_too(dialog, routine):
    mark_all(dialog)
    dialog.pages.setCurrentIndex(BALLS)
    at = middle_of(routine, "red-1")
    press(dialog, at)
    assert dialog.balls.ball == "red-1" and dialog.balls.kind.currentData() == "red"
    dialog.balls.kind.setCurrentIndex(dialog.balls.kind.findData("brown"))
    assert dialog.work.photo.balls[0].id == "brown" and dialog.balls.ball == "brown"
    dialog.work.move_ball("brown", (at[0] + 3, at[1]))
    assert dialog.work.photo.ball("brown").spread_px is None
    dialog.balls.fit.click()
    assert math.dist(dialog.work.photo.ball("brown").at_px, at) < 1.2
    dialog.work.move_ball("brown", (at[0], at[1] + 60))
    dialog.balls.fit.click()
    assert "No outline" in dialog.balls.state.text()
    dialog.balls.remove.click()
    assert dialog.work.photo.balls == ()


def test_balls_are_taken_over_in_one_step_that_undo_takes_back(dialog, routine, session, told):
    mark_all(dialog)
    session.balls.place("red-1", (400.0, 700.0))
    before = session.routine
    dialog.pages.setCurrentIndex(BALLS)
    press(dialog, middle_of(routine, "red-1"))
    dialog.work.set_kind(dialog.balls.ball, "red")
    dialog.balls.take.click()
    assert math.dist(session.routine.ball("red-1").centre_mm, (1180, 1250)) < 40.0
    assert session.routine.ball("red-1").extra["photo_within_mm"] > 0
    assert session.routine.ball("blue") == before.ball("blue")
    assert session.routine.shots == before.shots
    session.undo()
    assert session.routine == before


def test_the_pointer_tells_the_place_and_how_sure_it_is(dialog):
    mark_all(dialog)
    at = POSE.sees(np.array([900.0, 1500.0, 0.0]))
    dialog.view.hovered.emit(float(at[0]), float(at[1]))
    words = dialog.told.text()
    assert words.startswith("On the cloth: ") and "±" in words
    x = float(words.split(": ")[1].split(" ")[0])
    assert abs(x - 900.0) < 25.0
    dialog.view.hovered.emit(2.0, 2.0)
    assert "px" in dialog.told.text()


def test_the_drawing_lies_over_the_photograph_and_beside_it(qtbot, dialog, session):
    mark_all(dialog)
    session.full_answer()
    dialog.pages.setCurrentIndex(DRAW)
    assert dialog.view.overlay is not None and not dialog.view.shown
    some = dialog.grab().toImage()
    dialog.draw.on.setChecked(False)
    assert dialog.view.overlay is None
    assert dialog.grab().toImage() != some
    dialog.pages.setCurrentIndex(PLACES)
    assert dialog.view.shown and dialog.view.overlay is None


@pytest.mark.slow
def test_exports_have_the_photographs_size_and_agree(dialog, session, tmp_path):
    mark_all(dialog)
    dialog.asker.write_path = tmp_path / "drawn.png"
    dialog.draw.picture.click()
    dialog.asker.write_path = tmp_path / "overlay.png"
    dialog.draw.overlay.click()
    with Image.open(tmp_path / "drawn.png") as drawn, Image.open(tmp_path / "overlay.png") as over:
        assert drawn.size == over.size == (800, 600) and over.mode == "RGBA"
        both = laid_over(dialog.work.picture.pixels, np.asarray(over))
        assert np.array_equal(both, np.asarray(drawn))
        assert not drawn.info.get("exif")
    assert "without place and device" in dialog.told.text()
    dialog.asker.write_path = tmp_path / "nowhere" / "drawn.png"
    dialog.draw.picture.click()
    assert "was not written" in dialog.trouble.text() and dialog.trouble.isVisible()


def test_marks_are_saved_and_opened_again(dialog, tmp_path, routine):
    mark_all(dialog)
    dialog.pages.setCurrentIndex(BALLS)
    press(dialog, middle_of(routine, "blue"))
    assert dialog.work.changed_since_save
    dialog.asker.write_path = tmp_path / "table.photo.json"
    dialog.save_button.click()
    assert not dialog.work.changed_since_save
    kept = dialog.work.photo
    written = load_photo_marks(tmp_path / "table.photo.json")
    assert written.picture == "table.jpg" and written.ball("blue").spread_px is not None
    for mark in kept.marks:
        assert written.mark(mark.place).at_px == pytest.approx(mark.at_px, abs=0.001)
    dialog.work.remove_ball("blue")
    dialog.asker.open_path = tmp_path / "table.photo.json"
    dialog.open_button.click()
    assert dialog.asker.questions == 1
    assert [mark.place for mark in dialog.work.photo.marks] == [m.place for m in kept.marks]
    assert dialog.work.photo.ball("blue").kind == "blue"


def test_files_that_cannot_be_opened_are_told_and_nothing_is_lost(dialog, tmp_path):
    mark_all(dialog)
    kept = dialog.work.photo
    (tmp_path / "letter.jpg").write_text("Dear coach")
    assert not dialog.open_file(tmp_path / "letter.jpg")
    assert "is no picture" in dialog.trouble.text()
    (tmp_path / "bad.json").write_text("{}")
    assert not dialog.open_file(tmp_path / "bad.json")
    assert not dialog.open_file(tmp_path / "none.jpg")
    assert "no such file" in dialog.trouble.text()
    store = io.BytesIO()
    Image.new("RGB", (300, 200)).save(store, "JPEG")
    save_photo_marks(replace(kept, picture="other.jpg"), tmp_path / "other.json")
    (tmp_path / "other.jpg").write_bytes(store.getvalue())
    assert not dialog.open_file(tmp_path / "other.json")
    assert "wanted 300 by 200" in dialog.trouble.text()
    assert dialog.work.photo == kept and dialog.work.fit is not None


def test_delete_takes_the_chosen_mark_or_ball_away(dialog, routine):
    mark_all(dialog)
    place = dialog.work.photo.marks[0].place
    dialog.places.choose(place)
    QTest.keyClick(dialog.view, Qt.Key.Key_Delete)
    assert dialog.work.photo.mark(place) is None and len(dialog.work.photo.marks) > 3
    dialog.work.undo()
    assert dialog.work.photo.mark(place) is not None
    dialog.pages.setCurrentIndex(BALLS)
    press(dialog, middle_of(routine, "blue"))
    assert dialog.work.photo.balls
    QTest.keyClick(dialog.view, Qt.Key.Key_Backspace)
    assert not dialog.work.photo.balls


def test_closing_asks_before_marks_are_lost(dialog):
    mark_all(dialog)
    dialog.asker.drop = False
    dialog.close()
    assert dialog.isVisible() and dialog.asker.questions == 1
    dialog.asker.drop = True
    dialog.close()
    assert not dialog.isVisible()


def test_closing_the_whole_window_asks_too(qtbot, dialog, window):
    mark_all(dialog)
    dialog.asker.drop = False
    window.close()
    assert window.isVisible() and dialog.isVisible() and dialog.asker.questions == 1
    dialog.asker.drop = True
    window.files.asker.change_answer = "drop"
    window.close()
    assert not window.isVisible() and dialog.asker.questions == 2


@pytest.mark.slow
def test_the_drawing_follows_the_routine_when_the_hand_rests(qtbot, dialog, session):
    mark_all(dialog)
    session.full_answer()
    dialog.pages.setCurrentIndex(DRAW)
    before = dialog.file_of("overlay", ".png")
    session.balls.place("blue", (960.0, 1700.0))
    session.full_answer()
    kept = dialog.view.overlay
    qtbot.waitUntil(lambda: dialog.view.overlay is not kept)
    assert dialog.file_of("overlay", ".png") != before


def test_help_lines_hold_a_corner_that_cannot_be_seen(dialog):
    high = ALL_PLACES[0].z_mm
    corner = POSE.sees(np.array([0.0, 3569.0, high]))
    sides = (
        [POSE.sees(np.array([0.0, y, high])) for y in (2600.0, 3300.0)],
        [POSE.sees(np.array([x, 3569.0, high])) for x in (300.0, 1300.0)],
    )
    for start, end in sides:
        drag(dialog, start, end, SHIFT)
    assert len(dialog.view.guides.lines) == 2
    assert dialog.work.photo.marks == ()
    dialog.places.choose("corner-top-left")
    press(dialog, (corner[0] + 3, corner[1] + 3))
    crossing = dialog.view.guides.crossings()[0]
    assert dialog.work.photo.mark("corner-top-left").at_px == pytest.approx(crossing)
    assert math.dist(crossing, corner) < 2.5
    dialog.places.clear.click()
    assert dialog.view.guides.lines == []


def test_lines_nearly_alike_cross_nowhere():
    guides = Guides()
    for start, end in (((0, 0), (100, 0)), ((0, 5), (100, 5.5)), ((50, -40), (50, 60))):
        guides.begin(start)
        guides.draw_to(end)
        guides.end(5.0)
    assert len(guides.crossings()) == 2
    assert guides.held_to((52.0, 1.0), 4.0) == pytest.approx((50.0, 0.0))
    assert guides.held_to((80.0, 30.0), 4.0) == (80.0, 30.0)


def test_the_wheel_and_keys_zoom_and_the_whole_picture_comes_back(dialog):
    view = dialog.view
    whole = view.to_picture(view.to_screen(400.0, 300.0))
    assert whole == pytest.approx((400.0, 300.0))
    before = view.to_screen(799, 0) - view.to_screen(0, 0)
    for _ in range(3):
        QTest.keyClick(view, Qt.Key.Key_Plus)
    after = view.to_screen(799, 0) - view.to_screen(0, 0)
    assert after.x() > 1.8 * before.x()
    QTest.keyClick(view, Qt.Key.Key_0)
    assert view.to_screen(799, 0) - view.to_screen(0, 0) == before


def test_every_text_passes_the_wrapper(qtbot, window, picture, routine):
    texts.use_catalogue(FullCatalogue())
    try:
        dialog = window.menus.dialogs.photo()
        dialog.asker = Asked()
        assert_all_translated(dialog)
        dialog.open_file(picture)
        mark_all(dialog)
        dialog.pages.setCurrentIndex(BALLS)
        press(dialog, middle_of(routine, "blue"))
        dialog.view.hovered.emit(400.0, 400.0)
        dialog.catch_up()
        title = dialog.windowTitle()
        dialog.setWindowTitle(title.replace("table.jpg", ""))
        assert_all_translated(dialog)
        assert dialog.work.take_over() and "⟦" in window.session.document.undo_name
        dialog.close()
    finally:
        texts.use_catalogue(gettext.NullTranslations())


def test_every_control_has_a_name(dialog):
    from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QComboBox, QHeaderView

    for index in range(dialog.pages.count()):
        dialog.pages.setCurrentIndex(index)
        for kind in (QAbstractButton, QAbstractItemView, QComboBox):
            for part in dialog.findChildren(kind):
                inner = isinstance(part, QHeaderView) or isinstance(part.parent(), QComboBox)
                if part.isVisible() and not inner and not part.objectName().startswith("qt_"):
                    words = getattr(part, "text", lambda: "")()
                    assert part.accessibleName() or words or part.toolTip(), part


def test_nothing_is_written_onto_the_photograph(dialog, picture, photograph, monkeypatch):
    mark_all(dialog)
    monkeypatch.setattr("designer.files.asking.agrees_to_replace", lambda *_: True)
    dialog.asker.write_path = picture
    for act in (lambda: dialog._export("picture"), dialog.save):
        act()
        assert "is read here and would be lost" in dialog.trouble.text()
        assert picture.read_bytes() == photograph
