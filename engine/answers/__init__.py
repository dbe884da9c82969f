"""Answers: the values a coach reads and the functions that work them out."""
