"""Fullness, pocket windows and the pot against closed forms and hand-calculated set-ups."""

import math

import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.potting import cut_of_fullness, fullness_name, fullness_of_cut, pocket_window, pot
from engine.routine.values import Shot
from engine.shot import Strike, play
from engine.tables import load_table
from engine.tables.model import Pocket

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
R = CONDITIONS.ball_radius_mm


def cue(x, y):
    return Ball("cue", "cue", x, y)


def black(x=889.0, y=3245.0):
    return Ball("black", "black", x, y)


def red(name, x, y):
    return Ball(name, "red", x, y)


@pytest.mark.parametrize(("fullness", "cut"), [(0.5, 30.000), (0.25, 48.590), (0.75, 14.478)])
def test_cut_of_fullness_matches_geometry(fullness, cut):
    """physics.md, check row 1: geometry."""
    assert math.degrees(cut_of_fullness(fullness)) == pytest.approx(cut, abs=0.01)
    assert fullness_of_cut(math.radians(cut)) == pytest.approx(fullness, abs=1e-4)


@pytest.mark.parametrize(
    ("fullness", "name"),
    [(1.0, "full"), (0.876, "full"), (0.87, "three-quarter"), (0.63, "three-quarter"),
     (0.62, "half"), (0.38, "half"), (0.37, "quarter"), (0.13, "quarter"), (0.12, "fine"),
     (0.0, "miss")],
)  # fmt: skip
def test_fullness_takes_the_nearest_name(fullness, name):
    assert fullness_name(fullness) == name


def two_posts(gap_mm=100.0, radius=10.0):
    """A pocket of two jaws on the line y = 1000, about x = 0, the fall in their shadow."""
    middle = gap_mm / 2 + radius
    return Pocket(
        "p", "pocket", gap_mm, ((-middle, 1000.0), (middle, 1000.0)), radius, (0.0, 1060.0), 50.0
    )


def test_window_from_straight_ahead_is_bounded_by_tangents():
    """Tangent to a circle of radius r + R at distance d: asin((r + R)/d) off its centre."""
    window = pocket_window(two_posts(), (0.0, 0.0), 26.25)
    away = math.hypot(60.0, 1000.0)
    half = math.atan2(60.0, 1000.0) - math.asin(36.25 / away)
    assert window.direction_rad == pytest.approx(math.pi / 2)
    assert window.half_width_rad == pytest.approx(half, rel=1e-12)
    assert window.aim_mm == pytest.approx((0.0, 1000.0), abs=1e-9)


def test_both_edges_of_a_slanting_window_graze_the_inflated_jaws():
    pocket = two_posts()
    window = pocket_window(pocket, (300.0, 200.0), 26.25)
    grazed = []
    for edge in (-1, 1):
        angle = window.direction_rad + edge * window.half_width_rad
        step = (math.cos(angle), math.sin(angle))
        for jaw in pocket.jaws_mm:
            way = (jaw[0] - 300.0, jaw[1] - 200.0)
            grazed.append(abs(step[0] * way[1] - step[1] * way[0]))
    assert sum(math.isclose(one, 36.25, rel_tol=1e-9) for one in grazed) == 2
    assert min(grazed) == pytest.approx(36.25)


def test_pocket_narrower_than_the_ball_is_too_thin_and_aimed_at_its_throat():
    window = pocket_window(two_posts(gap_mm=50.0), (0.0, 0.0), 26.25)
    assert window.half_width_rad < 0.0 and not window.is_clean
    assert window.aim_mm == pytest.approx((0.0, 1000.0))


def test_ball_frozen_to_the_cushion_still_goes_in_along_it():
    """Straight along the face it grazes the near jaw, and falls before it meets the far one."""
    window = pocket_window(TABLE.pocket("top-left"), (R, 2600.0), R)
    assert window.is_clean
    low = window.direction_rad - window.half_width_rad
    high = window.direction_rad + window.half_width_rad
    assert high == pytest.approx(math.pi / 2, abs=1e-9) and low < high


def test_jaw_behind_the_edge_of_the_fall_is_no_limit():
    """A fall that reaches in front of the jaws: its own tangents set the window."""
    pocket = two_posts(gap_mm=60.0)
    early = Pocket("p", "pocket", 60.0, pocket.jaws_mm, pocket.jaw_radius_mm, (0.0, 900.0), 20.0)
    window = pocket_window(early, (0.0, 0.0), 26.25)
    assert window.half_width_rad == pytest.approx(math.asin(20.0 / 900.0))


