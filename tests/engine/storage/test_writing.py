"""Writing a file: the old one or the new one, its people and names kept, nothing else touched."""

import os
import stat
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from engine.errors import RoutineFileError
from engine.storage import (
    InTheWayError,
    WriteRules,
    check_write,
    in_the_way,
    previous_copy,
    remove_file,
)
from engine.storage import write_file as write
from engine.storage.file_kinds import KINDS, kind_of, kind_of_bytes
from engine.storage.files import save_text
from engine.storage.reading import read_text

POSIX = pytest.mark.skipif(os.name != "posix", reason="rights and links as on POSIX systems")
PNG, PDF, JPEG = b"\x89PNG\r\n\x1a\n and pixels", b"%PDF-1.4 and pages", b"\xff\xd8\xff and pixels"
ROUTINE = '{"format": "baizewright-routine", "version": 1}'
PLAN = '{"version": 1, "format":"baizewright-plan"}'


def names(folder):
    return sorted(one.name for one in folder.iterdir())


def rights(path):
    return stat.S_IMODE(path.stat().st_mode)


# What stands there ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (PDF, "pdf"), (PNG, "png"), (JPEG, "jpeg"), (b"GIF89a", "gif"), (b"", ""),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "svg"),
        (b"<?xml version='1.0'?>\n<!-- drawn -->\n<svg/>", "svg"), (b"<html>", "other"),
        (ROUTINE.encode(), "routine"), (b"\xef\xbb\xbf" + PLAN.encode(), "plan"),
        (b'{"format": "baizewright-routine", "ver', "routine"),
        (b'{"notes": "\\"format\\": \\"baizewright-plan\\""}', "other"), (b'{"a": 1}', "other"),
        (b'{"format": "baizewright-check"}', "other"), (b"[1]", "other"), (b"\0\0", "other"),
        (b"# how\n\nkind,distance_mm,time_s\nroll,1,2\n", "observations"),
        (b'"kind";"time_s"\n', "observations"), (b"# nothing but remarks\n", "other"),
        (b"player,routine,step,date,attempts,made\n", "practice"), (b"milk, eggs\n", "other"),
    ],
)  # fmt: skip
def test_files_are_known_by_what_they_hold(tmp_path, content, kind):
    file = tmp_path / "named.pdf"
    file.write_bytes(content)
    assert kind_of_bytes(content) == kind == kind_of(file)
    assert not kind or KINDS[kind]


def test_everything_the_program_writes_is_known_for_what_it_is(tmp_path):
    """Samples by the writers themselves: a format or a head row that changes is noticed."""
    from engine import storage
    from engine.calibration.form import form_csv
    from engine.conditions import usual_conditions
    from engine.photo import PhotoMarks
    from engine.players import PLAYERS
    from engine.records.csv_files import practice_csv
    from engine.routine.values import Routine
    from engine.storage.photo_files import dump_photo_marks
    from engine.tables import MeasuredTable, load_table

    bed = load_table("snooker-12ft")
    written = {
        "routine": storage.dump_routine(Routine("Black")),
        "plan": storage.dump_plan(storage.Plan("Tuesday")),
        "table": storage.dump_measured_table("carom", MeasuredTable("ours", {})),
        "conditions": storage.dump_conditions(storage.OwnConditions({})),
        "players": storage.dump_players(PLAYERS),
        "photo": dump_photo_marks(PhotoMarks("a.jpg", (4, 3))),
        "observations": form_csv(bed, usual_conditions(bed), {}),
        "practice": practice_csv([]),
    }
    assert {kind_of_bytes(text.encode()): text for text in written.values()} == written


