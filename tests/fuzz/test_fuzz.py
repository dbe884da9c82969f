"""A share of the damaged input the readers must bear; `tests/fuzz/run.py` gives far more."""

import os
from collections import Counter

from tests.fuzz.readers import readers
from tests.fuzz.trying import attempt

COUNT = 40_000 if os.environ.get("BAIZEWRIGHT_FULL") else 2_000
FIRST = 10_000_000


def test_the_samples_are_sound():
    for reader in readers():
        for sample in reader.samples:
            found = reader.read(sample)
            assert reader.again is None or reader.read(reader.again(found)) == found


def test_damaged_input_is_read_or_refused_and_nothing_else():
    read, tried = Counter(), Counter()
    for number in range(FIRST, FIRST + COUNT):
        name, was_read, finding = attempt(number)
        assert finding is None, finding
        tried[name] += 1
        read[name] += was_read
    for name, count in tried.items():
        assert 0.01 < read[name] / count < 0.95, f"{name}: the damage is not what it should be"
