"""The rules: what clears, touches, threads and reaches, from what was measured.

The one place that says so, whoever measured: shapely for the lanes on show and claimed
(`engine.judging.passes`), the compiled scan for thousands (`engine.judging.scan`). Margins are as
in `engine.results.GapPass`: millimetres of room to the nearer edge, negative by how far the way
would have to move. Places on a way rise along it, in any measure.
"""

from __future__ import annotations

from engine.compiled import inlined
from engine.playing.edges import AREA, CANNON

# why a shot does not do it; THREADS: it does
THREADS, SHORT_OF_BALL, WRONG_BALL, NOT_POTTED, IN_OFF, KISS = range(6)
BLOCKED, EDGE, MISSES, STOPS_SHORT, WRONG_CUSHION, NEVER_PLAYED, EDGE_PLAYED = range(6, 13)
#: The same by name, in their order: the kinds of `GapPass` and of reach's JSON.
REASONS = (
    "threads", "short-of-ball", "wrong-ball", "not-potted", "in-off", "kiss", "blocked", "edge",
    "misses", "stops-short", "wrong-cushion", "never-played", "edge-played",
)  # fmt: skip

#: Room below this is none.
TOUCH_MM = 1e-6


@inlined
def crossing(crossed, room_a, room_b, face, away, facing, on_edge, is_cushion, two):
    """(margin, reason) of a way and the line across a gap.

    `room_a` and `room_b`: how near it comes to the ends up to two ball widths behind the line;
    `face`: room to the cushion where it crosses; `away`: how far it stays off a line it does not
    cross, `facing` when it ends in front of it; `on_edge`: it ends at a ball of the gap.
    """
    if not crossed:
        margin = -away if facing else -(away + two)
        reason = STOPS_SHORT if facing else MISSES
    else:
        room = face if is_cushion else room_b - two
        if is_cushion and abs(room) < TOUCH_MM:
            # a bounce in the gap leaves no room, and rounding must not make it an overlap
            room = 0.0
        margin = min(room_a - two, room)
        reason = EDGE if margin < 0.0 else THREADS
    if on_edge and margin < TOUCH_MM:
        # the way ends on the edge itself, to within rounding
        reason = EDGE
    return margin, reason


@inlined
def stretch(met_any, met_it, room, away):
    """(margin, reason) of the first cushion: `room` to the stretch's nearer end, `away` from it."""
    if not met_any:
        return -max(away, 0.0), STOPS_SHORT
    if not met_it:
        return -max(away, 0.0), WRONG_CUSHION
    return room, (THREADS if room >= 0.0 else MISSES)


@inlined
def area(room, in_off, radius):
    """(margin, reason) of coming to rest in an area: `room` to its edge, negative outside."""
    if in_off:
        return min(room, -radius), IN_OFF
    return room, (THREADS if room >= 0.0 else MISSES)


@inlined
def cannon(met, left, least, side, two):
    """(margin, reason) of meeting a ball: how far `left` of its middle, or the `least` distance."""
    if not met:
        return -(least - two), MISSES
    if side == 0.0:
        return two - abs(left), THREADS
    wanted = left * side
    return min(wanted, two - wanted), (THREADS if wanted > 0.0 else MISSES)


@inlined
def in_the_way(at, margin, reason, kind, block_at, depth, hit, own):
    """(margin, reason, culprit) with the balls about: 1 for the standing ball, 2 for the one met.

    `at`: where the gap is done (below 0: never); `block_at`, `depth`: where the way first overlaps
    a standing ball (below 0: never), and by how much. `hit`: the way ends at a ball; `own` tells
    which: 0 any, 1 the object ball again, 2 an edge of the gap, 3 the ball of the cannon asked.
    """
    if block_at >= 0.0 and (at < 0.0 or block_at < at):
        return min(margin, -depth), BLOCKED, 1
    if hit and (reason != THREADS or kind == AREA) and not (kind == CANNON and own == 3):
        # the way itself ended at a ball before the gap was done
        return margin, (KISS if own == 1 else EDGE if own == 2 else BLOCKED), 2
    return margin, reason, 0


@inlined
def in_turn(reason, at, first):
    """The reason of a gap done at a place, when what comes before it is done at `first`."""
    return MISSES if reason == THREADS and at < first else reason


@inlined
def shot_does_it(reason, pot_asked, potted, in_off):
    """The reason with what the shot is for: the pot made where one is asked, the cue ball out."""
    if reason == THREADS and pot_asked and not potted:
        return NOT_POTTED
    if reason == THREADS and in_off:
        return IN_OFF
    return reason


@inlined
def room_beside(room, touched, free_room):
    """Room (mm) a whole way leaves a ball, negative when it touches it.

    `room`: along the way as it is played; a ball that is touched first (`touched` 1) is
    overlapped by as much as the way without obstacles goes through it, one touched later (2) by
    what tells a touch from none. What is never touched is not overlapped: it had moved away.
    """
    if touched == 1:
        return min(free_room, -TOUCH_MM)
    if touched == 2:
        return -TOUCH_MM
    return max(room, 0.0)


#: How hard a shot is, by the chance of the player it is asked of, from the easiest on.
GRADES = (("easy", 0.7), ("fair", 0.4), ("hard", 0.1), ("paper-only", 0.0))


def grade_of(chance: float) -> str:
    """A plain grade for a chance.

    >>> grade_of(0.75), grade_of(0.05)
    ('easy', 'paper-only')
    """
    return next(name for name, least in GRADES if chance >= least)


def within(one_deg: float, two_deg: float, most_deg: float) -> tuple[bool, float]:
    """Whether two directions are as near each other as that, and how far they turn apart."""
    apart = abs((one_deg - two_deg + 180.0) % 360.0 - 180.0)
    return apart <= most_deg, apart


def is_clear(room_mm: float, margin_mm: float = 0.0) -> bool:
    """Whether a lane clears a ball, by at least some margin."""
    return room_mm > 0.0 and room_mm >= margin_mm


def is_touch(room_mm: float, margin_mm: float = 0.0) -> bool:
    """Whether a lane touches a ball first of all, overlapping it by at least some margin."""
    return room_mm < -TOUCH_MM and -room_mm >= margin_mm
