"""Jaws, falls and faces: the geometry of pockets, checked with shapely as a second opinion."""

import math

import pytest
import shapely
from shapely.geometry import LineString, Point, box

from engine.tables import load_table

BALL_MM = 26.25  # radius; diameter 52.5 mm, Official Rules of Snooker, WPBSA, section 1
POCKETS = ("bottom-left", "bottom-right", "middle-left", "middle-right", "top-left", "top-right")


@pytest.fixture(scope="module")
def table():
    return load_table("snooker-12ft")


def test_pocket_ids_and_face_count(table):
    assert tuple(pocket.id for pocket in table.pockets) == POCKETS
    names = [face.cushion for face in table.faces]
    assert names == ["left", "left", "right", "right", "bottom", "top"]


@pytest.mark.parametrize("pocket_id", POCKETS)
def test_opening_is_the_least_distance_between_the_jaws(table, pocket_id):
    pocket = table.pocket(pocket_id)
    gap = math.dist(*pocket.jaws_mm) - 2 * pocket.jaw_radius_mm
    assert gap == pytest.approx(pocket.opening_mm, abs=1e-9)


@pytest.mark.parametrize("pocket_id", POCKETS)
def test_jaws_continue_the_straight_faces_without_a_corner(table, pocket_id):
    pocket = table.pocket(pocket_id)
    ends = [point for face in table.faces for point in (face.start_mm, face.end_mm)]
    for jaw in pocket.jaws_mm:
        touching = [end for end in ends if abs(math.dist(end, jaw) - pocket.jaw_radius_mm) < 1e-9]
        assert len(touching) == 1, "each arc meets one face at one tangent point"
        (end,) = touching
        # Tangent: the radius to the tangent point is square to the face.
        assert min(abs(end[0] - jaw[0]), abs(end[1] - jaw[1])) < 1e-9


def test_table_is_the_same_seen_in_a_mirror(table):
    for left, right in (("bottom-left", "bottom-right"), ("middle-left", "middle-right")):
        a, b = table.pocket(left), table.pocket(right)
        assert b.fall_mm == pytest.approx((table.width_mm - a.fall_mm[0], a.fall_mm[1]))
    low, high = table.pocket("bottom-left"), table.pocket("top-left")
    assert high.fall_mm == pytest.approx((low.fall_mm[0], table.length_mm - low.fall_mm[1]))


def _outside_and_bed(table, pocket):
    """A point well behind the pocket and one on the bed before it."""
    x, y = pocket.throat_mm
    out_x = -1 if x < table.width_mm / 2 else 1
    out_y = 0 if "middle" in pocket.id else (-1 if y < table.length_mm / 2 else 1)
    return (
        Point(x + 300 * out_x, y + 300 * out_y),
        Point(x - 400 * out_x, y - 400 * out_y),
    )


def _free_for_centre(table, pocket, ball_mm, with_fall):
    """Where a ball's centre may be, by shapely; without the fall of that pocket if asked."""
    room = box(-600, -600, table.width_mm + 600, table.length_mm + 600)
    taken = [
        LineString([face.start_mm, face.end_mm]).buffer(ball_mm, quad_segs=64)
        for face in table.faces
    ]
    for each in table.pockets:
        for jaw in each.jaws_mm:
            taken.append(Point(jaw).buffer(each.jaw_radius_mm + ball_mm, quad_segs=256))
        if with_fall or each is not pocket:
            taken.append(Point(each.fall_mm).buffer(each.fall_radius_mm, quad_segs=256))
    return shapely.difference(room, shapely.union_all(taken))


def _joined(free, a, b):
    parts = shapely.get_parts(free)
    return any(part.contains(a) and part.contains(b) for part in parts)


@pytest.mark.parametrize("opening", [60.0, None, 140.0])
@pytest.mark.parametrize("pocket_id", ["bottom-left", "middle-right", "top-right"])
def test_no_ball_passes_between_the_jaws_without_entering_the_fall(pocket_id, opening):
    table = load_table("snooker-12ft", dict.fromkeys(POCKETS, opening) if opening else {})
    pocket = table.pocket(pocket_id)
    outside, bed = _outside_and_bed(table, pocket)
    # The check can fail: without the fall a ball does pass.
    assert _joined(_free_for_centre(table, pocket, BALL_MM, with_fall=False), outside, bed)
    assert not _joined(_free_for_centre(table, pocket, BALL_MM, with_fall=True), outside, bed)


@pytest.mark.parametrize("pocket_id", POCKETS)
def test_a_ball_touching_the_cushion_beside_a_pocket_has_not_dropped(table, pocket_id):
    pocket = table.pocket(pocket_id)
    centres = []
    for face in table.faces:
        for x, y in (face.start_mm, face.end_mm):
            inward_x = {"left": BALL_MM, "right": -BALL_MM}.get(face.cushion, 0)
            inward_y = {"bottom": BALL_MM, "top": -BALL_MM}.get(face.cushion, 0)
            centres.append((x + inward_x, y + inward_y))
    assert all(math.dist(xy, pocket.fall_mm) > pocket.fall_radius_mm + 10 for xy in centres)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_ball_on_the_face_line_of_a_middle_pocket_has_not_dropped(table, side):
    pocket = table.pocket(f"middle-{side}")
    on_line = (0.0 if side == "left" else table.width_mm, table.length_mm / 2)
    assert math.dist(on_line, pocket.fall_mm) == pytest.approx(pocket.fall_radius_mm + 8)


def test_a_ball_hanging_before_a_corners_throat_has_not_dropped_one_in_the_throat_has(table):
    # The shelf's depth is from memory: a centre 15 mm before the narrowest place still hangs.
    pocket = table.pocket("bottom-left")
    x, y = pocket.throat_mm
    step = 15 / math.sqrt(2)
    assert math.dist((x + step, y + step), pocket.fall_mm) > pocket.fall_radius_mm
    assert math.dist((x, y), pocket.fall_mm) < pocket.fall_radius_mm
    # On the chord between the tangent points, in front of the mouth.
    reach = pocket.jaws_mm[0][1]
    assert math.dist((reach / 2, reach / 2), pocket.fall_mm) > pocket.fall_radius_mm + 25
    # On either face line a ball that clears the jaw is already past the throat: it has dropped.
    depth = math.sqrt((pocket.jaw_radius_mm + BALL_MM) ** 2 - pocket.jaw_radius_mm**2)
    on_line = (0.0, reach - depth)
    assert sum(on_line) < x + y
    assert math.dist(on_line, pocket.fall_mm) < pocket.fall_radius_mm


def test_narrower_openings_move_the_jaws_closer_and_keep_tangency():
    narrow = load_table("snooker-12ft", {"top-left": 80.0})
    wide = load_table("snooker-12ft", {"top-left": 95.0})
    reach = [table.length_mm - table.pocket("top-left").jaws_mm[0][1] for table in (narrow, wide)]
    assert reach[0] < reach[1]
    assert reach[1] - reach[0] == pytest.approx(15 / math.sqrt(2))
