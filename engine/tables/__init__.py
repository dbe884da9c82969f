"""Tables as data: published values with rule and confidence, and the geometry they give."""

from engine.tables.load import load_table, table_ids
from engine.tables.measured import MeasuredTable, Reading, readings
from engine.tables.model import CUSHIONS, Face, Facing, Pocket, Sourced, Spot, Table

__all__ = [
    "CUSHIONS",
    "Face",
    "Facing",
    "MeasuredTable",
    "Pocket",
    "Reading",
    "Sourced",
    "Spot",
    "Table",
    "load_table",
    "readings",
    "table_ids",
]
