"""A lane played on the table: the shot as predicted, balls that turn, stops, slow motion."""

import io
import math

import numpy as np
import pytest
from PIL import Image, ImageSequence
from PySide6.QtCore import QPoint, Qt

from designer.exporting.film import film_bytes, write_film
from designer.painters.ball_face import CUE_MARK
from designer.table_view.film import film_times
from designer.table_view.pointer_marks import POINTER
from tests.designer.pixels import count_of

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def replay(session):
    session.point_at_lane("C")
    assert session.player.open()
    return session.player.replay


def test_what_is_played_is_what_was_predicted(session, replay):
    rests = dict(session.lane_answer.rests)
    assert replay.trace.rests().keys() == rests.keys()
    for ball, place in replay.trace.rests().items():
        assert place == pytest.approx(rests[ball], abs=1e-6) if place else rests[ball] is None


def test_a_rolling_ball_turns_by_its_way_over_its_radius(session, replay):
    """Rolling without slipping: turning = distance / radius (plain kinematics)."""
    blue = session.routine.ball("blue")
    rolls = next(e.t_s for e in replay.trace.events if e.ball == "blue" and e.kind == "rolling")
    ends = next(e.t_s for e in replay.trace.events if e.ball == "blue" and e.t_s > rolls)
    later = rolls + 0.4 * min(ends - rolls, 0.15)
    way = math.dist(replay.place(blue, rolls), replay.place(blue, later))
    turn = replay.turned("blue", later) @ replay.turned("blue", rolls).T
    angle = math.acos((np.trace(turn) - 1) / 2)
    assert angle == pytest.approx(way / replay.conditions.ball_radius_mm, rel=0.01)
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-9)


def test_screw_turns_against_its_way_until_it_rolls(session, replay):
    contact = replay.contact_s
    assert (
        replay.motion("cue", contact) == "slides with screw"
        or replay.motion("cue", contact) == "slides"
    )
    assert replay.motion("blue", contact - 0.01) == "rests"
    assert replay.motion("cue", replay.duration_s) == "rests"


@pytest.mark.quick
def test_space_plays_to_the_end_and_escape_leads_back(qtbot, canvas, window, session):
    session.player.set_speed(2.0)
    before = session.routine
    qtbot.keyClick(canvas, Qt.Key.Key_Space)
    player = session.player
    assert player.is_playing and window.playback.isVisible()
    qtbot.waitUntil(lambda: player.time_s > 0.3)
    qtbot.keyClick(canvas, Qt.Key.Key_Space)
    held = player.time_s
    qtbot.wait(40)
    assert player.time_s == held and not player.is_playing
    player.play()
    player.advance(100.0)
    assert player.time_s == player.replay.duration_s and not player.is_playing
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert not player.is_open and not window.playback.isVisible()
    assert session.routine is before


def test_slow_motion_takes_its_share_of_the_time(session, replay):
    session.player.set_speed(0.25)
    session.player.advance(0.4)
    assert session.player.time_s == pytest.approx(0.1)


def test_the_bar_scrubs_steps_and_sets_a_speed_of_ones_own(qtbot, window, session, canvas):
    qtbot.keyClick(canvas, Qt.Key.Key_Space)
    bar, player = window.playback, session.player
    qtbot.mouseClick(bar.play, LEFT)
    assert not player.is_playing
    bar.slider.setFocus()
    qtbot.keyClick(bar.slider, Qt.Key.Key_Home)
    assert player.time_s == 0.0
    times = [one.t_s for one in player.replay.instants]
    for expected in times[1:4]:
        qtbot.mouseClick(bar.onward, LEFT)
        assert player.time_s == expected
    qtbot.mouseClick(bar.back, LEFT)
    assert player.time_s == times[2]
    qtbot.mouseClick(bar.speeds[2], LEFT)
    assert player.speed == 0.25 and bar.speed.value() == 25.0
    bar.speed.setFocus()
    bar.speed.selectAll()
    qtbot.keyClicks(bar.speed, "35")
    qtbot.keyClick(bar.speed, Qt.Key.Key_Return)
    assert player.speed == pytest.approx(0.35)
    qtbot.mouseClick(bar.leave, LEFT)
    assert not player.is_open


