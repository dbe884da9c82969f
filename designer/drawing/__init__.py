"""The drawing of a routine, in table millimetres: one model for screen, SVG, PNG and PDF."""

from designer.drawing.build import build_drawing
from designer.drawing.closeup import contact_drawing
from designer.drawing.layers import PLACEMENT_LAYERS, QUESTION_LAYERS, Layers
from designer.drawing.look import Look
from designer.drawing.model import Arc, Disc, Drawing, Fill, Item, Stroke, Text
from designer.drawing.tip_height import tip_drawing

__all__ = [
    "PLACEMENT_LAYERS",
    "QUESTION_LAYERS",
    "Arc",
    "Disc",
    "Drawing",
    "Fill",
    "Item",
    "Layers",
    "Look",
    "Stroke",
    "Text",
    "build_drawing",
    "contact_drawing",
    "tip_drawing",
]
