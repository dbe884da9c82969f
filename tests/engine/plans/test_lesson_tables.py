"""The tables the routines of a lesson need."""

from engine.plans import lesson_plan_of
from engine.routine.values import Routine
from engine.storage import Plan, PlanItem


def test_a_session_on_two_tables_tells_both_once_each():
    routines = [Routine(table=name) for name in ("snooker-12ft", "carom", "snooker-12ft")]
    lesson = lesson_plan_of(Plan(items=tuple(PlanItem(f"{n}.json") for n in range(3))), routines)
    assert lesson.tables == ("snooker-12ft", "carom")
