"""A share of the damaged input that readers and commands must bear; `run.py` gives far more."""

import os
import random
from collections import Counter

import pytest

from tests.fuzz import whole
from tests.fuzz.arguments import NUMBERS, WORDS, any_arguments, commands
from tests.fuzz.desk_of_files import NAMES, TRAPS, _spoil
from tests.fuzz.readers import readers
from tests.fuzz.trying import attempt
from tests.shares import FULL

COUNT = 40_000 if FULL else 2_000
RUNS = 400 if FULL else 25
#: The bounds of time are those of a machine that does nothing else; here it may.
SLACK = 6.0

pytestmark = pytest.mark.slow


def test_the_samples_are_sound():
    for reader in readers():
        for sample in reader.samples:
            if reader.name not in ("arguments", "bytes"):
                found = reader.read(sample)
                assert reader.again is None or reader.read(reader.again(found)) == found


def test_damaged_input_is_read_or_refused_and_nothing_else():
    read, tried = Counter(), Counter()
    for number in range(COUNT):
        name, was_read, finding = attempt("ten million", number)
        assert finding is None, finding
        tried[name] += 1
        read[name] += was_read
    for name, count in tried.items():
        if count > 100 and name != "bytes":
            assert 0.01 < read[name] / count < 0.95, f"{name}: the damage is not what it should be"


def test_a_file_spoilt_into_depths_no_reader_follows_can_be_spoilt_again(tmp_path):
    deep = tmp_path / "deep.json"
    for number in range(30):
        deep.write_text("[" * 200_000 + "]" * 200_000, encoding="utf-8")
        _spoil(random.Random(number), deep)
        assert deep.read_bytes() != b"[" * 200_000 + b"]" * 200_000


def test_every_command_there_is_is_given_arguments():
    dice = random.Random(27)
    given = {any_arguments(dice)[:2] for _ in range(3_000)}
    for words, options in commands():
        assert any(arguments[: len(words)] == words for arguments in given)
        assert options or words


def test_no_name_leads_out_of_the_folder_that_commands_may_spoil():
    for name in (*WORDS, *NUMBERS, *TRAPS, *(name for some in NAMES.values() for name in some)):
        assert os.path.normpath(os.path.join("/desk", name.replace("\0", ""))).startswith("/desk")
    for arguments in (("plan", "new", "-o/dev/zero"), ("check", "../a"), ("check", "--out=/a")):
        with pytest.raises(AssertionError, match="leads out of the folder"):
            whole._must_stay_within(arguments)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes as POSIX has them")
def test_commands_end_well_on_damaged_files_and_change_nothing_of_others():
    ends = Counter()
    for number in range(RUNS):
        done = whole.run("a coach's desk", number, SLACK)
        assert not done.wrong, (number, done.arguments, done.wrong)
        ends[done.code] += 1
    assert ends[whole.DONE] and ends[whole.BAD_INPUT]
