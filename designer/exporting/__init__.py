"""Diagram, film and handout: what is asked for, and the writing of it."""
