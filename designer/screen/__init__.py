"""Is there a screen, and has the system what a window needs? Asked before Qt is loaded.

Qt ends the whole program when it finds no screen or misses a system library, so both are
asked first, with the standard library alone.
"""

from designer.screen.detect import Screen, find_screen
from designer.screen.libraries import missing_libraries, packages_of
from designer.screen.provide import missing_text, provide_libraries

__all__ = [
    "Screen",
    "find_screen",
    "missing_libraries",
    "missing_text",
    "packages_of",
    "provide_libraries",
]