def test_a_fall_met_along_the_jaws_line_is_aimed_at_itself():
    """Level with the line between the jaws: no crossing of it is ahead, so the fall is aimed at."""
    early = Pocket("p", "pocket", 60.0, two_posts().jaws_mm, 10.0, (0.0, 900.0), 20.0)
    window = pocket_window(early, (-500.0, 900.0), 26.25)
    assert window.direction_rad == pytest.approx(0.0, abs=1e-12)
    assert window.half_width_rad == pytest.approx(math.asin(20.0 / 500.0))
    assert window.aim_mm == (0.0, 900.0)


def test_a_ball_beyond_the_jaws_is_aimed_at_the_fall():
    """5 mm behind the line between the jaws, 5 before the fall: that line lies behind it."""
    window = pocket_window(two_posts(), (0.0, 1005.0), 26.25)
    assert window.is_clean and window.direction_rad == pytest.approx(math.pi / 2)
    assert window.aim_mm == (0.0, 1060.0)


def test_clean_window_agrees_with_the_shot_engine():
    """Played along both sides of each limit: in without a jaw just inside, a jaw just outside."""
    for place, pocket_id in (((889.0, 3245.0), "top-left"), ((600.0, 1500.0), "middle-left"),
                             ((R + 1.0, 2600.0), "top-left")):  # fmt: skip
        window = pocket_window(TABLE.pocket(pocket_id), place, R)
        assert window.is_clean
        for side in (-1, 1):
            for inside in (True, False):
                nudge = side * (window.half_width_rad + (-1e-4 if inside else 1e-4))
                trace = play(
                    TABLE, CONDITIONS, [cue(*place)], Strike(1500.0, 0.4),
                    window.direction_rad + nudge,
                )  # fmt: skip
                first = next(e for e in trace.events if e.kind not in ("struck", "rolling"))
                assert (first.kind == "potted") is inside, (place, side, inside, first)


def test_straight_pot_is_full_and_takes_the_place_behind_the_object_ball():
    line = pocket_window(TABLE.pocket("top-left"), (889.0, 3245.0), R).direction_rad
    place = cue(889.0 - 600.0 * math.cos(line), 3245.0 - 600.0 * math.sin(line))
    found = pot(TABLE, CONDITIONS, [place, black()], Shot("s", "black", "top-left"))
    assert found.on and found.cut_deg == pytest.approx(0.0, abs=1e-6)
    assert found.fullness_name == "full" and found.fullness == pytest.approx(1.0)
    assert math.dist(found.contact_mm, (889.0, 3245.0)) == pytest.approx(2 * R)


@pytest.mark.parametrize(("turn", "side"), [(30.0, "right"), (-30.0, "left")])
def test_half_ball_pot_is_named_with_its_side(turn, side):
    """The cue ball's line is turned about the contact by the cut, so φ is known beforehand."""
    line = pocket_window(TABLE.pocket("top-left"), (889.0, 3245.0), R).direction_rad
    contact = (889.0 - 2 * R * math.cos(line), 3245.0 - 2 * R * math.sin(line))
    way = line + math.radians(turn)
    place = cue(contact[0] - 700.0 * math.cos(way), contact[1] - 700.0 * math.sin(way))
    found = pot(TABLE, CONDITIONS, [place, black()], Shot("s", "black", "top-left"))
    assert found.cut_deg == pytest.approx(30.0, abs=1e-6)
    assert (found.fullness_name, found.cut_side) == ("half", side)
    assert found.contact_mm == pytest.approx(contact)


def test_ninety_line_is_square_to_the_potting_line_and_ends_at_a_cushion():
    found = pot(TABLE, CONDITIONS, [cue(1100, 2900), black()], Shot("s", "black", "top-left"))
    (ax, ay), (bx, by) = found.potting_line_mm
    (cx, cy), (dx, dy) = found.ninety_line_mm
    assert (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) == pytest.approx(0.0, abs=1e-6)
    assert dy == pytest.approx(TABLE.length_mm - R)
    # the cue ball comes from the right going up, so it leaves upwards
    assert dy > cy


