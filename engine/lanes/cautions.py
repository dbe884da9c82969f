"""What a coach should know before trusting a lane: cautions."""

from __future__ import annotations

import math

from engine.motion.cushion import FITTED_TO_MM_S
from engine.playing.contact import JUST_BEFORE_S, first_contact_event
from engine.playing.laid_out import LaidOutShot
from engine.playing.plan import Plan, cushion_events
from engine.results import Fact, LaneEvent
from engine.shot import Trace


def cautions(
    scene: LaidOutShot, wanted: Plan, free: Trace, played: Trace, start_s: float | None
) -> tuple[Fact, ...]:
    """The cautions of a lane, from its free and its played way (`start_s`: when it begins)."""
    found = []
    tip, pot_answer = wanted.struck.tip_height, scene.pot
    if pot_answer is not None and tip < pot_answer.lowest_tip - 1e-6:
        behind = pot_answer.lowest_tip_reason
        found.append(Fact("tip-too-low", tip=pot_answer.lowest_tip, then=behind))
    if scene.object_ball is not None and start_s is None:
        found.append(Fact("short-of-object-ball"))
    first = first_contact_event(played, scene.cue_ball.id)
    if scene.object_ball is not None and first is not None and first.other != scene.object_ball.id:
        found.append(Fact("meets-before-object-ball", ball=first.other))
    if scene.object_ball is not None and start_s is not None and scene.shot.aim_deg is None:
        found += _off_target(scene, free)
    if played.cut_short or free.cut_short:
        found.append(Fact("cut-short"))
    bounces = () if start_s is None else cushion_events(free, scene.cue_ball.id, start_s)
    fastest = max(
        (_into_cushion_mm_s(free, scene.cue_ball.id, one) for one in bounces), default=0.0
    )
    if fastest > FITTED_TO_MM_S:
        fitted = FITTED_TO_MM_S / 1000.0
        found.append(Fact("fast-into-cushion", m_s=fastest / 1000.0, was_m_s=fitted))
    return tuple(found)


def _off_target(scene: LaidOutShot, free: Trace) -> tuple[Fact, ...]:
    """A warning when the object ball does not go where it is sent, with no ball in the way."""
    assert scene.object_ball is not None
    went = free.potted.get(scene.object_ball.id, "")
    if went == scene.shot.pocket:
        return ()
    if went:
        return (Fact("other-pocket", pocket=went),)
    return (Fact("object-ball-stays-out"),)


def _into_cushion_mm_s(trace: Trace, cue_id: str, event: LaneEvent) -> float:
    """Speed square onto a straight cushion; the whole speed at a jaw."""
    vx, vy = trace.velocities(cue_id, event.t_s - JUST_BEFORE_S)
    if event.kind == "jaw":
        return math.hypot(float(vx), float(vy))
    return abs(float(vx if event.other in ("left", "right") else vy))
