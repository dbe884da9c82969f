"""The one way to read a file: what is none is refused in plain words and never waited for."""

import os
import socket
import sys
from pathlib import Path

import pytest

from designer.commands.main import main
from engine.errors import RoutineFileError
from engine.routine.values import Routine
from engine.storage import dump_routine, load_plan, load_routine, save_plan, save_routine
from engine.storage.own_plans import Plan, PlanItem
from engine.storage.photo_files import load_picture
from engine.storage.reading import read_bytes, read_text

posix = pytest.mark.skipif(sys.platform == "win32", reason="pipes and devices as POSIX has them")


def why(path, read=read_bytes, **more):
    with pytest.raises(RoutineFileError) as caught:
        read(path, **more)
    (fault,) = caught.value.faults
    return fault.message


@pytest.fixture
def strange(tmp_path):
    """What a name can lead to that is no file, with the words that tell of it."""
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "folder.json").mkdir()
    (tmp_path / "ring.json").symlink_to(tmp_path / "ring.json")
    (tmp_path / "to-zero.json").symlink_to("/dev/zero")
    listening = socket.socket(socket.AF_UNIX)
    here = os.getcwd()
    os.chdir(tmp_path)  # the name of a socket may have 108 letters
    listening.bind("socket.json")
    os.chdir(here)
    yield {
        tmp_path / "pipe.json": "it is a pipe, not a file",
        tmp_path / "folder.json": "it is a folder; name a file in it",
        tmp_path / "ring.json": "its name is a link that leads round in a circle",
        tmp_path / "to-zero.json": "it is a device, not a file",
        tmp_path / "socket.json": "it is a socket of a running program",
        Path("/dev/zero"): "it is a device, not a file",
        tmp_path / "none.json": "there is no such file; check the name",
        tmp_path / "folder.json" / "a" / "b.json": "there is no such file",
        tmp_path / ("long" * 100): "its name is longer than the system takes",
        tmp_path / "with\0nothing": "its name has a letter in it that no name can have",
    }
    listening.close()


@posix
def test_what_is_no_file_is_told_for_what_it_is(strange):
    for path, words in strange.items():
        for read in (read_bytes, load_routine, load_picture):
            assert why(path, read).startswith(f"cannot be read: {words}"), path


@posix
def test_a_command_given_what_is_no_file_ends_with_2(strange, capfd):
    for path, words in strange.items():
        if "\0" in str(path):
            continue  # refused with the arguments
        for command in (["check"], ["plan", "show"], ["calibrate"], ["photo", "read"]):
            assert main([*command, str(path)]) == 2
            assert words in capfd.readouterr().err


@posix
def test_a_plan_and_marks_that_name_what_is_no_file(strange, tmp_path, capfd):
    plan = tmp_path / "plan.json"
    save_plan(Plan(items=tuple(PlanItem(str(path)) for path in strange)), plan)
    assert main(["plan", "show", str(plan)]) == 2
    told = capfd.readouterr().err
    assert len(told.splitlines()) == len(strange)
    assert all(words in told for words in strange.values())
    marks = '{"format": "baizewright-photo", "version": 1, "size_px": [200, 200], "picture": "%s"}'
    for name in ("pipe.json", "to-zero.json", "/dev/zero", "a\\u0000b"):
        (tmp_path / "m.json").write_text(marks % name, encoding="utf-8")
        assert main(["photo", "read", str(tmp_path / "m.json"), "--fit"]) == 2
        assert "cannot be read: it" in capfd.readouterr().err


def test_a_file_larger_than_wanted_is_not_read(tmp_path):
    file = tmp_path / "a.json"
    file.write_bytes(b"x" * 11)
    assert read_text(file, kind="plan", most_bytes=11) == "x" * 11
    wanted = "has 11 bytes, wanted at most 10; this is no plan"
    assert why(file, kind="plan", most_bytes=10) == wanted


def test_a_file_that_grows_while_it_is_read_is_not_read_without_end(tmp_path, monkeypatch):
    file = tmp_path / "a.json"
    file.write_bytes(b"x")
    monkeypatch.setattr("engine.storage.reading.os.read", lambda _handle, count: b"y" * count)
    told = why(file, most_bytes=3_000_000)
    assert told.startswith("has 3,145,728 bytes, wanted at most 3,000,000")


@posix
def test_a_file_that_becomes_a_pipe_while_it_is_opened_is_refused(tmp_path, monkeypatch):
    file, pipe = tmp_path / "a.json", tmp_path / "pipe"
    file.write_bytes(b"x")
    os.mkfifo(pipe)
    real = os.open
    monkeypatch.setattr("engine.storage.reading.os.open", lambda _path, how: real(pipe, how))
    assert why(file) == (
        "cannot be read: it is a pipe, not a file; write what it gives into a file and name that"
    )


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="names there are always text")
def test_a_file_whose_name_is_no_utf8_is_read_and_named_but_stored_nowhere(tmp_path, capfd):
    file = tmp_path / os.fsdecode(b"caf\xe9.json")
    save_routine(Routine("Black"), file)
    assert load_routine(file).title == "Black"
    assert main(["place", str(file)]) == 0
    file.write_text("{}", encoding="utf-8")
    assert main(["check", str(file)]) == 2
    assert "/caf\\xe9.json: format: is missing" in capfd.readouterr().err
    file.write_text(dump_routine(Routine("Black")), encoding="utf-8")
    plan = tmp_path / "plan.json"
    assert main(["plan", "new", str(file), "-o", str(plan)]) == 2
    assert 'caf\\xe9.json", wanted a name in UTF-8; rename that file' in capfd.readouterr().err
    assert not plan.exists()
    odd = tmp_path / os.fsdecode(b"pl\xe4n.json")
    save_plan(Plan("Monday"), odd)
    assert load_plan(odd).title == "Monday"
