"""Players files: read, written, and refused with every fault and its place."""

import json

import pytest
from jsonschema import Draft202012Validator

from engine.errors import OutOfRangeError, RoutineFileError, UnknownNameError
from engine.players import PLAYERS, Player, player_named
from engine.storage import (
    dump_players,
    load_players,
    parse_players,
    players_schema,
    save_players,
)
from engine.storage.own_players import FORM

TWO = (Player("junior", 0.4, 0.1, 0.08, 1.0), Player("Maren Tolliver", 0.0, 0.04, 0.02, 0.4))
GOOD = json.loads(dump_players(TWO))


def with_player(**changes):
    data = json.loads(json.dumps(GOOD))
    data["players"][1].update(changes)
    return json.dumps(data)


def without(key):
    data = json.loads(json.dumps(GOOD))
    del data["players"][1][key]
    return json.dumps(data)


def test_the_schema_is_valid_and_in_step():
    schema = players_schema()
    Draft202012Validator.check_schema(schema)
    assert schema["properties"]["format"]["const"] == FORM.format
    assert schema["properties"]["version"]["const"] == FORM.version
    assert list(Draft202012Validator(schema).iter_errors(GOOD)) == []


@pytest.mark.parametrize("players", [TWO, PLAYERS, TWO[:1]])
def test_players_are_written_and_read_back_in_order(players, tmp_path):
    path = tmp_path / "players.json"
    save_players(players, path)
    assert load_players(path) == players
    assert parse_players(dump_players(players)) == players


def test_keys_nobody_knows_are_let_pass():
    assert parse_players(with_player(club="Thistlewharf")) == TWO


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (with_player(aim_deg=-0.1), "players[1].aim_deg: is -0.1, wanted a number from 0 to 10"),
        (with_player(aim_deg="fine"), 'players[1].aim_deg: is "fine", wanted a number'),
        (with_player(aim_deg=None), "players[1].aim_deg: is null, wanted a number"),
        (with_player(tip_height_ratio=1.5), "players[1].tip_height_ratio: is 1.5, wanted"),
        (with_player(side_ratio=True), "players[1].side_ratio: is true, wanted a number"),
        (with_player(pace=9.5), "players[1].pace: is 9.5, wanted a number from 0 to 9"),
        (with_player(name=""), "players[1].name: is"),
        (with_player(name="junior"), "players[1].name: is 'junior' again, wanted a name of its"),
        (without("pace"), "players[1].pace: is missing"),
        (without("name"), "players[1].name: is missing"),
        ('{"format": "baizewright-players", "version": 1}', "players: is missing"),
        ('{"format": "baizewright-players", "version": 1, "players": []}', "1 to 12 players"),
        ('{"format": "baizewright-players", "version": 1, "players": {}}', "1 to 12 players"),
        (
            '{"format": "baizewright-players", "version": 1, "players": [',
            "line 1, column 61: is not JSON",
        ),
        ("[]", "the file"),
        ("", "the file"),
    ],
)
def test_a_faulty_file_tells_where_and_what_is_wanted(text, fault):
    with pytest.raises(RoutineFileError) as told:
        parse_players(text, "p.json")
    assert all(line.startswith("p.json: ") for line in str(told.value).splitlines())
    assert fault in str(told.value)


def test_every_fault_is_told_at_once():
    data = json.loads(with_player(aim_deg=-1, pace=99))
    data["players"][0]["side_ratio"] = "x"
    with pytest.raises(RoutineFileError) as told:
        parse_players(json.dumps(data), "p.json")
    assert {fault.path for fault in told.value.faults} == {
        "players[0].side_ratio", "players[1].aim_deg", "players[1].pace",
    }  # fmt: skip


def test_other_files_and_newer_versions_are_refused(tmp_path):
    with pytest.raises(RoutineFileError, match="no players file of Baizewright"):
        parse_players(json.dumps({**GOOD, "format": "baizewright-routine"}))
    with pytest.raises(RoutineFileError, match="version"):
        parse_players(json.dumps({**GOOD, "version": 2}))
    with pytest.raises(RoutineFileError, match="no such file"):
        load_players(tmp_path / "away.json")


def test_levels_by_name_and_their_bounds():
    assert player_named("club player") in PLAYERS
    with pytest.raises(UnknownNameError, match="learner, club player, county player"):
        player_named("champion")
    with pytest.raises(OutOfRangeError, match="aim_deg of player x is -1"):
        Player("x", -1.0, 0.0, 0.0, 0.0)