@pytest.mark.parametrize("kind", ["routine", "pdf"])
@pytest.mark.parametrize("content", [PNG, JPEG, PLAN.encode(), b"milk, eggs"])
def test_another_kind_of_file_stays_until_it_may_go(tmp_path, kind, content):
    file = tmp_path / "a"
    file.write_bytes(content)
    there = kind_of(file)
    assert in_the_way(file, kind) == there
    for allowed in ("made", "same"):
        for act in (lambda rules: write(file, b"new", kind, rules),
                    lambda rules: check_write(file, kind, rules)):  # fmt: skip
            with pytest.raises(InTheWayError) as told:
                act(WriteRules(may_replace=allowed))
            wanted = f"{file}: the file: holds {KINDS[there]}, which would be lost"
            assert str(told.value) == f"{wanted}; name another file"
    assert file.read_bytes() == content and names(tmp_path) == ["a"]
    write(file, b"new", kind, WriteRules(may_replace="any"))
    assert file.read_bytes() == b"new"


@pytest.mark.parametrize(
    ("kind", "content", "goes"),
    [("pdf", PDF, True), ("png", PNG, True), ("jpeg", JPEG, False),
     ("routine", ROUTINE.encode(), False), ("plan", PLAN.encode(), False)],
)  # fmt: skip
def test_only_what_can_be_made_again_gives_way_unasked(tmp_path, kind, content, goes):
    file = tmp_path / "a"
    file.write_bytes(content)
    assert in_the_way(file, kind) == "", "a person who chose it was asked by the dialog"
    if goes:
        write(file, b"new", kind, WriteRules(may_replace="made"))
        assert file.read_bytes() == b"new"
        return
    with pytest.raises(InTheWayError, match=r"already, which would be lost"):
        write(file, b"new", kind, WriteRules(may_replace="made"))
    assert file.read_bytes() == content
    write(file, b"new", kind)
    assert file.read_bytes() == b"new", "a save takes the place of its own kind"


def test_an_empty_file_is_nobodys(tmp_path):
    file = tmp_path / "a.pdf"
    file.write_bytes(b"")
    write(file, PDF, "pdf", WriteRules(may_replace="made"))
    assert file.read_bytes() == PDF


# What is read --------------------------------------------------------------------------------


@POSIX
@pytest.mark.parametrize("way", ["itself", "another name", "a link", "a hard link", "from there"])
def test_an_input_is_never_written_over_by_whatever_name(tmp_path, monkeypatch, way):
    read = tmp_path / "read.png"
    read.write_bytes(PNG)
    target = {
        "itself": read, "another name": tmp_path / "." / "read.png", "a link": tmp_path / "link",
        "a hard link": tmp_path / "hard", "from there": Path("read.png"),
    }[way]  # fmt: skip
    if way == "a link":
        target.symlink_to(read)
    if way == "a hard link":
        target.hardlink_to(read)
    monkeypatch.chdir(tmp_path)
    there = names(tmp_path)
    rules = WriteRules(("no such file", read), may_replace="any")
    with pytest.raises(RoutineFileError) as told:
        write(target, b"\x89PNG\r\n\x1a\n new", "png", rules)
    assert str(told.value) == (
        f"{target}: the file: is read here and would be lost; name another file to write"
    )
    assert not isinstance(told.value, InTheWayError), "no option helps"
    assert read.read_bytes() == PNG and names(tmp_path) == there


# Rights, owner and names ---------------------------------------------------------------------


@POSIX
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o755])
def test_rights_stay_those_of_the_file_and_its_copy_has_them_too(tmp_path, mode):
    file = tmp_path / "a.json"
    save_text("one", file, "routine", WriteRules(may_replace="any"))
    file.chmod(mode)
    save_text("two", file, "routine", WriteRules(may_replace="any"))
    assert rights(file) == rights(previous_copy(file)) == mode
    assert (read_text(file), read_text(previous_copy(file))) == ("two", "one")


@POSIX
@pytest.mark.parametrize("mask", [0o022, 0o027, 0o077])
def test_a_new_file_has_the_rights_a_person_lets_new_files_have(tmp_path, mask):
    code = (
        "import os, sys; os.umask(int(sys.argv[1]))\n"
        "from engine.storage import write_file, WriteRules\n"
        "write_file(sys.argv[2], b'x', 'other')\n"
        "write_file(sys.argv[2] + '-private', b'x', 'other', WriteRules(private=True))\n"
    )
    file = tmp_path / "a"
    subprocess.run([sys.executable, "-c", code, str(mask), str(file)], check=True)
    assert rights(file) == 0o666 & ~mask and rights(tmp_path / "a-private") == 0o600


