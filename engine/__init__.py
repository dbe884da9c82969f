"""Baizewright's engine: tables, routines, ball motion and the answers a coach asks for.

Nothing here knows of a window, a printer or a file dialog: `engine` imports neither Qt,
reportlab nor `designer`. Lengths are millimetres, times seconds, angles radians unless a
name says otherwise (`_deg`, `_m_s`). The origin is where the bottom (baulk) cushion face
meets the left cushion face seen from baulk; x runs to the right, y up the table.
"""

from engine.version import VERSION

__all__ = ["VERSION"]
__version__ = VERSION
