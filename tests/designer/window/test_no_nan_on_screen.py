"""Whatever lies on the table, no figure on the screen is "nan" or "inf", and painting goes on."""

import re

import pytest
from PySide6.QtWidgets import QWidget

from designer.answers.lane_list import LaneList
from designer.window.names import PANELS
from engine.errors import BaizewrightError
from engine.routine.context import conditions_of
from tests.engine.extremes.cases import cases
from tests.shares import share


def can_be_opened(routine):
    """Conditions beyond their limits never get into a window: readers and edits refuse them."""
    try:
        return conditions_of(routine) is not None
    except BaizewrightError:
        return False


CASES = {name: routine for name, routine in cases().items() if can_be_opened(routine)}
NAMES = share(CASES, 7)
STRAY = re.compile(r"(?<![A-Za-z])(?:(?i:nan|inf)|None)(?![A-Za-z])")


def texts(widget):
    for one in (widget, *widget.findChildren(QWidget)):
        for name in ("text", "toolTip", "accessibleDescription", "statusTip", "toPlainText"):
            read = getattr(one, name, None)
            if callable(read):
                yield str(read())
        if isinstance(one, LaneList):
            yield from (row.words for row in one.rows())
        if hasattr(one, "topLevelItemCount"):
            for row in range(one.topLevelItemCount()):
                item = one.topLevelItem(row)
                yield from (item.text(column) for column in range(one.columnCount()))


def strays(widget):
    return {text for text in texts(widget) if STRAY.search(re.sub(r"<[^>]*>", " ", text))}


def test_the_walk_finds_a_stray_figure(window):
    window.messages.words.setText("lane A clears by nan mm")
    assert strays(window)
    window.messages.words.setText("finance, infer, banana, 3 mm")
    assert not strays(window)


@pytest.mark.parametrize("name", NAMES)
def test_no_stray_figure_in_the_window(window, session, name):
    session.document.replace(CASES[name])
    if session.routine.shots:
        session.show_shot(session.routine.shots[0].id)
        session.predictions.ask_now(session.routine)
    if session.routine.balls:
        session.point_at_ball(session.routine.balls[0].id)
    for tab in PANELS:
        window.show_panel(tab)
        window.tabs.currentWidget().widget().catch_up_now()
    assert not window.canvas.grab().isNull()
    assert not strays(window)
    session.player.open()
    session.player.step(1)
    assert not strays(window)
    session.player.close()
    session.document.mark_saved()
