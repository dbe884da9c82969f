"""The lesson as it is given: a guess, lane by lane, slowly, again, the answer, the next step."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt

from designer.handouts.sheet import Sheet
from designer.handouts.strokes import by_number
from designer.lesson.lesson import SLOW
from engine.routine import edits
from engine.routine.values import LaneAsk, Shot
from tests.designer.pixels import pixels_of

ASK, TELL = "One of them clears both reds. Which one?", "Screw it: lane C comes back for the red."
NOTE = "Keep the cue level."


@pytest.fixture
def lesson(qtbot, window, session):
    shot = replace(session.shot, question=ASK, answer=TELL, note=NOTE)
    second = Shot("shot-2", "black", "top-left", lanes=shot.lanes)
    third = Shot("shot-3", aim_deg=70.0, lanes=shot.lanes[:1])
    session.apply("words", lambda r: edits.set_shot(r, shot.id, shot))
    for one in (second, third):
        session.apply("more", lambda r, one=one: edits.add_shot(r, one))
    with qtbot.waitActive(window):
        window.activateWindow()
    qtbot.keyClick(window.canvas, Qt.Key.Key_F12)
    from designer.lesson.lesson import Lesson

    (made,) = window.findChildren(Lesson)
    qtbot.waitExposed(made)
    made.resize(1366, 768)
    return made


def texts(lesson):
    parts = (lesson.step, lesson.question.asked, lesson.question.more, lesson.verdict)
    cards = [card.accessibleName() for card in lesson.cards.cards]
    return " ".join([*(label.text() for label in parts), *cards])


def to_the_end(lesson, session):
    """Let the lane on show run out, as the clock would."""
    session.player.advance(session.player.replay.duration_s / session.player.speed)
    assert not session.player.is_playing


def play_all(qtbot, lesson, session):
    for _ in lesson.cards.cards:
        qtbot.keyClick(lesson, Qt.Key.Key_Space)
        to_the_end(lesson, session)


def test_nothing_of_the_answer_shows_before_a_key(lesson, session):
    assert lesson.isFullScreen()
    told = texts(lesson)
    assert "Which one?" in told and TELL not in told and "Card 1" in told
    assert not session.player.is_open and not lesson.verdict.text()
    assert not lesson.table.layers.lanes and not lesson.table.layers.rim_letters
    assert "lane" not in told.lower() and "clears red" not in told


def test_a_card_has_the_number_its_stroke_has_on_paper(lesson, session):
    """ "Card 2" of the lesson and stroke 2 of the player's sheet are one stroke."""
    answer = session.full_answer()
    sheet = Sheet(session.routine, answer, "mm", "player")
    shot, found = session.routine.shots[0], answer.shots[0]
    on_paper = {number: lane.label for number, lane in by_number(sheet, shot, found).items()}
    assert dict(enumerate(lesson.asked.order, start=1)) == on_paper and len(on_paper) == 3
    # a stroke that cannot be played takes its number with it
    first, *rest = lesson.asked.order
    fewer = replace(found, lanes=tuple(lane for lane in found.lanes if lane.label != first))
    on_paper = {number: lane.label for number, lane in by_number(sheet, shot, fewer).items()}
    assert on_paper == dict(enumerate(rest, start=2))


@pytest.mark.quick
def test_one_lane_a_key_in_the_order_of_the_cards_then_the_answer(qtbot, lesson, session):
    order = lesson.asked.order
    assert sorted(order) == ["A", "B", "C"]
    for number, label in enumerate(order, start=1):
        qtbot.keyClick(lesson, Qt.Key.Key_Space)
        assert session.player.is_playing and session.player.replay.lane.label == label
        assert TELL not in texts(lesson)
        to_the_end(lesson, session)
        assert f"ard {number}" in lesson.verdict.text()
    assert lesson.asked.is_done and TELL in texts(lesson) and NOTE not in texts(lesson)
    assert lesson.verdict.text().startswith("Card 1")
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert session.player.replay.lane.label == order[0], "from the first again"


def test_a_key_in_the_midst_of_a_lane_goes_on_to_the_next(qtbot, lesson, session):
    for label in lesson.asked.order:
        qtbot.keyClick(lesson, Qt.Key.Key_Space)
        assert session.player.replay.lane.label == label and not lesson.asked.is_done
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert lesson.asked.is_done and not session.player.is_playing
    assert "Card 1" in lesson.verdict.text()


def test_a_guess_is_noted_changed_and_taken_back_and_never_judged_early(qtbot, lesson):
    def guesses():
        return [card.face.guessed for card in lesson.cards.cards]

    assert guesses() == [False] * 3
    for key, wanted in (("2", 1), ("3", 2), ("3", None), ("1", 0)):
        qtbot.keyClick(lesson, key)
        assert guesses() == [place == wanted for place in range(3)]
        assert not any(card.face.right for card in lesson.cards.cards)
    qtbot.keyClick(lesson, "9")
    assert guesses() == [True, False, False], "there is no card 9"
    qtbot.keyClick(lesson, Qt.Key.Key_Backspace)
    assert guesses() == [False] * 3


