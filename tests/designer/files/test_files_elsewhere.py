"""A file that two windows have open, or another program changes, is never written over unasked."""

import errno
import os
from dataclasses import replace

import pytest
from PySide6.QtCore import QSysInfo

from designer.files.file_lock import FileLock
from designer.window.application import Application
from designer.window.left_work import left_work
from engine.storage import dump_routine, fingerprint, load_routine, previous_copy, save_routine


@pytest.fixture
def file(tmp_path, window, routine, session):
    """The window's routine in a file of its own."""
    path = tmp_path / "blue.json"
    window.files.asker.save_path = path
    assert window.files.save_as()
    return path


def by_another(path, **changes):
    """What another program writes into the file."""
    other = replace(load_routine(path), **changes)
    path.write_text(dump_routine(other), encoding="utf-8")
    return other


def test_a_file_changed_by_another_program_is_not_written_over_unasked(window, session, file):
    other = by_another(file, title="Written elsewhere")
    session.balls.nudge("red-1", 3.0, 0.0)
    assert not window.files.save()
    assert window.files.asker.asked == [("blue.json", "changed elsewhere")]
    assert load_routine(file) == other and session.document.changed_since_save
    window.files.asker.write_over = True
    assert window.files.save()
    assert load_routine(file) == session.routine
    assert load_routine(previous_copy(file)) == other, "what was there is kept"
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.files.save(), "its own writing is no change from elsewhere"
    assert len(window.files.asker.asked) == 2


def test_coming_back_to_the_window_tells_of_it_once(window, session, file, told):
    window.files.look_again()
    assert not [one for one in told if one.weight == "warning"]
    by_another(file, title="Written elsewhere")
    for _ in range(3):
        window.files.look_again()
    assert [one.what for one in told if one.weight == "warning"] == [
        "“blue.json” was changed elsewhere since it was opened here."
    ]
    assert window.files.open(file), "opened anew it is known again"
    told.clear()
    window.files.look_again()
    assert told == [] and session.routine.title == "Written elsewhere"


def test_a_file_taken_away_is_simply_written_again(window, session, file):
    file.unlink()
    window.files.look_again()
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.files.save() and window.files.asker.asked == []
    assert load_routine(file) == session.routine


@pytest.mark.slow
def test_two_windows_on_one_file_are_noticed(qtbot, settings, tmp_path, routine):
    path = tmp_path / "shared.json"
    save_routine(routine, path)
    desk = Application(settings, aside=False)
    first, second = desk.open_window(path), desk.open_window()
    link = tmp_path / "link.json"
    link.symlink_to(path)
    assert second.files.open(link)
    assert second.messages.message.what == "“link.json” is open in another window as well."
    assert first.messages.message is None or "another window" not in first.messages.message.what
    first.close()
    third = desk.open_window(path)
    assert "another window" in third.messages.message.what, "the second still has it"
    second.close()
    third.files.new()
    told = []
    third.session.messages.told.connect(told.append)
    assert third.files.open(path) and told == []
    third.close()


def test_a_lock_of_a_program_that_has_gone_counts_for_nothing(tmp_path, qapp):
    held = FileLock(tmp_path / "open")
    assert held.take(tmp_path / "a.json")
    (lock,) = (tmp_path / "open").iterdir()
    held.release()
    lock.write_text(f"999999999\nbaizewright\n{QSysInfo.machineHostName()}\n")
    assert FileLock(tmp_path / "open").take(tmp_path / "a.json") and not lock.exists()
    (tmp_path / "plain").write_text("")
    assert FileLock(tmp_path / "plain" / "open").take(tmp_path / "a.json"), "opening goes before"


def test_work_left_by_a_crash_knows_what_its_file_held(qtbot, settings, window, session, file):
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.recovery.keep()
    window.recovery._lock.unlock()
    (work,) = left_work(settings.recovery_folder)
    assert work.seen == fingerprint(file) and work.routine.extra == {}
    by_another(file, title="Written after the crash")
    window.files.take_up(work.routine, work.path, work.seen)
    assert not window.files.save(), "asked, and the answer was no"
    assert load_routine(file).title == "Written after the crash"


@pytest.mark.parametrize("reason", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO])
def test_a_save_that_fails_loses_nothing(window, session, file, told, monkeypatch, reason):
    before = file.read_bytes()
    session.balls.nudge("red-1", 3.0, 0.0)

    def fail(*args, **kwargs):
        raise OSError(reason, os.strerror(reason))

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", fail)
        assert not window.files.save()
        assert not window.recovery.keep(), "neither can the copy for a crash be kept; no fuss"
    assert file.read_bytes() == before and session.document.changed_since_save
    assert told[-1].weight == "error" and "still in the window" in told[-1].todo
    assert len(told[-1].details) == 1
    assert not [one for one in file.parent.iterdir() if one.name.endswith(".part")]
    assert window.files.save(), "when there is room again"


def test_what_this_version_does_not_know_is_kept(window, session, file):
    text = file.read_text(encoding="utf-8").replace(
        '"level"', '"from_tomorrow": {"a": [1, "é"]},\n  "level"', 1
    )
    file.write_text(text, encoding="utf-8")
    assert window.files.open(file)
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.files.save()
    assert '"from_tomorrow"' in file.read_text(encoding="utf-8")
    assert load_routine(file).extra == {"from_tomorrow": {"a": [1, "é"]}}


@pytest.mark.parametrize(
    "content",
    ['{"format": "baizewright-routine", "version": 3}', '{"format": "x", "version": 1}', "PK\x03"],
)
def test_newer_and_foreign_files_are_refused_and_left_alone(
    window, session, told, tmp_path, content
):
    path = tmp_path / "other.json"
    path.write_text(content)
    before = session.routine
    assert not window.files.open(path)
    assert session.routine is before and path.read_text() == content
    assert told[-1].weight == "error" and told[-1].details
