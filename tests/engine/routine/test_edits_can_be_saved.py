"""Whatever is built by edits can be saved, opened again equal, and undone to the start."""

import random

import pytest

from engine.balls import KINDS, Ball
from engine.errors import BaizewrightError
from engine.problems import problems_of
from engine.routine import edits
from engine.routine.document import Document
from engine.routine.identity import new_id
from engine.routine.values import CLAIM_KINDS, GAP_KINDS, Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import dump_routine, parse_routine


def some(dice, items, attribute="id"):
    names = [getattr(item, attribute) for item in items]
    return dice.choice([*names, "nobody", ""])


def random_edit(dice, r):
    """One edit with wild arguments, many of them to be refused."""
    shot = dice.choice(r.shots) if r.shots else Shot("none")
    ball, gap = some(dice, r.balls), some(dice, r.gaps)
    lane = LaneAsk(
        dice.choice("ABC"),
        dice.choice([-0.7, -0.45, 0.0, 0.3, "stun"]),
        dice.choice([0.0, 1.0, 4.5, 12.0]),
        side=dice.choice([0.0, 0.2, 0.4]),
    )
    new_gap = Gap(dice.choice(["g1", "g2"]), dice.choice(GAP_KINDS), (ball, some(dice, r.balls)))
    claim = Claim(dice.choice(CLAIM_KINDS), shot.id, some(dice, shot.lanes, "label"), ball, gap)
    kind = dice.choice(KINDS)
    x, y = dice.uniform(-100, 1900), dice.choice([float("nan"), 500.0, 3000.0])
    label, place = dice.choice("ABC"), dice.randrange(4)
    return dice.choice(
        [
            lambda: edits.place_ball(r, Ball(edits.free_ball_id(r, kind), kind, x, y)),
            lambda: edits.place_ball(r, Ball(ball, kind, x, y)),
            lambda: edits.move_ball(r, ball, x, y),
            lambda: edits.remove_ball(r, ball),
            lambda: edits.rename_ball(r, ball, dice.choice(["cue", "new", "old"])),
            lambda: edits.add_shot(r, Shot(edits.free_shot_id(r), ball)),
            lambda: edits.set_shot(r, shot.id, Shot(shot.id, ball, lanes=(lane,))),
            lambda: edits.remove_shot(r, shot.id),
            lambda: edits.set_object_ball(r, shot.id, ball),
            lambda: edits.set_pocket(r, shot.id, dice.choice(["top-left", "pocket"])),
            lambda: edits.add_lane(r, shot.id, lane),
            lambda: edits.set_lane(r, shot.id, label, lane),
            lambda: edits.remove_lane(r, shot.id, label),
            lambda: edits.move_lane(r, shot.id, label, place),
            lambda: edits.add_gap(r, new_gap),
            lambda: edits.set_gap(r, gap, new_gap),
            lambda: edits.remove_gap(r, gap),
            lambda: edits.add_claim(r, claim),
            lambda: edits.set_claim(r, place, claim),
            lambda: edits.remove_claim(r, place),
            lambda: edits.set_condition(r, "tip_limit", dice.choice([0.3, 0.6, None])),
            lambda: edits.set_level(r, dice.randrange(8)),
        ]
    )


@pytest.mark.slow
def test_a_thousand_edits_always_leave_a_routine_that_can_be_saved_and_opened():
    dice = random.Random(737)
    fresh = Routine(id=new_id())
    document = Document(fresh)
    made, refused = 0, 0
    for number in range(1500):
        edit = random_edit(dice, document.routine)
        try:
            made += document.apply("edit", lambda _, edit=edit: edit())
        except BaizewrightError:
            refused += 1
        if number % 5 == 0:
            routine = document.routine
            assert parse_routine(dump_routine(routine)) == routine
            assert not [p for p in problems_of(routine) if p.kind == "rule"]
    assert made > 300
    assert refused > 300
    last = document.routine
    while document.undo():
        pass
    assert document.routine == fresh
    assert not document.changed_since_save
    while document.redo():
        pass
    assert document.routine == last
