"""A coach's words for a table, and the figures they stand for."""

from dataclasses import replace

import pytest

from engine.conditions import CONDITION_FACTS, Conditions, likely_ranges, usual_conditions
from engine.conditions.said import SAID, figures_said, names_of, word_for
from engine.errors import UnknownNameError
from engine.shot.lengths import table_lengths
from engine.tables import load_table, table_ids

EVERY = [(what, word) for what, words in SAID.items() for word in words]


@pytest.mark.parametrize("table_id", table_ids())
@pytest.mark.parametrize(("what", "word"), EVERY)
def test_a_word_is_found_again_from_its_figures(table_id, what, word):
    usual = usual_conditions(load_table(table_id))
    figures = figures_said(usual, what, word)
    said = {**{name: getattr(usual, name) for name in names_of(what)}, **figures}
    found = type(usual)(**{**_all(usual), **said})
    assert word_for(usual, found, what) == word
    for name, value in figures.items():
        low, high = CONDITION_FACTS[name].allowed
        assert low <= value <= high


def _all(conditions):
    return {name: getattr(conditions, name) for name in conditions.__dataclass_fields__}


def test_the_cloths_lie_within_what_is_likely_for_a_napped_one():
    table = load_table("snooker-12ft")
    usual, ranges = usual_conditions(table), likely_ranges(table)
    for what, word in EVERY:
        for name, value in figures_said(usual, what, word).items():
            low, high = ranges.get(name) or CONDITION_FACTS[name].likely
            assert low - 1e-9 <= value <= high + 1e-9, (word, name)


def test_a_ball_runs_farther_the_faster_the_table_is_said_to_be():
    # common practice, no source: fast cloth and lively cushions let a ball run on
    table = load_table("snooker-12ft")
    usual = usual_conditions(table)

    def run(what, word):
        changed = {**_all(usual), **figures_said(usual, what, word)}
        return table_lengths(table, Conditions(**changed), 3000.0)

    assert run("cloth", "fast") > run("cloth", "usual") > run("cloth", "slow")
    assert run("cloth", "slow") > run("cloth", "old club cloth")
    assert run("cushions", "lively") > run("cushions", "usual") > run("cushions", "dead")


def test_a_word_there_is_none_of_is_refused():
    with pytest.raises(UnknownNameError, match=r"sticky.*fast"):
        figures_said(Conditions(), "cloth", "sticky")


def test_a_word_for_the_cushions_speaks_of_balls_at_any_speed():
    by_speed = replace(Conditions(), cushion_restitution_fast=0.9)
    assert word_for(Conditions(), by_speed, "cushions") == ""
    assert "cushion_restitution_fast" in names_of("cushions")
    assert figures_said(Conditions(), "cushions", "usual") == {}