def test_it_holds_at_the_contact_and_shows_the_right_angle(qtbot, window, session, canvas):
    player = session.player
    assert player.open()
    qtbot.mouseClick(window.playback.hold, LEFT, pos=QPoint(8, window.playback.hold.height() // 2))
    assert player.stops_at_contact
    plain = count_of(canvas, POINTER)
    player.play()
    player.advance(50.0)
    assert player.time_s == player.replay.contact_s and not player.is_playing
    assert "meets blue" in window.playback.words.text()
    assert count_of(canvas, POINTER) > plain + 100
    at = session.lane_answer.contact.at_mm
    assert player.replay.place(session.routine.cue_ball, player.time_s) == pytest.approx(
        at, abs=0.1
    )
    player.play()
    player.advance(0.01)
    assert player.time_s > player.replay.contact_s


def test_the_balls_leave_their_places_on_the_canvas(canvas, session, on_table):
    from designer.drawing.look import BALL_INKS

    session.set_view(session.view.with_layer("ball_letters", False))
    blue = session.routine.ball("blue")
    session.player.open()
    session.player.go_to(1e9)
    image = canvas.grab().toImage()
    ratio = image.devicePixelRatio()
    assert image.pixelColor(on_table(*blue.centre_mm) * ratio).name() != BALL_INKS["blue"].fill
    assert count_of(canvas, CUE_MARK) > 0


def test_an_edit_or_a_grip_on_a_ball_ends_the_replay(qtbot, canvas, session, on_table):
    session.player.open()
    session.balls.nudge("red-1", 1.0, 0.0)
    assert not session.player.is_open
    session.player.open()
    qtbot.mouseClick(canvas, LEFT, pos=on_table(*session.routine.ball("red-2").centre_mm))
    assert not session.player.is_open


def test_another_lane_selected_is_the_one_shown(session, window):
    session.player.open()
    assert session.player.replay.lane.label == "A"
    session.point_at_lane("B")
    assert session.player.replay.lane.label == "B"


def test_without_a_shot_the_coach_is_told(make_session):
    session = make_session()
    told = []
    session.messages.told.connect(told.append)
    assert not session.player.open()
    session.player.play()
    session.player.step(1)
    assert not session.player.is_open and "no lane" in told[0].what


@pytest.mark.parametrize("ending", [".gif", ".png"])
def test_a_film_is_an_animated_image_that_lasts_as_long(session, replay, ending):
    session.player.set_speed(2.0)
    data = film_bytes(session, ending, 240)
    image = Image.open(io.BytesIO(data))
    assert image.is_animated and image.width == 240
    lengths = [frame.info["duration"] for frame in ImageSequence.Iterator(image)]
    shown = film_times(replay, 20.0, 2.0)
    assert sum(lengths) / 1000.0 == pytest.approx(sum(length for _, length in shown), abs=0.1)
    assert replay.contact_s in [t for t, _ in shown]
    image.seek(0)
    first = np.asarray(image.convert("RGB")).astype(int)
    image.seek(image.n_frames - 1)
    last = np.asarray(image.convert("RGB")).astype(int)
    assert (np.abs(first - last).sum(axis=2) > 60).sum() > 30


def test_a_film_is_written_or_cancelled_and_a_bad_ending_refused(session, replay, tmp_path):
    from engine.errors import OutOfRangeError

    session.player.set_speed(2.0)
    assert write_film(session, tmp_path / "shot.gif", width_px=160)
    assert (tmp_path / "shot.gif").read_bytes().startswith(b"GIF89a")
    assert film_bytes(session, ".gif", 160, lambda done, of: done < 3) is None
    with pytest.raises(OutOfRangeError):
        film_bytes(session, ".mov", 160)
