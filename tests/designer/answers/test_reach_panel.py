"""The reach map as a coach uses it: point, click, keys, drag a ball."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from designer.answers import reach_kinds as kinds
from designer.answers.reach_chart import LaneMark, ReachChart
from designer.answers.reach_paint import label_places, on_pixels, picture
from designer.words.figures import pace as pace_told
from engine.judging import outcomes
from engine.playing import laid_out_of
from engine.reach import reach_map
from engine.routine.values import LaneAsk

LEFT = Qt.MouseButton.LeftButton
GAP = "between"


@pytest.fixture
def panel(qtbot, window, session, routine_with_gaps):
    session.document.replace(routine_with_gaps)
    panel = window.menus.dialogs.reach().panel
    panel.window().move(0, 0)
    qtbot.waitUntil(lambda: has_fine(session))
    qtbot.waitUntil(lambda: session.answer_is_full)
    panel.catch_up_now()
    return panel


def has_fine(session, gap=GAP):
    shown = session.reach.shown_map(gap)
    return shown is not None and shown.fine


def at(panel, tip, pace):
    return panel.chart.place_of(tip, pace).toPoint()


def point(chart, at):
    """Move the pointer over the chart; the test's own may lie over another window."""
    where, none = QPointF(at), Qt.MouseButton.NoButton
    moved = QMouseEvent(
        QEvent.Type.MouseMove, where, chart.mapToGlobal(where), none, none,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(chart, moved)


def test_a_click_takes_the_strike_as_one_step(qtbot, panel, session):
    before = session.routine
    session.point_at_lane("C")
    qtbot.mouseClick(panel.chart, LEFT, pos=at(panel, 0.2, 6.0))
    lane = session.routine.shots[0].lane("C")
    assert float(lane.tip_height) == pytest.approx(0.2, abs=0.01)
    assert lane.pace == pytest.approx(6.0, abs=0.1)
    assert session.document.undo_name == "Strike of lane C"
    session.undo()
    assert session.routine == before


def test_pointing_reads_the_strike_exactly_as_the_engine_plays_it(qtbot, panel, session):
    scene = session.reach.shown_map(GAP).scene
    strikes = [(tip / 20, pace) for tip in range(-9, 10, 3) for pace in (2.0, 4.5, 7.0, 9.5)]
    words = {}
    for tip, pace in strikes:
        point(panel.chart, at(panel, tip, pace))
        strike = panel.chart.strike_at(panel.chart.place_of(tip, pace))
        found = outcomes(scene, strike[0], scene.conditions.speed_mm_s(strike[1], strike[0]))
        text = panel.words.text()
        assert ("threads" in text) == bool(found.threads[0])
        assert pace_told(strike[1]) in text and "m/s" in text
        words[text] = True
    assert len(words) > 5
    point(panel.chart, QPoint(1, 1))
    assert panel.words.text().startswith("Point at the map")


@pytest.mark.slow
def test_keys_move_the_sight_and_enter_takes(qtbot, panel, session):
    session.point_at_lane("A")
    panel.chart.setFocus()
    qtbot.keyClick(panel.chart, Qt.Key.Key_Down)
    for _ in range(2):
        qtbot.keyClick(panel.chart, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(panel.chart, Qt.Key.Key_Return)
    lane = session.routine.shots[0].lane("A")
    assert lane.pace == pytest.approx(3.9)
    assert float(lane.tip_height) * 26.25 == pytest.approx(13.125 - 5.0, abs=0.06)


def test_every_lane_is_marked_and_the_selected_one_stands_out(panel, session):
    session.point_at_lane("B")
    panel.catch_up_now()
    marks = panel.chart.marks
    assert [mark.label for mark in marks] == ["A", "B", "C"]
    assert [mark.selected for mark in marks] == [False, True, False]
    assert marks[1].tip_height == pytest.approx(session.lane_answer.tip_height)


@pytest.mark.slow
def test_the_most_forgiving_strike_is_marked_and_can_be_taken(qtbot, panel, session):
    verdict = session.reach.verdict_of("beside")
    panel.choose_gap("beside")
    qtbot.waitUntil(lambda: has_fine(session, "beside"))
    panel.catch_up_now()
    if verdict.choice is None:
        assert not panel.take_best.isEnabled()
        # the reds further apart make a gap that can be reached
        session.balls.place("red-2", (1540.0, 900.0))
        panel.choose_gap(GAP)
        qtbot.waitUntil(lambda: session.answer_is_full and has_fine(session))
        panel.catch_up_now()
        verdict = session.reach.verdict_of(GAP)
    assert verdict.choice is not None
    assert panel.chart.best == (verdict.choice.tip_height, verdict.choice.pace)
    session.point_at_lane("A")
    qtbot.mouseClick(panel.take_best, LEFT)
    lane = session.routine.shots[0].lane("A")
    assert (lane.tip_height, lane.pace) == panel.chart.best


@pytest.mark.slow
def test_coarse_while_a_ball_moves_and_refined_at_rest(qtbot, panel, session):
    x, y = session.routine.ball("red-1").centre_mm
    session.balls.drag("red-1", (x + 20.0, y))
    shown = session.reach.shown_map(GAP)
    assert not shown.fine
    drawn = session.reach.answer_to_draw()
    assert not session.answer_is_full and {one.gap for one in drawn.verdicts} == {
        "between",
        "beside",
    }
    panel.catch_up_now()
    assert "Coarse" in panel.verdict.text()
    session.balls.drop()
    qtbot.waitUntil(lambda: has_fine(session))
    panel.catch_up_now()
    assert "Coarse" not in panel.verdict.text()
    assert session.reach.shown_map(GAP).scene.balls == session.routine.balls


@pytest.mark.slow
def test_the_gap_on_the_table_turns_while_dragging(qtbot, window, session, routine_with_gaps):
    from designer.drawing import roles
    from designer.table_view.table_picture import TablePicture

    lanes = (LaneAsk("A", -0.2, 6.0),)
    shot = replace(routine_with_gaps.shots[0], lanes=lanes)
    session.document.replace(replace(routine_with_gaps, shots=(shot,)))
    scenery = TablePicture(session)
    seen = {}
    for step in range(0, 360, 12):
        session.balls.drag("red-2", (1420.0 - step, 1180.0 - 2.0 * step))
        verdict = next(one for one in session.reach.answer_to_draw().verdicts if one.gap == GAP)
        drawing = scenery.drawing(0.4)
        shapes = tuple(type(item).__name__ for item in drawing.items if item.role == roles.VERDICT)
        seen.setdefault(verdict.reachable, shapes)
    assert set(seen) == {True, False}
    assert seen[True] != seen[False]


def test_without_gap_or_pot_the_map_says_what_is_missing(qtbot, window, session):
    panel = window.menus.dialogs.reach().panel
    assert "draw one" in panel.chart._words
    assert not panel.gap.isEnabled()
    qtbot.mouseClick(panel.chart, LEFT, pos=at(panel, 0.0, 5.0))
    assert float(session.routine.shots[0].lanes[0].pace) == pytest.approx(5.0)


def test_regions_agree_with_the_map(routine_with_gaps):
    from designer.answers.reach_regions import kinds_of

    routine = replace(
        routine_with_gaps,
        balls=tuple(
            replace(ball, x_mm=1540.0, y_mm=900.0) if ball.id == "red-2" else ball
            for ball in routine_with_gaps.balls
        ),
    )
    found = reach_map(laid_out_of(routine, "shot-1", (GAP,)))
    shown = kinds_of(found)
    assert found.threads.any()
    assert ((shown == kinds.THREADS) == found.threads).all()
    assert set(np.unique(shown)) <= set(range(len(kinds.KINDS)))


def test_every_kind_looks_different_without_colour():
    pictures = []
    for index in range(len(kinds.KINDS)):
        shown = np.full((48, 48), index, dtype=np.int8)
        image = picture(shown, 1.0).convertToFormat(picture(shown, 1.0).Format.Format_Grayscale8)
        grey = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(48, -1)[:, :48].astype(int)
        # lighter or darker than the ground: the hatch alone, not its tint
        pictures.append(np.abs(grey - np.median(grey)) > 12)
    for one in range(len(pictures)):
        for two in range(one + 1, len(pictures)):
            assert (pictures[one] != pictures[two]).mean() > 0.03, (one, two)


def test_no_room_for_the_cue_is_shown_and_words_stand_inside_their_region():
    shown = on_pixels(np.zeros((5, 5), dtype=np.int8), 0.25, 200, 100)
    assert (shown[:, :49] == kinds.NO_ROOM).all() and (shown[:, 51:] == kinds.THREADS).all()
    places = label_places(shown, {kinds.THREADS: (60, 16), kinds.NO_ROOM: (80, 16)})
    assert set(places) == {kinds.THREADS}
    x, y = places[kinds.THREADS]
    assert (shown[int(y) - 8 : int(y) + 8, int(x) - 30 : int(x) + 30] == kinds.THREADS).all()


@pytest.mark.parametrize("pace", (1.0, 3.2, 5.5, 9.9))
@pytest.mark.parametrize("tip", (-0.5, -0.2, 0.0, 0.3, 0.5))
def test_no_word_lies_under_a_mark(qtbot, tip, pace):
    """Seen: "forgives most" over the half of "touches an edge"."""
    chart = ReachChart()
    qtbot.addWidget(chart)
    chart.resize(420, 330)
    lattice = np.full((40, 40), kinds.MISSES, dtype=np.int8)
    lattice[:, 10:30] = kinds.EDGE
    chart.show_kinds(lattice, -0.5)
    for marked in ((), (LaneMark("A", 0, -tip, pace, True), LaneMark("B", 1, 0.0, 5.5, False))):
        chart.show_marks(marked, (tip, pace))
        chart.grab()
        words, covered = chart.word_boxes(), chart.marked_boxes()
        assert set(words) == {kinds.MISSES, kinds.EDGE} and len(covered) == 2 + len(marked)
        assert not [one for one in words.values() for box in covered if one.intersects(box)]
