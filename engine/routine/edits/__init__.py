"""Every change an editor can make to a routine, as pure functions Routine -> Routine.

Each takes the routine first and returns a new one; nothing is changed in place, so a
`Document` can take any of them back. A change that would break a rule of routines raises
`OutOfRangeError`, an unknown name `UnknownNameError`, and nothing happens.
"""

from engine.routine.edits.balls import (
    free_ball_id,
    lock_ball,
    move_ball,
    move_balls,
    place_ball,
    relabel_ball,
    remove_ball,
    rename_ball,
)
from engine.routine.edits.gaps import (
    add_claim,
    add_gap,
    free_gap_id,
    remove_claim,
    remove_gap,
    set_claim,
    set_gap,
)
from engine.routine.edits.lanes import add_lane, free_lane_label, move_lane, remove_lane, set_lane
from engine.routine.edits.marks import add_mark, free_mark_id, remove_mark, set_mark
from engine.routine.edits.own_table import (
    set_measured_opening,
    set_measured_size,
    set_measured_spot,
    set_measured_table,
)
from engine.routine.edits.sheet import (
    set_club,
    set_coach,
    set_condition,
    set_conditions,
    set_level,
    set_notes,
    set_pocket_opening,
    set_tags,
    set_title,
)
from engine.routine.edits.shots import (
    add_shot,
    free_shot_id,
    move_shot,
    remove_shot,
    set_object_ball,
    set_pocket,
    set_shot,
)

__all__ = [
    "add_claim",
    "add_gap",
    "add_lane",
    "add_mark",
    "add_shot",
    "free_ball_id",
    "free_gap_id",
    "free_lane_label",
    "free_mark_id",
    "free_shot_id",
    "lock_ball",
    "move_ball",
    "move_balls",
    "move_lane",
    "move_shot",
    "place_ball",
    "relabel_ball",
    "remove_ball",
    "remove_claim",
    "remove_gap",
    "remove_lane",
    "remove_mark",
    "remove_shot",
    "rename_ball",
    "set_claim",
    "set_club",
    "set_coach",
    "set_condition",
    "set_conditions",
    "set_gap",
    "set_lane",
    "set_level",
    "set_mark",
    "set_measured_opening",
    "set_measured_size",
    "set_measured_spot",
    "set_measured_table",
    "set_notes",
    "set_object_ball",
    "set_pocket",
    "set_pocket_opening",
    "set_shot",
    "set_tags",
    "set_title",
]