def test_balls_in_the_way_are_named_with_their_overlap():
    """A red whose centre is 20 mm off the cue ball's line overlaps by 2R − 20."""
    place = cue(1100.0, 2900.0)
    free = pot(TABLE, CONDITIONS, [place, black()], Shot("s", "black", "top-left"))
    (ax, ay), (bx, by) = free.aim_line_mm
    far = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / far, (by - ay) / far
    red1 = red("r1", ax + 150 * ux - 20 * uy, ay + 150 * uy + 20 * ux)
    found = pot(TABLE, CONDITIONS, [place, black(), red1], Shot("s", "black", "top-left"))
    assert not found.on
    (way,) = [one for one in found.reasons if one.kind == "way-blocked"]
    assert way.ball == "r1" and way.mm == pytest.approx(2 * R - 20, abs=0.05)


def test_blocked_potting_line_and_covered_contact_are_told():
    shot = Shot("s", "black", "top-left")
    blocker = red("r1", 450.0, 3400.0)
    found = pot(TABLE, CONDITIONS, [cue(1100, 2900), black(), blocker], shot)
    assert [r for r in found.reasons if (r.kind, r.ball) == ("line-blocked", "r1")]
    x, y = found.contact_mm
    found = pot(TABLE, CONDITIONS, [cue(1100, 2900), black(), red("r2", x + 30, y)], shot)
    (covered,) = [one for one in found.reasons if one.kind == "contact-covered"]
    assert covered.ball == "r2" and covered.mm == pytest.approx(22.5, abs=0.05)


@pytest.mark.parametrize(("nearer_mm", "blocks"), [(0.0, False), (0.01, True)])
def test_ball_that_just_touches_the_way_does_not_block(nearer_mm, blocks):
    shot = Shot("s", "black", "top-left")
    (ax, ay), (bx, by) = pot(TABLE, CONDITIONS, [cue(1100, 2900), black()], shot).aim_line_mm
    far, off = math.dist((ax, ay), (bx, by)), 2 * R - nearer_mm
    ux, uy = (bx - ax) / far, (by - ay) / far
    grazing = red("r1", ax + 150 * ux + off * uy, ay + 150 * uy - off * ux)
    found = pot(TABLE, CONDITIONS, [cue(1100, 2900), black(), grazing], shot)
    assert any((r.kind, r.ball) == ("way-blocked", "r1") for r in found.reasons) is blocks


def test_cuts_beyond_ninety_and_beyond_practice_are_off():
    shot = Shot("s", "black", "top-left")
    behind = pot(TABLE, CONDITIONS, [cue(300, 3400), black()], shot)
    assert behind.cut_deg > 90.0 and not behind.on and behind.reasons[0].kind == "cut-past-90"
    line = pocket_window(TABLE.pocket("top-left"), (889.0, 3245.0), R).direction_rad
    contact = (889.0 - 2 * R * math.cos(line), 3245.0 - 2 * R * math.sin(line))
    way = line - math.radians(85)
    thin = cue(contact[0] - 700 * math.cos(way), contact[1] - 700 * math.sin(way))
    found = pot(TABLE, CONDITIONS, [thin, black()], shot)
    assert "cut-too-thin" in [one.kind for one in found.reasons]
    assert found.fullness_name == "fine"


def test_contact_position_in_a_cushion_is_off():
    """A ball frozen to the top cushion, potted down the table: the contact lies in the cushion."""
    frozen = Ball("black", "black", 889.0, TABLE.length_mm - R)
    found = pot(TABLE, CONDITIONS, [cue(889, 2000), frozen], Shot("s", "black", "bottom-left"))
    assert "contact-off-bed" in [one.kind for one in found.reasons]


def test_names_that_are_not_there_are_refused():
    balls = [cue(1100, 2900), black()]
    with pytest.raises(UnknownNameError, match="no ball called 'pink'"):
        pot(TABLE, CONDITIONS, balls, Shot("s", "pink", "top-left"))
    with pytest.raises(UnknownNameError, match="no pocket called 'left'"):
        pot(TABLE, CONDITIONS, balls, Shot("s", "black", "left"))
    with pytest.raises(UnknownNameError, match="cue ball"):
        pot(TABLE, CONDITIONS, balls[1:], Shot("s", "black", "top-left"))
    with pytest.raises(OutOfRangeError, match="other than the cue ball"):
        pot(TABLE, CONDITIONS, balls, Shot("s", "cue", "top-left"))
