"""Malformed files: every fault told once, in one line, with its place; nothing else told."""

import json

import pytest

from engine.errors import RoutineFileError
from engine.storage import load_routine, parse_routine


def base(**changes):
    data = {
        "format": "baizewright-routine",
        "version": 2,
        "balls": [
            {"id": "cue", "kind": "cue", "x_mm": 600, "y_mm": 700},
            {"id": "black", "kind": "black", "x_mm": 889, "y_mm": 3245},
            {"id": "red-1", "kind": "red", "x_mm": 500, "y_mm": 2000},
        ],
        "shots": [
            {
                "id": "s1",
                "object_ball": "black",
                "pocket": "top-left",
                "lanes": [{"label": "A", "tip_height": 0.3, "pace": 4}],
            }
        ],
        "gaps": [{"id": "g1", "kind": "ball-ball", "balls": ["black", "red-1"]}],
        "cloth_marks": [
            {"id": "m1", "kind": "cross", "x_mm": 300, "y_mm": 900},
            {"id": "m2", "kind": "line", "x_mm": 1, "y_mm": 2, "to_x_mm": 3, "to_y_mm": 4},
        ],
        "claims": [{"kind": "lane-clears", "shot": "s1", "lane": "A"}],
    }
    return data | changes


def put(path, value):
    """The base routine with `value` at a path given as keys; REMOVE takes it out."""
    data = base()
    holder = data
    for step in path[:-1]:
        holder = holder[step]
    if value is REMOVE:
        del holder[path[-1]]
    else:
        holder[path[-1]] = value
    return json.dumps(data)


REMOVE = object()


def lines(text):
    with pytest.raises(RoutineFileError) as caught:
        parse_routine(text, "set.json")
    told = str(caught.value).splitlines()
    assert len(told) == len(caught.value.faults), "one line a fault"
    assert all(line.startswith("set.json: ") for line in told)
    return [line.removeprefix("set.json: ") for line in told]


def test_the_base_is_sound():
    assert parse_routine(json.dumps(base())).ball("black").x_mm == 889


