"""Starting: windows for files, pictures of the window, errors nobody foresaw."""

import sys

import pytest
from PIL import Image
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor

from designer.window.application import Application
from designer.window.look import icon_picture, program_icon
from designer.window.start import main, picture
from engine.storage import save_routine


@pytest.mark.slow
def test_a_picture_of_the_window_with_a_routine(qtbot, tmp_path, routine):
    file, out = tmp_path / "blue.json", tmp_path / "window.png"
    save_routine(routine, file)
    assert picture(file, out, QSize(1200, 760))
    image = Image.open(out)
    assert image.size == (1200, 760)
    assert len(image.convert("RGB").getcolors(1 << 24)) > 200


@pytest.mark.slow
def test_pictures_by_arguments(qtbot, tmp_path, routine, capsys):
    file, out = tmp_path / "blue.json", tmp_path / "window.png"
    save_routine(routine, file)
    assert main(["--picture", str(out), str(file), "--size", "900x600"]) == 0
    assert Image.open(out).size == (900, 600)
    assert main(["--picture"]) == 2
    assert main(["--picture", str(out), "--size", "wide"]) == 2
    assert "1500x940" in capsys.readouterr().err


@pytest.mark.slow
def test_a_picture_of_a_faulty_file_fails(qtbot, tmp_path):
    file = tmp_path / "faulty.json"
    file.write_text("{")
    assert main(["--picture", str(tmp_path / "w.png"), str(file)]) == 2


@pytest.mark.slow
def test_two_windows_are_two_routines(qtbot, settings, tmp_path, routine):
    file = tmp_path / "blue.json"
    save_routine(routine, file)
    desk = Application(settings, aside=False)
    one, two = desk.open_window(file), desk.open_window()
    assert one.session.routine == routine
    assert two.session.routine.balls == ()
    two.session.balls.add("cue")
    assert one.session.routine == routine
    two.session.undo()
    for window in (one, two):
        window.close()
    assert desk.windows == []


def test_an_unforeseen_error_is_told_and_the_work_stays(qtbot, settings, capsys):
    desk = Application(settings, aside=False)
    window = desk.open_window()
    try:
        raise ZeroDivisionError("of our own making")
    except ZeroDivisionError:
        desk.on_error(*sys.exc_info())
    assert "ZeroDivisionError" in window.messages.message.what
    assert "still here" in window.messages.message.todo
    assert "of our own making" in capsys.readouterr().err
    window.close()


def test_the_icon_shows_cloth_ball_and_lane_at_every_size():
    assert not program_icon().isNull()
    for side in (16, 64, 256):
        image = icon_picture(side).toImage()
        assert image.width() == side
        ball = QColor(image.pixelColor(int(side * 0.31), int(side * 0.72)))
        assert ball.lightness() > 230
        assert image.pixelColor(0, 0).alpha() == 0


@pytest.mark.skipif(sys.platform == "win32", reason="Windows names it in other ways")
def test_without_a_home_folder_no_window_opens_and_it_is_said(monkeypatch, capsys):
    monkeypatch.setattr("designer.places._home_known_to_the_system", str)
    monkeypatch.setenv("HOME", "")
    assert main([]) == 2
    assert "wanted the whole path of your home folder" in capsys.readouterr().err
