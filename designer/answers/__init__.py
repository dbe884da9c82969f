"""Answers: lanes, gaps, reach maps, advice, the report, and what is left to fix."""
