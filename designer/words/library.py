"""The library, lesson plans and the practice record: what each names, and plans in words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from designer.texts import mark, tr, tr_count
from designer.words.facts import unplayable_told
from designer.words.names import KIND_NAMES

if TYPE_CHECKING:
    from engine.library import Entry
    from engine.plans import Change
    from engine.records import Line

SKILL_WORDS = {
    "top": mark("top"),
    "stun": mark("stun"),
    "screw": mark("screw"),
    "run-through": mark("run-through"),
    "side": mark("side"),
    "pace": mark("pace"),
    "cannon": mark("cannon"),
    "cushion": mark("cushion"),
    "in order": mark("gaps in order"),
}
#: Shown wherever records of persons are made, shown or given away.
RECORDS_CAUTION = mark(
    "Records of persons stay on this computer. Of players under 18 keep no more than initials or "
    "a nickname, with the knowledge of a parent or guardian, and delete what is no longer needed."
)
POCKET_WORDS = {
    "top": mark("a top pocket"),
    "middle": mark("a middle pocket"),
    "bottom": mark("a bottom pocket"),
    "left": mark("a left pocket"),
    "right": mark("a right pocket"),
}
LEVEL_WORDS = {
    "learner": mark("learner"),
    "club player": mark("club player"),
    "county player": mark("county player"),
}
WAY_WORDS = {
    "gap": mark("width of the gap"),
    "distance": mark("cue ball’s distance"),
    "pot": mark("length of the pot"),
}
MISS_WORDS = {
    "pot": mark("pot"),
    "left": mark("left"),
    "right": mark("right"),
    "short": mark("short"),
    "long": mark("long"),
    "not said": mark("not said"),
}


MISS_TIPS = {
    "pot": mark("the object ball was not potted"),
    "left": mark("potted, but the cue ball left of where it was asked"),
    "right": mark("potted, but the cue ball right of where it was asked"),
    "short": mark("potted, but the cue ball stopped short"),
    "long": mark("potted, but the cue ball ran too far"),
}


def line_name(line: Line) -> str:
    """A routine's title, with the step where it is not the first."""
    if line.step == 1:
        return line.routine
    return tr("{routine}, step {step}", routine=line.routine, step=line.step)


def miss_name(kind: str) -> str:
    """A kind of miss."""
    return tr(MISS_WORDS.get(kind, kind))


def balls_told(needed: Sequence[tuple[str, int]]) -> str:
    """The balls a lesson needs.

    >>> balls_told((("cue", 1), ("red", 3), ("black", 1)))
    'cue ball, 3 reds, black'
    """
    told = []
    for kind, count in needed:
        if kind == "red":
            told.append(tr_count("{count} red", "{count} reds", count))
        elif kind == "plain":
            told.append(tr_count("{count} plain ball", "{count} plain balls", count))
        elif count == 1:
            told.append(tr(KIND_NAMES[kind]))
        else:
            told.append(tr("{count} × {kind}", count=count, kind=tr(KIND_NAMES[kind])))
    return ", ".join(told) if told else tr("none")


def booklet_told(file: Path, unplayable: Sequence[tuple[str, str, str]]) -> str:
    """That a booklet is written, and which of its shots (routine, shot, why) cannot be played."""
    told = [tr("{file} written.", file=str(file))]
    told += [f"{title}: {unplayable_told(shot, why)}" for title, shot, why in unplayable]
    return "\n".join(told)


def minutes_told(minutes: float) -> str:
    """How long a lesson takes.

    >>> minutes_told(45), minutes_told(90), minutes_told(60)
    ('45 min', '1 h 30 min', '1 h')
    """
    whole = round(minutes)
    if whole < 60:
        return tr("{minutes} min", minutes=whole)
    if not whole % 60:
        return tr("{hours} h", hours=whole // 60)
    return tr("{hours} h {minutes} min", hours=whole // 60, minutes=whole % 60)


def entry_lines(entry: Entry) -> str:
    """Title and facts of a routine, two or three lines."""
    if entry.fault:
        return tr("{title}\nCannot be read: {fault}", title=entry.title, fault=entry.fault[:90])
    facts = [
        tr("level {level}", level=entry.level),
        tr_count("{count} ball", "{count} balls", entry.balls),
        ", ".join(tr(SKILL_WORDS[skill]) for skill in entry.skills if skill in SKILL_WORDS),
    ]
    if entry.lowest_pace is not None:
        facts.append(tr("reachable from pace {pace:g}", pace=entry.lowest_pace))
    lines = [entry.title, "  ·  ".join(part for part in facts if part)]
    if entry.tags:
        lines.append("  ·  ".join(entry.tags))
    return "\n".join(lines)


def change_told(change: Change, *, first: bool) -> str:
    """What is done to the balls before a routine of a plan."""
    if first and not change.put_on:
        return tr("nothing to set up")
    if first:
        return tr_count("set up {count} ball", "set up {count} balls", len(change.put_on))
    parts = []
    if change.moved:
        parts.append(tr("move {count}", count=len(change.moved)))
    if change.put_on:
        parts.append(tr("put on {count}", count=len(change.put_on)))
    if change.taken_off:
        parts.append(tr("take off {count}", count=len(change.taken_off)))
    return ", ".join(parts) if parts else tr("as it stands")
