"""The part of the table that is shown: all that the question is about, and nothing told by it."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPointF

from designer.lesson.crop import LEAST_BALL, ROOM_MM, STEP_MM, crop, whole
from engine.answers import answer_shot
from engine.storage import load_routine

DEMOS = sorted(Path(__file__).parents[3].glob("layouts_demo/*.json"))
#: Table standing upright: its width and length on the screen, and the screen's height, px.
PICTURE, SCREEN = (500.0, 990.0), 768.0


def inside(part, places):
    x0, y0, x1, y1 = part
    return all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in places)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem[:2])
def test_balls_gaps_and_the_pocket_are_in_it(path):
    routine = load_routine(path)
    for shot in routine.shots:
        part = crop(routine, shot, answer_shot(routine, shot.id), PICTURE, SCREEN)
        wanted = {"cue", shot.object_ball} | {b for gap in routine.gaps for b in gap.balls}
        places = [ball.centre_mm for ball in routine.balls if ball.id in wanted]
        places += [corner for gap in routine.gaps for corner in gap.points_mm]
        assert len(places) >= 2 and inside(part, places)
        wide, high = part[2] - part[0], part[3] - part[1]
        if part != whole(routine, PICTURE, 0.0):
            assert wide / high == pytest.approx(PICTURE[0] / PICTURE[1])


@pytest.mark.quick
def test_it_is_the_same_whichever_lane_is_chosen(make_lesson):
    lesson = make_lesson(load_routine(DEMOS[3]))
    session = lesson._session
    parts = set()
    for lane in session.shot.lanes:
        session.point_at_lane(lane.label)
        session.answered.emit()
        parts.add(lesson.table.part)
    assert len(parts) == 1
    # The order in which lanes are listed makes no difference either.
    shot, found = session.shot, session.shot_answer
    turned = replace(found, lanes=found.lanes[::-1])
    args = (session.routine, shot)
    assert crop(*args, found, PICTURE, SCREEN) == crop(*args, turned, PICTURE, SCREEN)


def test_edges_are_round_figures_with_room_beyond_what_is_seen():
    """So that no edge tells how far exactly a lane goes."""
    routine = load_routine(DEMOS[4])
    (shot,) = routine.shots
    found = answer_shot(routine, shot.id)
    part = crop(routine, shot, found, PICTURE, SCREEN)
    ends = np.array([lane.path_mm[-1] for lane in found.lanes])
    assert inside(part, ends)
    for one in part:
        nearest = np.abs(ends - one).min()
        assert nearest >= ROOM_MM or one not in (part[0], part[2]) or one % STEP_MM == 0.0


def test_letters_at_the_ends_are_all_in_the_picture(make_lesson):
    lesson = make_lesson(load_routine(DEMOS[5]))
    assert lesson.table.layers.rim_letters
    lesson.grab()
    matrix = lesson.table.transform()
    scale = abs(matrix.m12()) or abs(matrix.m11())
    discs = [
        one
        for one in lesson.table._scenery.drawing(scale).with_roles("letter")
        if hasattr(one, "radius_mm") and one.radius_mm > 40.0
    ]
    assert len(discs) == 3
    for disc in discs:
        at, reach = matrix.map(QPointF(*disc.centre)), disc.radius_mm * scale
        box = lesson.table.rect()
        assert reach <= at.x() <= box.width() - reach and reach <= at.y() <= box.height() - reach


def test_balls_are_as_large_as_asked_where_they_can_be():
    routine = load_routine(DEMOS[3])
    (shot,) = routine.shots
    x0, y0, x1, y1 = crop(routine, shot, answer_shot(routine, shot.id), PICTURE, SCREEN)
    scale = min(PICTURE[0] / (x1 - x0), PICTURE[1] / (y1 - y0))
    assert 52.5 * scale >= LEAST_BALL * SCREEN
    x0, y0, x1, y1 = crop(routine, shot, None, PICTURE, SCREEN)
    assert min(PICTURE[0] / (x1 - x0), PICTURE[1] / (y1 - y0)) >= scale, "without lanes not less"
