"""Plan files and the sessions made of them."""

import json
from dataclasses import replace

import pytest
from jsonschema import Draft202012Validator

from engine.errors import OutOfRangeError, RoutineFileError
from engine.plans import lesson_plan_of, load_lesson_plan, propose_order, reordered
from engine.storage import (
    Plan,
    PlanItem,
    dump_plan,
    load_plan,
    named_from,
    parse_plan,
    plan_schema,
    save_plan,
    save_routine,
)
from tests.engine.library.generated_routines import generated, shifted

FULL = Plan(
    "Tuesday – first lesson", "2026-04-07", "Maren Tolliver", "Pace.\nPosition.",
    (PlanItem("a/one.json", 12.5, "get the feel"), PlanItem("two.json", extra={"own": [1]})),
    {"kept": {"as": "it is"}},
)  # fmt: skip


def test_a_plan_reads_back_equal_and_fits_its_schema():
    text = dump_plan(FULL)
    assert parse_plan(text) == FULL
    assert dump_plan(parse_plan(text)) == text
    Draft202012Validator.check_schema(plan_schema())
    assert list(Draft202012Validator(plan_schema()).iter_errors(json.loads(text))) == []
    assert FULL.minutes == 22.5


def test_the_least_plan():
    assert parse_plan('{"format": "baizewright-plan", "version": 1}') == Plan()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"format": "other"}, 'format: is "other", wanted "baizewright-plan"'),
        ({"version": 2}, "newer Baizewright"),
        ({"day": "7 April"}, 'day: is "7 April", wanted a day as'),
        ({"items": [{"minutes": 5}]}, "items[0].file: is missing, wanted the name"),
        ({"items": [{"file": "a", "minutes": -1}]}, "items[0].minutes: is -1, wanted a number"),
        ({"items": {}}, "items: is an object in braces, wanted a list"),
        ({"title": 7}, "title: is 7, wanted a text"),
    ],
)
def test_faults_are_told_by_path(change, says):
    data = {"format": "baizewright-plan", "version": 1} | change
    with pytest.raises(RoutineFileError) as caught:
        parse_plan(json.dumps(data))
    assert any(says in str(fault) for fault in caught.value.faults), caught.value


def test_a_plan_that_could_not_be_read_again_is_not_written(tmp_path):
    save_plan(FULL, tmp_path / "plan.json")
    with pytest.raises(RoutineFileError, match="day"):
        save_plan(replace(FULL, day="soon"), tmp_path / "plan.json")
    assert load_plan(tmp_path / "plan.json") == FULL


@pytest.fixture
def plan(tmp_path):
    routines = [generated(0), generated(1), generated(2), shifted(generated(0), 0.3, 5)]
    items = []
    for number, routine in enumerate(routines):
        path = tmp_path / "routines" / f"{number}.json"
        path.parent.mkdir(exist_ok=True)
        save_routine(routine, path)
        items.append(PlanItem(named_from(path, tmp_path / "plan.json"), 10.0 + number))
    made = Plan("Lesson", items=tuple(items))
    save_plan(made, tmp_path / "plan.json")
    return made


def test_a_session_knows_starts_changes_and_balls(plan, tmp_path):
    assert plan.items[0].file == "routines/0.json"
    lesson = load_lesson_plan(plan, tmp_path / "plan.json")
    assert [part.starts_min for part in lesson.parts] == [0.0, 10.0, 21.0, 33.0]
    assert len(lesson.parts[0].change.put_on) == len(generated(0).balls)
    assert lesson.handled == sum(part.change.handled for part in lesson.parts[1:])
    assert dict(lesson.balls)["cue"] == 1


def test_a_folder_with_plan_and_routines_can_be_moved(plan, tmp_path):
    there = tmp_path / "elsewhere"
    there.mkdir()
    (tmp_path / "routines").rename(there / "routines")
    (tmp_path / "plan.json").rename(there / "plan.json")
    assert len(load_lesson_plan(load_plan(there / "plan.json"), there / "plan.json").parts) == 4


def test_the_proposal_brings_like_set_ups_together(plan, tmp_path):
    lesson = load_lesson_plan(plan, tmp_path / "plan.json")
    order = propose_order(lesson)
    assert abs(order.index(0) - order.index(3)) == 1
    better = reordered(lesson, order)
    assert better.handled < lesson.handled
    assert propose_order(better) == (0, 1, 2, 3), "what is best already stays as it is"
    kept = propose_order(lesson, keep_first=True, keep_last=True)
    assert (kept[0], kept[-1]) == (0, 3)


def test_every_routine_that_cannot_be_had_is_told(plan, tmp_path):
    (tmp_path / "routines" / "1.json").unlink()
    (tmp_path / "routines" / "2.json").write_text("{}")
    with pytest.raises(RoutineFileError) as caught:
        load_lesson_plan(plan, tmp_path / "plan.json")
    assert [fault.path for fault in caught.value.faults] == ["items[1].file", "items[2].file"]
    assert "no such file" in str(caught.value)


def test_a_plan_needs_a_routine_for_each_item():
    with pytest.raises(OutOfRangeError):
        lesson_plan_of(Plan(items=(PlanItem("a"),)), [])
