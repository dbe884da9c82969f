"""What a routine's drawing holds, layer by layer, and that its texts keep clear."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest

from designer.drawing import PLACEMENT_LAYERS, QUESTION_LAYERS, Layers, Look, build_drawing, roles
from designer.drawing.model import Arc, Disc, Fill, Stroke, Text
from designer.drawing.placing import boxes_meet, circle_meets_box, text_box
from engine.balls import Ball
from engine.routine.values import Gap, Routine
from tests.designer.samples.invented_answers import R, blue_and_back, placement, ten_balls
from tests.shares import mixed


def texts(drawing, *names):
    return [item for item in drawing.with_roles(*names) if isinstance(item, Text)]


def only(**wanted):
    """Layers with nothing but these on."""
    return replace(Layers(**dict.fromkeys(Layers.__slots__, False)), **wanted)


def test_balls_stand_where_the_routine_says():
    routine, answer = blue_and_back()
    drawing = build_drawing(routine, answer, only(balls=True, ball_letters=True))
    discs = [item for item in drawing.items if isinstance(item, Disc)]
    assert [disc.centre for disc in discs] == [ball.centre_mm for ball in routine.balls]
    assert all(disc.radius_mm + disc.edge_mm / 2 == pytest.approx(R) for disc in discs)
    assert [text.text for text in texts(drawing, roles.BALL_LETTER)] == [
        "Cue", "Bl", "R1", "R2", "Br", "Bk",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("layer", "role"),
    [
        ("table", roles.BED), ("marks", roles.MARKS), ("balls", roles.BALL),
        ("potting_line", roles.POTTING_LINE), ("ninety_line", roles.NINETY_LINE),
        ("contact", roles.CONTACT), ("lanes", roles.LANE), ("corridors", roles.CORRIDOR),
        ("letters", roles.LETTER), ("gaps", roles.GAP), ("measurements", roles.MEASURE),
    ],
)  # fmt: skip
def test_each_layer_switches_its_own_role(layer, role):
    routine, answer = blue_and_back()
    everything = Layers(measurements=True)
    assert build_drawing(routine, answer, everything).with_roles(role)
    assert not build_drawing(routine, answer, replace(everything, **{layer: False})).with_roles(
        role
    )


def test_the_same_arguments_give_the_same_drawing_and_the_table_the_same_objects():
    routine, answer = blue_and_back()
    one, other = build_drawing(routine, answer), build_drawing(routine, answer)
    assert one == other
    bed = roles.BED
    assert all(a is b for a, b in zip(one.with_roles(bed), other.with_roles(bed), strict=True))


def test_table_marks_are_at_the_published_places():
    """Official Rules of Snooker, WPBSA, section 1: baulk line 737 mm, D radius 292 mm."""
    marks = build_drawing(Routine(), None).with_roles(roles.MARKS)
    line = next(item for item in marks if isinstance(item, Stroke))
    arc = next(item for item in marks if isinstance(item, Arc))
    assert line.lines == (((0.0, 737.0), (1778.0, 737.0)),)
    assert (arc.centre, arc.radius_mm) == ((889.0, 737.0), 292.0)
    assert (arc.start_deg, arc.sweep_deg) == (180, 180)
    assert (889.0, 3245.0) in [item.centre for item in marks if isinstance(item, Disc)]


def test_cushions_leave_the_pocket_openings_free():
    """The narrowest place between two cushion outlines is the pocket's opening."""
    drawing = build_drawing(Routine(), None)
    outlines = [
        np.array(i.points) for i in drawing.with_roles(roles.CUSHION) if isinstance(i, Fill)
    ]
    assert len(outlines) == 6
    gaps = sorted(
        float(np.hypot(*(a[:, None] - b[None]).transpose(2, 0, 1)).min())
        for index, a in enumerate(outlines)
        for b in outlines[index + 1 :]
    )
    assert gaps[:4] == pytest.approx([88.9] * 4, abs=0.01)
    assert gaps[4:6] == pytest.approx([104.0] * 2, abs=0.01)


