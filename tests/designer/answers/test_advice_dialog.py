"""Advice as a coach asks for it: a wish, up to three proposals, each tried as one step."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from engine.advice import Wish
from engine.reach import verdicts
from engine.storage import load_routine

LEFT = Qt.MouseButton.LeftButton
DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"


@pytest.fixture(scope="module", autouse=True)
def each_wish_once():
    """Advice takes seconds and follows from routine and wish alone; it is tried in the engine."""
    import engine.advice

    known, advise = {}, engine.advice.advise

    def advised(routine, wish, progress=None):
        key = repr((routine, wish))
        if key not in known:
            known[key] = advise(routine, wish, progress)
        return known[key]

    engine.advice.advise = advised
    yield
    engine.advice.advise = advise


@pytest.fixture
def closed():
    """The demo routine whose gap plain top or screw cannot reach."""
    return load_routine(next(DEMO.glob("10-*.json")))


@pytest.fixture
def dialog(qtbot, window, session, closed):
    session.document.replace(closed)
    claim = next(claim for claim in closed.claims if claim.kind == "gap-unreachable")
    dialog = window.menus.dialogs.advice()
    dialog.look_at(claim.gap, claim.shot)
    dialog.pace_from.setValue(3.0)
    dialog.pace_to.setValue(8.0)
    dialog.room.setValue(5.0)
    yield dialog
    dialog.close()


def ask(qtbot, dialog):
    qtbot.mouseClick(dialog.work.begin, LEFT)
    qtbot.waitUntil(lambda: not dialog.work.task.running)


@pytest.mark.slow
def test_proposals_keep_their_word_when_tried(qtbot, dialog, session, closed):
    ask(qtbot, dialog)
    wish = dialog.wish()
    expected = dialog.proposals
    assert 1 <= len(dialog.cards) == len(expected) <= 3
    first = dialog.cards[0]
    assert first.what.text().startswith("1. Move ")
    assert f"pace {expected[0].pace:g}" in first.then.text()
    assert f"{expected[0].margin_mm:.0f} mm of room" in first.then.text()
    qtbot.mouseClick(first.try_it, LEFT)
    for move in expected[0].moves:
        assert session.routine.ball(move.ball).centre_mm == pytest.approx(move.to_mm)
    assert session.document.undo_name == "Advice on a gap"
    assert not first.try_it.isEnabled() and "On the table" in first.try_it.text()
    assert verdicts(session.routine, wish.shot, (wish.gap,))[0].reachable
    session.undo()
    assert session.routine == closed
    dialog.catch_up()
    assert first.try_it.isEnabled()


@pytest.mark.slow
def test_another_proposal_starts_from_where_the_balls_were(qtbot, dialog, session, closed):
    ask(qtbot, dialog)
    if len(dialog.cards) < 2:
        pytest.skip("the engine found one proposal alone")
    qtbot.mouseClick(dialog.cards[0].try_it, LEFT)
    qtbot.mouseClick(dialog.cards[1].try_it, LEFT)
    places = {ball.id: ball.centre_mm for ball in closed.balls}
    places.update({move.ball: move.to_mm for move in dialog.proposals[1].moves})
    assert {ball.id: ball.centre_mm for ball in session.routine.balls} == places
    session.undo()
    assert dialog._is_on_table(dialog.proposals[0])


@pytest.mark.slow
def test_balls_moved_since_make_the_advice_old(qtbot, dialog, session):
    ask(qtbot, dialog)
    session.balls.nudge("cue", 5.0, 0.0)
    dialog.catch_up()
    assert "ask again" in dialog.note.text()
    assert not any(card.try_it.isEnabled() for card in dialog.cards)


def test_it_can_be_called_off(qtbot, dialog):
    dialog.room.setValue(60.0)
    qtbot.mouseClick(dialog.work.begin, LEFT)
    qtbot.mouseClick(dialog.work.cancel, LEFT)
    qtbot.waitUntil(lambda: not dialog.work.task.running)
    assert "Cancelled" in dialog.note.text()
    assert dialog.work.begin.isEnabled()


def test_locked_and_unticked_balls_stay(qtbot, dialog, session, closed):
    first = dialog.balls.item(0)
    assert first.flags() & Qt.ItemFlag.ItemIsUserCheckable
    for row in range(1, dialog.balls.count()):
        dialog.balls.item(row).setCheckState(Qt.CheckState.Unchecked)
    assert dialog.wish().movable == (closed.balls[0].id,)
    session.balls.lock(closed.balls[0].id, True)
    dialog.catch_up()
    assert not dialog.balls.item(0).flags() & Qt.ItemFlag.ItemIsEnabled
    assert "locked" in dialog.balls.item(0).text()
    qtbot.mouseClick(dialog.work.begin, LEFT)
    assert not dialog.work.task.running
    assert "Tick at least one" in dialog.note.text()


def test_paces_keep_their_order(dialog):
    dialog.pace_from.setValue(9.0)
    assert dialog.pace_to.value() == 9.0
    dialog.pace_to.setValue(2.0)
    assert dialog.pace_from.value() == 2.0
    assert isinstance(dialog.wish(), Wish)


@pytest.mark.slow
def test_a_wish_already_granted_says_so(qtbot, window, session):
    routine = load_routine(next(DEMO.glob("04-*.json")))
    session.document.replace(replace(routine, claims=()))
    dialog = window.menus.dialogs.advice()
    dialog.pace_from.setValue(1.0)
    dialog.pace_to.setValue(10.0)
    dialog.room.setValue(5.0)
    ask(qtbot, dialog)
    (card,) = dialog.cards
    assert "Nothing needs to be moved" in card.what.text()
    assert not card.try_it.isVisible()
    dialog.close()


def test_without_gaps_it_says_what_is_missing(window, session):
    dialog = window.menus.dialogs.advice()
    assert not dialog.work.begin.isEnabled()
    assert "no gap" in dialog.note.text()
    dialog.close()
