"""Files damaged at random are read or refused with faults, never with another error."""

import copy
import json
import random

import pytest

from engine.balls import Ball
from engine.errors import RoutineFileError
from engine.problems import problems_of
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import dump_routine, parse_routine
from tests.fuzz.damage import places

SOUND = Routine(
    title="t",
    balls=(Ball("cue", "cue", 1.0, 2.0), Ball("a", "red", 300.0, 400.0, label="1", locked=True)),
    shots=(Shot("s", "a", "top-left", 5.0, lanes=(LaneAsk("A", 0.1, side=0.1, speed_m_s=2.0),)),),
    gaps=(
        Gap("g", "ball-cushion", ("a",), "left", 1.0, 2.0, ((1.0, 2.0), (3.0, 4.0), (5.0, 9.0))),
    ),
    claims=(Claim("lane-threads", "s", "A", "a", "g", 1.0, 2.0, 3.0),),
    conditions={"ball_restitution": 0.9, "pace_speeds_m_s": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]},
    pocket_openings_mm={"top-left": 90.0},
)
WILD = [
    None, True, -1, 0, 10**400, 1e308, float("nan"), "", "x", "cue", "stun", "\ud800", [], {},
    [1], [[]], [None], {"id": 3}, {"a": {"b": []}}, [{"id": "a"}] * 2, [float("inf")],
]  # fmt: skip


def damaged(dice, data):
    made = copy.deepcopy(data)
    for _ in range(dice.randint(1, 3)):
        *way, last = dice.choice(list(places(made)))
        holder = made
        for step in way:
            holder = holder[step]
        what = dice.randrange(4)
        if what == 0:
            del holder[last]
        elif what == 1 and isinstance(holder, dict):
            holder[dice.choice(["", "x y", "extra", "id", "é\n"])] = copy.deepcopy(
                dice.choice(WILD)
            )
        else:
            holder[last] = copy.deepcopy(dice.choice(WILD))
    return json.dumps(made)


def outcome(text):
    try:
        routine = parse_routine(text)
    except RoutineFileError as error:
        told = str(error).splitlines()
        assert len(told) == len(error.faults) == len(set(told)) > 0, told
        return False
    assert parse_routine(dump_routine(routine)) == routine
    problems_of(routine)
    return True


@pytest.mark.slow
def test_damaged_values():
    dice = random.Random(292)
    data = json.loads(dump_routine(SOUND))
    read = [outcome(damaged(dice, data)) for _ in range(500)]
    assert 20 < sum(read) < 480, "both happen, or the damage is not what it should be"


def test_damaged_text():
    dice = random.Random(324)
    text = dump_routine(SOUND)
    for _ in range(200):
        cut = dice.randrange(len(text))
        skip = dice.choice([1, 2, 30, len(text)])
        outcome(text[:cut] + dice.choice(["", "}", '"', "\x00", ",", "9"]) + text[cut + skip :])