def test_a_lane_that_touches_is_fainter_after_its_first_touch():
    routine, answer = blue_and_back()
    lane = answer.shots[0].lanes[2]
    assert lane.first_touched == "red-2"
    alone = replace(answer, shots=(replace(answer.shots[0], lanes=(lane,)),))
    drawing = build_drawing(routine, alone, only(lanes=True))
    first, rest = [item for item in drawing.with_roles(roles.LANE) if isinstance(item, Stroke)]
    assert rest.opacity < first.opacity and rest.width_mm < first.width_mm
    touch = first.lines[0][-1]
    assert math.dist(touch, routine.ball("red-2").centre_mm) == pytest.approx(2 * R, abs=1e-6)
    assert rest.lines[0][0] == touch
    mark = next(item for item in drawing.with_roles(roles.TOUCH) if isinstance(item, Disc))
    assert math.dist(mark.centre, routine.ball("red-2").centre_mm) == pytest.approx(R, abs=1e-6)


def test_corridors_are_as_wide_as_the_cue_ball_and_lanes_differ_without_colour():
    routine, answer = blue_and_back()
    drawing = build_drawing(routine, answer)
    assert {item.width_mm for item in drawing.with_roles(roles.CORRIDOR)} == {2 * R}
    dashes = {item.dash for item in drawing.with_roles(roles.LANE) if item.opacity == 1.0}
    assert len(dashes) == 5


def test_every_lane_has_its_letter_and_letters_cover_neither_balls_nor_each_other():
    for routine, answer in (blue_and_back(), ten_balls()):
        for turned in (False, True):
            drawing = build_drawing(routine, answer, look=Look(turned=turned))
            letters = texts(drawing, roles.LETTER)
            labels = [lane.label for lane in answer.shots[0].lanes]
            assert [text.text for text in letters] == labels
            rounds = [
                item
                for item in drawing.with_roles(roles.LETTER)
                if isinstance(item, Disc) and item.radius_mm > 30
            ]
            for index, one in enumerate(rounds):
                for other in rounds[index + 1 :]:
                    assert math.dist(one.centre, other.centre) >= one.radius_mm + other.radius_mm
                for ball in routine.balls:
                    assert math.dist(one.centre, ball.centre_mm) >= one.radius_mm + R


def test_question_has_letters_on_the_rim_and_no_lane():
    routine, answer = blue_and_back()
    drawing = build_drawing(routine, answer, QUESTION_LAYERS)
    hidden = (roles.LANE, roles.CORRIDOR, roles.HATCH, roles.TOUCH, roles.POTTING_LINE,
              roles.NINETY_LINE, roles.CONTACT, roles.AIM_LINE, roles.VERDICT)  # fmt: skip
    assert not drawing.with_roles(*hidden)
    letters = texts(drawing, roles.LETTER)
    assert [text.text for text in letters] == ["A", "B", "C", "D", "E"]
    for text in letters:
        x, y = text.at
        assert x < 0 or x > 1778 or y < 0 or y > 3569
    assert len({text.colour for text in letters}) == 1


def test_gap_verdicts_are_told_by_sign_and_shape():
    routine, answer = blue_and_back()
    verdicts = build_drawing(routine, answer).with_roles(roles.VERDICT)
    signs = [item.text for item in verdicts if isinstance(item, Text)]
    assert signs == ["✓", "✗"]
    assert [type(item) for item in verdicts if not isinstance(item, Text)] == [Disc, Fill]


def test_gap_lines_end_on_ball_edges_and_cushion_faces():
    routine, answer = blue_and_back()
    drawing = build_drawing(routine, answer, only(gaps=True))
    dashed = [i for i in drawing.with_roles(roles.GAP) if isinstance(i, Stroke) and i.dash]
    (a, b), (c, d) = dashed[0].lines[0], dashed[1].lines[0]
    assert math.dist(a, routine.ball("red-1").centre_mm) == pytest.approx(R)
    assert math.dist(b, routine.ball("red-2").centre_mm) == pytest.approx(R)
    assert math.dist(c, routine.ball("red-2").centre_mm) == pytest.approx(R)
    assert d == (1778.0, 1180.0)


def test_half_made_gaps_do_not_stop_the_drawing():
    gaps = (
        Gap("a", "ball-ball", ("gone", "red-1")),
        Gap("b", "cushion-stretch", cushion="top"),
        Gap("c", "cloth-area"),
        Gap("d", "cannon", ("red-1",)),
        Gap("e", "of its own"),
    )
    routine, answer = blue_and_back()
    drawing = build_drawing(replace(routine, gaps=gaps), answer)
    named = [text.text for text in texts(drawing, roles.GAP)]
    assert named == ["cannon on red R1"], "the names a reader knows, not the file's ids"


