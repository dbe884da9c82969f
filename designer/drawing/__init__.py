"""The drawing of a routine, in table millimetres: one model for screen, SVG, PNG and PDF."""

from designer.drawing.build import build_drawing
from designer.drawing.closeup import contact_drawing
from designer.drawing.layers import (
    PLACEMENT_LAYERS,
    QUESTION_LAYERS,
    Layers,
    chosen_layers,
    layer_names,
    needs_answer,
)
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
    "chosen_layers",
    "contact_drawing",
    "layer_names",
    "needs_answer",
    "tip_drawing",
]
