"""The table on screen: painted from the drawing model, moved by mouse and keys."""

from designer.table_view.canvas import TableCanvas
from designer.table_view.read_only_table import ReadOnlyTable

__all__ = ["ReadOnlyTable", "TableCanvas"]
