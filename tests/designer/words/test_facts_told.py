"""Every kind of fact has its message, and every message what it names."""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest

from designer.words.facts import MESSAGES, fact
from designer.words.figures import angle, chance, pace, room, tip_place, tip_span
from designer.words.fullness import fullness
from designer.words.gaps import forgives_most, verdict
from designer.words.notes import MESSAGES as NOTES
from designer.words.wording import Wording
from engine.answers.check_json import LIMITS
from engine.balls import Ball
from engine.errors import OutOfRangeError
from engine.results import Fact, GapVerdict, TriedStrike
from engine.routine.values import Gap, Routine, Shot
from engine.units import mm_text, rounded

HOUSE = Path(__file__).resolve().parents[3]
ROUTINE = Routine(
    balls=(Ball("a", "red", 300.0, 300.0), Ball("b", "red", 500.0, 500.0)),
    shots=(Shot("s"),),
    gaps=(Gap("g", "ball-ball", ("a", "b")),),
)
WHOLE = Fact(
    "meets", ball="a", other="b", cushion="left", pocket="top-left", gap="g", shot="s", lane="A",
    name="spots", names=("cushions",), mm=12.4, was_mm=30.0, size_mm=52.5, deg=31.2, share=0.5,
    m_s=2.5, was_m_s=2.0, tip=-0.25, pace=4.0, count=3, then=Fact("goes-in-off"),
    error=OutOfRangeError("pace", 12, "1 to 10"),
)  # fmt: skip


def kinds_in_the_engine():
    """The kinds that stand in the engine's source, a place's worth for those put together."""
    for path in sorted((HOUSE / "engine").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            called = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Fact"
            if called and node.args:
                yield from _constants(node.args[0])


def notes_made():
    """Every note that stands in the source: its kinds, and the names of its values."""
    for part in ("engine", "designer"):
        for path in sorted((HOUSE / part).rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Note":
                    values = node.args[1] if len(node.args) > 1 else ast.Dict([], [])
                    keys = {key.value for key in values.keys}
                    for kind in _constants(node.args[0]):
                        yield kind, keys


def _constants(node):
    if isinstance(node, ast.Constant):
        yield str(node.value)
    elif isinstance(node, ast.IfExp):
        yield from _constants(node.body)
        yield from _constants(node.orelse)


def test_every_kind_the_engine_finds_has_a_message():
    kinds = set(kinds_in_the_engine())
    assert len(kinds) > 60 and kinds <= set(MESSAGES), kinds - set(MESSAGES)
    assert set(LIMITS) <= set(MESSAGES)


@pytest.mark.parametrize("kind", MESSAGES)
def test_every_message_finds_what_it_names(kind):
    told = fact(Wording(ROUTINE), replace(WHOLE, kind=kind))
    assert told and not re.search(r"[{}]|None", told)
    assert not set(re.findall(r"{(\w+)", MESSAGES[kind])) - {
        "ball", "other", "cushion", "pocket", "gap", "shot", "lane", "names", "way", "other_way",
        "length", "was", "size", "was_size", "angle", "tip", "pace", "speed", "limit", "count",
        "fullness", "then", "error",
    }  # fmt: skip


def test_every_note_has_a_message_with_a_place_for_each_of_its_values():
    made = list(notes_made())
    assert {kind for kind, _ in made} == set(NOTES), "one message a kind, and none besides"
    for kind, keys in made:
        named = set(re.findall(r"{(\w+)", NOTES[kind]))
        assert named == keys, (kind, named, keys)


def test_halves_are_rounded_one_way():
    for value in (0.5, 1.5, 2.5, 78.5, 102.5):
        assert (
            mm_text(value) == room(value) == f"{rounded(value):.0f} mm" == f"{value + 0.5:.0f} mm"
        )
        assert rounded(-value) == -rounded(value)
    assert tip_place(2.5) == "3 mm above centre" and tip_place(-2.5) == "3 mm below centre"
    assert angle(30.5) == "31°" and angle(31.5) == "32°"
    assert pace(4.25) == "pace 4.5" and pace(4.75) == "pace 5"


def test_what_is_there_is_never_told_as_none():
    assert room(0.3) == "under 1 mm" and angle(0.3) == "under 1°" and room(0.0) == "0 mm"
    assert chance(0.999) == "over 9 in 10" and chance(0.001) == "under 1 in 10"


@pytest.mark.parametrize("share", [0.40, 0.44, 0.56, 0.62])
def test_half_ball_is_said_of_a_half_alone(share):
    assert "half ball" not in fullness(share) and f"{share:.2f}" in fullness(share)
    assert fullness(0.5) == fullness(0.45) == fullness(0.55) == "half ball"


def test_a_span_of_tips_reads_from_the_farther_to_the_nearer():
    assert tip_span(-9.2, -5.0) == "9 to 5 mm below centre"
    assert tip_span(5.0, 9.2) == "5 to 9 mm above centre"


def test_a_strike_finer_than_a_hand_tells_how_little_there_is_to_hit():
    best = TriedStrike(-0.4475, 4.05, "full screw", 2.97, (0.015, 0.45))
    told = forgives_most(Wording(Routine()), best)
    assert told.endswith(
        "That is finer than a hand can repeat: 0.4 mm of tip and 0.5 of pace from end to end."
    )
    assert forgives_most(Wording(Routine()), replace(best, within=None)).endswith("of room.")


def test_a_gap_that_a_sliver_threads_is_not_told_to_be_missed_by_nothing():
    near = TriedStrike(0.2, 9.5, "top", -0.2)
    found = GapVerdict("g", "s", False, 122.0, (), 0.2, Fact("needs-side"), slivers=1, nearest=near)
    told = verdict(Wording(ROUTINE), found)
    assert "too exact" in told and "needs side" not in told and "nearest" not in told
    none = verdict(Wording(ROUTINE), replace(found, slivers=0))
    assert "needs side" in none and "nearest miss is under 1 mm" in none
