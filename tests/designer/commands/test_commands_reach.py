"""The options of `reach` and `check`: players, advice, tolerance; text and JSON alike."""

import json
import re
from pathlib import Path

import jsonschema
import pytest

from designer.commands.main import main
from engine.players import Player
from engine.storage import check_schema, reach_schema, save_players

FOLDER = Path(__file__).resolve().parents[3] / "layouts_demo"
CLOSED = str(FOLDER / "10-can-it-be-done.json")
OPEN = str(FOLDER / "04-left-right-or-between.json")
TWO_SHOTS = str(FOLDER / "11-two-gaps-one-stroke.json")
ASK = ["--advise", "reds", "--pace", "3-6", "--margin", "15", "--apart", "120"]


def told(capsys, *args, code=0):
    assert main(list(args)) == code
    return capsys.readouterr()


def as_json(capsys, *args):
    data = json.loads(told(capsys, "reach", *args, "--json").out)
    jsonschema.Draft202012Validator(reach_schema()).validate(data)
    return data


@pytest.fixture
def players(tmp_path):
    """A players file with one sure and one wild hand."""
    path = tmp_path / "players.json"
    save_players((Player("wild", 2.0, 0.3, 0.3, 2.0), Player("sure", 0.0, 0.0, 0.0, 0.0)), path)
    return str(path)


# Players ----------------------------------------------------------------------------------------


@pytest.mark.slow
def test_chances_are_told_for_the_players_of_a_file(capsys, players):
    data = as_json(capsys, OPEN, "--players", players)
    assert [one["name"] for one in data["players"]] == ["wild", "sure"]
    (verdict,) = data["verdicts"]
    chances = {one["player"]: one for one in verdict["choice"]["chances"]}
    assert chances["sure"]["chance"] == 1.0 and chances["wild"]["chance"] < 0.7
    text = told(capsys, "reach", OPEN, "--players", players).out
    assert "chance of a sure: 10 in 10" in text and "club player" not in text


def test_a_faulty_players_file_is_told_by_its_name(capsys, tmp_path):
    bad = tmp_path / "bad.json"
    bad.write_text('{"format": "baizewright-players", "version": 1, "players": []}')
    seen = told(capsys, "reach", OPEN, "--players", str(bad), code=2)
    assert seen.out == "" and "bad.json: players: " in seen.err and "1 to 12" in seen.err
    away = str(tmp_path / "away.json")
    assert "away.json" in told(capsys, "reach", OPEN, "--players", away, code=2).err


# Advice -----------------------------------------------------------------------------------------


@pytest.mark.slow
def test_advice_as_text_names_moves_strikes_and_costs(capsys):
    seen = told(capsys, "reach", CLOSED, *ASK)
    assert "Advice for gap “" in seen.out
    assert "(pace 3 to 6, 15 mm of room or more, lanes" in seen.out
    assert "lanes 120 mm apart or more" in seen.out
    lines = [line.strip() for line in seen.out.splitlines()]
    assert [line[:7] for line in lines if line[:2] in ("1.", "2.", "3.")] == [
        "1. Move", "2. Move", "3. Move",
    ]  # fmt: skip
    assert any("No longer true then:" in line for line in lines)


@pytest.mark.slow
def test_advice_as_json_holds_the_wish_and_three_proposals(capsys):
    advice = as_json(capsys, CLOSED, *ASK)["advice"]
    wish = advice["wish"]
    assert (wish["pace_min"], wish["pace_max"]) == (3.0, 6.0)
    assert (wish["margin_mm"], wish["apart_mm"], wish["movable"]) == (15.0, 120.0, [])
    sizes = [one["distance_mm"] for one in advice["proposals"]]
    assert len(sizes) == 3 and sizes == sorted(sizes)
    for one in advice["proposals"]:
        assert one["margin_mm"] >= 15.0 and one["lanes_apart_mm"] >= 120.0
        assert 3.0 <= one["pace"] <= 6.0


@pytest.mark.slow
def test_only_balls_named_by_move_are_moved(capsys):
    advice = as_json(capsys, CLOSED, *ASK, "--move", "cue")["advice"]
    assert advice["wish"]["movable"] == ["cue"]
    moved = {move["ball"] for one in advice["proposals"] for move in one["moves"]}
    assert moved == {"cue"}


@pytest.mark.slow
def test_one_pace_is_a_range_too(capsys):
    wish = as_json(capsys, CLOSED, "--advise", "reds", "--pace", "4", "--move", "red-pot")
    assert (wish["advice"]["wish"]["pace_min"], wish["advice"]["wish"]["pace_max"]) == (4.0, 4.0)


@pytest.mark.slow
def test_a_gap_that_is_open_needs_no_move(capsys):
    text = told(capsys, "reach", OPEN, "--advise", "reds").out
    assert "1. Nothing needs to be moved" in text and "  2. " not in text.split("Advice")[1]


