"""Progressions: steps from one routine, harder or easier by a success chance, each proved."""

from engine.progressions.rating import rate
from engine.progressions.stepping import a_bit_harder, a_chain
from engine.progressions.values import WAYS, Rate, Step

__all__ = ["WAYS", "Rate", "Step", "a_bit_harder", "a_chain", "rate"]
