"""Files and JSON: the only place of the engine that touches the disk.

A routine is kept as one JSON object (format "baizewright-routine"); its JSON Schema is
published beside this module in `schema/`.
"""

from engine.storage.files import load_routine, previous_copy, save_routine
from engine.storage.parse import parse_routine
from engine.storage.schemas import check_schema, reach_schema, routine_schema
from engine.storage.write import dump_routine

__all__ = [
    "check_schema",
    "dump_routine",
    "load_routine",
    "parse_routine",
    "previous_copy",
    "reach_schema",
    "routine_schema",
    "save_routine",
]
