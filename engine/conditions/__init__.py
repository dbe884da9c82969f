"""Table conditions: cloth, balls, cushions and the coach's pace scale, each with its source."""

from engine.conditions.model import CONDITION_FACTS, ConditionFact, Conditions
from engine.conditions.presets import Preset, PresetValue, preset, preset_ids
from engine.conditions.usual import likely_ranges, usual_conditions

__all__ = [
    "CONDITION_FACTS",
    "ConditionFact",
    "Conditions",
    "Preset",
    "PresetValue",
    "likely_ranges",
    "preset",
    "preset_ids",
    "usual_conditions",
]
