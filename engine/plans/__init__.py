"""Session plans: routines in order, minutes, balls needed, and little to change between them."""

from engine.plans.changing import Change, balls_needed, change, handled
from engine.plans.ordering import EXACT_MOST, best_order, sum_along
from engine.plans.session import (
    Part,
    Session,
    load_session,
    propose_order,
    reordered,
    session_of,
)

__all__ = [
    "EXACT_MOST",
    "Change",
    "Part",
    "Session",
    "balls_needed",
    "best_order",
    "change",
    "handled",
    "load_session",
    "propose_order",
    "reordered",
    "session_of",
    "sum_along",
]
