"""Baizewright's designer: the window, the command line, the drawings and the handouts.

Kept free of imports and of new syntax, so that an old Python can still read it and be told
politely which Python is wanted.
"""
