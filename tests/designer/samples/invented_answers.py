"""Invented routines with answers made by hand, so that drawings and sheets are tested alone.

The lanes are plausible shapes (a bend, then straight with mirror bounces), not predictions.
"""

from __future__ import annotations

import itertools
import math

import numpy as np

from engine.balls import Ball
from engine.results import (
    BallPlacement,
    ClaimResult,
    Clearance,
    CushionReading,
    Fact,
    GapPass,
    GapVerdict,
    Lane,
    LaneEvent,
    PotAnswer,
    ReachWindow,
    RoutineAnswer,
    ShotAnswer,
)
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot

WIDTH, LENGTH, R = 1778.0, 3569.0, 26.25
SPOTS = {"yellow": (1181.0, 737.0), "green": (597.0, 737.0), "brown": (889.0, 737.0),
         "blue": (889.0, 1784.5), "pink": (889.0, 2676.75), "black": (889.0, 3245.0)}  # fmt: skip
POCKETS = {"top-right": (1785.4, 3576.4), "top-left": (-7.4, 3576.4),
           "middle-right": (1790.0, 1784.5), "middle-left": (-12.0, 1784.5),
           "bottom-right": (1785.4, -7.4), "bottom-left": (-7.4, -7.4)}  # fmt: skip


def bent_path(start, ninety_deg, drawn_deg, bend_mm, run_mm):
    """Leave along one heading, bend to another, then run on with mirror bounces."""
    points = [np.asarray(start, dtype=float)]
    for i in range(24):
        share = (i + 0.5) / 24
        a = math.radians(ninety_deg + (drawn_deg - ninety_deg) * share)
        points.append(points[-1] + bend_mm / 24 * np.array([math.cos(a), math.sin(a)]))
    a = math.radians(drawn_deg)
    at, way, left = points[-1], np.array([math.cos(a), math.sin(a)]), run_mm
    low, high = np.array([R, R]), np.array([WIDTH - R, LENGTH - R])
    while left > 1e-6:
        with np.errstate(divide="ignore"):
            steps = np.where(
                way > 0, (high - at) / way, np.where(way < 0, (low - at) / way, np.inf)
            )
        steps = np.where(steps < 1e-6, np.inf, steps)
        axis = int(np.argmin(steps))
        step = min(float(steps[axis]), left)
        at = at + way * step
        points.append(at)
        left -= step
        if left > 1e-6:
            way[axis] = -way[axis]
    return np.array(points)


def pot(routine_balls, cue, object_ball, pocket, on=True):
    """Potting geometry of a plain contact, worked out afresh."""
    ox, oy = routine_balls[object_ball]
    px, py = POCKETS[pocket]
    d = math.dist((ox, oy), (px, py))
    u = ((px - ox) / d, (py - oy) / d)
    contact = (ox - 2 * R * u[0], oy - 2 * R * u[1])
    cx, cy = cue
    d2 = math.dist(contact, (cx, cy))
    w = ((contact[0] - cx) / d2, (contact[1] - cy) / d2)
    cross = u[0] * w[1] - u[1] * w[0]
    cut = math.degrees(math.asin(min(1.0, abs(cross))))
    n = (-u[1], u[0]) if cross > 0 else (u[1], -u[0])
    steps = [
        (size - R - c) / r if r > 0 else (R - c) / r
        for c, r, size in ((contact[0], n[0], WIDTH), (contact[1], n[1], LENGTH))
        if abs(r) > 1e-9
    ]
    far = min(s for s in steps if s > 0)
    end = (contact[0] + n[0] * far, contact[1] + n[1] * far)
    full = 1 - math.sin(math.radians(cut))
    name = "full" if full > 0.9 else "three-quarter" if full > 0.62 else "half"
    return PotAnswer(
        on=on, reasons=() if on else (Fact("line-blocked", ball="red-1", mm=12.0),),
        object_ball=object_ball,
        pocket=pocket, contact_mm=contact, cut_deg=cut, fullness=full, fullness_name=name,
        cut_side="right" if cross > 0 else "left", potting_line_mm=((ox, oy), (px, py)),
        aim_line_mm=((cx, cy), contact), ninety_line_mm=(contact, end), pocket_margin_deg=1.8,
        lowest_tip=-0.5, lowest_tip_reason=None,
    )  # fmt: skip


