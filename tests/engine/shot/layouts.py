"""Hypothesis strategies for shots on the bed, and the mirror images of a shot."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import assume
from hypothesis import strategies as st

from engine.balls import Ball
from engine.shot import Strike, Trace
from tests.engine.shot.random_shots import RADIUS, RandomShot, regulation

_ACROSS = {"left": "right", "right": "left"}
_ALONG = {"top": "bottom", "bottom": "top"}


@st.composite
def shots(draw: st.DrawFn, most_balls: int = 5, fastest: float = 6000.0) -> RandomShot:
    """A shot at balls that touch neither each other nor a cushion, two in three aimed at one."""
    pockets = draw(st.booleans())
    table = regulation()
    count = draw(st.integers(1, most_balls))
    across = st.floats(RADIUS + 0.01, table.width_mm - RADIUS - 0.01)
    along = st.floats(RADIUS + 0.01, table.length_mm - RADIUS - 0.01)
    places = [(draw(across), draw(along)) for _ in range(count)]
    for k, one in enumerate(places):
        for two in places[k + 1 :]:
            assume(math.dist(one, two) > 2 * RADIUS + 0.01)
    balls = tuple(
        Ball("cue" if k == 0 else f"red-{k}", "cue" if k == 0 else "red", *place)
        for k, place in enumerate(places)
    )
    direction = draw(st.floats(-math.pi, math.pi))
    if count > 1 and draw(st.integers(0, 2)):
        aim = places[draw(st.integers(1, count - 1))]
        dx, dy = aim[0] - places[0][0], aim[1] - places[0][1]
        miss = draw(st.floats(-0.95, 0.95)) * 2 * RADIUS
        direction = math.atan2(dy, dx) + math.asin(miss / math.hypot(dx, dy))
    off, round_ = draw(st.floats(0.0, 0.5)), draw(st.floats(-math.pi, math.pi))
    strike = Strike(
        draw(st.floats(50.0, fastest)),
        off * math.sin(round_),
        off * math.cos(round_),
        draw(st.sampled_from([0.0, 0.0, 20.0])),
    )
    return RandomShot(0, pockets, balls, strike, direction)


def mirrored(one: RandomShot, axis: str) -> RandomShot:
    """The shot seen in a mirror: "across" swaps left and right, "along" bottom and top."""
    if axis == "across":
        balls = tuple(replace(b, x_mm=one.table.width_mm - b.x_mm) for b in one.balls)
        direction = math.pi - one.direction
    else:
        balls = tuple(replace(b, y_mm=one.table.length_mm - b.y_mm) for b in one.balls)
        direction = -one.direction
    strike = replace(one.strike, side=-one.strike.side)
    return replace(one, balls=balls, strike=strike, direction=direction)


def mirrored_name(name: str, axis: str) -> str:
    """The cushion or pocket that mirrors the one of that name."""
    swap = _ACROSS if axis == "across" else _ALONG
    return "-".join(swap.get(part, part) for part in name.split("-"))


def happenings(trace: Trace, ball_id: str, until_s: float = math.inf) -> list[tuple[str, str]]:
    """What a ball meets and does, in order, whichever way its contacts are told."""
    found = []
    for event in trace.events:
        if event.t_s > until_s:
            break
        if event.ball == ball_id:
            found.append((event.kind, event.other))
        elif event.kind == "ball" and event.other == ball_id:
            found.append((event.kind, event.ball))
    return found


def time_of_contact(trace: Trace, number: int) -> float:
    """When the ball-to-ball contact of that number happens; the end of the shot without it."""
    times = [event.t_s for event in trace.events if event.kind == "ball"]
    return times[number - 1] if len(times) >= number else trace.duration_s
