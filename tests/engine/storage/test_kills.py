"""Programs killed while they save or keep work: the file is the old one or the new one, whole.

`BAIZEWRIGHT_FULL=1` kills two hundred times, the usual run a few.
"""

import os
import random
import subprocess
import sys

import pytest

from engine.storage import load_routine, previous_copy
from tests.engine.killing import killed_together, swept
from tests.shares import FULL

KILLS = 200 if FULL else 8
#: Two programs at a time work on files of their own in the same folders.
_SAVING = """
import sys
from engine.balls import Ball
from engine.routine.values import Routine
from engine.storage import load_routine, save_routine
files = sys.argv[1:]
number = int(load_routine(files[0]).title)
balls = tuple(Ball(f"red-{i}", "red", 60.0 * i + 60.0, 500.0) for i in range(21))
print("ready", flush=True)
while True:
    number += 1
    routine = Routine(title=str(number), balls=balls, notes=str(number) * 2000)
    for file in files:
        save_routine(routine, file)
    print(number, flush=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="kills by SIGKILL")
@pytest.mark.slow
def test_programs_killed_while_saving_leave_the_old_files_or_the_new(tmp_path):
    """One file for each, one kept apart, and one of two names, which is written in its place."""
    from engine.routine.values import Routine
    from engine.storage import save_routine

    dice = random.Random(9)
    folders = [tmp_path / "mine", tmp_path / "kept"]
    files = []
    for folder in folders:
        folder.mkdir()
    for who in ("a", "b"):
        own = [folders[0] / f"{who}.json", folders[1] / f"{who}.json", folders[0] / f"{who}2.json"]
        for file in own:
            save_routine(Routine(title="0"), file)
        (folders[1] / f"{who}3.json").hardlink_to(own[2])
        files.append(own)
    torn = 0
    for _ in range(KILLS // 2):
        programs = [["-c", _SAVING, *own] for own in files]
        for own, said in zip(files, killed_together(programs, 1, dice), strict=True):
            done = int(said[-1])
            for at, file in enumerate(own):
                routine = load_routine(file)
                number = int(routine.title)
                assert done <= number <= done + 1, "the last one, or the one being written"
                assert routine.notes == str(number) * 2000
                before = load_routine(previous_copy(file))
                assert number - 2 <= int(before.title) <= number
                if at == 2:
                    assert file.stat().st_nlink == 2
        torn += swept(*folders) > 0
    assert not FULL or torn > 0, "some kills fell into the middle of a save"
    there = sorted(one.name for folder in folders for one in folder.iterdir())
    names = [f"{who}.json" for who in "ab"] * 2 + [f"{who}2.json" for who in "ab"]
    copies = [f".{name}.previous" for name in names]
    assert there == sorted([*names, *copies, "a3.json", "b3.json"])


@pytest.mark.skipif(os.name != "posix", reason="limits as on POSIX systems")
def test_a_file_beyond_the_room_there_is_leaves_the_old_one(tmp_path):
    """A real refusal by the system: no file of this program may grow beyond 3 kB."""
    code = (
        "import resource, sys\n"
        "from engine.routine.values import Routine\n"
        "from engine.storage import save_routine\n"
        "from engine.errors import RoutineFileError\n"
        "path = sys.argv[1]\n"
        "save_routine(Routine(title='first'), path)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))\n"
        "try:\n    save_routine(Routine(title='x', notes='n' * 9000), path)\n"
        "except RoutineFileError as error:\n    print(error)\n"
    )
    path = tmp_path / "a.json"
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=False
    )
    assert "the disk is full" in done.stdout, done.stderr
    assert load_routine(path).title == "first"
    assert [one.name for one in tmp_path.iterdir()] == ["a.json"]


@pytest.mark.skipif(os.name != "posix", reason="rights as on POSIX systems")
def test_a_folder_that_may_not_be_written_to_is_told(tmp_path):
    """Real rights: a program of a user who may only read there."""
    folder = tmp_path / "theirs"
    folder.mkdir()
    code = (
        "import os, sys\n"
        "from engine.routine.values import Routine\n"
        "from engine.storage import load_routine, save_routine\n"
        "from engine.errors import RoutineFileError\n"
        "path = sys.argv[1]\n"
        "load_routine(path)\n"
        "if os.getuid() == 0:\n    os.setgid(65534)\n    os.setuid(65534)\n"
        "try:\n    save_routine(Routine(title='second'), path)\n"
        "except RoutineFileError as error:\n    print(error)\n"
    )
    from engine.routine.values import Routine
    from engine.storage import save_routine

    path = folder / "a.json"
    save_routine(Routine(title="first"), path)
    folder.chmod(0o555)
    for above in (tmp_path, tmp_path.parent, tmp_path.parent.parent):
        above.chmod(above.stat().st_mode | 0o055)
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=False
    )
    folder.chmod(0o755)
    assert "access is not allowed" in done.stdout, done.stdout + done.stderr
    assert load_routine(path).title == "first"
