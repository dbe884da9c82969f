"""Names as the coach reads them: of balls, kinds, pockets, cushions, gaps, strikes."""

from __future__ import annotations

from collections.abc import Iterable

from designer.drawing.lettering import KIND_NAMES, ball_words
from designer.drawing.names import cushion_name, first_up, gap_name, in_names
from designer.texts import from_engine, mark, tr
from engine.routine.values import STUN, LaneAsk, Routine
from engine.tables import Table

__all__ = [
    "KIND_NAMES",
    "MARK_NAMES",
    "asked_strike",
    "cushion_name",
    "cushion_side",
    "first_up",
    "gap_name",
    "gone_with_balls",
    "in_coachs_words",
    "kind_name",
    "mark_name",
    "named_ball",
    "plain",
    "pocket_name",
    "shot_name",
    "tip_place",
    "tip_words",
]

MARK_NAMES = {"cross": mark("cross"), "dot": mark("dot"), "line": mark("line")}
_CUSHION_SIDES = {
    "left": mark("left"),
    "right": mark("right"),
    "bottom": mark("bottom"),
    "top": mark("top"),
}


def plain(name: str) -> str:
    """An id as words.

    >>> plain("red-1")
    'red 1'
    """
    return name.replace("-", " ").replace("_", " ")


def named_ball(routine: Routine, ball_id: str) -> str:
    """The coach's name of the ball of that id, as the sheets have it; its id if it is gone."""
    return ball_words(routine).get(ball_id) or plain(ball_id)


def mark_name(routine: Routine, mark_id: str) -> str:
    """A cloth mark by its form and number: "cross 2"."""
    at = next((i for i, one in enumerate(routine.cloth_marks) if one.id == mark_id), None)
    if at is None:
        return plain(mark_id)
    kind = tr(MARK_NAMES[routine.cloth_marks[at].kind])
    return tr("{mark} {number}", mark=kind, number=at + 1)


def kind_name(kind: str) -> str:
    """A kind of ball: "red", "cue ball"."""
    return tr(KIND_NAMES.get(kind, kind))


def cushion_side(cushion: str) -> str:
    """A cushion by its id, where the word cushion is said already: "left"."""
    return tr(_CUSHION_SIDES.get(cushion, cushion))


def shot_name(routine: Routine, shot_id: str) -> str:
    """A shot by its title, or its number: "shot 2"."""
    shot = routine.shot(shot_id)
    return shot.title or tr("shot {number}", number=routine.shots.index(shot) + 1)


def in_coachs_words(routine: Routine, sentence: str) -> str:
    """A sentence of the engine's as the coach reads it: names in place of the file's ids."""
    return from_engine(in_names(routine, sentence))


def pocket_name(table: Table, pocket_id: str) -> str:
    """Title of a pocket without the word itself: "top right"."""
    title = next((p.title for p in table.pockets if p.id == pocket_id), plain(pocket_id))
    return from_engine(title.removesuffix(" pocket"))


def tip_words(tip_height: float | str, tip_limit: float, radius_mm: float) -> str:
    """How high the tip is, in mm from the centre and as a share of the most it can be.

    >>> tip_words(0.25, 0.5, 26.25), tip_words(-0.5, 0.5, 26.25), tip_words(0.0, 0.5, 26.25)
    ('6.6 mm above centre, 50 %', '13.1 mm below centre, 100 %', 'centre')
    """
    if tip_height == STUN:
        return tr("set to arrive as stun")
    height = float(tip_height)
    place = tip_place(height * radius_mm)
    if abs(height) < 1e-9:
        return place
    share = f"{100.0 * abs(height) / tip_limit:.0f}"
    return tr("{place}, {share} %", place=place, share=share)


def tip_place(offset_mm: float) -> str:
    """Where the tip meets the ball: "6.6 mm above centre".

    >>> tip_place(6.56), tip_place(-0.01)
    ('6.6 mm above centre', 'centre')
    """
    if abs(offset_mm) < 0.05:
        return tr("centre")
    if offset_mm > 0.0:
        return tr("{offset:.1f} mm above centre", offset=offset_mm)
    return tr("{offset:.1f} mm below centre", offset=-offset_mm)


def asked_strike(lane: LaneAsk, tip_limit: float) -> str:
    """A word for the strike a lane asks for, before the engine has named it."""
    if lane.title:
        return lane.title
    if lane.tip_height == STUN:
        return tr("stun")
    share = float(lane.tip_height) / tip_limit
    if abs(share) < 0.1:
        return tr("centre")
    if share > 0:
        return tr("full top") if share >= 0.85 else tr("top")
    return tr("full screw") if share <= -0.85 else tr("screw")


def gone_with_balls(routine: Routine, ball_ids: Iterable[str]) -> list[str]:
    """What loses its ball or goes with these balls, in the coach's words."""
    away = set(ball_ids)
    shots = [
        tr("object ball of {shot}", shot=shot_name(routine, shot.id))
        for shot in routine.shots
        if shot.object_ball in away
    ]
    gone = {gap.id for gap in routine.gaps if away & set(gap.balls)}
    gaps = [tr("gap “{gap}”", gap=gap_name(routine, gap)) for gap in routine.gaps if gap.id in gone]
    claims = [
        tr("claim {number}", number=number)
        for number, claim in enumerate(routine.claims, start=1)
        if claim.ball in away or claim.gap in gone
    ]
    return [*shots, *gaps, *claims]
