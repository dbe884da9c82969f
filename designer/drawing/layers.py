"""Which parts of a drawing are wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

from engine.errors import OutOfRangeError, UnknownNameError


@dataclass(frozen=True, slots=True)
class Layers:
    """Switches, one for each part a coach may want to see or leave out.

    `rim_letters` puts each lane's letter on the rim where its line would meet it, instead of
    drawing the lane: the question without its answer. `verdicts` marks gaps as reachable or
    not; without it a gap is only shown. `bands` are drawn
    for lanes whose answer holds one. `checks` are second distances to check the measurements
    by; they belong to them.
    """

    table: bool = True
    marks: bool = True
    cloth_marks: bool = True
    balls: bool = True
    ball_letters: bool = True
    potting_line: bool = True
    ninety_line: bool = True
    contact: bool = True
    lanes: bool = True
    corridors: bool = True
    bands: bool = False
    letters: bool = True
    gaps: bool = True
    verdicts: bool = True
    measurements: bool = False
    checks: bool = False
    rim_letters: bool = False


#: What the designer shows at first.
ALL_BUT_MEASUREMENTS = Layers()

#: Everything that has to do with where the balls stand, nothing of what happens next.
PLACEMENT_LAYERS = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, gaps=False, verdicts=False, measurements=True, checks=True,
)  # fmt: skip

#: The player's question: set-up, gaps and lettered ends, no lane, no line that gives it away.
QUESTION_LAYERS = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, verdicts=False, rim_letters=True,
)  # fmt: skip

#: Switches that show something of a shot's answer; the others need the set-up alone.
_ANSWERED = (
    "potting_line", "ninety_line", "contact", "lanes", "corridors", "letters", "verdicts",
    "rim_letters", "bands",
)  # fmt: skip


def needs_answer(layers: Layers) -> bool:
    """Whether anything is wanted that only a shot's answer can tell."""
    return any(getattr(layers, name) for name in _ANSWERED)


def layer_names() -> dict[str, str]:
    """What a person calls each layer, to the name of its switch.

    >>> layer_names()["90-degree-line"], layer_names()["rim-letters"]
    ('ninety_line', 'rim_letters')
    """
    named = {field.name.replace("_", "-"): field.name for field in fields(Layers)}
    named["90-degree-line"] = named.pop("ninety-line")
    return named


def chosen_layers(
    start: Layers,
    show: Sequence[str] = (),
    hide: Sequence[str] = (),
    only: Sequence[str] = (),
) -> Layers:
    """The layers with some switched on and some off; `only` starts from none but its own.

    `UnknownNameError` for a name that is not one of `layer_names`; `OutOfRangeError` for a layer
    that is both to be shown and hidden.

    >>> chosen_layers(Layers(), only=("balls", "letters")) == chosen_layers(
    ...     Layers(), show=("letters",), only=("balls",))
    True
    """
    named = layer_names()
    for name in (*show, *hide, *only):
        if name not in named:
            raise UnknownNameError("layer", name, tuple(named))
    for name in (*show, *only):
        if name in hide:
            raise OutOfRangeError("a layer", f"{name}, shown and hidden", "one of the two")
    if only:
        start = Layers(**dict.fromkeys(named.values(), False))
    on = {named[name]: True for name in (*only, *show)}
    return replace(start, **on, **{named[name]: False for name in hide})