def test_measurements_read_the_answers_placements():
    routine, answer = ten_balls()
    for unit, expected in (("mm", "Bl: 818"), ("inch", 'Bl: 32 3/16"')):
        drawing = build_drawing(routine, answer, PLACEMENT_LAYERS, unit)
        told = [text.text for text in texts(drawing, roles.MEASURE)]
        assert expected in told
        assert told.count("black spot") == 1
        assert len(told) == 2 * (2 * 8 + 2)


def random_routine(seed: int) -> Routine:
    """Up to ten balls thrown on the bed, some close together, some by a cushion."""
    rng = random.Random(seed)
    balls: list[Ball] = []
    kinds = ("cue", "red", "red", "red", "yellow", "green", "brown", "blue", "pink", "black")
    for index, kind in enumerate(kinds[: rng.randint(3, 10)]):
        for _ in range(200):
            near = rng.choice(balls) if balls and rng.random() < 0.4 else None
            x = rng.uniform(R, 1778 - R) if near is None else near.x_mm + rng.uniform(-120, 120)
            y = rng.uniform(R, 3569 - R) if near is None else near.y_mm + rng.uniform(-120, 120)
            inside = R <= x <= 1778 - R and R <= y <= 3569 - R
            if inside and all(math.dist((x, y), b.centre_mm) >= 2 * R for b in balls):
                balls.append(Ball(f"ball-{index}", kind, x, y))
                break
    return Routine(balls=tuple(balls))


@pytest.mark.parametrize(("unit", "turned"), mixed(("mm", "inch"), (False, True), usual=2))
@pytest.mark.slow
def test_readings_overlap_neither_each_other_nor_balls_nor_the_table(turned, unit):
    _, answer = blue_and_back()
    for seed in range(60):
        routine = random_routine(seed)
        placed = replace(answer, shots=(), placements=tuple(map(placement, routine.balls)))
        look = Look(turned=turned).at_scale(18.0)
        drawing = build_drawing(routine, placed, PLACEMENT_LAYERS, unit, look=look)
        readings = texts(drawing, roles.MEASURE, roles.SCALE_BAR)
        assert len(readings) >= 2 * len(routine.balls)
        boxes = [text_box(text) for text in readings]
        x0, y0, x1, y1 = drawing.bounds
        for index, box in enumerate(boxes):
            assert box[0] >= x0 and box[1] >= y0 and box[2] <= x1 and box[3] <= y1
            assert not boxes_meet(box, (0.0, 0.0, 1778.0, 3569.0))
            shrunk = (box[0] + 2, box[1] + 2, box[2] - 2, box[3] - 2)
            for other in boxes[index + 1 :]:
                assert not boxes_meet(shrunk, other), (seed, readings[index].text)
        for letter in texts(drawing, roles.BALL_LETTER):
            for ball in routine.balls:
                own = math.dist(letter.at, ball.centre_mm) < 1e-6
                box = text_box(letter)
                assert own or not circle_meets_box(ball.centre_mm, R * 0.9, box), seed


def test_no_text_is_smaller_than_seven_points_at_the_looks_scale():
    routine, answer = ten_balls()
    for scale in (12.0, 16.0, 21.0):
        drawing = build_drawing(
            routine, answer, Layers(measurements=True), look=Look().at_scale(scale)
        )
        sizes = [
            item.size_mm / scale / 25.4 * 72 for item in drawing.items if isinstance(item, Text)
        ]
        assert sizes and min(sizes) >= 6.99, min(sizes)


def test_lone_shot_is_drawn_alone():
    routine, answer = blue_and_back()
    second = replace(answer.shots[0], shot="shot-2")
    both = replace(answer, shots=(answer.shots[0], second))
    assert len(texts(build_drawing(routine, both), roles.LETTER)) == 10
    assert len(texts(build_drawing(routine, both, shot="shot-2"), roles.LETTER)) == 5


def test_nothing_to_answer_still_draws_the_set_up():
    routine, _ = blue_and_back()
    drawing = build_drawing(routine, None)
    assert len(drawing.with_roles(roles.BALL)) == 6
    assert not drawing.with_roles(roles.LANE, roles.POTTING_LINE)
    assert "black" in drawing.description and "3245" in drawing.description
