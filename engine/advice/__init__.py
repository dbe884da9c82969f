"""Advice: the smallest moves of balls that make a wish come true, each proved by the engine."""

from engine.advice.advice_json import advice_to_json
from engine.advice.search import advise
from engine.advice.values import Advice, Move, Wish

__all__ = ["Advice", "Move", "Wish", "advice_to_json", "advise"]
