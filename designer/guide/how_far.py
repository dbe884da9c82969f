"""The tables of the guide's page "how-far": what a stroke makes of the cue ball, by pace and tip.

`.ci/guide_tables.py` writes them into the page; a test holds it against the engine, so that it
cannot be out of date.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from designer.guide import FOLDER
from engine.conditions import Conditions, usual_conditions
from engine.shot.lengths import screw_back_mm, table_lengths
from engine.tables import Table, load_table

PAGE = FOLDER / "en" / "how-far.md"
PACES = range(1, 11)
#: Where the tip meets the ball: mm above the middle.
RUN_TIPS_MM, SCREW_TIPS_MM = (-10.0, 0.0, 10.0), (-5.0, -10.0, -13.0)
AWAYS_MM = (300.0, 1000.0)
#: Published speeds of cue balls, to which m/s they go (Alciatore, typical speeds; pool).
BANDS = (
    (0.45, "soft touch"), (0.9, "slow"), (1.9, "medium"), (3.2, "fast"), (4.5, "power"),
    (11.0, "beyond power"),
)  # fmt: skip
_TABLE = re.compile(r"(<!-- (\w+) -->\n).*?(<!-- end -->)", re.S)


def tables() -> dict[str, str]:
    """The page's tables as Markdown, by name, at the usual conditions of a full-size table."""
    table = load_table("snooker-12ft")
    usual = usual_conditions(table)
    return {"run": _runs(table, usual), "screw": _screws(table, usual)}


def page_text(text: str) -> str:
    """The page with its tables worked out anew."""
    made = tables()
    return _TABLE.sub(lambda found: f"{found[1]}{made[found[2]]}\n{found[3]}", text)


def _runs(table: Table, usual: Conditions) -> str:
    heads = ("pace", "m/s in the middle", "published band", *map(_place, RUN_TIPS_MM))
    rows = []
    for pace in PACES:
        speed = float(usual.speed_mm_s(pace, 0.0)) / 1000.0
        lengths = [
            table_lengths(table, usual, float(usual.speed_mm_s(pace, tip)), tip)
            for tip in _over_radius(RUN_TIPS_MM, usual)
        ]
        band = next(name for most, name in BANDS if speed <= most)
        rows.append((str(pace), f"{speed:.1f}", band, *(f"{one:.1f}" for one in lengths)))
    return _markdown(heads, rows)


def _screws(table: Table, usual: Conditions) -> str:
    heads = (
        "pace",
        *(f"{away / 1000.0:g} m, {_place(tip)}" for away in AWAYS_MM for tip in SCREW_TIPS_MM),
    )
    rows = []
    for pace in PACES:
        back = [
            screw_back_mm(table, usual, float(usual.speed_mm_s(pace, tip)), tip, away)
            for away in AWAYS_MM
            for tip in _over_radius(SCREW_TIPS_MM, usual)
        ]
        rows.append((str(pace), *(_back(one, table.length_mm) for one in back)))
    return _markdown(heads, rows)


def _back(mm: float, length_mm: float) -> str:
    """How far it comes back, in metres; nobody has use for more than the table is long."""
    if mm > length_mm:
        return f"over {length_mm / 1000.0:.1f}"
    return f"{mm / 1000.0:.1f}" if mm >= 50.0 else "–"


def _over_radius(tips_mm: Iterable[float], usual: Conditions) -> list[float]:
    return [tip / usual.cue_radius_mm for tip in tips_mm]


def _place(tip_mm: float) -> str:
    if not tip_mm:
        return "middle"
    return f"{abs(tip_mm):g} mm {'above' if tip_mm > 0.0 else 'below'}"


def _markdown(heads: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    heads = list(heads)
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)
