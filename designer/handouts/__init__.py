"""Handouts as PDF: a coach's sheet with the answers, a player's sheet with the question."""

from designer.handouts.build import handout_pdf

__all__ = ["handout_pdf"]
