"""Every room's answers, made: no text in them is a sentence, they are ids, kinds and names."""

import contextlib
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date
from pathlib import Path

import pytest

from engine.advice import Wish, advise
from engine.answers import answer
from engine.calibration import Observation
from engine.calibration.calibrate import calibrate
from engine.library import Library, Query
from engine.moving import Target, move, report
from engine.photo import mark_places, read_photo
from engine.plans import lesson_plan_of, propose_order
from engine.records import Practice, lines_of
from engine.storage import load_routine
from engine.storage.own_plans import Plan, PlanItem
from engine.storage.photo_files import load_photo_marks
from engine.tables import MeasuredTable, load_table, readings, table_ids
from tests.engine.calibration.test_impossible_observations import CASES
from tests.engine.progressions.test_steps_on_a_known_curve import WIDE, harder, known  # noqa: F401
from tests.house.test_no_sentences import FAULTS, KEPT, NAMES, TYPED

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"
TABLE = load_table("snooker-12ft")
#: Names that a note may carry.
PLACES = {place.title for name in table_ids() for place in mark_places(load_table(name))}


def texts_in(value):
    """Every text in a value of values: typed ones, names of data and errors apart."""
    if isinstance(value, str):
        yield value
    elif is_dataclass(value):
        kind = type(value).__name__
        for field in fields(value):
            if f"{kind}.{field.name}" not in TYPED | NAMES | FAULTS and field.name not in KEPT:
                yield from texts_in(getattr(value, field.name))
    elif isinstance(value, Mapping):
        yield from texts_in((*value, *value.values()))
    elif isinstance(value, tuple | list | frozenset):
        for part in value:
            yield from texts_in(part)


def sentences_in(value):
    """Texts that are no id, kind or name; there must be texts to look at."""
    found = set(texts_in(value))
    assert found, value
    return {one for one in found - PLACES if one.count(" ") > 1 or one.endswith(".")}


def test_what_observations_say():
    rolls = [
        Observation("roll", {"distance_mm": 1500.0, "time_s": 2.9 + 0.1 * k}) for k in range(3)
    ]
    odd = [Observation("roll", {"distance_mm": 1500.0, "time_s": 9.0}, 9)]
    wrong = [Observation(kind, cells, 20 + k) for k, (kind, cells, *_) in enumerate(CASES)]
    found = calibrate([*rolls, *odd, *wrong], TABLE)
    assert found.notes and len({one.verdict for one in found.judged}) == 3
    assert not sentences_in(found)


def test_what_a_photograph_says():
    marks = load_photo_marks(DEMO / "photograph" / "table.photo.json")
    wrong = replace(marks.marks[0], x_px=marks.marks[0].x_px + 60.0)
    found = read_photo(marks.with_mark(wrong))
    assert found.notes and found.routine.title == ""
    assert not sentences_in((found.notes, found.balls, found.routine, found.fit.checks))


def test_what_a_step_says(known):  # noqa: F811
    known(lambda w, far, long: 0.5 + 0.003 * (w - WIDE), half=0.003)
    assert not sentences_in(harder(0.15, ("gap",)))


@pytest.mark.slow
def test_what_answers_advice_and_another_table_say():
    routine = load_routine(DEMO / "10-can-it-be-done.json")
    assert not sentences_in(answer(routine))
    assert not sentences_in(advise(routine, Wish("pot-red", "reds", 3.0, 6.0)))
    moved = move(routine, Target("pool-9ft"), "cushions")
    assert not sentences_in((moved, report(routine, moved)))


def test_what_library_plans_records_and_a_tape_say(tmp_path):
    file = DEMO / "01-three-ways-off-the-blue.json"
    (tmp_path / "r").mkdir()
    (tmp_path / "r" / "a.json").write_bytes(file.read_bytes())
    (tmp_path / "r" / "b.json").write_text("{")
    with contextlib.closing(Library([tmp_path / "r"], tmp_path / "index.sqlite")) as library:
        scan = library.refresh()
        entries = (*library.search(Query()), *library.search(Query(faulty=True)))
    assert len(entries) == 2 and not sentences_in((scan, entries))
    routine = load_routine(file)
    plan = Plan(items=(PlanItem("a.json"), PlanItem("b.json")))
    session = lesson_plan_of(plan, (routine, replace(routine, balls=routine.balls[:2])))
    assert not sentences_in((session, propose_order(session)))
    practice = Practice("QZ", "Blue", date(2026, 2, 1), 10, 6, 2, {"pot": 1})
    assert not sentences_in((practice, lines_of([practice])))
    own = MeasuredTable(values={"width_mm": 1774.0}, spots_mm={"blue": (886.0, 1793.0)})
    assert not sentences_in(readings(own, TABLE))
