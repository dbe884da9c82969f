"""Tables of other sizes and games against their published values; each test names the rule.

Values marked "from memory" in the data are checked for being so marked, not against anything.
"""

import math

import pytest

from engine.tables import load_table, table_ids
from engine.units import inch_from_mm, mm_from_inch

SMALL = (10, 9, 8, 7, 6)
ALL = table_ids()


def value(table_id, name):
    return load_table(table_id).values[name]


def test_the_tables_there_are():
    small = {f"snooker-{feet}ft" for feet in SMALL}
    assert set(ALL) == small | {"snooker-12ft", "pool-8ft", "pool-9ft", "uk-pool-7ft", "carom"}


# WPA equipment specification, November 2001 ---------------------------------------------------


@pytest.mark.parametrize(
    ("table_id", "length_in", "width_in"), [("pool-9ft", 100, 50), ("pool-8ft", 92, 46)]
)
def test_pool_areas_of_the_wpa_specification_of_november_2001(table_id, length_in, width_in):
    table = load_table(table_id)
    assert table.length_mm == pytest.approx(mm_from_inch(length_in), abs=1e-9)
    assert table.width_mm == pytest.approx(mm_from_inch(width_in), abs=1e-9)
    for name in ("length_mm", "width_mm"):
        found = table.values[name]
        assert found.tolerance == pytest.approx(mm_from_inch(1 / 8))
        assert found.confidence == "A"
        assert "WPA" in found.source and "November 2001" in found.source


@pytest.mark.parametrize(("table_id", "from_nose_mm"), [("pool-9ft", 635.0), ("pool-8ft", 584.2)])
def test_pool_strings_spots_and_sights_of_the_wpa_specification(table_id, from_nose_mm):
    table = load_table(table_id)
    assert table.baulk_y_mm == pytest.approx(from_nose_mm)  # head string, a quarter of the length
    assert table.length_mm - table.values["foot_string_y_mm"].value == pytest.approx(from_nose_mm)
    assert table.spot("head").y_mm == pytest.approx(from_nose_mm)
    assert table.length_mm - table.spot("foot").y_mm == pytest.approx(from_nose_mm)
    assert table.spot("foot").x_mm == table.width_mm / 2
    assert table.values["sight_along_mm"].value == pytest.approx(table.length_mm / 8)
    assert table.values["sight_across_mm"].value == pytest.approx(table.width_mm / 4)


@pytest.mark.parametrize("table_id", ["pool-9ft", "pool-8ft"])
def test_pool_balls_and_pockets_of_the_wpa_specification(table_id):
    ball, mass = value(table_id, "ball_diameter_mm"), value(table_id, "ball_mass_kg")
    assert (ball.value, ball.tolerance) == (57.15, 0.127) and ball.confidence == "A"
    assert (mass.value - mass.tolerance, mass.value + mass.tolerance) == pytest.approx(
        (0.156, 0.170)
    )
    for shape, low, high, cut in (("corner", 114.3, 117.5, 142), ("middle", 127.0, 130.2, 104)):
        mouth, angle = value(table_id, f"{shape}_opening_mm"), value(table_id, f"{shape}_cut_deg")
        assert mouth.value - mouth.tolerance == pytest.approx(low, abs=0.05)
        assert mouth.value + mouth.tolerance == pytest.approx(high, abs=0.05)
        assert (angle.value, angle.tolerance) == (cut, 1)
    nose = value(table_id, "cushion_nose_mm")
    assert nose.value == pytest.approx(0.635 * 57.15, abs=0.05) and nose.confidence == "B"
    assert nose.tolerance == pytest.approx(0.01 * 57.15, abs=0.05)


def test_pool_shelves_are_from_memory():
    # 25-57 mm and 0-10 mm: from memory
    corner, side = value("pool-9ft", "corner_shelf_mm"), value("pool-9ft", "middle_shelf_mm")
    assert (corner.value - corner.tolerance, corner.value + corner.tolerance) == (25, 57)
    assert (side.value - side.tolerance, side.value + side.tolerance) == (0, 10)
    assert corner.confidence == side.confidence == "Mem"


