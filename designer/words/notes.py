"""A message for every kind of note: what to know of observations and of a photograph's marks.

A message is a whole clause, without capital and full stop, as those of facts are.
"""

from __future__ import annotations

from collections.abc import Callable

from designer.texts import mark, tr
from designer.words.figures import sentence
from designer.words.names import cushion_name
from engine.conditions import CONDITION_FACTS
from engine.results import Note
from engine.units import rounded

MESSAGES: dict[str, str] = {
    # why an observation is impossible; columns are called as the file calls them
    "not-above-zero": mark("{column} is {value:g}, wanted more than 0"),
    "below-zero": mark("{column} is {value:g}, wanted 0 or more"),
    "not-one-of": mark("{column} is “{given}”, wanted {known}"),
    "off-the-pace-scale": mark("pace is {value:g}, wanted {low:g} to {high:g}"),
    "miscue": mark("tip is {value:g}, a miscue; wanted at most {most:g} either way"),
    "no-screw": mark("tip is {value:g}: only screw, below centre, wears off to stun"),
    "no-count-of-cushions": mark("cushions is {value:g}, wanted a whole number from 0 to {most}"),
    "too-many-lengths": mark("lengths is {value:g}, wanted at most {most}"),
    "beyond-cushion": mark("{column} is {at_mm:.0f}, beyond the {cushion}’s {long_mm:.0f} mm"),
    "ball-runs-too-far": mark("it runs {run_mm:.0f} mm, farther than the table allows"),
    "timed-too-far": mark("it is timed over {over_mm:.0f} mm, farther than the table allows"),
    "too-fast": mark("it runs at {speed_m_s:.1f} m/s, faster than any ball"),
    "no-such-cloth": mark(
        "it asks for a rolling resistance of {resistance:.4f}, which no cloth has"
    ),
    "stops-before-cushion": mark("the ball stops before it gets to the cushion"),
    "comes-back-too-far": mark(
        "it comes back {back_mm:.0f} mm with only {left_mm:.0f} mm of rolling left in it"
    ),
    "starts-off-bed": mark("it starts at {at_mm:.0f} mm, off the bed"),
    "stops-off-bed": mark("it stops at {at_mm:.0f} mm, off the bed"),
    "stops-behind-its-start": mark("it stops behind where it started without meeting a cushion"),
    "cue-ball-off-bed": mark("the cue ball at {x_mm:.0f}, {y_mm:.0f} mm is not on the bed"),
    "object-ball-off-bed": mark("the object ball at {x_mm:.0f}, {y_mm:.0f} mm is not on the bed"),
    "two-balls-overlap": mark("the two balls overlap"),
    "back-at-cue-ball": mark("the object ball would have to come back at the cue ball"),
    "one-cushion-twice": mark("it meets the {cushion} twice running"),
    # what to know of a calibration
    "none-usable": mark("no observation could be used: the conditions are the preset’s, unchanged"),
    "strikes-differ": mark(
        "strikes at one pace differ by some {percent:.0f} % in speed, more than tape and watch "
        "explain; that is counted into the errors"
    ),
    "wide-scatter": mark(
        "the observations scatter {times:.1f} times as much as the stated errors: the intervals "
        "are widened by as much"
    ),
    "many-disagree": mark(
        "more than a third of the observations disagree with the rest: find out why before these "
        "conditions are trusted"
    ),
    "read-too-low": mark(
        "all observations of kind {observations} read too low for the model: look for a slip "
        "common to them"
    ),
    "read-too-high": mark(
        "all observations of kind {observations} read too high for the model: look for a slip "
        "common to them"
    ),
    "hardly-likely": mark(
        "{number} comes out at {value:.4g}, outside its likely range of {low:g} to {high:g}: check "
        "the measurements it rests on"
    ),
    "at-the-end": mark(
        "{number} runs to the end of what is possible: check the measurements it rests on"
    ),
    "paces-do-not-rise": mark(
        "the speeds found do not rise from pace to pace: the pace scale is left as it was. Play "
        "the paces again."
    ),
    # what to know of a photograph
    "mark-set-aside": mark(
        "the mark of the {place} is set aside: it lies {off_px:.0f} px from where the others put "
        "its place. Look at it again."
    ),
    "marks-lie-off": mark(
        "the marks lie {off_px:.0f} px off their places on the whole, more than the "
        "{expected_px:g} px expected: look at them again, and whether the table is the one "
        "photographed"
    ),
    "four-marks": mark("four marks leave nothing to check them by: a fifth would"),
    "locked-left": mark("locked, and left where the routine has them: {balls}"),
    "unmarked-left": mark("not marked, and left where the routine has them: {balls}"),
    "ball-settled-far": mark(
        "the ball {ball} was moved by {moved_mm:.0f} mm to lie free of cushions and other balls, "
        "more than its ± of {within_mm:.0f} mm: look at its mark again"
    ),
    "no-outline": mark("no outline was made out, so these stay where they were marked: {balls}"),
    "ball-elsewhere": mark(
        "the ball {ball} stands {off_mm:.0f} mm from where the routine has it: the lanes are those "
        "of the routine"
    ),
}


def note(found: Note, named: Callable[[str], str] = str) -> str:
    """One note as a clause; `named` calls a ball by its id.

    >>> note(Note("ball-runs-too-far", {"run_mm": 5000.5}))
    'it runs 5001 mm, farther than the table allows'
    """
    return tr(
        MESSAGES[found.kind],
        **{name: _told(name, value, named) for name, value in found.values.items()},
    )


def note_told(found: Note, named: Callable[[str], str] = str) -> str:
    """One note as a sentence."""
    return sentence(note(found, named))


def number_name(number: str) -> str:
    """A number that a calibration looks for.

    >>> number_name("rolling_resistance"), number_name("speed_at_pace_3")
    ('rolling resistance', 'speed at pace 3')
    """
    if number in CONDITION_FACTS:
        return tr(CONDITION_FACTS[number].title)
    return tr("speed at pace {pace}", pace=number.removeprefix("speed_at_pace_"))


def _told(name: str, value: object, named: Callable[[str], str]) -> object:
    """A figure or name as its message shows it."""
    match name, value:
        case (("ball" | "balls"), (str() | tuple())):
            return ", ".join(map(named, (value,) if isinstance(value, str) else value))
        case "known", tuple():
            return ", ".join(value)
        case "number", str():
            return number_name(value)
        case "cushion", str():
            return cushion_name(value)
        case "place", str():
            return tr(value)
        case _, float() if name.endswith("_mm"):
            return rounded(value)
    return value
