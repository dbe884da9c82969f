"""Programs killed while they save or keep work: the file is the old one or the new one, whole.

`BAIZEWRIGHT_FULL=1` kills two hundred times, the usual run a few.
"""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from engine.storage import load_routine, previous_copy

FULL = os.environ.get("BAIZEWRIGHT_FULL") == "1"
KILLS = 200 if FULL else 12
#: Two programs take turns: one kept alive is killed, the next is started meanwhile.
_SAVING = """
import sys
from engine.balls import Ball
from engine.routine.values import Routine
from engine.storage import load_routine, save_routine
path, keep = sys.argv[1], sys.argv[2]
number = int(load_routine(path).title or 0)
balls = tuple(Ball(f"red-{i}", "red", 60.0 * i + 60.0, 500.0) for i in range(21))
print("ready", flush=True)
sys.stdin.readline()
while True:
    number += 1
    routine = Routine(title=str(number), balls=balls, notes=str(number) * 2000)
    save_routine(routine, path)
    save_routine(routine, keep)
    print(number, flush=True)
"""


def start(path, keep):
    return subprocess.Popen(
        [sys.executable, "-c", _SAVING, str(path), str(keep)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip


@pytest.mark.skipif(os.name != "posix", reason="kills by SIGKILL")
def test_a_program_killed_while_saving_leaves_the_old_file_or_the_new(tmp_path):
    from engine.routine.values import Routine
    from engine.storage import save_routine

    dice = random.Random(9)
    path, keep = tmp_path / "mine.json", tmp_path / "kept" / "1-a.json"
    keep.parent.mkdir()
    save_routine(Routine(title="0"), path)
    torn = 0
    last = kept = 0
    for _ in range(KILLS):
        program = start(path, keep)
        assert program.stdout.readline() == "ready\n"
        program.stdin.write("\n")
        program.stdin.flush()
        time.sleep(dice.uniform(0.0, 0.06))
        program.kill()
        told = [int(line) for line in program.stdout.read().split() if line.isdigit()]
        program.wait()
        finished = told[-1] if told else last
        for file in (path, keep):
            if not file.exists():
                assert file is keep and not told
                continue
            routine = load_routine(file)
            number = int(routine.title)
            # The kept copy follows the file, so it may be a save behind where nothing was told.
            oldest = finished if told or file is path else kept
            assert oldest <= number <= finished + 1, "the old one or the one being written"
            assert not number or routine.notes == str(number) * 2000
        if previous_copy(path).exists():
            assert int(load_routine(previous_copy(path)).title) <= finished + 1
        last = int(load_routine(path).title)
        kept = int(load_routine(keep).title) if keep.exists() else 0
        parts = list(Path(tmp_path).rglob("*.part"))
        torn += bool(parts)
        for part in parts:
            part.unlink()
    assert last > KILLS // 4, "it was saving when it was killed"
    if FULL:
        assert torn > 0, "some kills fell into the middle of a save"


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
