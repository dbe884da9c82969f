"""The report beside the table: verdicts with chances, set-up tolerance, lanes apart."""

import contextlib
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from designer.answers.report import detail_html
from designer.words.claims import pair, tolerance
from designer.words.figures import chance
from designer.words.gaps import forgiven, verdict
from designer.words.wording import Wording
from engine.answers import lane_pairs, set_up_tolerance
from engine.results import BallTolerance, LanePair
from engine.routine.values import LaneAsk
from engine.storage import load_routine

LEFT = Qt.MouseButton.LeftButton
DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"


@pytest.fixture
def reached():
    """A demo routine with a gap that can be reached and one lane twice."""
    return load_routine(next(DEMO.glob("04-*.json")))


@pytest.fixture
def dialog(qtbot, window, session, reached):
    session.document.replace(reached)
    dialog = window.menus.dialogs.report()
    qtbot.waitUntil(lambda: session.answer_is_full)
    dialog.catch_up()
    yield dialog
    # the test may have closed it
    with contextlib.suppress(RuntimeError):
        dialog.close()


def texts(rows, index):
    item = rows.topLevelItem(index)
    return [item.text(column) for column in range(rows.columnCount())]


def test_every_verdict_has_its_row_and_its_details(dialog, session):
    verdicts = session.answer.verdicts
    assert dialog.gaps.topLevelItemCount() == len(verdicts) >= 1
    for index, one in enumerate(verdicts):
        row = texts(dialog.gaps, index)
        assert row[2] == ("reachable" if one.reachable else "not reachable")
        if one.choice is not None:
            assert row[4:] == [chance(share) for _, share, _, _ in one.choice.chances]
    text = dialog.detail.text()
    assert verdict(session.wording, verdicts[0]) in text.replace("&#x27;", "'")
    assert chance(verdicts[0].choice.chances[0][1]) in text
    assert "Largest error" in text and "Aim" in text and "Pace" in text


@pytest.mark.slow
def test_selecting_a_row_shows_its_details(qtbot, dialog, session, reached):
    gap = replace(reached.gaps[0], id="other", title="The other")
    session.document.replace(replace(reached, gaps=(*reached.gaps, gap)))
    qtbot.waitUntil(lambda: session.answer_is_full)
    dialog.catch_up()
    item = dialog.gaps.topLevelItem(1)
    place = dialog.gaps.visualItemRect(item).center()
    qtbot.mouseClick(dialog.gaps.viewport(), LEFT, pos=place)
    assert "The other" in dialog.detail.text()


@pytest.mark.slow
def test_the_report_follows_while_a_ball_moves(qtbot, dialog, session):
    session.balls.nudge("cue", 1.0, 0.0)
    dialog.catch_up()
    assert "being worked out" in dialog.detail.text()
    qtbot.waitUntil(lambda: session.answer_is_full)
    dialog.catch_up()
    assert dialog.gaps.topLevelItemCount() >= 1


@pytest.mark.slow
def test_set_up_tolerance_is_worked_out_aside_and_outlived_by_edits(
    qtbot, dialog, session, reached
):
    few = replace(reached, claims=tuple(c for c in reached.claims if c.kind == "lane-clears")[:1])
    session.document.replace(few)
    dialog.catch_up()
    dialog.parts.setCurrentIndex(1)
    qtbot.mouseClick(dialog.work.begin, LEFT)
    assert dialog.work.cancel.isEnabled() and not dialog.work.begin.isEnabled()
    qtbot.waitUntil(lambda: not dialog.work.task.running)
    expected = {one.ball: one for one in set_up_tolerance(few)}
    assert dialog.balls.topLevelItemCount() == len(expected)
    least = min(expected.values(), key=lambda one: one.tolerance_mm)
    assert f"{int(least.tolerance_mm)} mm" in texts(dialog.balls, 0)[1]
    assert dialog.work.bar.value() == 100
    session.balls.nudge("cue", 1.0, 0.0)
    dialog.catch_up()
    assert "has changed" in dialog.tolerance_note.text()


def test_set_up_tolerance_can_be_called_off(qtbot, dialog, session):
    dialog.parts.setCurrentIndex(1)
    qtbot.mouseClick(dialog.work.begin, LEFT)
    qtbot.mouseClick(dialog.work.cancel, LEFT)
    qtbot.waitUntil(lambda: not dialog.work.task.running)
    assert "Cancelled" in dialog.tolerance_note.text()
    assert dialog.balls.topLevelItemCount() < len(session.routine.balls)
    assert dialog.work.begin.isEnabled() and not dialog.work.cancel.isEnabled()


def test_without_claims_the_report_says_what_to_do(dialog, session, reached):
    session.document.replace(replace(reached, claims=()))
    dialog.catch_up()
    assert not dialog.work.begin.isEnabled()
    assert "Gaps tab" in dialog.tolerance_note.text()


@pytest.mark.slow
def test_lanes_a_guess_could_confuse_are_warned_of(qtbot, dialog, session, reached):
    shot = reached.shots[0]
    twin = LaneAsk("Z", shot.lanes[0].tip_height, shot.lanes[0].pace)
    session.document.replace(replace(reached, shots=(replace(shot, lanes=(*shot.lanes, twin)),)))
    dialog.catch_up()
    pairs = lane_pairs(session.shot_answer)
    rows = [texts(dialog.lanes, i) for i in range(dialog.lanes.topLevelItemCount())]
    assert [row[0] for row in rows] == [f"{pair.one} and {pair.two}" for pair in pairs]
    assert ["could be right for both" in row[2] for row in rows] == [not p.apart for p in pairs]
    twins = next(row for row in rows if row[0] == f"{shot.lanes[0].label} and Z")
    assert "NOTE" in twins[2]
    assert "too close" in dialog.lanes_note.text()
    assert "note" in dialog.parts.tabText(2)


def test_opened_again_it_is_the_same_window(window, dialog):
    assert window.menus.dialogs.report() is dialog
    dialog.close()
    assert window.menus.dialogs.report() is not dialog


@pytest.mark.slow
def test_words(reached):
    wording = Wording(reached)
    one = BallTolerance("cue", 3.96, 0, 91.0, False)
    ball, length, changes = tolerance(wording, one)
    assert (ball, length) == ("Cue ball", "3 mm"), "never more than was found"
    assert changes.startswith("up the table, no longer true: ")
    many = BallTolerance("cue", 40.0, None, None, True)
    assert tolerance(wording, many)[1:] == ("40 mm or more", "nothing, whichever way")
    assert pair(wording, LanePair("A", "B", 90.0, False))[2].startswith("NOTE")
    from engine.reach import verdicts

    found = verdicts(reached, reached.shots[0].id)[0]
    lines = forgiven(wording, found.choice)
    assert len(lines) == 4 and lines[0].endswith("in a metre to the left")
    assert "too thin" in detail_html(wording, replace(found, slivers=2))
