"""Moving a routine: by cushions, spots and proportion; what survives, what no longer fits."""

import math

import pytest

from engine.balls import Ball
from engine.errors import UnknownNameError
from engine.moving import FIT, WAYS, Target, move, new_problems, report
from engine.moving.places import Side, places
from engine.problems import problems_of
from engine.results import Fact
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import dump_routine, parse_routine
from engine.tables import MeasuredTable, load_table, table_ids

R = 26.25
ROUTINE = Routine(
    "Black and back",
    balls=(
        Ball("cue", "cue", 700.0, 2700.0),
        Ball("black", "black", 889.0, 3245.0),
        Ball("red-1", "red", R, 1000.0),
        Ball("red-2", "red", 1778.0 - 200.0, 900.0),
    ),
    shots=(Shot("s", "black", "top-right", lanes=(LaneAsk("A", -0.3, 4.0),)),),
    gaps=(
        Gap("stretch", "cushion-stretch", cushion="left", from_mm=500.0, to_mm=3000.0),
        Gap("area", "cloth-area", points_mm=((100.0, 100.0), (600.0, 100.0), (889.0, 900.0))),
        Gap("side", "ball-cushion", ("red-2",), "right"),
    ),
    claims=(Claim("pot-on", "s"), Claim("pot-off", "s")),
    conditions={"sliding_friction": 0.19, "pace_speeds_m_s": [0.4 * k for k in range(1, 11)]},
    pocket_openings_mm={"top-right": 90.0},
)


def moved(table, by, **more):
    return move(ROUTINE, Target(table, **more), by)


def test_by_cushions_every_ball_keeps_its_tape_readings():
    found = moved("snooker-10ft", "cushions").routine
    table = table_of(found)
    cue, black, left, right = (found.ball(b) for b in ("cue", "black", "red-1", "red-2"))
    assert cue.x_mm == 700.0
    assert table.length_mm - cue.y_mm == pytest.approx(3569 - 2700)
    assert black.x_mm == table.width_mm / 2  # it stood on the middle line
    assert (left.x_mm, left.y_mm) == (R, 1000.0)
    assert table.width_mm - right.x_mm == pytest.approx(200.0)
    stretch, area = found.gap("stretch"), found.gap("area")
    assert stretch.from_mm == 500.0
    assert table.length_mm - stretch.to_mm == pytest.approx(569.0)
    assert area.points_mm[0] == (100.0, 100.0) and area.points_mm[2][0] == table.width_mm / 2


def test_by_cushions_other_ball_sizes_keep_the_room_to_the_cushion():
    found = moved("pool-9ft", "cushions").routine
    assert found.ball("red-1").x_mm == pytest.approx(28.575)  # still tight on the cushion
    assert 1270.0 - found.ball("red-2").x_mm == pytest.approx(200.0 - R + 28.575)


def test_by_spots_every_ball_keeps_its_offset_from_the_nearest_common_spot():
    found = moved("snooker-9ft", "spots").routine
    table = table_of(found)
    black = table.spot("black")
    assert found.ball("black").centre_mm == (black.x_mm, black.y_mm)
    pink, old_pink = table.spot("pink"), load_table("snooker-12ft").spot("pink")
    assert found.ball("cue").x_mm - pink.x_mm == pytest.approx(700.0 - old_pink.x_mm)
    assert found.ball("cue").y_mm - pink.y_mm == pytest.approx(2700.0 - old_pink.y_mm)


def test_by_spots_spots_of_other_games_stand_for_each_other():
    on_blue = Routine(balls=(Ball("cue", "cue", 889.0, 1784.5), Ball("b", "black", 889.0, 737.0)))
    found = move(on_blue, Target("pool-8ft"), "spots").routine
    table = table_of(found)
    assert found.ball("cue").centre_mm == (table.spot("centre").x_mm, table.spot("centre").y_mm)
    assert found.ball("b").centre_mm == (table.spot("head").x_mm, table.spot("head").y_mm)


