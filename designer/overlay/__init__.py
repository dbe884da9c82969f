"""The drawing of a routine laid over a photograph, in the photograph's own perspective.

photo_drawing(routine, answer, camera, layers, ...) -> PhotoDrawing     # in pixels, Qt-free
overlay_pixels(drawing) -> array (high, wide, 4)                        # painted with Qt
"""

from designer.overlay.build import PHOTO_LAYERS, StandingBall, photo_drawing
from designer.overlay.model import Label, Patch, PhotoDrawing

__all__ = ["PHOTO_LAYERS", "Label", "Patch", "PhotoDrawing", "StandingBall", "photo_drawing"]
