"""Table conditions: cloth, balls, cushions and the coach's pace scale, each with its source."""

from engine.conditions.model import CONDITION_FACTS, ConditionFact, Conditions

__all__ = ["CONDITION_FACTS", "ConditionFact", "Conditions"]
