"""The lesson on the whole screen: question, answer on a key, steps, leaving."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from designer.drawing.look import LANE_PATTERNS
from engine.routine import edits
from engine.routine.values import Shot
from tests.designer.pixels import count_of

ASK, TELL = "Which way off the blue?", "Screw it: lane C comes back for the red."


@pytest.fixture
def lesson(qtbot, window, session):
    shot = replace(session.shot, question=ASK, answer=TELL, note="Keep the cue level.")
    second = Shot("shot-2", "black", "top-left", lanes=shot.lanes)
    session.apply("words", lambda r: edits.set_shot(r, shot.id, shot))
    session.apply("second", lambda r: edits.add_shot(r, second))
    with qtbot.waitActive(window):
        window.activateWindow()
    qtbot.keyClick(window.canvas, Qt.Key.Key_F12)
    from designer.lesson.lesson import Lesson

    (made,) = window.findChildren(Lesson)
    qtbot.waitExposed(made)
    return made


def texts(lesson):
    return " ".join(label.text() for label in (lesson.step, lesson.question, lesson.answer))


def test_nothing_of_the_answer_shows_before_a_key(qtbot, lesson):
    assert lesson.isFullScreen()
    assert ASK in texts(lesson) and TELL not in texts(lesson)
    lane_colour = LANE_PATTERNS[0].colour
    lane_pixels = count_of(lesson.table, lane_colour)
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert TELL in texts(lesson) and "Keep the cue level." not in texts(lesson)
    assert count_of(lesson.table, lane_colour) > lane_pixels + 100
    assert not lesson.table.layers.rim_letters


def test_the_answer_is_played_and_held_by_space(qtbot, lesson, session):
    assert not session.player.is_open
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert session.player.is_playing
    qtbot.waitUntil(lambda: session.player.time_s > 0.1)
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert not session.player.is_playing
    qtbot.keyClick(lesson, Qt.Key.Key_B)
    assert session.player.is_playing and session.player.replay.lane.label == "B"


@pytest.mark.quick
def test_steps_onward_and_back_ask_anew(qtbot, lesson, session):
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    qtbot.keyClick(lesson, Qt.Key.Key_Right)
    assert session.shown_shot == "shot-2" and "step 2 of 2" in lesson.step.text()
    assert not lesson.answered and lesson.answer.text() == "" and not session.player.is_open
    assert "Black to the top left pocket" in lesson.question.text()
    qtbot.keyClick(lesson, Qt.Key.Key_Right)
    assert session.shown_shot == "shot-2"
    qtbot.mouseClick(lesson, Qt.MouseButton.LeftButton)
    assert "A (" in lesson.answer.text()
    qtbot.keyClick(lesson, Qt.Key.Key_Left)
    assert ASK in texts(lesson) and TELL not in texts(lesson)


def test_escape_leaves_and_nothing_was_changed(qtbot, lesson, window, session):
    before = session.routine
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    with qtbot.waitSignal(lesson.left):
        qtbot.keyClick(lesson, Qt.Key.Key_Escape)
    assert session.routine is before and not session.player.is_open


def test_letters_grow_with_the_screen(lesson):
    sizes = []
    for high in (500, 1000):
        lesson.resize(round(high * 1.6), high)
        sizes.append(lesson.question.font().pixelSize())
    assert sizes[1] >= 1.9 * sizes[0] and sizes[0] >= 16


def test_without_a_shot_there_is_no_lesson(window, session, told):
    session.apply("none", lambda r: replace(r, shots=()))
    assert window.begin_lesson() is None
    assert "nothing to ask" in told[-1].what
