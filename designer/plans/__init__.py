"""Lesson plans: routines in order, minutes, the booklet."""