def lane(label, name, tip, pace, path, balls, object_ball, *, stun=False, cue="cue"):
    """A lane along a path, with clearances worked out afresh to all other balls."""
    clearances = []
    dense = np.concatenate([np.linspace(a, b, 60) for a, b in itertools.pairwise(path)])
    for ball_id, (bx, by) in balls.items():
        if ball_id in (cue, object_ball):
            continue
        away = np.hypot(dense[:, 0] - bx, dense[:, 1] - by)
        k = int(np.argmin(away))
        clearance = float(away[k] - 2 * R)
        clearances.append(
            Clearance(ball_id, clearance, "left", max(0.0, min(1.0, -clearance / (2 * R))),
                      (float(dense[k, 0]), float(dense[k, 1])), 0)
        )  # fmt: skip
    touched = next((c.ball for c in clearances if c.clearance_mm < 0), "")
    cushion, place = "", None
    for x, y in path[1:]:
        for cushion_name, hit in (
            ("left", x < R + 0.5), ("right", x > WIDTH - R - 0.5),
            ("bottom", y < R + 0.5), ("top", y > LENGTH - R - 0.5),
        ):  # fmt: skip
            if hit and place is None:
                cushion, place = cushion_name, (float(x), float(y))
    stop = (float(path[-1][0]), float(path[-1][1]))
    events = (LaneEvent(0.0, "struck", cue, "", balls[cue], (0.0, 2.0), (0.0, 0.0, 0.0)),
              LaneEvent(1.9, "stopped", cue, "", stop, (0.0, 0.0), (0.0, 0.0, 0.0)))  # fmt: skip
    return Lane(
        label=label, title="", strike_name=name, tip_height=tip, is_stun=stun, pace=pace,
        speed_m_s=pace / 2, side=0.0, elevation_deg=0.0,
        approach_mm=np.array([balls[cue], path[0]]), path_mm=path, played_mm=path,
        object_path_mm=np.array([balls[object_ball], [0, 0]]),
        first_cushion=cushion, first_cushion_mm=place,
        bend_end_mm=(float(path[24][0]), float(path[24][1])),
        spin_ratio_on_arrival=0.0 if stun else 1.0 if tip > 0 else -0.6,
        arrival_speed_m_s=pace / 2.4,
        first_angle_deg=87.6, deflection_deg=41.2, final_direction_deg=12.0, throw_deg=0.8,
        clear=not touched, clearances=tuple(clearances), first_touched=touched, object_potted=True,
        in_off=False, stops_mm=stop, events=events, cautions=(),
    )  # fmt: skip


def placement(ball):
    """Readings of one ball from its nearest long and short cushion faces."""
    across = ("left", ball.x_mm) if ball.x_mm <= WIDTH / 2 else ("right", WIDTH - ball.x_mm)
    along = ("bottom", ball.y_mm) if ball.y_mm <= LENGTH / 2 else ("top", LENGTH - ball.y_mm)
    spot = next((n for n, at in SPOTS.items() if math.dist(at, ball.centre_mm) < 0.5), "")
    readings = [CushionReading(name, v, v - R) for name, v in (across, along)]
    return BallPlacement(ball.id, ball.letter, ball.kind, readings[0], readings[1], spot)


def _answer(routine, shots, verdicts, claims):
    return RoutineAnswer(
        "0.1.0", (), tuple(shots), tuple(verdicts), tuple(claims),
        tuple(placement(ball) for ball in routine.balls),
    )  # fmt: skip


def blue_and_back(title="Blue and back to baulk"):
    """Four balls, one shot, five lanes; one lane touches, one gap holds and one does not."""
    balls = (
        Ball("cue", "cue", 640.0, 1420.0),
        Ball("blue", "blue", *SPOTS["blue"]),
        Ball("red-1", "red", 1180.0, 1250.0),
        Ball("red-2", "red", 1420.0, 1180.0),
        Ball("brown", "brown", *SPOTS["brown"]),
        Ball("black", "black", *SPOTS["black"]),
    )
    at = {ball.id: ball.centre_mm for ball in balls}
    answer_pot = pot(at, at["cue"], "blue", "top-right")
    start = answer_pot.contact_mm
    strikes = (
        ("A", "full top", 0.5, 5.0, 40.0, 400.0, 1900.0),
        ("B", "medium top", 0.25, 4.0, 22.0, 260.0, 1300.0),
        ("C", "stun", -0.12, 4.0, 0.0, 50.0, 1500.0),
        ("D", "medium screw", -0.25, 4.0, -30.0, 260.0, 1500.0),
        ("E", "full screw", -0.5, 5.0, -62.0, 420.0, 1900.0),
    )
    (sx, sy), (ex, ey) = answer_pot.ninety_line_mm
    ninety = math.degrees(math.atan2(ey - sy, ex - sx))
    lanes = [
        lane(label, name, tip, pace, bent_path(start, ninety, ninety + turn, bend, run), at, "blue",
             stun=label == "C")
        for label, name, tip, pace, turn, bend, run in strikes
    ]  # fmt: skip
    gaps = (
        Gap("between-reds", "ball-ball", ("red-1", "red-2"), title="Between the reds"),
        Gap("red-rail", "ball-cushion", ("red-2",), cushion="right", title="Red and right cushion"),
        Gap("baulk-stretch", "cushion-stretch", cushion="bottom", from_mm=500.0, to_mm=900.0,
            title="Baulk cushion behind brown"),
    )  # fmt: skip
    shot = Shot(
        "shot-1", "blue", "top-right", title="Blue to the top right pocket",
        question="Five ways of striking, plain ball, send the cue ball to A, B, C, D and E. "
        "How high is the tip for each, and which of them gets between the reds?",
        answer="Only the stun shot threads the two reds; full screw comes back on the green side.",
        note="Play the stun first, then ask where half a tip lower would go.",
        lanes=tuple(
            LaneAsk(label, tip, pace) for label, _, tip, pace, *_ in strikes
        ),
    )  # fmt: skip
    routine = Routine(
        title=title, balls=balls, shots=(shot,), gaps=gaps,
        claims=(Claim("lane-clears", "shot-1", lane="C", ball="red-1"),
                Claim("gap-unreachable", "shot-1", gap="red-rail")),
        coach="Wren Ashgrove", club="Millrace Cue Club", level=3,
        notes="Let the player say the line aloud before each shot.",
    )  # fmt: skip
    passes = tuple(
        GapPass(each.label, "between-reds", each.label == "C", 14.0 if each.label == "C" else -60.0,
                Fact("passes-ball", ball="red-1", mm=14.0) if each.label == "C"
                else Fact("misses-gap", mm=60.0))
        for each in lanes
    )  # fmt: skip
    verdicts = (
        GapVerdict("between-reds", "shot-1", True, 197.0,
                   (ReachWindow(-0.2, -0.05, 3.0, 5.5, -0.12, 4.0, 71.0),), None),
        GapVerdict("red-rail", "shot-1", False, 305.6, (),
                   82.0, Fact("beyond-screw")),
    )  # fmt: skip
    claims = (
        ClaimResult(0, True, (Fact("clears", ball="red-1", mm=71.0),)),
        ClaimResult(1, True, (), verdicts[1]),
    )
    answer_shot = ShotAnswer("shot-1", answer_pot, tuple(lanes), passes, -0.12)
    return routine, _answer(routine, [answer_shot], verdicts, claims)


