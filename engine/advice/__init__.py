"""Advice: the smallest moves of balls that make a wish come true, each proved by the engine."""

from engine.advice.search import advise
from engine.advice.values import Advice, Move, Wish

__all__ = ["Advice", "Move", "Wish", "advise"]