@pytest.mark.slow
def test_a_wish_that_nothing_grants_is_told(capsys):
    text = told(capsys, "reach", CLOSED, "--advise", "reds", "--margin", "900", "--move", "cue").out
    assert "no move of one or two balls within 300 mm was found" in text


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--pace", "3-6"], "--pace is given without --advise"),
        (["--margin", "5", "--move", "cue"], "--margin, --move is given without --advise"),
        (["--apart", "5"], "wanted --advise GAP too"),
        (["--advise", "plum"], "there is no gap called 'plum'"),
        (["--advise", "reds", "--move", "plum"], "there is no ball called 'plum'"),
        (["--advise", "reds", "--pace", "6-3"], "the lower first"),
        (["--advise", "reds", "--pace", "0-3"], "within 1 to 10"),
        (["--advise", "reds", "--margin", "-4"], "0 to 2000 mm"),
        (["--shot", "plum"], "there is no shot called 'plum'"),
    ],
)
def test_options_that_cannot_be_are_refused_in_one_line(capsys, args, words):
    seen = told(capsys, "reach", CLOSED, *args, code=2)
    assert seen.out == "" and words in seen.err.splitlines()[-1]


def test_a_pace_that_is_no_range_is_wrong_usage(capsys):
    seen = told(capsys, "reach", CLOSED, "--advise", "reds", "--pace", "soft", code=2)
    assert "'soft' is no range of paces" in seen.err


def test_locked_balls_are_not_moved(capsys, tmp_path):
    data = json.loads(Path(CLOSED).read_text(encoding="utf-8"))
    for ball in data["balls"]:
        ball["locked"] = ball["id"] == "cue"
    path = tmp_path / "locked.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    seen = told(capsys, "reach", str(path), "--advise", "reds", "--move", "cue", code=2)
    assert "--move cue is a locked ball" in seen.err and "Unlock it first" in seen.err


def test_with_several_shots_the_one_to_advise_on_must_be_named(capsys):
    seen = told(capsys, "reach", TWO_SHOTS, "--advise", "first", code=2)
    assert "the shot to advise on: which-stroke, which-pace" in seen.err


@pytest.mark.slow
def test_one_shot_alone(capsys):
    data = as_json(capsys, TWO_SHOTS, "--shot", "which-pace")
    assert {one["shot"] for one in data["verdicts"]} == {"which-pace"}


# Shots and gaps without a verdict ---------------------------------------------------------------


@pytest.mark.slow
def test_a_table_without_pockets_is_told_in_words(capsys, tmp_path):
    out = tmp_path / "carom.json"
    main(["move", OPEN, "--to", "carom", "--by", "proportion", "-o", str(out)])
    capsys.readouterr()
    text = told(capsys, "reach", str(out)).out
    assert "The table has no pockets" in text and "No verdict" in text
    assert "mm wide" not in text and "not reachable" not in text
    data = as_json(capsys, str(out))
    assert data["verdicts"] == [] and "no pockets" in data["refusals"][0]["reason"]
    checked = told(capsys, "check", str(out), code=1).out
    assert "the table has no pockets" in checked and "0 mm wide" not in checked
    assert "0 of 6 claims hold" in checked


@pytest.mark.slow
def test_a_gap_that_is_not_complete_is_told_in_words(capsys, tmp_path):
    data = json.loads(Path(OPEN).read_text(encoding="utf-8"))
    data["gaps"].append({"id": "bare", "kind": "cloth-area"})
    data["claims"] = [{"kind": "gap-unreachable", "shot": "pot-blue", "gap": "bare"}]
    path = tmp_path / "bare.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    text = told(capsys, "reach", str(path)).out
    assert re.search(r"\(reds\), 221 mm wide, .*: reachable", text)
    assert re.search(r"\(bare\), .*\(pot-blue\)\n    No verdict: ", text)
    # nothing is known of it, so nothing is proved about it
    assert "0 of 1 claims hold" in told(capsys, "check", str(path), code=1).out


# Set-up tolerance -------------------------------------------------------------------------------


@pytest.mark.slow
def test_check_tells_set_up_tolerance_the_most_delicate_ball_first(capsys):
    text = told(capsys, "check", OPEN, "--tolerance").out
    part = text.split("Set-up tolerance")[1].splitlines()[1:]
    sizes = [float(line.split(": ")[1].split(" mm")[0]) for line in part if " mm" in line][:4]
    assert len(sizes) == 4 and sizes == sorted(sizes)
    assert "no longer true" in part[0]
    assert "Set-up tolerance" not in told(capsys, "check", OPEN).out


@pytest.mark.slow
def test_check_json_holds_tolerance_when_asked(capsys):
    data = json.loads(told(capsys, "check", OPEN, "--tolerance", "--json").out)
    jsonschema.Draft202012Validator(check_schema()).validate(data)
    assert [one["ball"] for one in data["tolerance"]] == [one["id"] for one in data["balls"]]
    for one in data["tolerance"]:
        assert one["at_least"] == (one["claim"] is None) == (one["direction_deg"] is None)
    assert json.loads(told(capsys, "check", OPEN, "--json").out)["tolerance"] is None


@pytest.mark.slow
def test_check_tells_lanes_apart(capsys):
    text = told(capsys, "check", OPEN).out
    assert "apart where the player points: A and B " in text
    data = json.loads(told(capsys, "check", OPEN, "--json").out)
    pairs = data["shots"][0]["lane_pairs"]
    assert len(pairs) == 6 and all(one["apart"] for one in pairs)