def test_the_guess_stays_as_a_ghost_once_it_was_seen(qtbot, lesson, session):
    table = lesson.table
    qtbot.keyClick(lesson, "1")
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert not table._trails, "nothing of it before it is played"
    to_the_end(lesson, session)
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert [(trail.name, trail.ghost) for trail in table._trails] == [("1", True)]
    assert table._running.name == "2"
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert [trail.name for trail in table._trails] == ["1"], "the second was no guess"


def test_slow_again_hold_and_event_by_event(qtbot, lesson, session):
    player = session.player
    qtbot.keyClick(lesson, "S")
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert player.speed == SLOW and player.is_playing
    qtbot.waitUntil(lambda: player.time_s > 0.02)
    qtbot.keyClick(lesson, Qt.Key.Key_Period)
    first = player.time_s
    assert not player.is_playing and first in [one.t_s for one in player.replay.instants]
    qtbot.keyClick(lesson, Qt.Key.Key_Period)
    assert player.time_s > first
    qtbot.keyClick(lesson, Qt.Key.Key_Comma)
    assert player.time_s == pytest.approx(first)
    qtbot.keyClick(lesson, "H")
    assert player.is_playing
    qtbot.keyClick(lesson, "R")
    assert player.is_playing and player.time_s < first
    assert lesson.asked.current == 0
    qtbot.keyClick(lesson, "S")
    assert player.speed == 1.0


def test_a_card_clicked_or_its_number_with_control_is_played(qtbot, lesson, session):
    qtbot.mouseClick(lesson.cards.cards[2], Qt.MouseButton.LeftButton)
    assert session.player.replay.lane.label == lesson.asked.order[2]
    qtbot.keyClick(lesson, "2", Qt.KeyboardModifier.ControlModifier)
    assert session.player.replay.lane.label == lesson.asked.order[1]
    assert lesson.asked.guess is None
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert session.player.replay.lane.label == lesson.asked.order[0], "the one not yet seen"


@pytest.mark.quick
def test_the_table_never_jumps(qtbot, lesson, session):
    """Room for cards, answer and messages is there from the start."""

    def where():
        return lesson.table.geometry(), lesson.table.transform(), lesson.cards.geometry()

    before = where()
    qtbot.keyClick(lesson, "2")
    assert where() == before
    for _ in lesson.cards.cards:
        qtbot.keyClick(lesson, Qt.Key.Key_Space)
        assert where() == before
        to_the_end(lesson, session)
        assert where() == before
    session.messages.warn("Something could not be done, and that is told at length. " * 3)
    assert "could not be done" in lesson.verdict.text() and where() == before
    session.full_answer()
    assert where() == before


def test_the_whole_table_and_back(qtbot, lesson):
    part = lesson.table.transform()
    qtbot.keyClick(lesson, "W")
    whole = lesson.table.transform()
    corners = [whole.map(QPointF(x, y)).toPoint() for x in (0, 1778) for y in (0, 3569)]
    assert all(lesson.table.rect().contains(corner) for corner in corners)
    qtbot.keyClick(lesson, "W")
    assert lesson.table.transform() == part != whole


def test_steps_onward_and_back_ask_anew_but_keep_the_guess(qtbot, lesson, session):
    qtbot.keyClick(lesson, "2")
    play_all(qtbot, lesson, session)
    qtbot.keyClick(lesson, Qt.Key.Key_Right)
    assert session.shown_shot == "shot-2" and "step 2 of 3" in lesson.step.text()
    assert not lesson.verdict.text() and not session.player.is_open and not lesson.table._trails
    assert "Black to the top left pocket" in texts(lesson)
    qtbot.keyClick(lesson, Qt.Key.Key_Right)
    assert "Where does the cue ball go?" in texts(lesson) and len(lesson.cards.cards) == 1
    qtbot.keyClick(lesson, Qt.Key.Key_Right)
    assert session.shown_shot == "shot-3", "there is no further step"
    for _ in range(2):
        qtbot.keyClick(lesson, Qt.Key.Key_Left)
    assert "Which one?" in texts(lesson) and TELL not in texts(lesson)
    assert lesson.asked.guess == 1 and not lesson.asked.finished


def test_letters_at_the_ends_come_with_a_question_of_them_or_a_key(qtbot, lesson, session):
    assert not lesson.table.layers.rim_letters
    qtbot.keyClick(lesson, "L")
    assert lesson.table.layers.rim_letters
    play_all(qtbot, lesson, session)
    first = lesson.asked.order[0]
    assert lesson.verdict.text().startswith(f"Card 1 is {first}, card 2 is")
    shot = replace(session.shot, question="The ball runs to A, B or C. Which is which?")
    session.apply("ask", lambda r: edits.set_shot(r, shot.id, shot))
    qtbot.keyClick(lesson, Qt.Key.Key_Right)
    qtbot.keyClick(lesson, Qt.Key.Key_Left)
    assert lesson.table.layers.rim_letters


