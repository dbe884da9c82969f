"""Object ball, pocket, lanes; the tip set on the ball face, by numbers, as stun; the pace."""

import pytest
from PySide6.QtCore import QPoint, Qt

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(window):
    window.show_panel("Shot")
    return window.shot


def choose(box, key):
    box.setCurrentIndex(box.findData(key))
    box.activated.emit(box.currentIndex())


def test_object_ball_and_pocket_from_lists(panel, session):
    choose(panel.object_ball, "black")
    choose(panel.pocket, "top-left")
    assert (session.shot.object_ball, session.shot.pocket) == ("black", "top-left")
    assert session.shot_answer.pot.pocket == "top-left"
    assert panel.object_ball.findData("cue") == -1


def test_a_click_on_the_ball_face_sets_the_tip(qtbot, panel, session):
    face = panel.strike.face
    qtbot.mouseClick(face, LEFT, pos=face.place_of(-0.3).toPoint())
    assert session.lane.label == "A"
    pixel = 1.0 / (face.place_of(0.0).y() - face.place_of(1.0).y())
    assert session.lane.tip_height == pytest.approx(-0.3, abs=pixel)
    qtbot.waitUntil(lambda: panel.strike.tip_mm.value() == pytest.approx(-7.9, abs=0.4))
    found = session.lane_answer.tip_height
    assert found == pytest.approx(session.lane.tip_height)


def test_beyond_the_limit_the_tip_stays_at_the_limit(qtbot, panel, session):
    face = panel.strike.face
    qtbot.mouseClick(face, LEFT, pos=face.place_of(-0.95).toPoint())
    assert session.lane.tip_height == -0.5
    qtbot.mouseClick(face, LEFT, pos=face.place_of(0.9).toPoint())
    assert session.lane.tip_height == 0.5


def test_dragging_on_the_face_is_one_step(qtbot, panel, session):
    face, before = panel.strike.face, session.routine
    start = face.place_of(0.2).toPoint()
    qtbot.mousePress(face, LEFT, pos=start)
    for step in range(1, 8):
        qtbot.mouseMove(face, start + QPoint(0, 4 * step))
    qtbot.mouseRelease(face, LEFT, pos=start + QPoint(0, 28))
    assert session.lane.tip_height < 0.2
    assert session.document.undo_name == "Tip height of lane A"
    session.undo()
    assert session.routine == before


def test_keys_on_the_face(qtbot, panel, session):
    face = panel.strike.face
    face.setFocus()
    qtbot.keyClick(face, Qt.Key.Key_Home)
    assert session.lane.tip_height == 0.0
    qtbot.keyClick(face, Qt.Key.Key_Up)
    qtbot.waitUntil(lambda: face.tip_height != 0.0)
    assert session.lane.tip_height * 26.25 == pytest.approx(0.5)


def test_numbers_in_mm(panel, session):
    strike = panel.strike
    strike.tip_mm.setValue(-6.5)
    assert session.lane.tip_height == pytest.approx(-6.5 / 26.25)
    strike.tip_mm.setValue(99)
    assert session.lane.tip_height == pytest.approx(0.5)


def test_the_sign_is_always_shown_and_may_be_typed(qtbot, panel, session):
    box = panel.strike.tip_mm
    assert box.text() == "+13.1 mm"
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, "-4.5")
    qtbot.keyClick(box, Qt.Key.Key_Return)
    assert session.lane.tip_height == pytest.approx(-4.5 / 26.25)
    assert box.text() == "−4.5 mm"


def test_stun_is_found_by_the_engine(qtbot, panel, session):
    panel.strike.stun.click()
    assert session.lane.tip_height == "stun"
    qtbot.waitUntil(lambda: panel.strike.face.tip_height < 0.0)
    assert panel.strike.face.tip_height == pytest.approx(session.lane_answer.tip_height)
    assert abs(session.lane_answer.spin_ratio_on_arrival) < 0.02
    panel.strike.stun.click()
    assert session.lane.tip_height == pytest.approx(session.lane_answer.tip_height)


def test_pace_by_slider_and_number_with_its_speed(panel, session):
    panel.strike.slider.setValue(65)
    assert session.lane.pace == 6.5
    # 3.6 m/s in the middle; the tip at the miscue limit leaves 88.3 % of it
    assert session.lane_answer.speed_m_s == pytest.approx(0.8833 * 3.6, rel=1e-4)
    panel.strike.pace.setValue(3.0)
    assert session.lane.pace == 3.0
    panel.catch_up()
    assert panel.strike.lengths.text().startswith("1.3 m/s · runs ")
    session.shots.set_tip(0.0)
    panel.catch_up()
    assert panel.strike.lengths.text().startswith("1.5 m/s · "), "the same stroke in the middle"


def test_lanes_added_removed_and_the_standard_three(qtbot, panel, session):
    qtbot.mouseClick(panel.add_lane, LEFT)
    assert [lane.label for lane in session.shot.lanes] == ["A", "B", "C", "D"]
    assert session.shown_lane == "D"
    qtbot.mouseClick(panel.remove_lane, LEFT)
    assert [lane.label for lane in session.shot.lanes] == ["A", "B", "C"]
    panel.strike.pace.setValue(6.0)
    session.shots.set_tip(0.1)
    qtbot.mouseClick(panel.standard, LEFT)
    tips = [(lane.label, lane.tip_height, lane.pace) for lane in session.shot.lanes]
    assert tips == [("A", 0.5, 6.0), ("B", "stun", 6.0), ("C", -0.5, 6.0)]


def test_a_second_shot_and_back(qtbot, panel, session):
    qtbot.mouseClick(panel.add_shot, LEFT)
    assert session.shown_shot == "shot-2"
    qtbot.waitUntil(lambda: panel.number.text() == "Shot 2 of 2")
    assert not panel.after.isEnabled()
    qtbot.mouseClick(panel.before, LEFT)
    assert session.shown_shot == "shot-1"
    assert session.shot_answer.shot == "shot-1"
    qtbot.mouseClick(panel.after, LEFT)
    panel.earlier.trigger()
    assert [shot.id for shot in session.routine.shots] == ["shot-2", "shot-1"]
    panel.remove_shot.trigger()
    assert [shot.id for shot in session.routine.shots] == ["shot-1"]


def test_space_or_a_click_on_its_letter_leaves_a_lane_out(qtbot, panel, session):
    panel.lanes.setCurrentRow(1)
    panel.lanes.setFocus()
    qtbot.keyClick(panel.lanes, Qt.Key.Key_Space)
    assert not session.lane_is_shown("B") and session.lane_is_shown("A")
    qtbot.waitUntil(lambda: not panel.lanes.rows()[1].shown)
    box = panel.lanes.visualItemRect(panel.lanes.item(1))
    qtbot.mouseClick(panel.lanes.viewport(), LEFT, pos=box.topLeft() + QPoint(12, 20))
    assert session.lane_is_shown("B")
