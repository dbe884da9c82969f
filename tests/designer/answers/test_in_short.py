"""Verdicts in a line, and the page of the shot that shows them."""

from dataclasses import replace

import pytest

from designer.answers.shot import ShotPanel
from designer.words.figures import angle
from designer.words.in_short import gap_line, lane_verdict, pot_verdict
from designer.words.wording import Wording
from engine.answers import answer, answer_shot
from engine.routine import edits


@pytest.fixture
def shot(routine):
    return answer_shot(routine, "shot-1")


def test_the_pot_in_a_line(routine, shot):
    found = pot_verdict(Wording(routine), shot.pot)
    assert (found.good, found.told) == (True, "on")
    assert found.beside.startswith(f"cut {shot.pot.cut_deg:.0f}° · ")
    assert f"pocket forgives {angle(shot.pot.pocket_margin_deg)}" in found.beside


def test_a_blocked_pot_says_why(routine):
    blocked = edits.move_ball(routine, "red-1", 1100.0, 2213.0)
    found = pot_verdict(Wording(blocked), answer_shot(blocked, "shot-1").pot)
    assert found.good is False and found.told.startswith("not on: ") and "R1" in found.told


def test_a_clear_lane_tells_its_least_room(routine, shot):
    lane = shot.lanes[0]
    nearest = min(lane.clearances, key=lambda room: room.clearance_mm)
    found = lane_verdict(Wording(routine), lane, ())
    assert (found.good, found.told) == (True, "clear")
    assert found.beside == f"{nearest.clearance_mm:.0f} mm"
    assert '"' in lane_verdict(Wording(routine, "inch"), lane, ()).beside


def test_a_lane_in_the_way_of_a_ball_says_by_how_much(routine, shot):
    x, y = shot.lanes[0].path_mm[len(shot.lanes[0].path_mm) // 2]
    near = edits.move_ball(routine, "red-1", float(x) + 30.0, float(y))
    lane = answer_shot(near, "shot-1").lanes[0]
    touched = next(room for room in lane.clearances if room.ball == "red-1")
    found = lane_verdict(Wording(near), lane, ())
    assert (found.good, found.told) == (False, "touches R1")
    assert found.beside.startswith(f"by {-touched.clearance_mm:.0f} mm")


@pytest.mark.slow
def test_a_gap_before_and_after_the_verdict(routine_with_gaps):
    wording, full = Wording(routine_with_gaps), answer(routine_with_gaps)
    shot, gap = full.shots[0], routine_with_gaps.gaps[0]
    through = [one for one in shot.passes if one.gap == gap.id and one.threads]
    early = gap_line(wording, gap, None, shot.passes)
    assert early.good is (True if through else None)
    for gap, one in zip(routine_with_gaps.gaps, full.verdicts, strict=True):
        found = gap_line(wording, gap, one, ())
        assert found.good is False
        assert found.told.startswith("No lane goes through" if one.reachable else "Out of reach")
        passed = replace(shot.passes[0], gap=gap.id, lane="B", threads=True, margin_mm=12.4)
        found = gap_line(wording, gap, one, (passed, replace(passed, lane="C", margin_mm=47.2)))
        assert (found.good, found.told) == (True, "B and C go through, 12 mm to spare")


def test_the_page_shows_and_follows(qtbot, window, session):
    panel = window.shot
    panel.catch_up_now()
    assert "✓ on" in panel.pot.text()
    before = panel.lanes.rows()
    assert [row.label for row in before] == ["A", "B", "C"]
    assert all(row.verdict.told for row in before)
    session.balls.drag("red-1", (900.0, 2900.0))
    qtbot.waitUntil(lambda: panel.lanes.rows() != before)
    panel.lanes.setCurrentRow(2)
    assert session.shown_lane == "C"
    panel.whole.click()
    qtbot.waitUntil(panel.detail.isVisible)
    assert panel.whole.text() == "Where lane C goes" and "cushion" in panel.detail.text()


def test_each_gap_has_a_line_that_leads_to_its_map(qtbot, window, session, routine_with_gaps):
    session.apply("Gaps", lambda _: routine_with_gaps)
    session.predictions.ask_now(session.routine)
    window.shot.catch_up_now()
    lines = window.shot.gaps.lines
    assert list(lines) == ["between", "beside"] and "Between the reds" in lines["between"].text()
    lines["beside"].linkActivated.emit("map")
    opened = window.menus.dialogs.reach()
    assert opened.panel.gap.currentData() == "beside"
    hostile = [replace(gap, title="<b>&") for gap in routine_with_gaps.gaps]
    session.apply("Title", lambda r: replace(r, gaps=tuple(hostile)))
    window.shot.catch_up_now()
    assert "&lt;b&gt;&amp;" in lines["between"].text()


def test_before_the_engine_is_loaded_the_page_says_so(qtbot, make_session, routine):
    session = make_session(routine, ready=False)
    panel = ShotPanel(session)
    qtbot.addWidget(panel)
    panel.show()
    assert "being prepared" in panel.pot.text()
    session.predictions.prepare()
    qtbot.waitUntil(lambda: "✓ on" in panel.pot.text())
