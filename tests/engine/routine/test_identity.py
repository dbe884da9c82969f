"""Ids that stay, and revisions that change when the set-up or a shot does, and only then."""

from dataclasses import replace
from uuid import UUID

import pytest

from engine.balls import Ball
from engine.routine.document import Document
from engine.routine.identity import copied, id_of, new_id, revision_of, with_new_id
from engine.routine.values import STUN, Claim, ClothMark, Gap, LaneAsk, Routine, Shot
from engine.tables.measured import MeasuredTable

LANE = LaneAsk("A", 0.4, 4.0, title="top")
SHOT = Shot("s", "black", "top-left", lanes=(LANE,), title="Black", question="Where to?")
CUE, BLACK = Ball("cue", "cue", 600.0, 2600.0), Ball("black", "black", 889.0, 3245.0)
MARK = ClothMark("m", "cross", 300.0, 3000.0)
PLAN = Routine(
    title="Round the black", balls=(CUE, BLACK), shots=(SHOT,), cloth_marks=(MARK,), id=new_id(),
    gaps=(Gap("g", "cushion-stretch", cushion="left", from_mm=100.0, to_mm=400.0),),
)  # fmt: skip


def with_lane(**values):
    return replace(PLAN, shots=(replace(SHOT, lanes=(replace(LANE, **values),)),))


@pytest.mark.parametrize(
    "changed",
    [
        replace(PLAN, table="snooker-10ft"),
        replace(PLAN, balls=(CUE, replace(BLACK, x_mm=890.0))),
        replace(PLAN, balls=(CUE, replace(BLACK, label="7"))),
        replace(PLAN, balls=(CUE,)),
        replace(PLAN, conditions={"sliding_friction": 0.2}),
        replace(PLAN, pocket_openings_mm={"top-left": 84.0}),
        replace(PLAN, measured_table=MeasuredTable(values={"length_mm": 3560.0})),
        replace(PLAN, shots=(replace(SHOT, pocket="top-right"),)),
        replace(PLAN, shots=(replace(SHOT, allow_for_throw=False),)),
        replace(PLAN, shots=(SHOT, Shot("t", aim_deg=90.0))),
        replace(PLAN, gaps=()),
        replace(PLAN, cloth_marks=()),
        with_lane(tip_height=STUN),
        with_lane(tip_height=-0.4),
        with_lane(pace=4.5),
        with_lane(speed_m_s=2.0),
        with_lane(side=0.1),
        with_lane(elevation_deg=5.0),
    ],
)
def test_what_decides_set_up_and_shots_makes_another_revision(changed):
    assert revision_of(changed) != revision_of(PLAN)


@pytest.mark.parametrize(
    "changed",
    [
        replace(PLAN, title="Another", coach="Edda Quill", club="Marram Street", level=4),
        replace(PLAN, notes="Take your time.", tags=("screw",), extra={"sheet": 2}),
        replace(PLAN, claims=(Claim("pot-on", "s"),)),
        replace(PLAN, balls=(CUE, replace(BLACK, locked=True, extra={"own": 1}))),
        replace(PLAN, balls=(replace(CUE, x_mm=600), BLACK)),
        replace(PLAN, conditions={"remark": "new cloth"}),
        replace(PLAN, shots=(replace(SHOT, title="", question="", answer="B", note="Slowly."),)),
        replace(PLAN, cloth_marks=(replace(MARK, note="chalk here"),)),
        with_lane(title="well above centre"),
        with_new_id(PLAN),
    ],
)
def test_words_and_what_changes_nothing_leave_the_revision(changed):
    assert revision_of(changed) == revision_of(PLAN)


def test_a_revision_is_short_and_plain():
    assert len(revision_of(PLAN)) == 8
    assert set(revision_of(PLAN)) <= set("0123456789abcdef")


def test_ids_are_uuids_and_no_two_new_ones_are_the_same():
    ids = {new_id() for _ in range(100)} | {id_of(Routine(title=str(k))) for k in range(100)}
    assert len(ids) == 200 and all(str(UUID(one)) == one for one in ids)
    assert id_of(PLAN) == PLAN.id != with_new_id(PLAN).id
    assert id_of(Routine(title="a")) == id_of(Routine(title="a"))


def test_what_is_made_of_another_is_its_own_and_the_same_when_made_again():
    harder = with_lane(pace=5.0)
    one, two = copied(harder, PLAN), copied(harder, PLAN)
    assert one.id == two.id != PLAN.id
    assert copied(PLAN, PLAN).id not in (PLAN.id, one.id)


def test_a_document_that_becomes_a_copy_keeps_its_steps_under_the_new_id():
    document = Document(PLAN)
    document.apply("title", lambda routine: replace(routine, title="Another"))
    document.apply("notes", lambda routine: replace(routine, notes="Slowly."))
    document.undo()
    own = new_id()
    document.become_copy(own)
    assert document.routine == replace(PLAN, title="Another", id=own)
    assert document.redo() == "notes" and document.routine.id == own
    while document.undo():
        pass
    assert document.routine == replace(PLAN, id=own) and not document.changed_since_save