@POSIX
@pytest.mark.parametrize("before", [None, b"old", b"new"], ids=["new", "other", "the same"])
@pytest.mark.parametrize("linked", [False, True])
def test_what_is_private_is_its_owners_alone(tmp_path, before, linked):
    file = tmp_path / "a.csv"
    if before is not None:
        file.write_bytes(before)
        file.chmod(0o644)
        if linked:
            (tmp_path / "b.csv").hardlink_to(file)
    write(file, b"new", "practice", WriteRules(may_replace="any", private=True))
    assert rights(file) == 0o600 and file.read_bytes() == b"new"


@POSIX
@pytest.mark.skipif(os.name == "posix" and os.getuid() != 0, reason="only root gives files away")
def test_the_owner_stays_the_owner(tmp_path):
    file = tmp_path / "a.json"
    save_text("one", file, "other")
    os.chown(file, 1234, 2345)
    save_text("two", file, "other")
    for one in (file, previous_copy(file)):
        assert (one.stat().st_uid, one.stat().st_gid) == (1234, 2345)


@POSIX
def test_attributes_are_kept_and_the_time_is_that_of_the_writing(tmp_path):
    file = tmp_path / "a.json"
    save_text("one", file, "other")
    os.utime(file, (1.0, 1.0))
    try:
        os.setxattr(file, "user.shelf", b"3")
    except (OSError, AttributeError):
        pytest.skip("no attributes on this disk")
    save_text("two", file, "other")
    assert os.getxattr(file, "user.shelf") == b"3" and file.stat().st_mtime > 1_000_000_000


@POSIX
def test_a_file_of_several_names_keeps_them_all(tmp_path):
    file, other = tmp_path / "a.json", tmp_path / "elsewhere" / "b.json"
    other.parent.mkdir()
    save_text("a long first text", file, "other")
    other.hardlink_to(file)
    for text in ("short", "and a longer one than all before"):
        before = read_text(file)
        save_text(text, file, "other")
        assert read_text(other) == read_text(file) == text
        assert os.path.samefile(file, other) and read_text(previous_copy(file)) == before
    assert names(tmp_path) == [".a.json.previous", "a.json", "elsewhere"]


@POSIX
def test_a_link_stays_a_link_and_one_to_nothing_leads_to_the_new_file(tmp_path):
    real, link, wild = (tmp_path / name for name in ("real.json", "link.json", "wild.json"))
    save_text("one", real, "other")
    link.symlink_to(real)
    wild.symlink_to(tmp_path / "later.json")
    save_text("two", link, "other")
    save_text("three", wild, "other")
    assert link.is_symlink() and read_text(real) == "two"
    assert wild.is_symlink() and read_text(tmp_path / "later.json") == "three"


@pytest.mark.parametrize("length", [200, 245, 246, 250, 255])
@pytest.mark.parametrize("letter", ["n", "é"])
def test_names_as_long_as_a_disk_allows_can_be_saved_again_and_again(tmp_path, length, letter):
    many = (length - 5) // len(letter.encode())
    file = tmp_path / (letter * many + ".json")
    for text in ("one", "two", "three"):
        save_text(text, file, "other")
    assert read_text(file) == "three" and read_text(previous_copy(file)) == "two"
    assert len(names(tmp_path)) == 2


def test_a_folder_that_is_not_there_is_told_before_long_work(tmp_path):
    for path, told in (("no/a.pdf", "its folder does not exist"), ("file/a.pdf", "is a file, not")):
        (tmp_path / "file").write_text("")
        with pytest.raises(RoutineFileError, match=told):
            check_write(tmp_path / path, "pdf")


