"""Verdicts on gaps: reachable with plain top or screw or not, in a sentence a coach would say."""

from __future__ import annotations

from engine.answers.values import GapVerdict, PotAnswer, ReachWindow
from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.lanes import gap_width_mm, strike_name
from engine.potting import pot
from engine.reach.sweep import PACES, ReachMap, sweep
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Gap, Routine, Shot


def reach(
    routine: Routine, shot_id: str, gap_id: str, paces: tuple[float, ...] = PACES
) -> ReachMap:
    """The map of tip heights and paces for one gap of one shot.

    `UnknownNameError` when the shot, gap, ball or pocket is not there.
    """
    shot, gap = routine.shot(shot_id), routine.gap(gap_id)
    table, conditions = table_of(routine), conditions_of(routine)
    answer = _pot(routine, shot)
    return sweep(table, conditions, routine.balls, shot, answer, (gap,), paces)[0]


def verdict(routine: Routine, shot_id: str, gap_id: str) -> GapVerdict:
    """Whether plain top or screw threads one gap in one shot, and with what."""
    return verdicts(routine, shot_id, (gap_id,))[0]


def verdicts(
    routine: Routine, shot_id: str, gap_ids: tuple[str, ...] | None = None
) -> tuple[GapVerdict, ...]:
    """The verdicts of one shot on some gaps (on all of the routine when none are named)."""
    shot = routine.shot(shot_id)
    gaps = routine.gaps if gap_ids is None else tuple(routine.gap(gap_id) for gap_id in gap_ids)
    table, conditions = table_of(routine), conditions_of(routine)
    answer = _pot(routine, shot)
    if answer is not None and not answer.on:
        return tuple(_pot_off(routine, shot, gap, answer) for gap in gaps)
    sound, refused = [], {}
    for gap in gaps:
        try:
            gap_width_mm(table, gap, routine.balls, conditions.ball_radius_mm)
            sound.append(gap)
        except BaizewrightError as error:
            refused[gap.id] = GapVerdict(
                gap.id, shot.id, False, 0.0, (), f"No verdict: {error}", None
            )
    maps = {one.gap: one for one in sweep(table, conditions, routine.balls, shot, answer, sound)}
    return tuple(
        refused[gap.id] if gap.id in refused else _verdict(routine, gap, maps[gap.id])
        for gap in gaps
    )


def _pot(routine: Routine, shot: Shot) -> PotAnswer | None:
    if not shot.object_ball or not shot.pocket:
        return None
    return pot(table_of(routine), conditions_of(routine), routine.balls, shot)


def _width(routine: Routine, gap: Gap) -> float:
    try:
        radius = conditions_of(routine).ball_radius_mm
        return gap_width_mm(table_of(routine), gap, routine.balls, radius)
    except BaizewrightError:
        return 0.0


def _pot_off(routine: Routine, shot: Shot, gap: Gap, answer: PotAnswer) -> GapVerdict:
    sentence = f"Not reachable: the pot is not on, {answer.reasons[0]}."
    return GapVerdict(gap.id, shot.id, False, _width(routine, gap), (), sentence, None)


def _verdict(routine: Routine, gap: Gap, found: ReachMap) -> GapVerdict:
    conditions, width = conditions_of(routine), _width(routine, gap)
    windows = found.windows()
    if windows:
        sentence = reached_sentence(windows, conditions)
        return GapVerdict(gap.id, found.shot, True, width, windows, sentence, None)
    miss = found.nearest_miss()
    if miss is None:
        sentence = (
            "Not reachable with plain top or screw: "
            "no strike that pots the ball brings the cue ball near it."
        )
        return GapVerdict(gap.id, found.shot, False, width, (), sentence, None)
    margin, tip, pace, reason = miss
    name = strike_name(tip, conditions.tip_limit)
    sentence = (
        f"Not reachable with plain top or screw. The nearest miss is {-margin:.0f} mm, with "
        f"{name} (tip {tip:+.2f}) at pace {pace:g}: {reason}."
    )
    return GapVerdict(gap.id, found.shot, False, width, (), sentence, -margin)


def reached_sentence(windows: tuple[ReachWindow, ...], conditions: Conditions) -> str:
    """Windows in words: names of the strikes, paces, and the widest-margin choice."""
    parts = [_window_words(window, conditions) for window in windows[:3]]
    more = f", and {len(windows) - 3} smaller windows" if len(windows) > 3 else ""
    best = windows[0]
    return (
        f"Reachable with {'; or with '.join(parts)}{more}. Most room, "
        f"{best.best_margin_mm:.0f} mm to the nearer edge: tip {best.best_tip:+.2f}, "
        f"pace {best.best_pace:g}."
    )


def _window_words(window: ReachWindow, conditions: Conditions) -> str:
    low = strike_name(window.tip_min, conditions.tip_limit)
    high = strike_name(window.tip_max, conditions.tip_limit)
    names = low if low == high else f"{low} to {high}"
    tips = (
        f"tip {window.tip_min:+.2f}"
        if window.tip_min == window.tip_max
        else f"tip {window.tip_min:+.2f} to {window.tip_max:+.2f}"
    )
    paces = (
        f"pace {window.pace_min:g}"
        if window.pace_min == window.pace_max
        else f"pace {window.pace_min:g} to {window.pace_max:g}"
    )
    return f"{names} ({tips}) at {paces}"