# UK pool: WEPF, Blackball and BAPTO texts -----------------------------------------------------


def test_uk_pool_area_and_marks():
    table = load_table("uk-pool-7ft")
    assert table.length_mm == pytest.approx(mm_from_inch(72))
    assert table.width_mm == pytest.approx(mm_from_inch(36))
    assert table.baulk_y_mm == pytest.approx(table.length_mm / 5)
    assert table.baulk_y_mm == pytest.approx(365.8, abs=0.05)  # as the text rounds it
    # the black spot is the centre of the top half
    assert table.spot("black").y_mm == pytest.approx(0.75 * table.length_mm)
    assert table.length_mm - table.spot("black").y_mm == pytest.approx(457.2)
    assert table.values["length_mm"].confidence == "B"
    assert table.values["baulk_y_mm"].confidence == "A"


def test_uk_pool_balls_are_unequal():
    found = {name: value("uk-pool-7ft", name) for name in load_table("uk-pool-7ft").values}
    assert (found["ball_diameter_mm"].value, found["ball_mass_kg"].value) == (50.8, 0.116)
    assert (found["cue_ball_diameter_mm"].value, found["cue_ball_mass_kg"].value) == (47.6, 0.094)
    assert found["ball_mass_kg"].tolerance == found["cue_ball_mass_kg"].tolerance == 0.002
    assert inch_from_mm(50.8) == pytest.approx(2.0)


def test_uk_pool_pockets_are_1_6_balls_at_the_fall():
    opening = value("uk-pool-7ft", "corner_opening_mm")
    assert opening.value == pytest.approx(1.6 * 50.8, abs=0.05)
    assert opening.tolerance == pytest.approx(mm_from_inch(1 / 8))
    assert load_table("uk-pool-7ft").pocket("middle-left").opening_mm == opening.value


# Carom: UMB section 2, DBU norms --------------------------------------------------------------


def test_carom_of_umb_section_2():
    table = load_table("carom")
    assert (table.width_mm, table.length_mm) == (1420.0, 2840.0)
    assert table.values["length_mm"].tolerance == 5 and table.values["length_mm"].confidence == "A"
    nose = table.values["cushion_nose_mm"]
    assert (nose.value, nose.tolerance, nose.confidence) == (37.0, 1.0, "A")
    ball, mass = table.values["ball_diameter_mm"], table.values["ball_mass_kg"]
    assert (ball.value - ball.tolerance, ball.value + ball.tolerance) == (61.0, 61.5)
    assert mass.value - mass.tolerance == pytest.approx(0.205)
    assert mass.value + mass.tolerance == pytest.approx(0.220)
    assert ball.confidence == mass.confidence == "B"


def test_carom_spots_of_the_dbu_norms_and_no_pockets():
    table = load_table("carom")
    assert table.spot("bottom-end").y_mm == 710
    assert table.length_mm - table.spot("top-end").y_mm == 710
    assert table.spot("start-right").x_mm - 710 == 710 - table.spot("start-left").x_mm == 182.5
    assert table.pockets == () and table.baulk_y_mm is None and table.d_radius_mm is None
    assert len(table.faces) == 4


# Small snooker tables -------------------------------------------------------------------------


