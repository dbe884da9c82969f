"""A reach map as regions to paint, and one strike of it in words. Loads the engine: import late."""

from __future__ import annotations

import numpy as np

import engine.judging.rules as judging
from designer.answers import reach_kinds as kinds
from designer.texts import tr
from designer.words.figures import room
from designer.words.wording import Wording
from engine.judging import outcomes
from engine.playing import LaidOutShot
from engine.reach import ReachMap
from engine.units import LengthUnit

_KIND_OF: dict[int, int] = {
    judging.THREADS: kinds.THREADS,
    judging.SHORT_OF_BALL: kinds.STOPS_SHORT,
    judging.WRONG_BALL: kinds.BLOCKED,
    judging.NOT_POTTED: kinds.NOT_POTTED,
    judging.IN_OFF: kinds.IN_OFF,
    judging.KISS: kinds.BLOCKED,
    judging.BLOCKED: kinds.BLOCKED,
    judging.EDGE: kinds.EDGE,
    judging.MISSES: kinds.MISSES,
    judging.STOPS_SHORT: kinds.STOPS_SHORT,
    judging.WRONG_CUSHION: kinds.MISSES,
    judging.NEVER_PLAYED: kinds.NO_ROOM,
    judging.EDGE_PLAYED: kinds.MISSES,
}
_LOOKUP = np.array([_KIND_OF.get(code, -1) for code in range(max(_KIND_OF) + 1)], dtype=np.int8)
_UNKNOWN = np.int8(-1)


def kinds_of(found: ReachMap) -> np.ndarray:
    """Index into `KINDS` for every point of a map's lattice, (tips, paces).

    Points that were not tried take over from the nearest that was, but what threads is exact.
    """
    tried = np.where(found.tried, _LOOKUP[np.maximum(found.reason, 0)], _UNKNOWN)
    kind = tried.astype(np.int8)
    kind[found.threads] = kinds.THREADS
    # what was tried to thread lends its kind to nobody that does not
    kind[(kind == kinds.THREADS) & ~found.threads] = _UNKNOWN
    for _ in range(sum(kind.shape)):
        unknown = kind == _UNKNOWN
        if not unknown.any():
            break
        for shifted in _neighbours(kind):
            lends = unknown & (shifted != _UNKNOWN) & (shifted != kinds.THREADS)
            kind = np.where(lends, shifted, kind)
            unknown &= ~lends
    kind[kind == _UNKNOWN] = kinds.MISSES
    return kind


def _neighbours(kind: np.ndarray) -> list[np.ndarray]:
    padded = np.pad(kind, 1, constant_values=_UNKNOWN)
    return [padded[:-2, 1:-1], padded[2:, 1:-1], padded[1:-1, :-2], padded[1:-1, 2:]]


def strike_outcome(
    scene: LaidOutShot, tip_height: float, pace: float, wording: Wording
) -> tuple[int, str]:
    """(index into `KINDS`, words) of what one strike does, tried exactly."""
    if tip_height < scene.lowest_tip - 1e-9:
        return kinds.NO_ROOM, tr("a cushion or ball behind the cue ball keeps the cue up")
    found = outcomes(scene, tip_height, scene.conditions.speed_mm_s(pace, tip_height))
    reason, other, margin = (
        int(found.reason[0]),
        int(found.other[0]),
        float(found.margin_mm[0]),
    )
    balls = scene.balls
    ball = wording.ball(balls[other].id) if 0 <= other < len(balls) else ""
    return int(_LOOKUP[reason]), _words(reason, ball, margin, wording.unit)


def _words(reason: int, ball: str, margin_mm: float, unit: LengthUnit) -> str:
    if reason == judging.THREADS:
        return tr("threads, {length} of room to the nearer edge", length=room(margin_mm, unit))
    told = {
        judging.SHORT_OF_BALL: tr("stops short: the cue ball does not get to the object ball"),
        judging.WRONG_BALL: tr(
            "blocked: the cue ball meets {ball} first", ball=ball or tr("another ball")
        ),
        judging.NOT_POTTED: tr("not potted: the object ball stays out"),
        judging.IN_OFF: tr("in-off"),
        judging.KISS: tr("blocked: the cue ball kisses the object ball again"),
        judging.BLOCKED: tr("blocked: {ball} is in the way", ball=ball or tr("a ball")),
        judging.EDGE: tr("touches an edge: {ball}", ball=ball or tr("the cushion")),
        judging.MISSES: tr("misses"),
        judging.STOPS_SHORT: tr("stops short of the gap"),
        judging.WRONG_CUSHION: tr("misses: another cushion comes first"),
        judging.EDGE_PLAYED: tr("misses: a ball of the gap is played"),
    }.get(reason, tr("cannot be played"))
    if margin_mm < 0.0:
        return tr("{told}; it lacks {length}", told=told, length=room(-margin_mm, unit))
    return told
