"""The table on screen: painted from the drawing model, moved by mouse and keys."""

from designer.canvas.canvas import TableCanvas
from designer.canvas.showing import TableShow

__all__ = ["TableCanvas", "TableShow"]
