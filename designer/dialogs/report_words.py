"""Verdicts, chances, errors forgiven, tolerances and lanes apart in a coach's words."""

from __future__ import annotations

from html import escape

from designer.session.words import first_up, gap_name, named_ball
from engine.answers.values import BallTolerance, Choice, GapVerdict, LanePair
from engine.conditions import Conditions
from engine.routine.values import Routine
from engine.units import LengthUnit, length_text

#: Directions as seen from baulk, by eighths of a turn from +x on.
WAYS = (
    "to the right", "up and to the right", "up the table", "up and to the left",
    "to the left", "down and to the left", "down the table", "down and to the right",
)  # fmt: skip


def way_words(direction_deg: float) -> str:
    """A direction as seen from baulk.

    >>> way_words(93.0), way_words(-40.0)
    ('up the table', 'down and to the right')
    """
    return WAYS[round(direction_deg / 45.0) % len(WAYS)]


def percent(share: float) -> str:
    """A share in whole percent; all and none are only said of all and none.

    >>> percent(0.674), percent(0.998), percent(0.001), percent(1.0)
    ('67 %', 'over 99 %', 'under 1 %', '100 %')
    """
    if 0.995 <= share < 1.0:
        return "over 99 %"
    if 0.0 < share < 0.005:
        return "under 1 %"
    return f"{100.0 * share:.0f} %"


def shot_name(routine: Routine, shot_id: str) -> str:
    """A shot by its title, or its number."""
    shot = routine.shot(shot_id)
    return shot.title or f"shot {routine.shots.index(shot) + 1}"


def strike_of(choice: Choice, conditions: Conditions) -> str:
    """The strike of a choice: name, tip in mm, pace and speed."""
    height = choice.tip_height * conditions.cue_radius_mm
    where = "centre" if abs(height) < 0.05 else f"{abs(height):.1f} mm "
    if abs(height) >= 0.05:
        where += "above centre" if height > 0 else "below centre"
    return f"{choice.strike_name}, tip {where}, pace {choice.pace:.1f} ({choice.speed_m_s:.2f} m/s)"


def forgiven(choice: Choice, conditions: Conditions) -> list[str]:
    """The largest error of each kind alone, either way."""
    radius = conditions.cue_radius_mm
    kinds = (
        ("Aim", choice.aim_deg, 1.0, "°", 2, ("to the right", "to the left")),
        ("Tip height", choice.tip_error, radius, " mm", 1, ("too low", "too high")),
        ("Side", choice.side_error, radius, " mm", 1, ("to the left", "to the right")),
        ("Pace", choice.pace_error, 1.0, "", 1, ("too soft", "too hard")),
    )
    return [
        f"{name}: {low * scale:.{places}f}{unit} {words[0]}, "
        f"{high * scale:.{places}f}{unit} {words[1]}"
        for name, (low, high), scale, unit, places, words in kinds
    ]


def detail_html(
    routine: Routine, verdict: GapVerdict, conditions: Conditions, unit: LengthUnit
) -> str:
    """Everything about one verdict: sentence, what stops it, choice, chances, errors, slivers."""
    name = first_up(gap_name(routine, routine.gap(verdict.gap)))
    head = f"{name}, {shot_name(routine, verdict.shot)}, {length_text(verdict.width_mm, unit)} wide"
    parts = [f"<p><b>{escape(head)}</b></p>", f"<p>{escape(verdict.sentence)}</p>"]
    if verdict.limit:
        parts.append(f"<p>What stops it: {escape(verdict.limit)}.</p>")
    if verdict.nearest_miss_mm is not None:
        parts.append(f"<p>Nearest miss: {length_text(verdict.nearest_miss_mm, unit)}.</p>")
    if verdict.choice is not None:
        parts.append(_choice_html(verdict.choice, conditions, unit))
    if verdict.slivers:
        count = verdict.slivers
        what = "One window is" if count == 1 else f"{count} windows are"
        parts.append(f"<p>{what} left out: too thin for anyone to play on purpose.</p>")
    return "".join(parts)


def _choice_html(choice: Choice, conditions: Conditions, unit: LengthUnit) -> str:
    rows = "".join(
        f"<tr><td>{escape(name)}</td><td align='right'><b>{percent(chance)}</b></td>"
        f"<td>({percent(low)} to {percent(high)})</td></tr>"
        for name, chance, low, high in choice.chances
    )
    errors = "".join(f"<br>{escape(line)}" for line in forgiven(choice, conditions))
    return (
        f"<p>Forgives most: {escape(strike_of(choice, conditions))}, "
        f"{length_text(choice.margin_mm, unit)} of room.</p>"
        f"<p>Chance, if the players’ errors are as assumed:</p>"
        f"<table cellpadding='2'>{rows}</table>"
        f"<p>Largest error it forgives, each alone:{errors}</p>"
    )


def tolerance_words(
    routine: Routine, one: BallTolerance, claims: dict[int, str], unit: LengthUnit
) -> tuple[str, str, str]:
    """Ball, how far it may lie off, and what changes first."""
    ball = first_up(named_ball(routine, one.ball))
    if one.at_least or one.claim is None or one.direction_deg is None:
        return ball, f"{length_text(one.tolerance_mm, unit)} or more", "nothing, whichever way"
    claim = claims.get(one.claim, f"claim {one.claim + 1}")
    return ball, _small(one.tolerance_mm, unit), f"{way_words(one.direction_deg)}: {claim}"


def _small(length_mm: float, unit: LengthUnit) -> str:
    return f"{length_mm:.1f} mm" if unit == "mm" else length_text(length_mm, unit)


def pair_words(pair: LanePair, unit: LengthUnit) -> tuple[str, str, str]:
    """Two lanes, how far apart they end, and whether a guess tells them apart."""
    told = "told apart" if pair.apart else "MIND: a guess could be right for both"
    return f"{pair.one} and {pair.two}", length_text(pair.distance_mm, unit), told
