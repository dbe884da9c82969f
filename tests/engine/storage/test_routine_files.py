"""Saving and opening: nothing good is lost, and the disk's refusals are told plainly."""

import errno
import os
import stat
import subprocess
import sys

import pytest

from engine.balls import Ball
from engine.errors import RoutineFileError
from engine.routine.identity import new_id
from engine.routine.values import Routine
from engine.storage import (
    InTheWayError,
    WriteRules,
    dump_routine,
    fingerprint,
    load_routine,
    previous_copy,
    save_routine,
)

FIRST, SECOND = (Routine(id=new_id(), title=title) for title in ("first", "second"))


def test_saved_is_opened_equal_and_leaves_no_other_file(tmp_path):
    path = tmp_path / "Drei Bänder ß.json"
    save_routine(Routine(title="ß — 3/4", balls=(Ball("cue", "cue", 1.5, 2.0),)), path)
    assert load_routine(path).title == "ß — 3/4"
    assert [entry.name for entry in tmp_path.iterdir()] == [path.name]
    assert b"\r" not in path.read_bytes()


def test_the_version_before_is_kept_out_of_the_way_of_patterns(tmp_path):
    path = tmp_path / "a.json"
    save_routine(FIRST, path)
    save_routine(SECOND, path)
    assert load_routine(path).title == "second"
    assert load_routine(previous_copy(path)).title == "first"
    assert list(tmp_path.glob("[!.]*")) == [path], "a pattern such as * finds only the routine"


def test_saving_the_same_again_keeps_the_previous_copy(tmp_path):
    path = tmp_path / "a.json"
    for routine in (FIRST, SECOND, SECOND):
        save_routine(routine, path)
    assert load_routine(previous_copy(path)).title == "first"


def test_a_file_that_was_no_routine_is_kept_as_it_was(tmp_path):
    path = tmp_path / "a.json"
    path.write_bytes(b"\xff\x00 precious")
    with pytest.raises(InTheWayError, match="holds something else, which would be lost"):
        save_routine(FIRST, path)
    assert path.read_bytes() == b"\xff\x00 precious" and list(tmp_path.iterdir()) == [path]
    save_routine(FIRST, path, WriteRules(may_replace="any"))
    assert load_routine(path) == FIRST
    assert previous_copy(path).read_bytes() == b"\xff\x00 precious"


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_save_that_fails_leaves_the_old_file_and_no_litter(tmp_path, monkeypatch, step):
    path = tmp_path / "a.json"
    save_routine(FIRST, path)

    def full(*args, **kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, full)
    with pytest.raises(RoutineFileError, match="cannot be saved: the disk is full"):
        save_routine(SECOND, path)
    monkeypatch.undo()
    assert load_routine(path) == FIRST
    parts = [entry.name for entry in tmp_path.iterdir() if entry.name.endswith(".part")]
    assert parts == []


@pytest.mark.skipif(os.name != "posix", reason="rights and links as on POSIX systems")
def test_rights_and_links_are_kept(tmp_path):
    real, link = tmp_path / "real.json", tmp_path / "link.json"
    save_routine(FIRST, real)
    real.chmod(0o640)
    link.symlink_to(real)
    save_routine(SECOND, link)
    assert link.is_symlink()
    assert load_routine(real).title == "second"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_what_the_disk_refuses_is_told_plainly(tmp_path):
    plain = tmp_path / "plain.json"
    plain.write_text(dump_routine(FIRST))
    cases = [
        (lambda: load_routine(tmp_path / "none.json"), "cannot be read: there is no such file"),
        (lambda: load_routine(tmp_path), "cannot be read: it is a folder"),
        (lambda: load_routine(plain / "x.json"), "cannot be read: a part of its path is a file"),
        (lambda: save_routine(FIRST, tmp_path / "no" / "a.json"), "its folder does not exist"),
        (lambda: save_routine(FIRST, tmp_path), "cannot be saved: it is a folder"),
    ]
    for call, told in cases:
        with pytest.raises(RoutineFileError, match=told) as caught:
            call()
        assert len(str(caught.value).splitlines()) == 1


def test_the_schema_library_is_not_loaded_before_a_file_is_read():
    code = "import sys, engine.storage; sys.exit('jsonschema' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_fingerprint_tells_content_apart_and_never_hangs(tmp_path):
    one, other, large = tmp_path / "a.json", tmp_path / "b.json", tmp_path / "large.json"
    one.write_text("x")
    other.write_text("x")
    large.write_bytes(b"x" * 5_000_000)
    assert fingerprint(one) == fingerprint(other) != ""
    other.write_text("y")
    assert fingerprint(one) != fingerprint(other)
    for unread in (tmp_path, tmp_path / "none", large, "a\0b"):
        assert fingerprint(unread) == ""
    if os.name == "posix":
        os.mkfifo(tmp_path / "pipe")
        assert fingerprint(tmp_path / "pipe") == "", "a pipe would never end"


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.EROFS, "can only be read"),
        (errno.EFBIG, "the disk is full"),
        (errno.EACCES, "access is not allowed"),
        (errno.EIO, os.strerror(errno.EIO)),
    ],
)
def test_each_refusal_has_its_words(tmp_path, monkeypatch, number, told):
    def refuse(*args, **kwargs):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(RoutineFileError, match=told):
        save_routine(FIRST, tmp_path / "a.json")
    assert list(tmp_path.iterdir()) == []