def test_in_proportion_every_ball_keeps_its_share_of_the_room():
    found = moved("snooker-6ft", "proportion").routine
    table, radius = table_of(found), conditions_of(found).ball_radius_mm
    assert found.ball("red-1").x_mm == pytest.approx(radius)
    share = (700.0 - R) / (1778.0 - 2 * R)
    assert found.ball("cue").x_mm == pytest.approx(radius + share * (table.width_mm - 2 * radius))
    assert found.gap("stretch").from_mm == pytest.approx(500.0 / 3569 * table.length_mm)


def test_in_proportion_an_aim_turns_with_the_tables_shape():
    plain = Routine(shots=(Shot("s", aim_deg=45.0), Shot("t", aim_deg=-90.0)))
    found = move(plain, Target("carom"), "proportion").routine
    wanted = math.degrees(math.atan2(2840 / 3569, 1420 / 1778))
    assert found.shot("s").aim_deg == pytest.approx(wanted)
    assert found.shot("t").aim_deg == pytest.approx(-90.0)
    assert move(plain, Target("carom"), "cushions").routine.shot("s").aim_deg == 45.0


def test_conditions_of_the_old_table_stay_behind_unless_kept():
    found = moved("pool-9ft", "cushions")
    assert set(found.routine.conditions) == {"pace_speeds_m_s"}
    assert any("sliding_friction" in note.names for note in found.notes)
    assert Fact("openings-left-behind") in found.notes
    assert found.routine.pocket_openings_mm == {}
    kept = moved("pool-9ft", "cushions", keep_conditions=True)
    assert kept.routine.conditions == ROUTINE.conditions
    own = moved("pool-9ft", "cushions", conditions={"rolling_resistance": 0.008})
    assert conditions_of(own.routine).rolling_resistance == 0.008
    assert "pace_speeds_m_s" in own.routine.conditions


def test_a_table_without_pockets_takes_the_pocket_and_says_so():
    found = moved("carom", "cushions")
    assert found.routine.shot("s").pocket == ""
    assert any(note.pocket == "top-right" for note in found.notes)
    parse_routine(dump_routine(found.routine))  # it can still be saved and opened


def test_a_coachs_own_table_goes_into_the_routine():
    own = MeasuredTable("ours", {"width_mm": 1770.0})
    found = moved("snooker-12ft", "cushions", measured=own).routine
    assert found.measured_table == own
    assert 1770.0 - found.ball("red-2").x_mm == pytest.approx(200.0)
    assert parse_routine(dump_routine(found)).measured_table == own


@pytest.mark.slow
def test_the_report_tells_claims_and_what_no_longer_fits():
    found = report(ROUTINE, moved("snooker-12ft", "cushions"))
    assert [claim.became for claim in found.claims] == ["survives", "fails"]
    assert found.all_well and not found.unfit
    crowded = Routine(
        balls=(Ball("cue", "cue", 440.0, 600.0), Ball("red-1", "red", 1778.0 - 470.0, 600.0)),
        claims=(),
    )
    tight = report(crowded, move(crowded, Target("uk-pool-7ft"), "cushions"))
    assert not tight.all_well
    assert [problem.kind for problem in tight.unfit] == ["overlap"]
    assert Fact("now-in-left-half", ball="red-1") in tight.notes
    assert tight.new_table.startswith("UK pool, 7 ft")


def test_problems_the_routine_had_before_are_not_the_moves():
    bare = Routine()
    found = report(bare, move(bare, Target("carom"), "cushions"))
    assert problems_of(bare) and not found.unfit and found.all_well


def on_bed(routine):
    """Whether every ball stands wholly between the cushions."""
    table, radius = table_of(routine), conditions_of(routine).ball_radius_mm
    return all(
        radius - 1e-6 <= at <= size - radius + 1e-6
        for ball in routine.balls
        for at, size in zip(ball.centre_mm, (table.width_mm, table.length_mm), strict=True)
    )


def test_what_fits_by_cushions_goes_by_cushions():
    found = moved("snooker-10ft", FIT)
    assert found.by == "cushions" and found == moved("snooker-10ft", "cushions")
    assert not any("not-fit" in note.kind for note in found.notes)


