"""The name of a gap is told from those of others, however small the drawing."""

import itertools
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from designer.drawing import build_drawing, roles
from designer.drawing.look import PAPER, SCREEN_LOOK
from designer.drawing.model import Fill, Stroke
from designer.drawing.placing import lines_meet_box
from engine.storage import load_routine

DEMOS = sorted(Path(__file__).resolve().parents[3].joinpath("layouts_demo").glob("*.json"))
#: Table mm for each mm of paper: a half page and the table to draw a guess on.
SCALES = (18.0, 23.0, 28.0)


def names_of(drawing):
    """The boxes of the names, and the stroke from each to its gap, in the order they are drawn."""
    items = drawing.with_roles(roles.GAP)
    found = []
    for stroke, box in itertools.pairwise(items):
        if isinstance(stroke, Stroke) and isinstance(box, Fill) and box.colour == PAPER:
            corners = np.array(box.points)
            found.append((np.array(stroke.lines[0]), (*corners.min(axis=0), *corners.max(axis=0))))
    return found


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("turned", [False, True])
def test_no_stroke_to_a_gap_comes_out_of_another_gaps_name(scale, turned):
    """Seen: a stroke that ran from one name through the next, and seemed to come from that."""
    seen = 0
    for path in DEMOS:
        routine = load_routine(path)
        look = replace(SCREEN_LOOK.at_scale(scale), turned=turned)
        found = names_of(build_drawing(routine, None, look=look))
        assert len(found) == len(routine.gaps)
        seen += len(found)
        for at, (stroke, _) in enumerate(found):
            others = [box for other, (_, box) in enumerate(found) if other != at]
            assert not [box for box in others if lines_meet_box(stroke.reshape(1, 4), box)[0]], path
    assert seen >= 20
