"""A calibration in words: what to measure, what was found, and what more it takes."""

from __future__ import annotations

from collections.abc import Iterator

from designer.texts import mark, tr, tr_count
from designer.words.notes import note, note_told, number_name
from engine.calibration import KINDS, Calibration, Finding, Judged, More, Observation
from engine.conditions import CONDITION_FACTS

#: Every kind of observation: what it is called, and how it is made.
OBSERVATIONS: dict[str, tuple[str, str]] = {
    "roll": (
        mark("A rolling ball timed"),
        mark(
            "Roll a ball gently, by hand or down a card. Time it from a first mark to a second, "
            "once it rolls, and measure how far it runs on beyond the second mark (0 if it stops "
            "there)."
        ),
    ),
    "rebound": (
        mark("A rolling ball square on to a cushion"),
        mark(
            "From a ramp, always the same: first let the ball run out on free cloth and measure "
            "how far it ran from the ramp’s mark. Then point the ramp square at a cushion: measure "
            "from the mark to the ball’s centre as it meets the cushion, and how far it comes back."
        ),
    ),
    "up-and-down": (
        mark("Up and down the table at your pace"),
        mark(
            "Strike the cue ball at the centre, straight up the table from a mark. Count the end "
            "cushions it meets and measure where it stops; or tell how many table lengths it ran."
        ),
    ),
    "pace-time": (
        mark("Your pace timed"),
        mark(
            "Strike the cue ball at the centre at your pace and time it from the strike over a "
            "measured distance, such as up to the first cushion."
        ),
    ),
    "stun": (
        mark("The distance at which screw becomes stun"),
        mark(
            "With the tip a measured height below centre, at your pace, find the distance at which "
            "a straight, full hit leaves the cue ball dead: how far it ran to the contact."
        ),
    ),
    "lane": (
        mark("Where a known shot meets its cushion"),
        mark(
            "Pot a ball from measured places and mark where the cue ball first meets a cushion. "
            "Tell the pocket, or where else the object ball went."
        ),
    ),
    "bank": (
        mark("Off one cushion to the next"),
        mark(
            "Strike the cue ball at the centre against a cushion; mark where it meets it and where "
            "it meets the next one."
        ),
    ),
}


def how_to_measure() -> dict[str, str]:
    """What to do for each kind of observation."""
    return {kind: tr(how) for kind, (_, how) in OBSERVATIONS.items()}


def report(found: Calibration) -> str:
    """Everything found in plain sentences, lines joined, no line end after the last."""
    used = sum(one.verdict == "used" for one in found.judged)
    lines = [
        tr(
            "Table {table}, starting from preset {preset}: {used} of {all} observations used.",
            table=found.table, preset=found.preset, used=used, all=len(found.judged),
        ),
        "",
    ]  # fmt: skip
    lines += [_finding(one) for one in found.findings]
    lines += ["", *map(note_told, found.notes)] if found.notes else []
    unused = [_unused(one) for one in found.judged if one.verdict != "used"]
    if unused:
        lines += ["", tr("Not used:"), *(f"  {one}" for one in unused)]
    lines += list(_more(found))
    return "\n".join(lines)


def remarks(found: Calibration) -> Iterator[str]:
    """What a conditions file keeps besides figures: the notes, and what was not used."""
    yield from map(note_told, found.notes)
    yield from (_unused(one) for one in found.judged if one.verdict != "used")


def _finding(one: Finding) -> str:
    places = _places(one.standard_error)
    known = CONDITION_FACTS.get(one.name)
    unit = "m/s" if known is None else known.unit
    figures = (one.value, one.standard_error, one.low, one.high)
    value, error, low, high = (f"{figure:.{places}f}" for figure in figures)
    told = tr(
        "{number}: {value} ± {error} (95 %: {low} to {high}; before {before:g})",
        number=number_name(one.name), value=value, error=f"{error} {unit}".rstrip(), low=low,
        high=high, before=one.usual,
    )  # fmt: skip
    if one.decided:
        return told
    if known is None:
        return tr("{finding} — not decided by these observations", finding=told)
    return tr("{finding} — hardly known from these observations", finding=told)


def _places(error: float) -> int:
    places = 0
    while places < 6 and error < 10.0**-places * 2.0:
        places += 1
    return places


def _name(one: Observation) -> str:
    return tr("line {line} ({kind})", line=one.line, kind=one.kind) if one.line else one.kind


def _unused(one: Judged) -> str:
    name = _name(one.row)
    if one.reason is not None:
        return tr("{observation} is impossible: {why}.", observation=name, why=note(one.reason))
    if one.predicted is None or one.measured is None or one.off is None:
        return tr(
            "{observation} disagrees with the rest: the model does not have it happen at all.",
            observation=name,
        )
    timed = KINDS[one.row.kind].result == "time_s"
    measured, predicted = (
        f"{value:.2f} s" if timed else f"{value:.0f} mm" for value in (one.measured, one.predicted)
    )
    return tr(
        "{observation} disagrees with the rest: measured {measured}, the model has {predicted}, "
        "{off:.1f} standard errors off.",
        observation=name, measured=measured, predicted=predicted, off=abs(one.off),
    )  # fmt: skip


def _more(found: Calibration) -> Iterator[str]:
    lacking = [one for one in found.more if one.count != 0]
    if not found.more:
        return
    yield ""
    if not lacking:
        yield tr("Every number is as precise as wanted.")
        return
    yield tr("What more precision takes:")
    for one in lacking:
        wanted = tr(
            "{number}: ± {wanted:.3g} is wanted, it is ± {error:.3g}",
            number=number_name(one.name), wanted=one.wanted, error=one.standard_error,
        )  # fmt: skip
        yield f"  {wanted}; {_way_there(one)}"


def _way_there(one: More) -> str:
    """How a number gets as precise as it is wanted."""
    if one.count is None:
        return tr("no observation at these paces brings it soon.")
    if one.row is None:
        return tr_count(
            "playing the form’s whole set once would do, no single row does.",
            "playing the form’s whole set {count} times would do, no single row does.",
            one.count,
        )
    if one.row.line:
        like = tr("like {observation}", observation=_name(one.row))
    elif "pace" in one.row.cells:
        pace = one.row.number("pace")
        like = tr("of kind {kind} at pace {pace:g}", kind=one.row.kind, pace=pace)
    else:
        like = tr("of kind {kind}", kind=one.row.kind)
    return tr_count(
        "{count} more observation {like} would do.",
        "{count} more observations {like} would do.",
        one.count,
        like=like,
    )
