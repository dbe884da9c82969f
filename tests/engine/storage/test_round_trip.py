"""Routine files read back as they were written, with everything this program does not know."""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.balls import KINDS, Ball
from engine.errors import OutOfRangeError
from engine.routine.identity import id_of
from engine.routine.values import (
    CLAIM_KINDS,
    MARK_KINDS,
    Claim,
    ClothMark,
    Gap,
    LaneAsk,
    Routine,
    Shot,
)
from engine.storage import dump_routine, parse_routine

FULL = Routine(
    title="Two ways round the black",
    table="snooker-12ft",
    balls=(
        Ball("cue", "cue", 1200.25, 2900.0),
        Ball("black", "black", 889.0, 3245.0, locked=True),
        Ball("red-1", "red", 700.0, 3100.0, label="1"),
    ),
    shots=(
        Shot(
            "shot-1",
            object_ball="black",
            pocket="top-left",
            allow_for_throw=False,
            lanes=(
                LaneAsk("A", 0.4, 3.5, title="top"),
                LaneAsk("B", "stun", 5.0, side=0.1, elevation_deg=3.0),
                LaneAsk("C", -0.4, speed_m_s=2.25),
            ),
            title="Black off its spot",
            question="Which lane misses the red?",
            answer="B",
            note="—",
        ),
        Shot("shot-2", aim_deg=90.0),
    ),
    gaps=(
        Gap("gap-1", "ball-ball", ("black", "red-1")),
        Gap("gap-2", "cushion-stretch", cushion="left", from_mm=100.0, to_mm=400.0),
        Gap("gap-3", "cloth-area", points_mm=((1.0, 2.0), (300.0, 2.0), (300.0, 200.5))),
    ),
    claims=(
        Claim("lane-clears", "shot-1", lane="A", margin_mm=5.0),
        Claim("gap-reachable", "shot-1", gap="gap-1", pace_min=2.0, pace_max=6.0),
    ),
    conditions={"ball_restitution": 1.0, "remark": "new cloth in spring"},
    pocket_openings_mm={"top-left": 86.0},
    coach="Edda Quill",
    club="Marram Street Cue Club",
    level=3,
    notes="First with the red out of the way.\nThen with it.",
    tags=("break-building", "left pocket"),
    cloth_marks=(
        ClothMark("mark-1", "cross", 300.0, 3000.5, note="chalk here"),
        ClothMark("mark-2", "line", 300.0, 900.0, 600.0, 900.0),
    ),
    id="5f0c9d1e-3f2a-4c57-9b64-2b6d0a9e7c41",
)


def test_a_full_routine_reads_back_equal():
    assert parse_routine(dump_routine(FULL)) == FULL


def test_writing_is_stable_and_readable():
    text = dump_routine(FULL)
    assert dump_routine(parse_routine(text)) == text
    assert list(json.loads(text)) == [
        "format", "version", "id", "revision", "title", "coach", "club", "level", "notes", "tags",
        "table", "pocket_openings_mm", "conditions", "balls", "shots", "gaps",
        "cloth_marks", "claims",
    ]  # fmt: skip
    assert text.startswith('{\n  "format": "baizewright-routine",\n  "version": 2,\n')
    assert text.endswith("}\n")
    assert "—" in text, "letters stand as they are, not as escapes"


def test_only_format_and_version_are_needed():
    found = parse_routine('{"format": "baizewright-routine", "version": 2}')
    assert found == Routine(id=id_of(Routine())), "and an id is made of what there is"


def test_half_made_routines_are_files_too():
    half = Routine(
        balls=(Ball("red-1", "red", -500.0, 0.0), Ball("red-2", "red", -500.0, 1.0)),
        shots=(Shot("s"),),
        gaps=(Gap("g", "ball-ball"),),
        claims=(Claim("pot-on", ""),),
    )
    assert parse_routine(dump_routine(half)) == replace(half, id=id_of(half))


def test_unknown_keys_are_kept_at_every_level():
    data = json.loads(dump_routine(FULL))
    unknown = {"nested": [1, {"deep": None}], "text": "ß", "number": 0.25}
    data["x_sheet"] = unknown
    data["conditions"]["x_remark"] = "kept"
    for holder in (
        data["balls"][1],
        data["shots"][0],
        data["shots"][0]["lanes"][2],
        data["gaps"][1],
        data["claims"][0],
        data["cloth_marks"][1],
    ):
        holder["x_own"] = unknown
    routine = parse_routine(json.dumps(data))
    assert routine.extra == {"x_sheet": unknown}
    assert routine.shots[0].lanes[2].extra == {"x_own": unknown}
    assert json.loads(dump_routine(routine)) == data


def test_whole_numbers_are_read_as_floats_and_written_without_a_point():
    text = dump_routine(Routine(balls=(Ball("cue", "cue", 889.0, 737.5),)))
    assert '"x_mm": 889,' in text
    ball = parse_routine(text).ball("cue")
    assert (ball.x_mm, ball.y_mm) == (889.0, 737.5)
    assert isinstance(ball.x_mm, float)


def test_a_number_that_is_not_finite_is_not_written():
    with pytest.raises(OutOfRangeError, match="finite"):
        dump_routine(Routine(balls=(Ball("cue", "cue", float("nan"), 1.0),)))


names = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12)
places = st.floats(-1e5, 1e5)
values = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**20), 10**20) | st.floats(-1e9, 1e9) | names,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(names, inner, max_size=3),
    max_leaves=6,
)
extras = st.dictionaries(names.map(lambda key: f"x-{key}"), values, max_size=2)


@st.composite
def routines(draw):
    ids = draw(st.lists(names, unique=True, min_size=1, max_size=5))
    kinds = [draw(st.sampled_from([kind for kind in KINDS if kind != "cue"])) for _ in ids]
    balls = tuple(
        Ball(i, kind, draw(places), draw(places), draw(names), draw(st.booleans()), draw(extras))
        for i, kind in zip(ids, kinds, strict=True)
    )
    lane = st.builds(
        LaneAsk,
        label=st.just("A"),
        tip_height=st.floats(-0.3, 0.3) | st.just("stun"),
        pace=st.floats(1, 10),
        speed_m_s=st.none() | st.floats(0.1, 15),
        side=st.floats(-0.3, 0.3),
        elevation_deg=st.floats(0, 80),
        extra=extras,
    )
    shots = (
        Shot(
            draw(names),
            draw(st.sampled_from(["", *ids])),
            draw(st.sampled_from(["", "top-left", "middle-right"])),
            draw(st.none() | st.floats(-720, 720)),
            lanes=tuple(draw(st.lists(lane, max_size=1))),
            note=draw(names),
            extra=draw(extras),
        ),
    )
    gaps = (Gap(draw(names), "ball-ball", tuple(ids[:2]), from_mm=draw(st.none() | places)),)
    claims = (Claim(draw(st.sampled_from(CLAIM_KINDS)), shots[0].id, gap=gaps[0].id),)
    kind = draw(st.sampled_from(MARK_KINDS))
    ends = (draw(places), draw(places)) if kind == "line" else (None, None)
    mark = ClothMark(
        draw(names), kind, draw(places), draw(places), *ends, draw(names), draw(extras)
    )
    return Routine(
        id=str(draw(st.uuids())),
        title=draw(names),
        balls=balls,
        shots=shots,
        gaps=gaps,
        claims=claims,
        cloth_marks=(mark,),
        extra=draw(extras),
    )


@settings(max_examples=60, deadline=None)
@given(routines())
@pytest.mark.slow
def test_any_routine_reads_back_equal(routine):
    assert parse_routine(dump_routine(routine)) == routine
