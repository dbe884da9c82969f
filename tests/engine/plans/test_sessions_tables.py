"""The tables the routines of a session need."""

from engine.plans import session_of
from engine.routine.values import Routine
from engine.storage import Plan, PlanItem


def test_a_session_on_two_tables_tells_both_once_each():
    routines = [Routine(table=name) for name in ("snooker-12ft", "carom", "snooker-12ft")]
    session = session_of(Plan(items=tuple(PlanItem(f"{n}.json") for n in range(3))), routines)
    assert session.tables == ("snooker-12ft", "carom")
