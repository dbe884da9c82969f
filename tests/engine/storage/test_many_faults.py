"""Files with thousands of faults, or of values: the first faults are told, the rest counted."""

import json

import pytest

from engine.errors import RoutineFileError
from engine.library import Library, Query
from engine.routine.values import Gap, Routine, Shot
from engine.storage import dump_routine, parse_plan, parse_routine
from engine.storage.text import MOST_DEEP, MOST_VALUES

HEAD = {"format": "baizewright-routine", "version": 1}


def told(data, read=parse_routine):
    text = data if isinstance(data, str) else json.dumps(HEAD | data)
    with pytest.raises(RoutineFileError) as caught:
        read(text, "x.json")
    lines = str(caught.value).splitlines()
    assert all(line.startswith("x.json: ") for line in lines)
    return [line.removeprefix("x.json: ") for line in lines], caught.value


@pytest.mark.parametrize("count", [50, 51, 4_000, 80_000])
@pytest.mark.slow
def test_the_first_fifty_faults_are_told_and_the_rest_counted(count):
    lines, error = told({"shots": [{"id": ""}] * count})
    assert error.count == count
    assert lines[49] == 'shots[49].id: is "", wanted a name that is not empty'
    assert lines[50:] == ([f"and {count - 50:,} more"] if count > 50 else [])


def test_faults_of_sense_are_told_so_too():
    names = [{"kind": "pot-on", "shot": f"shot {index}"} for index in range(4_000)]
    lines, _ = told({"claims": names, "shots": [{"id": "shot 77777"}]})
    assert len(lines) == 51 and lines[50] == "and 3,950 more"
    assert lines[0] == (
        'claims[0].shot: is "shot 0", wanted the id of a shot: shot 77777; did you mean '
        '"shot 77777"?'
    )


def test_a_key_that_stands_thousands_of_times_is_one_fault():
    lines, _ = told(json.dumps(HEAD)[:-1] + ',"a":1' * 600_000 + "}")
    assert lines == ["a: stands 600,000 times, wanted once"]


def test_an_object_that_was_written_over_leaves_no_fault_on_another():
    text = json.dumps(HEAD)[:-1] + ', "a": {"b": 1, "b": 2}, "a": {}, "c": {}, "d": {}}'
    lines, _ = told(text)
    assert lines == ["a: stands twice, wanted once"]


@pytest.mark.slow
def test_thousands_of_sound_parts_are_read():
    routine = Routine(
        id="5f0c9d1e-3f2a-4c57-9b64-2b6d0a9e7c41",
        shots=tuple(Shot(f"s{index}") for index in range(4_000)),
        gaps=(
            *(Gap(f"g{index}", "in-order", gaps=("g",)) for index in range(4_000)),
            Gap("g", "cloth-area", points_mm=((1.0, 2.0),) * 4_000),
        ),
    )
    assert parse_routine(dump_routine(routine)) == routine


def test_more_values_than_any_routine_has_are_refused_at_once():
    lines, _ = told({"shots": [1] * MOST_VALUES})
    assert lines == [f"the file: holds more than {MOST_VALUES:,} values; this is no routine"]
    deep = json.dumps(HEAD)[:-1] + ', "own": ' + "[" * MOST_DEEP + "]" * MOST_DEEP + "}"
    assert parse_routine(deep).extra["own"]
    lines, _ = told(deep.replace("[" * MOST_DEEP, "[" * 200).replace("]" * MOST_DEEP, "]" * 200))
    assert lines == ["the file: is nested too deeply, wanted a routine"]


def test_names_as_long_as_a_book_do_not_fill_the_messages():
    book = "ball " * 100_000
    ball = {"id": book, "kind": "red", "x_mm": 1, "y_mm": 2}
    lines, _ = told(
        {"balls": [ball], "gaps": [{"id": book, "kind": "ball-ball", "balls": ["x"]}], book: 1e999}
    )
    assert len(lines) == 2 and max(map(len, lines)) < 200
    lines, _ = told({"balls": [ball, ball], "shots": [{"id": "s", "object_ball": "ball "}]})
    assert sum(map(len, lines)) < 1_000


def test_a_plan_with_thousands_of_faults():
    head = {"format": "baizewright-plan", "version": 1}
    lines, _ = told(json.dumps(head | {"items": [{}] * 4_000}), parse_plan)
    assert lines[0] == "items: is a list of 4000, wanted a list of at most 60 routines"
    assert len(lines) == 51 and lines[50] == "and 3,951 more"


@pytest.mark.slow
def test_a_search_goes_on_past_files_with_thousands_of_faults(tmp_path):
    folder = tmp_path / "routines"
    folder.mkdir()
    (folder / "sound.json").write_text(dump_routine(Routine("Blue to baulk")), encoding="utf-8")
    keys = json.dumps(HEAD)[:-1] + ', "a": 1' * 400_000 + "}"
    (folder / "keys.json").write_text(keys, encoding="utf-8")
    shots = json.dumps(HEAD | {"shots": [{"id": ""}] * 60_000})
    (folder / "shots.json").write_text(shots, encoding="utf-8")
    (folder / "other.json").write_text(json.dumps([1] * 400_000), encoding="utf-8")
    library = Library([folder], tmp_path / "index.sqlite")
    assert library.refresh().faulty == 2
    assert [one.title for one in library.search(Query("blue"))] == ["Blue to baulk"]
    faults = {one.title: one.fault for one in library.search(Query(faulty=True))}
    assert faults["keys"] == "a: stands 400,000 times, wanted once"
    assert faults["shots"].endswith("; and 59,950 more") and len(faults["shots"]) < 5_000
    library.close()
