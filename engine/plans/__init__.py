"""Lesson plans: routines in order, minutes, balls needed, and little to change between them."""

from engine.plans.changing import Change, balls_needed, change, handled
from engine.plans.lesson_plan import (
    LessonPlan,
    Part,
    lesson_plan_of,
    load_lesson_plan,
    propose_order,
    reordered,
)
from engine.plans.ordering import EXACT_MOST, best_order, sum_along

__all__ = [
    "EXACT_MOST",
    "Change",
    "LessonPlan",
    "Part",
    "balls_needed",
    "best_order",
    "change",
    "handled",
    "lesson_plan_of",
    "load_lesson_plan",
    "propose_order",
    "reordered",
    "sum_along",
]
