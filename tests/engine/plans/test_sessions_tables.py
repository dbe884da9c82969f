"""What is told of a plan in words, and the tables its routines need."""

import pytest
from engine.plans.words import change_words

from engine.balls import Ball
from engine.plans import session_of
from engine.plans.changing import change
from engine.routine.values import Routine
from engine.storage import Plan, PlanItem

CUE, RED = Ball("cue", "cue", 500.0, 700.0), Ball("r1", "red", 900.0, 2000.0)
PINK = Ball("pink", "pink", 889.0, 2676.75)


@pytest.mark.parametrize(
    ("balls", "words"),
    [((), "nothing to set up"), ((CUE,), "set up 1 ball"), ((CUE, RED), "set up 2 balls")],
)
def test_the_first_set_up(balls, words):
    assert change_words(change(Routine(), Routine(balls=balls)), first=True) == words


def test_what_is_done_between_two_routines():
    far = Ball("r1", "red", 300.0, 300.0)
    found = change(Routine(balls=(CUE, RED)), Routine(balls=(CUE, far, PINK)))
    assert change_words(found) == "move 1, put on 1"
    back = change(Routine(balls=(CUE, RED, PINK)), Routine(balls=(CUE, RED)))
    assert change_words(back) == "take off 1"


def test_a_session_on_two_tables_tells_both_once_each():
    routines = [Routine(table=name) for name in ("snooker-12ft", "carom", "snooker-12ft")]
    session = session_of(Plan(items=tuple(PlanItem(f"{n}.json") for n in range(3))), routines)
    assert session.tables == ("snooker-12ft", "carom")