@pytest.mark.parametrize("feet", SMALL)
def test_small_snooker_tables_are_proportional_and_say_so(feet):
    # proportions of the Official Rules of Snooker, WPBSA, section 1; no scaling rule was found
    table, full = load_table(f"snooker-{feet}ft"), load_table("snooker-12ft")
    assert "proportional, no official standard" in table.title
    assert table.rule.startswith("no official standard")
    assert table.length_mm == pytest.approx(full.length_mm * feet / 12, abs=1e-3)
    assert table.baulk_y_mm / table.length_mm == pytest.approx(0.2064, abs=2e-4)
    assert table.d_radius_mm / table.width_mm == pytest.approx(0.1643, abs=2e-4)
    black = (table.length_mm - table.spot("black").y_mm) / table.length_mm
    assert black == pytest.approx(0.0907, abs=2e-4)
    assert table.spot("blue").y_mm == pytest.approx(table.length_mm / 2, abs=1e-3)
    assert table.spot("pink").y_mm == pytest.approx(table.length_mm * 3 / 4, abs=1e-3)
    assert {table.values[n].confidence for n in ("width_mm", "length_mm", "baulk_y_mm")} == {"D"}


# All of them ----------------------------------------------------------------------------------


@pytest.mark.parametrize("table_id", ALL)
def test_every_value_has_rule_edition_and_a_known_confidence(table_id):
    for name, found in load_table(table_id).values.items():
        rule, _, edition = found.source.partition("; ")
        assert rule and edition, name
        assert found.confidence in {"A", "B", "D", "Mem"}, name
        assert found.tolerance is None or found.tolerance > 0, name


@pytest.mark.parametrize("table_id", ALL)
def test_lengths_convert_exactly_both_ways(table_id):
    for name, found in load_table(table_id).values.items():
        if name.endswith("_mm"):
            there_and_back = mm_from_inch(inch_from_mm(found.value))
            assert there_and_back == pytest.approx(found.value, rel=1e-15), name


@pytest.mark.parametrize("table_id", ALL)
def test_a_face_ends_where_its_jaw_begins(table_id):
    table = load_table(table_id)
    for pocket in table.pockets:
        touching = [
            end
            for face in table.faces
            for end in (face.start_mm, face.end_mm)
            for jaw in pocket.jaws_mm
            if abs(math.dist(end, jaw) - pocket.jaw_radius_mm) < 1e-6
        ]
        assert len(touching) == 2, pocket.id


# Straight jaws --------------------------------------------------------------------------------


def nose_tip(face_end, facing):
    """Where the lines of face and facing meet: how a mouth is measured."""
    (x, y), (ax, ay), (bx, by) = face_end, facing.start_mm, facing.end_mm
    ux, uy = bx - ax, by - ay
    if abs(x) < 1e-9 or abs(x - 1270) < 1e-9:
        share = (x - ax) / ux
        return (x, ay + share * uy)
    share = (y - ay) / uy
    return (ax + share * ux, y)


@pytest.mark.parametrize(
    ("pocket_id", "mouth", "cut"), [("bottom-left", 115.9, 142), ("middle-right", 128.6, 104)]
)
def test_mouth_and_cut_of_straight_jaws_are_as_the_rule_measures_them(pocket_id, mouth, cut):
    # WPA: mouth from nose tip to nose tip, cut between cushion nose line and facing
    table = load_table("pool-9ft")
    pocket = table.pocket(pocket_id)
    tips = []
    for jaw, facing in zip(pocket.jaws_mm, pocket.facings, strict=True):
        end, face = next(
            (end, face)
            for face in table.faces
            for end in (face.start_mm, face.end_mm)
            if abs(math.dist(end, jaw) - pocket.jaw_radius_mm) < 1e-6
        )
        tips.append(nose_tip(end, facing))
        other = face.start_mm if end == face.end_mm else face.end_mm
        along = (other[0] - end[0], other[1] - end[1])
        back = (
            facing.end_mm[0] - facing.start_mm[0],
            facing.end_mm[1] - facing.start_mm[1],
        )
        cos = (along[0] * back[0] + along[1] * back[1]) / (math.hypot(*along) * math.hypot(*back))
        assert math.degrees(math.acos(cos)) == pytest.approx(cut, abs=1e-6)
        # the rounded tip runs smoothly into the facing
        assert math.dist(facing.start_mm, jaw) == pytest.approx(pocket.jaw_radius_mm)
    assert math.dist(*tips) == pytest.approx(mouth, abs=1e-6)
