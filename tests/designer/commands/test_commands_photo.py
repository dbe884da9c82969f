"""`photo begin`, `photo read` and `photo draw` on an invented photograph."""

import io
import json
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from designer.commands.main import main
from engine.photo import BallMark, jpeg_of
from engine.storage import load_routine, save_routine
from engine.storage.photo_files import dump_photo_marks, load_photo_marks, save_photo_marks
from tests.engine.photo.cases import plain_case
from tests.engine.photo.darkroom import RADIUS_MM, Pose, render

POSE = Pose((700, -900, 1350), (900, 1500, 0), (640, 480), 26.0, 0.01)


@pytest.fixture(scope="module")
def photograph():
    """A small rendered photograph of the five balls, as a JPEG that says where it was taken."""
    balls = [
        ("cue", 640.0, 1420.0), ("blue", 889.0, 1784.5), ("red", 1180.0, 1250.0),
        ("red", 1420.0, 1180.0), ("black", 889.0, 3245.0),
    ]  # fmt: skip
    image = Image.open(io.BytesIO(jpeg_of(render(POSE, balls, finer=1))))
    exif = Image.Exif()
    exif[0x0110] = "Fernwood 9"
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (52.0, 7.0, 30.0)
    store = io.BytesIO()
    image.save(store, "JPEG", quality=95, exif=exif.tobytes())
    return store.getvalue()


@pytest.fixture
def folder(tmp_path, photograph, routine):
    """The photograph, what was marked in it, and the routine."""
    (tmp_path / "table.jpg").write_bytes(photograph)
    photo = replace(plain_case(POSE, 0.3), picture="table.jpg", marking_px=0.5)
    for ball in routine.balls:
        at = POSE.ball_middle(np.array([ball.x_mm, ball.y_mm, RADIUS_MM]))
        photo = photo.with_ball(BallMark(ball.id, ball.kind, at[0] + 0.4, at[1] - 0.3))
    save_photo_marks(photo, tmp_path / "marks.json")
    save_routine(routine, tmp_path / "routine.json")
    return tmp_path


def pixels(path):
    with Image.open(path) as image:
        return np.asarray(image)


@pytest.mark.slow
def test_read_prints_camera_marks_and_balls(folder, capsys, routine):
    assert main(["photo", "read", str(folder / "marks.json")]) == 0
    told = capsys.readouterr().out
    assert "Camera 1.3" in told and "top left corner" in told
    assert "People may be in the picture" in told and "95 of 100" in told
    for ball in routine.balls:
        assert f"  {ball.id}" in told


