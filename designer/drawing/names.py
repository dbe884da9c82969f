"""Names as a reader knows them, never the ids of a file: of cushions and of gaps."""

from __future__ import annotations

from designer.drawing.lettering import ball_words
from designer.texts import listed, mark, tr
from engine.routine.values import Gap, Routine

_CUSHIONS = {
    "left": mark("left cushion"),
    "right": mark("right cushion"),
    "bottom": mark("bottom cushion"),
    "top": mark("top cushion"),
}


def cushion_name(cushion: str) -> str:
    """A cushion by its id: "left cushion"."""
    return tr(_CUSHIONS.get(cushion, cushion))


def gap_name(routine: Routine, gap: Gap) -> str:
    """Title of a gap, or what it lies between, or its number.

    >>> from engine.balls import Ball
    >>> reds = (Ball("a", "red", 500, 500), Ball("b", "red", 700, 500))
    >>> gap = Gap("gap-1", "ball-ball", ("a", "b"))
    >>> gap_name(Routine(balls=reds, gaps=(gap,)), gap)
    'red R1 and red R2'
    """
    if gap.title:
        return gap.title
    words = ball_words(routine)
    balls = [words.get(ball_id, ball_id) for ball_id in gap.balls]
    if gap.kind == "ball-ball" and len(balls) == 2:
        return listed(balls)
    if gap.kind == "ball-cushion" and balls:
        return listed([balls[0], cushion_name(gap.cushion)])
    if gap.kind == "cushion-stretch":
        return tr("stretch of {cushion}", cushion=cushion_name(gap.cushion))
    if gap.kind == "cannon" and balls:
        return tr("cannon on {ball}", ball=balls[0])
    # Areas of cloth and gaps taken in order have nothing to be named by.
    return tr("gap {number}", number=routine.gaps.index(gap) + 1 if gap in routine.gaps else 1)
