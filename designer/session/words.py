"""Names as the coach reads them: of balls, kinds, pockets, cushions, gaps, strikes."""

from __future__ import annotations

from designer.drawing.lettering import ball_words
from engine.routine.values import STUN, Gap, LaneAsk, Routine
from engine.tables import Table

KIND_NAMES: dict[str, str] = {
    "cue": "cue ball",
    "red": "red",
    "yellow": "yellow",
    "green": "green",
    "brown": "brown",
    "blue": "blue",
    "pink": "pink",
    "black": "black",
    "plain": "plain ball",
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


def first_up(words: str) -> str:
    """With a capital, the rest as it was.

    >>> first_up("red R1")
    'Red R1'
    """
    return words[:1].upper() + words[1:]


def pocket_name(table: Table, pocket_id: str) -> str:
    """Title of a pocket without the word itself: "top right"."""
    title = next((p.title for p in table.pockets if p.id == pocket_id), plain(pocket_id))
    return title.removesuffix(" pocket")


def gap_name(routine: Routine, gap: Gap) -> str:
    """Title of a gap, or what it lies between."""
    if gap.title:
        return gap.title
    balls = [named_ball(routine, ball_id) for ball_id in gap.balls]
    if gap.kind == "ball-ball" and len(balls) == 2:
        return f"{balls[0]} and {balls[1]}"
    if gap.kind == "ball-cushion" and balls:
        return f"{balls[0]} and {gap.cushion} cushion"
    if gap.kind == "cushion-stretch":
        return f"stretch of {gap.cushion} cushion"
    if gap.kind == "cannon" and balls:
        return f"cannon on {balls[0]}"
    return plain(gap.id)


def tip_words(tip_height: float | str, tip_limit: float, radius_mm: float) -> str:
    """How high the tip is, in mm from the centre and as a share of the most it can be.

    >>> tip_words(0.25, 0.5, 26.25), tip_words(-0.5, 0.5, 26.25), tip_words(0.0, 0.5, 26.25)
    ('6.6 mm above centre, 50 %', '13.1 mm below centre, 100 %', 'centre')
    """
    if tip_height == STUN:
        return "set to arrive as stun"
    height = float(tip_height)
    if abs(height) < 1e-9:
        return "centre"
    side = "above" if height > 0 else "below"
    return f"{abs(height) * radius_mm:.1f} mm {side} centre, {abs(height) / tip_limit:.0%}".replace(
        "%", " %"
    )


def asked_strike(lane: LaneAsk, tip_limit: float) -> str:
    """A word for the strike a lane asks for, before the engine has named it."""
    if lane.title:
        return lane.title
    if lane.tip_height == STUN:
        return "stun"
    share = float(lane.tip_height) / tip_limit
    if abs(share) < 0.1:
        return "centre"
    if share > 0:
        return "full top" if share >= 0.85 else "top"
    return "full screw" if share <= -0.85 else "screw"