def test_names_no_disk_takes_are_told(tmp_path):
    for name, told in (("n" * 300, "longer than this disk allows"), ("a\0b", "no file’s name")):
        with pytest.raises(RoutineFileError, match=told):
            write(tmp_path / name, b"x", "other")
    assert names(tmp_path) == []


@POSIX
def test_a_file_locked_against_writing_stays(tmp_path, monkeypatch):
    """Whoever runs the tests may write everything: the system's answer is played."""
    file = tmp_path / "a.json"
    save_text("one", file, "other")
    monkeypatch.setattr(os, "access", lambda path, how: how != os.W_OK)
    with pytest.raises(RoutineFileError, match="access is not allowed"):
        save_text("two", file, "other")
    assert read_text(file) == "one"


@POSIX
def test_devices_and_pipes_are_never_replaced(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    for target in (tmp_path / "pipe", "/dev/null"):
        with pytest.raises(RoutineFileError, match="a device or a pipe; name an ordinary file"):
            write(target, PDF, "pdf", WriteRules(may_replace="any"))
    assert not Path("/dev/null").is_file() and not (tmp_path / "pipe").is_file()


# Where it fails ------------------------------------------------------------------------------

FULL_DISK = """
import resource, signal, sys
from engine.errors import RoutineFileError
from engine.storage import write_file, WriteRules
path, kind = sys.argv[1:]
resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))
try:
    write_file(path, b"n" * 9000, kind, WriteRules(may_replace="any"), previous=kind == "routine")
except RoutineFileError as error:
    print(error)
"""


@POSIX
@pytest.mark.parametrize("kind", ["routine", "pdf"])
@pytest.mark.parametrize("linked", [False, True])
@pytest.mark.parametrize("before", [None, b"old"])
@pytest.mark.slow
def test_a_full_disk_leaves_the_old_file_and_nothing_else(tmp_path, kind, linked, before):
    """A real refusal by the system: no file of this program may grow beyond 3 kB."""
    file, other = tmp_path / "a", tmp_path / "b"
    if before is not None:
        file.write_bytes(before)
        if linked:
            other.hardlink_to(file)
    there = names(tmp_path)
    done = subprocess.run(
        [sys.executable, "-c", FULL_DISK, str(file), kind], capture_output=True, text=True
    )
    assert "the disk is full; make room or choose another place" in done.stdout, done.stderr
    assert names(tmp_path) == there and (before is None or file.read_bytes() == before)


@POSIX
@pytest.mark.parametrize("after", [1, 2])
def test_a_file_of_several_names_is_put_back_when_its_disk_fails_half_way(
    tmp_path, monkeypatch, after
):
    file, other = tmp_path / "a", tmp_path / "b"
    file.write_text("what it held")
    other.hardlink_to(file)
    calls, real = [], os.fsync

    def failing(handle):
        calls.append(handle)
        # first the new file, then the folder, then the old file in its own place
        if len(calls) == 1 + after:
            raise OSError(5, "Input/output error")
        real(handle)

    monkeypatch.setattr(os, "fsync", failing)
    if after == 2:
        with pytest.raises(RoutineFileError, match="Input/output error"):
            write(file, b"new", "other")
        assert other.read_text() == "what it held"
    else:
        write(file, b"new", "other")
        assert other.read_text() == "new", "a folder that cannot be settled is no reason"
    assert names(tmp_path) == ["a", "b"]


# What writers that have gone left ------------------------------------------------------------

LEAVING = """
import os, sys
from pathlib import Path
from engine.storage import new_files
folder = Path(sys.argv[1])
with new_files.new_file(folder, b"half of it") as path:
    print(path.name, flush=True)
    if len(sys.argv) > 2:
        sys.stdin.readline()
    os._exit(9)
"""


def leave_behind(folder):
    """The new file of a program that ended while it wrote."""
    done = subprocess.run([sys.executable, "-c", LEAVING, str(folder)], capture_output=True)
    assert done.returncode == 9, done.stderr
    return folder / done.stdout.decode().strip()


@POSIX
def test_what_a_writer_that_has_gone_left_goes_with_the_next_writing(tmp_path):
    left = leave_behind(tmp_path)
    assert left.exists() and len(os.fsencode(left.name)) < 40
    write(tmp_path / "a.pdf", PDF, "pdf")
    assert names(tmp_path) == ["a.pdf"]


@POSIX
def test_what_is_being_written_and_what_is_a_strangers_stays(tmp_path):
    strangers = (".a.json.part", ".baizewright-notes.part", ".baizewright-0123.part", "b.part",
                 ".baizewright-0123456789ab.part.json", ".~lock.a.json#")  # fmt: skip
    for name in strangers:
        (tmp_path / name).write_text("mine")
    writing = subprocess.Popen(
        [sys.executable, "-c", LEAVING, str(tmp_path), "wait"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    part = writing.stdout.readline().strip()
    write(tmp_path / "a.pdf", PDF, "pdf")
    assert names(tmp_path) == sorted([*strangers, part, "a.pdf"])
    writing.communicate("\n")
    write(tmp_path / "a.pdf", PDF + b"2", "pdf")
    assert names(tmp_path) == sorted([*strangers, "a.pdf"])


@POSIX
def test_what_another_thread_is_writing_stays(tmp_path):
    from engine.storage.new_files import new_file

    with new_file(tmp_path, b"whole") as mine:
        other = threading.Thread(target=write, args=(tmp_path / "b.pdf", PDF, "pdf"))
        other.start()
        other.join()
        assert mine.read_bytes() == b"whole"
    assert names(tmp_path) == ["b.pdf"]


TEARING = """
import os, sys
from pathlib import Path
from engine.storage import new_files, write_file

def tear(content, target):
    with target.open("r+b") as out:
        out.write(content[: len(content) // 2])
    os._exit(9)

new_files._pour = tear
write_file(sys.argv[1], b"the new text, all of it", "other")
"""


@POSIX
@pytest.mark.parametrize("by", ["reading", "writing another"])
def test_a_file_of_several_names_whose_writing_was_broken_off_is_finished(tmp_path, by):
    file, other = tmp_path / "a.json", tmp_path / "b.json"
    file.write_text("the old text, which was rather longer")
    other.hardlink_to(file)
    done = subprocess.run([sys.executable, "-c", TEARING, str(file)], capture_output=True)
    assert done.returncode == 9, done.stderr
    assert other.read_text() == "the new text, which was rather longer", "torn, as it was to be"
    if by == "reading":
        assert read_text(file) == "the new text, all of it"
    else:
        write(tmp_path / "c.pdf", PDF, "pdf")
        (tmp_path / "c.pdf").unlink()
    assert other.read_text() == "the new text, all of it"
    assert names(tmp_path) == ["a.json", "b.json"]


@POSIX
def test_a_file_somebody_has_changed_since_is_not_finished_over_their_work(tmp_path):
    file, other = tmp_path / "a.json", tmp_path / "b.json"
    file.write_text("the old text, which was rather longer")
    other.hardlink_to(file)
    subprocess.run([sys.executable, "-c", TEARING, str(file)], capture_output=True)
    with file.open("r+") as out:
        out.truncate()
        out.write("mended by hand")
    later = file.stat().st_mtime + 600
    os.utime(file, (later, later))
    assert read_text(file) == "mended by hand" == other.read_text()
    assert names(tmp_path) == ["a.json", "b.json"]


def test_a_passing_file_leaves_nothing_when_it_goes_and_goes_last(tmp_path, monkeypatch):
    file = tmp_path / "a.json"
    for text in ("one", "two"):
        save_text(text, file, "other", WriteRules(passing=True))
    assert names(tmp_path) == ["a.json"]
    save_text("three", file, "other")
    assert names(tmp_path) == [".a.json.previous", "a.json"]
    gone, real = [], Path.unlink
    monkeypatch.setattr(Path, "unlink", lambda one: gone.append(one.name) or real(one))
    remove_file(file)
    assert names(tmp_path) == [] and gone == [".a.json.previous", "a.json"]
