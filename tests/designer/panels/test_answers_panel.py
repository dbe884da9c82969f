"""Answers in a coach's words, and that the panel shows them."""

from dataclasses import replace

import pytest

from designer.panels.answer_words import gap_html, lane_ends, lane_verdict, pot_words
from engine.answers import answer, answer_shot
from engine.routine import edits
from engine.routine.context import table_of


@pytest.fixture
def shot(routine):
    return answer_shot(routine, "shot-1")


def test_the_pot_in_words(routine, shot):
    head, on, lines = pot_words(shot, routine, table_of(routine))
    assert (head, on) == ("Blue to top right: on", True)
    assert lines[0] == f"Cut {shot.pot.cut_deg:.0f}° to the {shot.pot.cut_side}"


def test_a_blocked_pot_says_why(routine):
    blocked = edits.move_ball(routine, "red-1", 1100.0, 2213.0)
    shot = answer_shot(blocked, "shot-1")
    head, on, lines = pot_words(shot, blocked, table_of(blocked))
    assert on is False and head.endswith("not on")
    assert any("red-1" in line or "R1" in line for line in lines)


def test_no_pot_yet(routine):
    empty = edits.set_object_ball(routine, "shot-1", "")
    head, on, lines = pot_words(answer_shot(empty, "shot-1"), empty, table_of(empty))
    assert (head, on) == ("Nothing to pot yet", None)
    assert lines


def test_a_clear_lane_names_its_nearest_ball(routine, shot):
    lane = shot.lanes[0]
    nearest = min(lane.clearances, key=lambda room: room.clearance_mm)
    assert lane.clear
    words = lane_verdict(lane, routine, "mm")
    assert words.startswith("clear: ") and f"{nearest.clearance_mm:.0f} mm" in words
    assert '"' in lane_verdict(lane, routine, "inch")


def test_a_lane_in_the_way_of_a_ball_says_by_how_much(routine, shot):
    x, y = shot.lanes[0].path_mm[len(shot.lanes[0].path_mm) // 2]
    near = edits.move_ball(routine, "red-1", float(x) + 30.0, float(y))
    lane = answer_shot(near, "shot-1").lanes[0]
    touched = next(room for room in lane.clearances if room.ball == "red-1")
    assert touched.clearance_mm < 0
    words = lane_verdict(lane, near, "mm")
    assert words.startswith("touches red R1 by ")


def test_cushions_of_a_lane(shot):
    for lane in shot.lanes:
        words = lane_ends(lane)
        assert words.startswith(lane.first_cushion or "none")


@pytest.mark.slow
def test_gaps_before_and_after_the_verdict(routine_with_gaps):
    full = answer(routine_with_gaps)
    early = replace(full, verdicts=())
    assert "being worked out" in gap_html(routine_with_gaps, early, "shot-1", False)
    words = gap_html(routine_with_gaps, full, "shot-1", True)
    assert "being worked out" not in words and "Between the reds" in words
    hostile = replace(
        routine_with_gaps,
        gaps=(replace(routine_with_gaps.gaps[0], title="<b>&"), routine_with_gaps.gaps[1]),
    )
    assert "&lt;b&gt;&amp;" in gap_html(hostile, full, "shot-1", True)


def test_the_panel_shows_and_follows(qtbot, window, session):
    panel = window.answers
    panel.catch_up_now()
    assert "Blue to top right: on" in panel.pot.text()
    assert panel.lanes.topLevelItemCount() == 3
    before = panel.lanes.topLevelItem(0).text(2)
    session.balls.drag("red-1", (900.0, 2900.0))
    qtbot.waitUntil(lambda: panel.lanes.topLevelItem(0).text(2) != before)
    panel.lanes.setCurrentItem(panel.lanes.topLevelItem(2))
    assert session.shown_lane == "C"
    assert panel.detail.text().startswith("<b>C</b>")


def test_before_the_engine_is_loaded_the_panel_says_so(qtbot, make_session, routine):
    from designer.panels import AnswersPanel

    session = make_session(routine, ready=False)
    panel = AnswersPanel(session)
    qtbot.addWidget(panel)
    panel.show()
    assert "being prepared" in panel.pot.text()
    session.predictions.prepare()
    qtbot.waitUntil(lambda: "Blue to top right" in panel.pot.text())
