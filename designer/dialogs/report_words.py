"""Verdicts, chances, errors forgiven, tolerances and lanes apart in a coach's words."""

from __future__ import annotations

from html import escape

from designer.texts import from_engine, listed, mark, tr, tr_count
from designer.words.figures import first_up, tip_place
from designer.words.in_names import in_coachs_words
from designer.words.names import ball_name, gap_name, shot_name
from engine.conditions import Conditions
from engine.results import BallTolerance, Choice, GapVerdict, LanePair
from engine.routine.values import Routine
from engine.units import LengthUnit, length_text

#: Directions as seen from baulk, by eighths of a turn from +x on.
WAYS = (
    mark("to the right"),
    mark("up and to the right"),
    mark("up the table"),
    mark("up and to the left"),
    mark("to the left"),
    mark("down and to the left"),
    mark("down the table"),
    mark("down and to the right"),
)


def way_words(direction_deg: float) -> str:
    """A direction as seen from baulk.

    >>> way_words(93.0), way_words(-40.0)
    ('up the table', 'down and to the right')
    """
    return tr(WAYS[round(direction_deg / 45.0) % len(WAYS)])


def percent(share: float) -> str:
    """A share in whole percent; all and none are only said of all and none.

    >>> percent(0.674), percent(0.998), percent(0.001), percent(1.0)
    ('67 %', 'over 99 %', 'under 1 %', '100 %')
    """
    if 0.995 <= share < 1.0:
        return tr("over 99 %")
    if 0.0 < share < 0.005:
        return tr("under 1 %")
    return tr("{share:.0f} %", share=100.0 * share)


def strike_of(choice: Choice, conditions: Conditions) -> str:
    """The strike of a choice: name, tip in mm, pace and speed."""
    return tr(
        "{strike}, tip {place}, pace {pace:.1f} ({speed:.2f} m/s)",
        strike=from_engine(choice.strike_name),
        place=tip_place(choice.tip_height * conditions.cue_radius_mm),
        pace=choice.pace,
        speed=choice.speed_m_s,
    )


def forgiven(choice: Choice, conditions: Conditions) -> list[str]:
    """The largest error of each kind alone, either way."""
    radius = conditions.cue_radius_mm
    wide = choice.tip_error, choice.side_error
    tip, side = (tuple(radius * one for one in pair) for pair in wide)
    return [
        tr("Aim: {low:.2f}° to the right, {high:.2f}° to the left", **_pair(choice.aim_deg)),
        tr("Tip height: {low:.1f} mm too low, {high:.1f} mm too high", **_pair(tip)),
        tr("Side: {low:.1f} mm to the left, {high:.1f} mm to the right", **_pair(side)),
        tr("Pace: {low:.1f} too soft, {high:.1f} too hard", **_pair(choice.pace_error)),
    ]


def _pair(errors: tuple[float, ...]) -> dict[str, float]:
    return {"low": errors[0], "high": errors[1]}


def detail_html(
    routine: Routine, verdict: GapVerdict, conditions: Conditions, unit: LengthUnit
) -> str:
    """Everything about one verdict: sentence, what stops it, choice, chances, errors, slivers."""
    name = first_up(gap_name(routine, routine.gap(verdict.gap)))
    head = tr(
        "{gap}, {shot}, {length} wide",
        gap=name,
        shot=shot_name(routine, verdict.shot),
        length=length_text(verdict.width_mm, unit),
    )
    parts = [
        f"<p><b>{escape(head)}</b></p>",
        _paragraph(in_coachs_words(routine, verdict.sentence)),
    ]
    if verdict.limit:
        parts.append(_paragraph(tr("What stops it: {limit}.", limit=from_engine(verdict.limit))))
    if verdict.nearest_miss_mm is not None:
        parts.append(
            _paragraph(
                tr("Nearest miss: {length}.", length=length_text(verdict.nearest_miss_mm, unit))
            )
        )
    if verdict.choice is not None:
        parts.append(_choice_html(verdict.choice, conditions, unit))
    if verdict.slivers:
        parts.append(
            _paragraph(
                tr_count(
                    "{count} window is left out: too thin for anyone to play on purpose.",
                    "{count} windows are left out: too thin for anyone to play on purpose.",
                    verdict.slivers,
                )
            )
        )
    return "".join(parts)


def _choice_html(choice: Choice, conditions: Conditions, unit: LengthUnit) -> str:
    rows = "".join(
        f"<tr><td>{escape(from_engine(name))}</td><td align='right'><b>{percent(chance)}</b></td>"
        f"<td>({tr('{low} to {high}', low=percent(low), high=percent(high))})</td></tr>"
        for name, chance, low, high in choice.chances
    )
    errors = "".join(f"<br>{escape(line)}" for line in forgiven(choice, conditions))
    best = tr(
        "Forgives most: {strike}, {length} of room.",
        strike=strike_of(choice, conditions),
        length=length_text(choice.margin_mm, unit),
    )
    return (
        _paragraph(best)
        + _paragraph(tr("Chance, if the players’ errors are as assumed:"))
        + f"<table cellpadding='2'>{rows}</table>"
        + f"<p>{escape(tr('Largest error it forgives, each alone:'))}{errors}</p>"
    )


def _paragraph(words: str) -> str:
    return f"<p>{escape(words)}</p>"


def tolerance_words(
    routine: Routine, one: BallTolerance, claims: dict[int, str], unit: LengthUnit
) -> tuple[str, str, str]:
    """Ball, how far it may lie off, and what changes first."""
    ball = first_up(ball_name(routine, one.ball))
    if one.at_least or one.claim is None or one.direction_deg is None:
        return (
            ball,
            tr("{length} or more", length=length_text(one.tolerance_mm, unit)),
            tr("nothing, whichever way"),
        )
    claim = claims.get(one.claim, tr("claim {number}", number=one.claim + 1))
    return ball, _small(one.tolerance_mm, unit), f"{way_words(one.direction_deg)}: {claim}"


def _small(length_mm: float, unit: LengthUnit) -> str:
    return tr("{length:.1f} mm", length=length_mm) if unit == "mm" else length_text(length_mm, unit)


def pair_words(pair: LanePair, unit: LengthUnit) -> tuple[str, str, str]:
    """Two lanes, how far apart they end, and whether a guess tells them apart."""
    told = tr("told apart") if pair.apart else tr("MIND: a guess could be right for both")
    return (
        listed([pair.one, pair.two]),
        length_text(pair.distance_mm, unit),
        told,
    )
