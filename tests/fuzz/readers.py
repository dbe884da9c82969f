"""Every reader of what a coach's disk may hold: sound samples, how to read, how to write again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

DEMOS = Path(__file__).resolve().parents[2] / "layouts_demo"


@dataclass(frozen=True, slots=True)
class Reader:
    """One reader. `again` writes what was read; reading that must give the same.

    One that `rounds` (to thousandths of a pixel) may give what is written the same again.
    """

    name: str
    samples: tuple[str, ...]
    read: Callable[[str], Any]
    again: Callable[[Any], str] | None = None
    is_json: bool = True
    rounds: bool = False


ROUTINE = """{"format": "baizewright-routine", "version": 1, "title": "t", "level": 2,
"tags": ["a"], "table": "snooker-12ft", "pocket_openings_mm": {"top-left": 90.0},
"conditions": {"ball_restitution": 0.9, "pace_speeds_m_s": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]},
"balls": [{"id": "cue", "kind": "cue", "x_mm": 1.0, "y_mm": 2.0},
 {"id": "a", "kind": "red", "x_mm": 300, "y_mm": 400, "label": "1", "locked": true}],
"shots": [{"id": "s", "object_ball": "a", "pocket": "top-left", "cut_limit_deg": 5.0,
 "lanes": [{"label": "A", "tip_height": 0.1, "side": 0.1, "pace": 4, "speed_m_s": 2.0},
           {"label": "B", "tip_height": "stun", "pace": 3}]}],
"gaps": [{"id": "g", "kind": "ball-cushion", "balls": ["a"], "cushion": "left"}],
"claims": [{"kind": "lane-threads", "shot": "s", "lane": "A", "gap": "g", "margin_mm": 1.0}]}"""
OBSERVATIONS = (
    "kind,pace,tip,distance_mm,time_s,then_mm,error_mm,note\n"
    "roll,,,1400,1.9,900,,\nstun,5,-0.2,800,,,5,\n# a remark\npace-time,3,,2833,2.1,,,good\n",
    'kind;distance_mm;time_s;then_mm\nroll;1400;1,9;900\nroll;"1400";2.2;0\n',
)
PRACTICE = (
    "player,routine,step,date,attempts,made,missed_pot,note\n"
    'QZ,Blue,1,2026-03-01,10,6,2,"said ""well"""\nQZ,Black,,2026-03-02,5,5,,\n',
    "player;routine;date;attempts;made\nQZ;Blue;2026-03-01;10;6\n",
)


@cache
def readers() -> tuple[Reader, ...]:
    """All readers there are."""
    from engine import storage
    from engine.calibration import parse_observations
    from engine.players import PLAYERS
    from engine.records.csv_files import parse_practice, practice_csv
    from engine.storage.photo_files import dump_photo_marks, parse_photo_marks
    from engine.tables.measured import MeasuredTable

    own = storage.dump_conditions(
        storage.OwnConditions(
            {"sliding_friction": 0.2, "pace_speeds_m_s": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]},
            "club",
            "snooker-12ft",
        )
    )
    table = storage.dump_measured_table(
        "snooker-12ft",
        MeasuredTable("club", {"width_mm": 1780.0}, {"blue": (889.0, 1785.0)}, {"top-left": 90.0}),
    )
    items = (storage.PlanItem("a.json", minutes=10.0), storage.PlanItem("b.json"))
    marks = [
        one.read_text(encoding="utf-8") for one in sorted((DEMOS / "photograph").glob("*.json"))
    ]
    return (
        Reader("routine", (ROUTINE,), storage.parse_routine, storage.dump_routine),
        Reader(
            "table",
            (table,),
            storage.parse_measured_table,
            lambda found: storage.dump_measured_table(*found),
        ),
        Reader("conditions", (own,), storage.parse_conditions, storage.dump_conditions),
        Reader(
            "players",
            (storage.dump_players(PLAYERS),),
            storage.parse_players,
            storage.dump_players,
        ),
        Reader(
            "plan",
            (storage.dump_plan(storage.Plan(items=items)),),
            storage.parse_plan,
            storage.dump_plan,
        ),
        Reader("photo", tuple(marks), parse_photo_marks, dump_photo_marks, rounds=True),
        Reader("observations", OBSERVATIONS, parse_observations, None, False),
        Reader("practice", PRACTICE, parse_practice, practice_csv, False),
    )
