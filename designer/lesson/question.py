"""The question as it is read from the back of the room: what is asked large, the rest above it."""

from __future__ import annotations

import re

from PySide6.QtWidgets import QWidget

from designer.lesson.letters import fit, height_of, letters, words
from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.words.figures import first_up
from designer.words.names import ball_name, pocket_name, shortened
from engine.routine.values import Shot

#: Heights of capitals over the screen's: the question's, its least when it is very long, the rest.
LARGE, LEAST, MORE = 0.041, 0.025, 0.021
#: Lines that letters of the full size may take, and the most that is shown of a text.
_LINES = 3
_MOST_LARGE, _MOST_MORE = 320, 420
_SENTENCE = re.compile(r".*?[.!?？؟](?=\s|$)\s*|.+$", re.DOTALL)


def question_of(session: OpenRoutine, shot: Shot) -> str:
    """What the coach asks, else where the cue ball goes."""
    if shot.question:
        return shot.question
    if shot.object_ball and shot.pocket:
        ball = ball_name(session.routine, shot.object_ball)
        pocket = pocket_name(session.table, shot.pocket)
        return tr(
            "{ball} to the {pocket}: where does the cue ball go?",
            ball=first_up(ball),
            pocket=pocket,
        )
    # Not the shot's title: the coach names it by what is to be found out.
    return tr("Where does the cue ball go?")


def parts_of(text: str) -> tuple[str, str]:
    """The first sentence that asks something, else the last one, and all the others.

    >>> parts_of("Soft. Which one? Say why.")
    ('Which one?', 'Soft. Say why.')
    >>> parts_of("Soft or firm. Say which one.")
    ('Say which one.', 'Soft or firm.')
    """
    sentences = [one.strip() for one in _SENTENCE.findall(text) if one.strip()]
    if not sentences:
        return "", ""
    last = len(sentences) - 1
    asks = next((i for i, one in enumerate(sentences) if one[-1] in "?？؟"), last)
    return sentences[asks], " ".join(sentences[:asks] + sentences[asks + 1 :])


class Question(QWidget):
    """What is asked in large letters; under it what else belongs to it, or the coach's answer."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.asked, self.more = words(tr("Question")), words(tr("To the question"))
        for label in (self.asked, self.more):
            label.setParent(self)

    def ask(self, text: str, answer: str, wide: int, screen_px: int) -> None:
        """Show a question, or instead of what belongs to it an answer, on a screen that high."""
        asked, more = parts_of(text)
        self.asked.setText(shortened(asked, _MOST_LARGE))
        self.more.setText(shortened(answer or more, _MOST_MORE))
        self.more.setAccessibleName(tr("Answer") if answer else tr("To the question"))
        self.more.setFont(letters(self.font(), screen_px * MORE))
        self.asked.setFont(letters(self.font(), screen_px * LARGE, bold=True))
        most = _LINES * self.asked.fontMetrics().lineSpacing()
        fit(self.asked, screen_px * LARGE, screen_px * LEAST, wide, most)
        first, then = (height_of(one, one.text(), wide) for one in (self.asked, self.more))
        self.asked.setGeometry(0, 0, wide, first)
        self.more.setGeometry(0, first, wide, then)

    def height_for(self, text: str, answer: str, wide: int, screen_px: int) -> int:
        """The room a question needs with what belongs to it, and with its answer, px."""
        needed = 0
        for told in ("", answer):
            self.ask(text, told, wide, screen_px)
            needed = max(needed, self.asked.height() + self.more.height())
        return needed