ONE_FAULT = [
    # The text.
    ("", "the file: is empty, wanted a routine"),
    ("  \n ", "the file: is empty"),
    ('{"format": ', "line 1, column 12: is not JSON: a value is missing"),
    ('{"a": 1\n "b": 2}', "line 2, column 2: is not JSON: a comma is missing"),
    ('{"a" 1}', "line 1, column 6: is not JSON: a colon is missing"),
    ("{a: 1}", "line 1, column 2: is not JSON: a key in double quotes is missing"),
    ('{"a": 1} x', "line 1, column 10: is not JSON: more text stands after the end"),
    ('{"a": "b}', "line 1, column 7: is not JSON: a text starts here"),
    ("[1, 2]", "the file: holds a list, wanted one object in braces"),
    ('"routine"', "the file: holds a text, wanted one object"),
    ("3", "the file: holds a single value"),
    ("null", "the file: holds null"),
    ("[" * 100_000, "the file: is nested too deeply"),
    ('{"a": ' + "9" * 5000 + "}", "the file: holds a number of thousands of digits"),
    # Whose file, which version.
    ("{}", "format: is missing"),
    (put(("format",), "other"), 'format: is "other", wanted "baizewright-routine"'),
    (put(("version",), 3), "version: is 3, wanted 2 or older; this file was written by a newer"),
    (put(("version",), "1"), 'version: is "1", wanted 2'),
    (put(("version",), 0), "version: is 0, wanted 2"),
    (put(("version",), True), "version: is true, wanted 2"),
    (put(("version",), REMOVE), "version: is missing, wanted 2"),
    # Shape.
    (put(("balls",), {}), "balls: is an object in braces, wanted a list of balls"),
    (put(("balls", 2), 7), "balls[2]: is 7, wanted a ball in braces"),
    (put(("balls", 2, "x_mm"), "abc"), 'balls[2].x_mm: is "abc", wanted a number of millimetres'),
    (put(("balls", 2, "x_mm"), None), "balls[2].x_mm: is null, wanted a number of millimetres"),
    (put(("balls", 2, "x_mm"), True), "balls[2].x_mm: is true, wanted a number of millimetres"),
    (put(("balls", 2, "x_mm"), [1]), "balls[2].x_mm: is a list of 1, wanted a number of"),
    (put(("balls", 2, "x_mm"), 1e9), "balls[2].x_mm: is 1000000000.0, wanted a number of"),
    (put(("balls", 2, "y_mm"), REMOVE), "balls[2].y_mm: is missing, wanted a number of milli"),
    (put(("balls", 1, "id"), REMOVE), "balls[1].id: is missing, wanted a name"),
    (put(("balls", 2, "id"), ""), 'balls[2].id: is "", wanted a name that is not empty'),
    (put(("balls", 2, "kind"), "mauve"), 'balls[2].kind: is "mauve", wanted one of cue, red'),
    (put(("balls", 2, "locked"), "yes"), 'balls[2].locked: is "yes", wanted true or false'),
    (put(("level",), 6), "level: is 6, wanted a whole number from 1 to 5"),
    (put(("level",), 2.5), "level: is 2.5, wanted a whole number from 1 to 5"),
    (put(("title",), 5), "title: is 5, wanted a text in quotes"),
    (put(("shots", 0, "lanes", 0, "pace"), 11), "shots[0].lanes[0].pace: is 11, wanted a number"),
    (put(("shots", 0, "lanes", 0, "pace"), 0.5), "shots[0].lanes[0].pace: is 0.5, wanted a num"),
    (
        put(("shots", 0, "lanes", 0, "tip_height"), "low"),
        'shots[0].lanes[0].tip_height: is "low", wanted a number (offset over the ball\'s radius) '
        'or "stun"',
    ),
    (put(("shots", 0, "lanes", 0, "speed_m_s"), 0), "shots[0].lanes[0].speed_m_s: is 0, wanted ab"),
    (put(("gaps", 0, "kind"), "hole"), 'gaps[0].kind: is "hole", wanted one of ball-ball'),
    (put(("gaps", 0, "cushion"), "north"), 'gaps[0].cushion: is "north", wanted one of left'),
    (put(("gaps", 0, "points_mm"), [[1, 2], [3]]), "gaps[0].points_mm[1]: is a list of 1, wanted"),
    (put(("gaps", 0, "points_mm"), [[1, "b"]]), 'gaps[0].points_mm[0][1]: is "b", wanted a n'),
    (put(("cloth_marks", 0, "kind"), "star"), 'cloth_marks[0].kind: is "star", wanted one of cro'),
    (put(("cloth_marks", 0, "x_mm"), "a"), 'cloth_marks[0].x_mm: is "a", wanted a number of mil'),
    (put(("cloth_marks", 0, "to_x_mm"), 5), "cloth_marks[0].to_x_mm: is 5.0, wanted left out; a l"),
    (put(("cloth_marks", 1, "to_y_mm"), REMOVE), "cloth_marks[1].to_y_mm: is missing, wanted a n"),
    (put(("cloth_marks", 1, "id"), "m1"), 'cloth_marks[1].id: is "m1", wanted a name of its own'),
    (put(("gaps", 0, "balls"), ["black"] * 3), "gaps[0].balls: is a list of 3, wanted a list of"),
    (put(("claims", 0, "kind"), "wins"), 'claims[0].kind: is "wins", wanted one of pot-on'),
    (put(("claims", 0, "pace_max"), 99), "claims[0].pace_max: is 99, wanted a number from 1"),
    (put(("conditions",), [1]), "conditions: is a list of 1, wanted an object of conditions"),
    (put(("conditions",), {"ball_restitution": 1.2}), "conditions.ball_restitution: is 1.2, wan"),
    (put(("conditions",), {"ball_restitution": "1"}), 'conditions.ball_restitution: is "1", wa'),
    (put(("conditions",), {"pace_speeds_m_s": [1]}), "conditions.pace_speeds_m_s: is a list of 1"),
    (put(("pocket_openings_mm",), {"top-left": "wide"}), "pocket_openings_mm.top-left: is "),
    # Sense.
    (
        json.dumps(base(balls=[*base()["balls"], {**base()["balls"][2], "x_mm": 9}])),
        'balls[3].id: is "red-1", wanted a name of its own; balls[2] has the same',
    ),
    (put(("balls", 2, "kind"), "cue"), 'balls[2].kind: is "cue", wanted only one cue ball'),
    (put(("shots", 0, "object_ball"), "balck"), 'shots[0].object_ball: is "balck", wanted the id'),
    (put(("shots", 0, "object_ball"), "cue"), 'shots[0].object_ball: is "cue", wanted the id of a'),
    (put(("shots", 0, "pocket"), "top"), 'shots[0].pocket: is "top", wanted a pocket: bottom-le'),
    (
        put(("shots", 0, "lanes", 0, "tip_height"), 0.6),
        "shots[0].lanes[0].tip_height: is 0.6, wanted -0.5 to 0.5 (offset over the ball’s radius) "
        'or "stun"; a tip that far off centre is a miscue',
    ),
    (
        put(("shots", 0, "lanes", 0, "side"), 0.45),
        "shots[0].lanes[0].side: is 0.45, wanted at most 0.4 either way with tip height 0.3; "
        "a tip that far off centre is a miscue",
    ),
    (
        put(("shots", 0, "lanes"), [{"label": "A"}, {"label": "A"}]),
        'shots[0].lanes[1].label: is "A", wanted a name of its own; shots[0].lanes[0] has the same',
    ),
    (put(("gaps", 0, "balls"), ["black", "rde"]), 'gaps[0].balls[1]: is "rde", wanted the id of'),
    (put(("claims", 0, "shot"), "s2"), 'claims[0].shot: is "s2", wanted the id of a shot: s1'),
    (put(("claims", 0, "lane"), "B"), 'claims[0].lane: is "B", wanted a lane of shot s1: A'),
    (put(("claims", 0, "gap"), "g2"), 'claims[0].gap: is "g2", wanted the id of a gap: g1'),
    (put(("claims", 0, "ball"), "x"), 'claims[0].ball: is "x", wanted the id of a ball: cue,'),
    (put(("table",), "snooker-12"), 'table: is "snooker-12", wanted the id of a table'),
    (put(("pocket_openings_mm",), {"top-left": 20}), "pocket_openings_mm.top-left: is 20"),
    (put(("pocket_openings_mm",), {"top": 85}), 'pocket_openings_mm.top: is "top", wanted a pock'),
    (
        put(("conditions",), {"ball_restituton": 1.0}),
        'conditions.ball_restituton: is "ball_restituton", wanted a known condition',
    ),
    (put(("conditions",), {"pace_speeds_m_s": [1] * 10}), "conditions.pace_speeds_m_s: is [1, 1,"),
    # Numbers that are none, keys twice, broken letters.
    (put(("balls", 2, "x_mm"), float("nan")), "balls[2].x_mm: is NaN (no number), wanted a finite"),
    (put(("balls", 2, "x_mm"), float("-inf")), "balls[2].x_mm: is infinite, wanted a finite"),
    (put(("gaps", 0, "from_mm"), 10**400), "gaps[0].from_mm: is a number of hundreds of digits"),
    (put(("x_own",), {"deep": [float("inf")]}), "x_own.deep[0]: is infinite"),
    (json.dumps(base())[:-1] + ', "version": 2}', "version: stands twice, wanted once"),
    (json.dumps(base()).replace('"x_mm": 889', '"x_mm": 1, "x_mm": 889'), "balls[1].x_mm: stands"),
    (put(("title",), "\ud800"), "title: has a broken character"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "start"), ONE_FAULT, ids=[start[:48] for _, start in ONE_FAULT])