def ten_balls():
    """Ten balls, several on spots, several close together: the measured diagram's hard case."""
    balls = (
        Ball("cue", "cue", 420.0, 2950.0),
        Ball("black", "black", *SPOTS["black"]),
        Ball("pink", "pink", *SPOTS["pink"]),
        Ball("blue", "blue", 960.0, 1980.0),
        Ball("red-1", "red", 700.0, 2790.0, label="R1"),
        Ball("red-2", "red", 756.0, 2795.0, label="R2"),
        Ball("red-3", "red", 725.0, 2845.0, label="R3"),
        Ball("red-4", "red", 1650.0, 2700.0, label="R4"),
        Ball("red-5", "red", 60.0, 3300.0, label="R5"),
        Ball("yellow", "yellow", 1500.0, 300.0),
    )
    at = {ball.id: ball.centre_mm for ball in balls}
    answer_pot = pot(at, at["cue"], "black", "top-right")
    start = answer_pot.contact_mm
    (sx, sy), (ex, ey) = answer_pot.ninety_line_mm
    ninety = math.degrees(math.atan2(ey - sy, ex - sx))
    lanes = [
        lane(label, name, tip, 3.0, bent_path(start, ninety, ninety + turn, 220.0, run), at,
             "black", stun=label == "B")
        for label, name, tip, turn, run in (
            ("A", "full top", 0.5, -25.0, 700.0), ("B", "stun", -0.1, 0.0, 900.0),
            ("C", "full screw", -0.5, 50.0, 1100.0))
    ]  # fmt: skip
    shot = Shot(
        "shot-1",
        "black",
        "top-right",
        question="Where does the stun shot finish?",
        lanes=(LaneAsk("A", 0.5, 3.0), LaneAsk("B", "stun", 3.0), LaneAsk("C", -0.5, 3.0)),
    )
    routine = Routine(
        title="Black with the pack open",
        balls=balls,
        shots=(shot,),
        level=4,
        coach="Wren Ashgrove",
        club="Millrace Cue Club",
    )
    return routine, _answer(
        routine, [ShotAnswer("shot-1", answer_pot, tuple(lanes), (), -0.1)], (), ()
    )


HOSTILE = "<b>&\"'\x00\x07\u202eA\u200b]]> \U0001f3b1 \ud800 -- </svg><script>alert(1)</script>"


def hostile():
    """Every text field holds markup, control characters, and characters the font lacks."""
    from dataclasses import replace

    routine, answer = blue_and_back(HOSTILE)
    shot = replace(routine.shots[0], title=HOSTILE, question=HOSTILE, answer=HOSTILE, note=HOSTILE)
    gaps = tuple(replace(gap, title=HOSTILE[:24]) for gap in routine.gaps)
    balls = tuple(replace(ball, label="<&\x01>") for ball in routine.balls)
    routine = replace(
        routine, shots=(shot,), gaps=gaps, balls=balls, coach=HOSTILE, club=HOSTILE, notes=HOSTILE
    )
    return routine, answer