def test_escape_leaves_and_nothing_was_changed(qtbot, lesson, window, session):
    before = session.routine
    qtbot.keyClick(lesson, "S")
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    with qtbot.waitSignal(lesson.left):
        qtbot.keyClick(lesson, Qt.Key.Key_Escape)
    assert session.routine is before and not session.player.is_open
    assert session.player.speed == 1.0


@pytest.mark.quick
def test_without_cards_the_answer_waits_for_a_key_too(qtbot, make_lesson, routine):
    shot = replace(routine.shots[0], lanes=(), question="Can it be done?", answer=TELL)
    lesson = make_lesson(replace(routine, shots=(shot,)))
    assert not lesson.cards.cards and TELL not in texts(lesson) and not lesson.verdict.text()
    qtbot.keyClick(lesson, "1")
    assert lesson.asked.guess is None
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert TELL in texts(lesson)


def test_a_shot_that_cannot_be_played_says_why(qtbot, lesson, session):
    lanes = (LaneAsk("A", 0.0, 4.0),)
    never = Shot("never", "black", "bottom-left", lanes=lanes)
    session.apply("never", lambda r: edits.add_shot(r, never))
    for _ in range(3):
        qtbot.keyClick(lesson, Qt.Key.Key_Right)
    assert session.shown_shot == "never" and not lesson.verdict.text()
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert lesson.verdict.text()


def test_twelve_cards_are_equal_and_two_digits_note_a_guess(qtbot, lesson, session):
    lanes = tuple(LaneAsk(chr(65 + i), 0.05 * i - 0.3, 4.0) for i in range(12))
    shot = replace(session.shot, lanes=lanes, question="")
    session.apply("twelve", lambda r: edits.set_shot(r, shot.id, shot))
    cards = lesson.cards.cards
    assert len(cards) == 12 and len({card.size().toTuple() for card in cards}) == 1
    boxes = [card.geometry() for card in cards]
    assert all(lesson.cards.rect().contains(box) for box in boxes)
    assert not any(a.intersects(b) for i, a in enumerate(boxes) for b in boxes[:i])
    qtbot.keyClick(lesson, "1")
    assert lesson.asked.guess == 0
    qtbot.keyClick(lesson, "2")
    assert lesson.asked.guess == 11


def test_two_cards_that_were_not_played_look_alike_but_for_their_stroke(lesson):
    pictures = [pixels_of(card) for card in lesson.cards.cards]
    assert len({picture.shape for picture in pictures}) == 1


def test_while_the_engine_is_loading_no_card_counts_as_seen(qtbot, lesson, session):
    answer, session.answer = session.answer, None
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert lesson.verdict.text() and lesson.asked.current is None and not lesson.asked.finished
    session.answer = answer
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    assert session.player.is_playing and lesson.asked.current == 0


def test_a_change_in_the_routines_own_window_asks_anew(qtbot, lesson, session):
    qtbot.keyClick(lesson, Qt.Key.Key_Space)
    to_the_end(lesson, session)
    assert session.balls.place("red-1", (1200.0, 1300.0))
    assert not lesson.asked.finished and not lesson.verdict.text() and not lesson.table._trails


def test_there_is_one_lesson_at_a_time(qtbot, lesson, window):
    assert window.begin_lesson() is lesson
    qtbot.keyClick(lesson, Qt.Key.Key_Escape)
    another = window.begin_lesson()
    assert another is not lesson and another.isVisible()


@pytest.mark.parametrize("size", [(1366, 768), (1280, 720)])
def test_texts_longer_by_a_third_are_not_cut(make_lesson, monkeypatch, routine, size):
    """As another language may need: every label has room for what it says."""
    from designer import texts

    class Longer:
        def gettext(self, text):
            return text + "m" * (len(text) // 3)

        def ngettext(self, one, many, count):
            return self.gettext(one if count == 1 else many)

    monkeypatch.setattr(texts, "_catalogue", Longer())
    lesson = make_lesson(replace(routine, title="Round the houses and back " * 4), size)
    for _ in range(4):
        lesson.play_next()
        session = lesson._session
        if session.player.replay is not None:
            session.player.go_to(session.player.replay.duration_s)
        for label in (lesson.title, lesson.step, lesson.keys):
            assert label.sizeHint().width() <= label.width(), label.text()
        for label in (lesson.question.asked, lesson.question.more, lesson.verdict):
            assert label.heightForWidth(label.width()) <= label.height() + 1, label.text()


def test_without_a_shot_there_is_no_lesson(window, session, told):
    session.apply("none", lambda r: replace(r, shots=()))
    assert window.begin_lesson() is None
    assert "nothing to ask" in told[-1].what
