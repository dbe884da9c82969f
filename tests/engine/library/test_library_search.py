"""Search by words and facts, with and without SQLite's own full text; each against a plain loop."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.balls import Ball
from engine.errors import OutOfRangeError, UnknownNameError
from engine.library import Library, Query, facts_of, query_of, skills_of
from engine.library.looking import lowest_pace
from engine.library.plain import plain_words
from engine.routine.values import STUN, Gap, LaneAsk, Routine, Shot
from engine.storage import save_routine
from tests.engine.library.generated_routines import generated, write_library

COUNT = 80


@pytest.fixture(scope="module", params=[True, False], ids=["full-text", "plain-sql"])
def library(tmp_path_factory, request):
    folder = tmp_path_factory.mktemp("routines")
    write_library(folder / "a", COUNT)
    odd = replace(generated(500), title="Café – das Übungsstück", tags=("Größe",))
    save_routine(odd, folder / "odd.json")
    made = Library([folder], folder / "index.sqlite", full_text=request.param)
    made.refresh()
    assert made.store.fts is request.param
    yield made
    made.close()


ALL = [generated(number) for number in range(COUNT)]


def found(library, text):
    return {entry.title for entry in library.search(query_of(text))} - {"Café – das Übungsstück"}


def traits(routine, kind):
    return {value for name, value in facts_of(routine).traits if name == kind}


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        ("balls<=3", lambda r: len(r.balls) <= 3),
        ("balls>=5", lambda r: len(r.balls) >= 5),
        ("balls:4", lambda r: len(r.balls) == 4),
        ("balls:up-to-3", lambda r: len(r.balls) <= 3),
        ("balls:from-5", lambda r: len(r.balls) >= 5),
        ("balls:3-4", lambda r: 3 <= len(r.balls) <= 4),
        ("level:up-to-2 balls:from-4", lambda r: r.level <= 2 and len(r.balls) >= 4),
        ("level:2", lambda r: r.level == 2),
        ("level>=4", lambda r: r.level >= 4),
        ("tag:safety", lambda r: "safety" in r.tags),
        ("tag:SAFETY", lambda r: "safety" in r.tags),
        ("tag:safety tag:juniors", lambda r: {"safety", "juniors"} <= set(r.tags)),
        ("pocket:middle", lambda r: r.shots[0].pocket.startswith("middle")),
        ("pocket:left", lambda r: r.shots[0].pocket.endswith("left")),
        ("pocket:top-right", lambda r: r.shots[0].pocket == "top-right"),
        ("gap:cushion-stretch", lambda r: r.gaps[0].kind == "cushion-stretch"),
        ("skill:screw", lambda r: "screw" in skills_of(r)),
        ("skill:pace skill:top", lambda r: {"pace", "top"} <= set(skills_of(r))),
        ("contact:half", lambda r: "half" in traits(r, "contact")),
        ("blue", lambda r: "blue" in plain_words(facts_of(r).text).split()),
        ("blue level:3", lambda r: "Blue" in r.title and r.level == 3),
    ],
)
def test_conditions_find_what_a_loop_finds(library, text, fits):
    wanted = {routine.title for routine in ALL if fits(routine)}
    assert found(library, text) == wanted
    assert 0 < len(wanted) < COUNT, "a condition that tells something apart"


@pytest.mark.parametrize("text", ["cafe", "CAFÉ", "ubung", "große", "GRÖSSE", "das cafe"])
def test_words_are_found_whatever_case_and_accents(library, text):
    titles = [entry.title for entry in library.search(query_of(text))]
    assert titles == ["Café – das Übungsstück"]


def test_words_are_beginnings_of_words(library):
    assert library.search(query_of("afé")) == []


@given(st.text(max_size=30))
@settings(max_examples=60, deadline=None)
@pytest.mark.slow
def test_any_text_may_be_typed(library, text):
    try:
        query = query_of(text)
    except (OutOfRangeError, UnknownNameError):
        return
    assert len(library.search(query)) == library.count(query)


@pytest.mark.parametrize(
    ("text", "error", "says"),
    [
        ("skill:backspin", UnknownNameError, "known here: top, stun, screw"),
        ("pocket:corner", UnknownNameError, "middle"),
        ("colour:red", UnknownNameError, "condition of a search"),
        ("balls<=many", OutOfRangeError, "wanted a number"),
        ("pace>=4", OutOfRangeError, "pace<= and a number"),
        ("pace:from-4", OutOfRangeError, "pace<= and a number"),
        ("pace:2-4", OutOfRangeError, "pace<= and a number"),
        ("balls:up-to-many", OutOfRangeError, "wanted a number"),
        ("balls:3-", OutOfRangeError, "wanted a number"),
    ],
)
def test_a_condition_that_cannot_be_meant_is_told(text, error, says):
    with pytest.raises(error, match=says):
        query_of(text)


def test_the_spellings_without_signs_mean_the_same():
    """What a shell would take for itself can be typed another way."""
    for plain, signs in (
        ("balls:up-to-3", "balls<=3"), ("balls:from-5", "balls>=5"),
        ("level:2-4", "level>=2 level<=4"), ("pace:up-to-4", "pace<=4"),
        ("pace:up-to-3,5", "pace<=3.5"),
    ):  # fmt: skip
        assert query_of(plain) == query_of(signs)


@pytest.mark.slow
def test_reachable_at_a_pace(library):
    assert library.search(Query(pace_most=10.0)) == [], "nobody has looked yet"
    library.look_at_reach()
    paces = {routine.title: lowest_pace(routine) for routine in ALL}
    for most in (2.0, 4.0, 6.0):
        wanted = {title for title, pace in paces.items() if pace is not None and pace <= most}
        assert found(library, f"pace<={most:g}") == wanted
    assert any(pace is None for pace in paces.values())
    assert library.look_at_reach() == 0, "known by content from now on"


def test_the_lowest_pace_is_one_the_engine_reaches_at():
    from engine.reach import widest_room

    routine = next(one for one in ALL if lowest_pace(one) is not None)
    pace = lowest_pace(routine)
    room = widest_room(routine, routine.shots[0].id, routine.gaps[0].id, pace, pace)
    assert room is not None and room >= 0.0


def test_pages_join_to_the_whole(library):
    pages = [entry for start in range(0, 90, 20) for entry in library.search(None, 20, start)]
    assert pages == library.search()


def test_skills_are_read_off_what_is_asked():
    lanes = (
        LaneAsk("A", 0.4, 3.0), LaneAsk("B", 0.4, 5.0), LaneAsk("C", STUN), LaneAsk("D", -0.3),
        LaneAsk("E", 0.12, side=0.2),
    )  # fmt: skip
    routine = Routine(
        balls=(Ball("cue", "cue", 800.0, 900.0),),
        shots=(Shot("s", lanes=lanes),),
        gaps=(Gap("g", "cannon", ("red",)), Gap("h", "cushion-stretch", cushion="top")),
    )
    assert skills_of(routine) == (
        "top", "stun", "screw", "run-through", "side", "pace", "cannon", "cushion",
    )  # fmt: skip