def test_one_fault_gives_one_clear_line(text, start):
    (line,) = lines(text)
    assert line.startswith(start)


def test_a_misspelt_name_is_offered_its_neighbour():
    (line,) = lines(put(("shots", 0, "object_ball"), "balck"))
    assert line.endswith('did you mean "black"?')


def test_all_faults_are_told_together_whatever_their_sort():
    data = base(level=9, conditions={"ball_restitution": 3})
    data["balls"][0]["x_mm"] = "left"
    data["balls"][1]["kind"] = "mauve"
    data["shots"][0]["pocket"] = "top"
    data["shots"][0]["lanes"][0]["tip_height"] = -0.8
    data["claims"][0]["gap"] = "none"
    data["gaps"][0]["from_mm"] = float("nan")
    paths = [line.split(":")[0] for line in lines(json.dumps(data))]
    assert sorted(paths) == [
        "balls[0].x_mm",
        "balls[1].kind",
        "claims[0].gap",
        "conditions.ball_restitution",
        "gaps[0].from_mm",
        "level",
        "shots[0].lanes[0].tip_height",
        "shots[0].pocket",
    ]


def test_what_follows_from_a_fault_is_not_told_again():
    # Without its id nobody can tell whether "black" is that ball.
    assert len(lines(put(("balls", 1, "id"), 5))) == 1
    assert len(lines(put(("shots",), "none"))) == 1


def test_not_utf8_names_the_line(tmp_path):
    path = tmp_path / "latin.json"
    path.write_bytes(b'{"format":\n "\xe9"}')
    with pytest.raises(RoutineFileError, match="line 2: byte 13 is not UTF-8 text") as caught:
        load_routine(path)
    assert len(caught.value.faults) == 1


def test_utf16_is_named(tmp_path):
    path = tmp_path / "wide.json"
    path.write_bytes(json.dumps(base()).encode("utf-16"))
    with pytest.raises(RoutineFileError, match="UTF-16"):
        load_routine(path)


def test_a_byte_order_mark_does_no_harm(tmp_path):
    path = tmp_path / "marked.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(base()).encode())
    assert load_routine(path).ball("red-1").y_mm == 2000


def test_a_huge_file_is_refused_before_it_is_read(tmp_path):
    path = tmp_path / "huge.json"
    with path.open("wb") as out:
        out.truncate(2_000_000_000)
    with pytest.raises(RoutineFileError, match=r"2,000,000,000 bytes, wanted at most 4,000,000"):
        load_routine(path)


def test_hundreds_of_balls_are_refused():
    balls = [{"id": f"b{n}", "kind": "red", "x_mm": n, "y_mm": n} for n in range(101)]
    (line,) = lines(json.dumps(base(balls=balls, shots=[], gaps=[], claims=[])))
    assert line.startswith("balls: is a list of 101, wanted")
