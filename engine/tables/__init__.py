"""Tables as data: published values with rule and confidence, and the geometry they give."""

from engine.tables.load import load_table, table_ids
from engine.tables.model import CUSHIONS, Face, Pocket, Sourced, Spot, Table

__all__ = [
    "CUSHIONS",
    "Face",
    "Pocket",
    "Sourced",
    "Spot",
    "Table",
    "load_table",
    "table_ids",
]
