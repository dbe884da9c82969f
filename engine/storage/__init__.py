"""Files and JSON: the only place of the engine that touches the disk.

A routine is kept as one JSON object (format "baizewright-routine"), a coach's own table and
conditions likewise ("baizewright-table", "baizewright-conditions"); their JSON Schemas are
published beside this module in `schema/`.
"""

from engine.storage.files import fingerprint, load_routine, save_routine
from engine.storage.own_conditions import (
    OwnConditions,
    dump_conditions,
    load_conditions,
    parse_conditions,
    save_conditions,
)
from engine.storage.own_plans import (
    Plan,
    PlanItem,
    dump_plan,
    file_of,
    load_plan,
    named_from,
    parse_plan,
    save_plan,
)
from engine.storage.own_players import dump_players, load_players, parse_players, save_players
from engine.storage.own_tables import (
    dump_measured_table,
    load_measured_table,
    parse_measured_table,
    save_measured_table,
)
from engine.storage.parse import parse_routine
from engine.storage.schemas import (
    check_schema,
    conditions_schema,
    measured_table_schema,
    plan_schema,
    players_schema,
    reach_schema,
    routine_schema,
)
from engine.storage.write import dump_routine
from engine.storage.writing import (
    InTheWayError,
    WriteRules,
    check_write,
    in_the_way,
    previous_copy,
    remove_file,
    write_file,
)

__all__ = [
    "InTheWayError",
    "OwnConditions",
    "Plan",
    "PlanItem",
    "WriteRules",
    "check_schema",
    "check_write",
    "conditions_schema",
    "dump_conditions",
    "dump_measured_table",
    "dump_plan",
    "dump_players",
    "dump_routine",
    "file_of",
    "fingerprint",
    "in_the_way",
    "load_conditions",
    "load_measured_table",
    "load_plan",
    "load_players",
    "load_routine",
    "measured_table_schema",
    "named_from",
    "parse_conditions",
    "parse_measured_table",
    "parse_plan",
    "parse_players",
    "parse_routine",
    "plan_schema",
    "players_schema",
    "previous_copy",
    "reach_schema",
    "remove_file",
    "routine_schema",
    "save_conditions",
    "save_measured_table",
    "save_plan",
    "save_players",
    "save_routine",
    "write_file",
]