def test_what_does_not_fit_by_cushions_goes_by_a_way_by_which_it_does():
    """Far apart on the full size, from either side, the two would meet on a small table."""
    wide = Routine(balls=(Ball("cue", "cue", 440.0, 600.0), Ball("r", "red", 1308.0, 600.0)))
    assert new_problems((), problems_of(moved_by(wide, "uk-pool-7ft", "cushions").routine))
    found = moved_by(wide, "uk-pool-7ft", FIT)
    assert on_bed(found.routine) and not problems_of(found.routine)
    assert found.by != "cushions" and found.notes[0].kind == "moved-as-else-not-fit"


def moved_by(routine, table, by):
    return move(routine, Target(table), by)


def test_where_nothing_fits_the_least_is_amiss():
    """A row of touching balls across the bed: on a small table it fits by no way."""
    row = [Ball(f"r{i}", "red", 30.0 + 52.5 * i, 1770.0) for i in range(33)]
    long = Routine(balls=(Ball("cue", "cue", 889.0, 3500.0), *row))
    was = problems_of(long)
    unfit = {
        by: new_problems(was, problems_of(moved_by(long, "snooker-6ft", by).routine)) for by in WAYS
    }
    assert all(unfit.values())
    assert {"off-bed"} <= {one.kind for one in unfit["spots"]}, "fewest, but off the bed"
    assert len(unfit["spots"]) < len(unfit[FIT]) < len(unfit["cushions"])
    assert {one.kind for one in unfit[FIT]} == {"overlap"}
    assert moved_by(long, "snooker-6ft", FIT).notes[0].kind == "moved-as-more-would-not-fit"


@pytest.mark.parametrize("table_id", table_ids())
def test_no_ball_of_a_sound_routine_is_left_off_the_bed(table_id):
    """Balls all over the full-size table, on every other one."""
    for start in range(6):
        at = [(80.0 + 283.0 * i, 90.0 + 171.0 * ((7 * i + start) % 21)) for i in range(6)]
        balls = tuple(Ball(f"b{i}", "red", x, y) for i, (x, y) in enumerate(at))
        routine = Routine(balls=(Ball("cue", "cue", 889.0, 3400.0), *balls))
        assert on_bed(routine)
        assert on_bed(moved_by(routine, table_id, FIT).routine)


def test_unknown_names_are_refused():
    with pytest.raises(UnknownNameError, match="snooker-12ft"):
        moved("snooker-13ft", "cushions")
    with pytest.raises(UnknownNameError, match="fit, cushions, spots, proportion"):
        moved("carom", "eye")


@pytest.mark.parametrize("by", WAYS)
@pytest.mark.parametrize("table_id", table_ids())
def test_there_and_back_every_ball_is_where_it_was(table_id, by):
    there = move(ROUTINE, Target(table_id), by).routine
    back = move(there, Target("snooker-12ft"), by).routine
    small = table_of(there)
    for old, ours in zip(ROUTINE.balls, back.balls, strict=True):
        if by == "proportion":
            assert ours.centre_mm == pytest.approx(old.centre_mm, abs=1e-6)
        elif by == "cushions" and min(old.x_mm, 1778 - old.x_mm) + 30 < small.width_mm / 2:
            assert ours.x_mm == pytest.approx(old.x_mm, abs=1e-6)
    assert {ball.id for ball in back.balls} == {ball.id for ball in ROUTINE.balls}


def test_tables_without_a_spot_in_common_are_moved_between_by_cushions(monkeypatch):
    """No two of the tables known are so; one added later may be: told, and done by the tape."""
    from engine.moving import places

    monkeypatch.setattr(places, "spot_pairs", lambda old, new: ())
    by_spots = moved("snooker-10ft", "spots")
    assert Fact("no-shared-spot") in by_spots.notes
    assert by_spots.routine.balls == moved("snooker-10ft", "cushions").routine.balls


def test_a_place_along_no_cushion_stays():
    old, new = load_table("snooker-12ft"), load_table("snooker-10ft")
    sides = [Side(table, conditions_of(Routine(table=table.id))) for table in (old, new)]
    way = places("cushions", *sides)
    assert way.along("", 500.0) == 500.0
    # 500 mm from the far end of either table's long cushion
    assert way.along("left", old.length_mm - 500.0) == pytest.approx(new.length_mm - 500.0)
    assert way.along("top", old.width_mm - 300.0) == pytest.approx(new.width_mm - 300.0)