def test_read_as_json_carries_units_and_the_balls_within_what_it_says(folder, capsys, routine):
    assert main(["photo", "read", str(folder / "marks.json"), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert np.allclose(data["camera"]["at_mm"], POSE.at, atol=40.0)
    assert {one["id"] for one in data["balls"]} == {ball.id for ball in routine.balls}
    for one in data["balls"]:
        ball = routine.ball(one["id"])
        off = np.hypot(one["x_mm"] - ball.x_mm, one["y_mm"] - ball.y_mm)
        assert off <= 1.5 * one["within_mm"] and one["within_mm"] < 60.0


@pytest.mark.slow
def test_read_writes_a_routine_and_fitting_makes_it_surer(folder, routine):
    out, fitted = folder / "read.json", folder / "fitted.json"
    marks = str(folder / "marks.json")
    assert main(["photo", "read", marks, "-o", str(out)]) == 0
    assert main(["photo", "read", marks, "--fit", "-o", str(fitted)]) == 0
    found = load_routine(out)
    assert [ball.id for ball in found.balls] == [ball.id for ball in routine.balls]
    assert all(ball.extra["photo_within_mm"] > 0 for ball in found.balls)
    for ball in load_routine(fitted).balls:
        true = routine.ball(ball.id)
        assert np.hypot(ball.x_mm - true.x_mm, ball.y_mm - true.y_mm) < 45.0


def test_read_onto_a_routine_moves_its_balls_and_keeps_the_rest(folder, routine, capsys):
    moved = replace(
        routine,
        balls=tuple(replace(ball, x_mm=300.0 + 90 * i, y_mm=600.0) for i, ball in
                    enumerate(routine.balls)),
    )  # fmt: skip
    save_routine(moved, folder / "routine.json")
    photo = load_photo_marks(folder / "marks.json").without_ball("black")
    save_photo_marks(photo, folder / "marks.json")
    command = ["photo", "read", str(folder / "marks.json"), "--onto", str(folder / "routine.json")]
    assert main([*command, "-o", str(folder / "out.json")]) == 0
    found = load_routine(folder / "out.json")
    assert found.shots == routine.shots and found.title == routine.title
    assert found.id != load_routine(folder / "routine.json").id, "another file, another routine"
    assert abs(found.ball("blue").y_mm - 1784.5) < 40.0
    assert found.ball("black").centre_mm == moved.ball("black").centre_mm
    assert "Not marked, and left where the routine has them: black" in capsys.readouterr().out


def test_begin_writes_a_file_to_fill_in(folder, capsys):
    out = folder / "blank.json"
    assert main(["photo", "begin", str(folder / "table.jpg"), "-o", str(out)]) == 0
    data = json.loads(out.read_text())
    assert data["picture"] == "table.jpg" and data["size_px"] == [640, 480]
    assert len(data["marks"]) == 12 and data["marks"][0]["x_px"] is None
    assert main(["photo", "read", str(out)]) == 2
    assert "the number of marks is 0" in capsys.readouterr().err


@pytest.mark.slow
def test_the_overlay_over_the_photograph_equals_the_drawn_picture(folder):
    marks, routine = str(folder / "marks.json"), str(folder / "routine.json")
    drawn, overlay = folder / "drawn.png", folder / "overlay.png"
    assert main(["photo", "draw", marks, routine, "-o", str(drawn)]) == 0
    assert main(["photo", "draw", marks, routine, "-o", str(overlay), "--overlay"]) == 0
    with Image.open(folder / "table.jpg") as below, Image.open(overlay) as above:
        both = Image.alpha_composite(below.convert("RGBA"), above).convert("RGB")
    assert above.size == (640, 480) and above.mode == "RGBA"
    assert np.array_equal(np.asarray(both), pixels(drawn))
    assert not np.array_equal(pixels(drawn), pixels(folder / "table.jpg"))


@pytest.mark.parametrize("ending", ["png", "jpg"])
@pytest.mark.slow
def test_what_is_written_says_nothing_of_place_and_device(folder, ending, photograph):
    assert b"Fernwood 9" in photograph
    out = folder / f"drawn.{ending}"
    marks, routine = str(folder / "marks.json"), str(folder / "routine.json")
    assert main(["photo", "draw", marks, routine, "-o", str(out)]) == 0
    data = out.read_bytes()
    assert b"Fernwood" not in data and b"Exif" not in data and b"eXIf" not in data
    with Image.open(out) as image:
        assert not image.getexif() and not image.getexif().get_ifd(0x8825)


@pytest.mark.slow
def test_layers_and_shots_can_be_chosen(folder):
    marks, routine = str(folder / "marks.json"), str(folder / "routine.json")
    command = ["photo", "draw", marks, routine, "--overlay", "-o"]
    some, none, table = (folder / f"{name}.png" for name in ("some", "none", "table"))
    assert main([*command, str(some)]) == 0
    assert main([*command, str(none), "--only", "balls"]) == 0
    assert main([*command, str(table), "--show", "table,marks", "--shot", "shot-1"]) == 0
    covers = [(pixels(path)[..., 3] > 0).mean() for path in (some, none, table)]
    assert covers[2] > covers[0] > 0 and covers[1] > 0


@pytest.mark.slow
def test_a_ball_that_stands_elsewhere_in_the_photograph_is_told(folder, routine, capsys):
    other = replace(
        routine, balls=tuple(
            replace(ball, x_mm=700.0) if ball.id == "red-1" else ball for ball in routine.balls
        ),
    )  # fmt: skip
    save_routine(other, folder / "routine.json")
    command = ["photo", "draw", str(folder / "marks.json"), str(folder / "routine.json")]
    assert main([*command, "-o", str(folder / "drawn.png")]) == 0
    assert "The ball red-1 stands 4" in capsys.readouterr().out


def test_a_bad_mark_is_told_and_ends_with_1(folder, capsys):
    photo = load_photo_marks(folder / "marks.json")
    mark = photo.mark("spot-blue")
    save_photo_marks(photo.with_mark(replace(mark, x_px=mark.x_px + 12)), folder / "marks.json")
    assert main(["photo", "read", str(folder / "marks.json")]) == 1
    told = capsys.readouterr().out
    assert "SET ASIDE" in told and "blue spot is set aside" in told


@pytest.mark.parametrize(
    ("out", "more", "words"),
    [
        ("drawn.svg", (), "wanted .png, .jpg, .jpeg"),
        ("drawn", (), "no ending"),
        ("drawn.jpg", ("--overlay",), "wanted .png"),
        ("drawn.png", ("--show", "lamps"), "no layer called 'lamps'"),
        ("drawn.png", ("--shot", "nine"), "no shot called 'nine'"),
    ],
)
def test_what_cannot_be_drawn_is_refused(folder, capsys, out, more, words):
    marks, routine = str(folder / "marks.json"), str(folder / "routine.json")
    assert main(["photo", "draw", marks, routine, "-o", str(folder / out), *more]) == 2
    assert words in capsys.readouterr().err
    assert not (folder / out).exists()


def test_a_routine_of_another_table_is_refused(folder, routine, capsys):
    save_routine(replace(routine, table="snooker-10ft", balls=(), shots=()), folder / "r.json")
    marks, other = str(folder / "marks.json"), str(folder / "r.json")
    assert main(["photo", "draw", marks, other, "-o", str(folder / "d.png")]) == 2
    assert "the table of the marks is snooker-12ft; wanted snooker-10ft" in capsys.readouterr().err
    assert main(["photo", "read", marks, "--onto", other]) == 2
    # another table named outright is taken at its word: here all is smaller in proportion
    capsys.readouterr()
    assert main(["photo", "read", marks, "--table", "snooker-10ft", "--json"]) == 0
    balls = {one["id"]: one for one in json.loads(capsys.readouterr().out)["balls"]}
    assert abs(balls["blue"]["x_mm"] - 889.0 * 1481.6667 / 1778.0) < 10.0


def test_faults_of_files_are_told_in_one_line_each(folder, capsys):
    (folder / "table.jpg").write_text("no picture at all")
    marks = str(folder / "marks.json")
    assert main(["photo", "begin", str(folder / "table.jpg"), "-o", str(folder / "b.json")]) == 2
    assert "is no picture; wanted a JPEG or PNG picture" in capsys.readouterr().err
    draw = ["photo", "draw", marks, str(folder / "routine.json"), "-o", str(folder / "d.png")]
    assert main(draw) == 2
    assert main(["photo", "read", str(folder / "none.json")]) == 2
    assert "no such file" in capsys.readouterr().err
    text = dump_photo_marks(load_photo_marks(marks)).replace('"kind": "cue"', '"kind": "ghost"')
    (folder / "marks.json").write_text(text)
    assert main(["photo", "read", marks]) == 2
    assert "balls[0].kind: is" in capsys.readouterr().err
