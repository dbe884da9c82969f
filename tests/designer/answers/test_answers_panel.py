"""Answers in a coach's words, and that the panel shows them."""

from dataclasses import replace

import pytest

from designer.answers.answer_html import gap_html, pot_told
from designer.words.lanes import cushions_in_short, lane_in_short
from designer.words.wording import Wording
from engine.answers import answer, answer_shot
from engine.routine import edits


@pytest.fixture
def shot(routine):
    return answer_shot(routine, "shot-1")


def test_the_pot_in_words(routine, shot):
    head, on, lines = pot_told(Wording(routine), shot)
    assert (head, on) == ("Blue to the top right pocket: on", True)
    assert lines[0].startswith(f"Cut {shot.pot.cut_deg:.0f}° to the {shot.pot.cut_side}")


def test_a_blocked_pot_says_why(routine):
    blocked = edits.move_ball(routine, "red-1", 1100.0, 2213.0)
    shot = answer_shot(blocked, "shot-1")
    head, on, lines = pot_told(Wording(blocked), shot)
    assert on is False and head.endswith("not on")
    assert any("red-1" in line or "R1" in line for line in lines)


def test_no_pot_yet(routine):
    empty = edits.set_object_ball(routine, "shot-1", "")
    head, on, lines = pot_told(Wording(empty), answer_shot(empty, "shot-1"))
    assert (head, on) == ("Nothing to pot yet", None)
    assert lines


def test_a_clear_lane_names_its_nearest_ball(routine, shot):
    lane = shot.lanes[0]
    nearest = min(lane.clearances, key=lambda room: room.clearance_mm)
    assert lane.clear
    words = lane_in_short(Wording(routine), lane)
    assert words.startswith("clears ") and f"{nearest.clearance_mm:.0f} mm" in words
    assert '"' in lane_in_short(Wording(routine, "inch"), lane)


def test_a_lane_in_the_way_of_a_ball_says_by_how_much(routine, shot):
    x, y = shot.lanes[0].path_mm[len(shot.lanes[0].path_mm) // 2]
    near = edits.move_ball(routine, "red-1", float(x) + 30.0, float(y))
    lane = answer_shot(near, "shot-1").lanes[0]
    touched = next(room for room in lane.clearances if room.ball == "red-1")
    assert touched.clearance_mm < 0
    words = lane_in_short(Wording(near), lane)
    assert words.startswith("touches red R1 by ")


def test_cushions_of_a_lane(shot):
    for lane in shot.lanes:
        words = cushions_in_short(lane)
        assert words.startswith(lane.first_cushion or "none")


@pytest.mark.slow
def test_gaps_before_and_after_the_verdict(routine_with_gaps):
    full = answer(routine_with_gaps)
    early = replace(full, verdicts=())
    assert "being worked out" in gap_html(Wording(routine_with_gaps), early, "shot-1", False)
    words = gap_html(Wording(routine_with_gaps), full, "shot-1", True)
    assert "being worked out" not in words and "Between the reds" in words
    hostile = replace(
        routine_with_gaps,
        gaps=(replace(routine_with_gaps.gaps[0], title="<b>&"), routine_with_gaps.gaps[1]),
    )
    assert "&lt;b&gt;&amp;" in gap_html(Wording(hostile), full, "shot-1", True)


def test_the_panel_shows_and_follows(qtbot, window, session):
    panel = window.answers
    panel.catch_up_now()
    assert "Blue to the top right pocket: on" in panel.pot.text()
    assert panel.lanes.topLevelItemCount() == 3
    before = panel.lanes.topLevelItem(0).text(2)
    session.balls.drag("red-1", (900.0, 2900.0))
    qtbot.waitUntil(lambda: panel.lanes.topLevelItem(0).text(2) != before)
    panel.lanes.setCurrentItem(panel.lanes.topLevelItem(2))
    assert session.shown_lane == "C"
    assert panel.detail.text().startswith("<b>C</b>")


def test_before_the_engine_is_loaded_the_panel_says_so(qtbot, make_session, routine):
    from designer.answers.answers import AnswersPanel

    session = make_session(routine, ready=False)
    panel = AnswersPanel(session)
    qtbot.addWidget(panel)
    panel.show()
    assert "being prepared" in panel.pot.text()
    session.predictions.prepare()
    qtbot.waitUntil(lambda: "Blue to the top right" in panel.pot.text())
