"""`library`, `plan` and `record` on the command line, from files to files."""

import io
import json

import pytest

from designer.commands.main import main
from designer.places import index_file, records_file
from engine.library import Query
from engine.records import Records
from engine.storage import load_plan, load_routine, save_routine
from tests.designer.pdf_pages import page_texts
from tests.engine.library.generated_routines import generated, shifted, write_library


@pytest.fixture(autouse=True)
def own_places(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "local"))


@pytest.fixture
def folder(tmp_path):
    write_library(tmp_path / "routines", 12)
    save_routine(shifted(generated(5), 5.0, 1), tmp_path / "routines" / "again.json")
    return tmp_path / "routines"


def files_of(folder):
    return sorted(folder.rglob("routine-*.json"))


def test_index_and_find(folder, capsys):
    assert main(["library", "index", "--library", str(folder), "--reach"]) == 0
    assert index_file().exists()
    told = capsys.readouterr().out
    assert "13 routines; 13 new, 0 changed, 0 gone" in told
    assert "Lowest paces worked out for 13 routines." in told
    assert main(["library", "find", "balls<=4", "--library", str(folder), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["routines"]
    wanted = {generated(n).title for n in range(12) if len(generated(n).balls) <= 4}
    assert {one["title"] for one in found} - {generated(5).title + " again"} == wanted
    assert all(one["ball_count"] <= 4 and one["reach_known"] for one in found)


@pytest.mark.slow
def test_options_and_typed_conditions_mean_the_same(folder, capsys):
    at = ["--library", str(folder), "--json"]
    for typed, option in (
        ("skill:run-through", ["--skill", "run-through"]),
        ("pocket:middle", ["--pocket", "middle"]),
        ("level:3", ["--level", "3"]),
        ("pace<=9", ["--pace-most", "9"]),
        ("balls<=5", ["--balls-most", "5"]),
        ("balls:up-to-5", ["--balls-most", "5"]),
        ("pace:up-to-9", ["--pace-most", "9"]),
        ("tag:left hand", ["--tag", "left hand"]),
        ("tag:left hand balls<=5", ["--tag", "left hand", "--balls-most", "5"]),
        ("balls<=5 tag:left hand", ["--tag", "left hand", "--balls-most", "5"]),
        ('skill:"run-through" balls<=5', ["--skill", "run-through", "--balls-most", "5"]),
        ("pocket:middle balls<=5 pace<=9",
         ["--pocket", "middle", "--balls-most", "5", "--pace-most", "9"]),
    ):  # fmt: skip
        main(["library", "find", typed, *at])
        one = capsys.readouterr().out
        main(["library", "find", *option, *at])
        assert capsys.readouterr().out == one
        assert json.loads(one)["routines"], typed


def test_a_whole_search_in_quotes_is_the_same_as_its_parts(folder, capsys):
    at = ["--library", str(folder), "--json"]
    for whole in ("blue pocket:middle balls<=5", "blue  balls:up-to-5 pocket:middle"):
        main(["library", "find", whole, *at])
        one = capsys.readouterr().out
        main(["library", "find", *whole.split(), *at])
        assert capsys.readouterr().out == one


def test_near_duplicates_are_told_with_their_files(folder, capsys):
    assert main(["library", "alike", "--library", str(folder), "--within", "10"]) == 0
    told = capsys.readouterr().out
    assert "again.json" in told and "routine-0005.json" in told
    assert "1 pairs, in 1 group." in told


def test_tags_are_written_into_files(folder, capsys):
    one, two = files_of(folder)[:2]
    assert main(["library", "tag", str(one), str(two), "--add", "for Tuesday"]) == 0
    assert "for Tuesday" in load_routine(one).tags and "for Tuesday" in load_routine(two).tags
    assert main(["library", "tag", str(folder / "none.json"), "--add", "x"]) == 2
    assert "no such file" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["library", "find", "skill:luck", "--library", "."], "there is no skill called 'luck'"),
        (["library", "find", "--library", "nowhere-at-all"], "a folder that is there"),
        (["library", "alike", "--library", ".", "--within", "-1"], "0 to 500 mm"),
        (["plan", "show", "none.json"], "no such file"),
        (["plan", "booklet", "p.json", "-o", "x.txt"], "a name in .pdf"),
        (["record", "show", "--player", "QZ"], "there is no player called 'QZ'"),
        (["record", "add", "--player", "QZ", "--routine", "B", "--attempts", "3", "--made", "4"],
         "0 to 3, the attempts"),
        (["record", "add", "--player", "QZ", "--routine", "B", "--attempts", "3", "--made", "1",
          "--missed", "up=1"], "pot|left|right|short|long=N"),
        (["record", "add", "--player", "QZ", "--routine", "B", "--attempts", "3", "--made", "1",
          "--day", "today"], "a day as 2026-03-31"),
    ],
)  # fmt: skip
def test_bad_input_is_told_and_refused(words, says, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    assert says in " ".join(capsys.readouterr().err.split())


@pytest.mark.slow
def test_a_step_is_made_proved_and_written(tmp_path, capsys):
    from pathlib import Path

    demo = Path(__file__).resolve().parents[3] / "layouts_demo" / "01-three-ways-off-the-blue.json"
    out = tmp_path / "harder.json"
    words = ["library", "step", str(demo), "--gap", "left-stretch", "--by", "gap"]
    assert main([*words, "--harder", "12", "-o", str(out)]) == 0
    told = capsys.readouterr().out
    assert told.startswith("1. Gap narrowed from 500 mm to ") and " in 10" in told
    gaps = {gap.id: gap for gap in load_routine(out).gaps}
    assert gaps["left-stretch"].to_mm - gaps["left-stretch"].from_mm < 450
    assert main([*words, "--harder", "99"]) == 2
    assert "wanted 2 to 98 %" in capsys.readouterr().err


@pytest.mark.slow
def test_from_routines_to_an_ordered_booklet(folder, tmp_path, capsys):
    files = [str(path) for path in [*files_of(folder)[3:6], folder / "again.json"]]
    plan = tmp_path / "plan.json"
    assert main(["plan", "new", *files, "-o", str(plan), "--title", "Tuesday", "--minutes", "15",
                 "--day", "2026-04-07"]) == 0  # fmt: skip
    assert [item.file for item in load_plan(plan).items][-1] == "routines/again.json"
    other = tmp_path / "deeper" / "plan.json"
    other.parent.mkdir()
    assert main(["plan", "order", str(plan), "-o", str(other)]) == 0
    told = capsys.readouterr().out
    assert "1 h in all" in told and "Balls needed: cue ball" in told
    assert load_plan(other).items[0].file.startswith("../routines/")
    assert main(["plan", "show", str(other)]) == 0
    out = tmp_path / "booklet.pdf"
    made = ["plan", "booklet", str(other), "-o", str(out), "--made-at", "2026-04-01T10:00:00"]
    assert main(made) == 0
    first = out.read_bytes()
    pages = page_texts(first)
    assert "Tuesday" in pages[0] and "Balls needed" in pages[0]
    for file in files:
        assert load_routine(file).title in pages[0]
    assert len(pages) >= 5
    assert main(made) == 0
    assert out.read_bytes() == first


def test_records_from_writing_down_to_deleting(tmp_path, capsys, monkeypatch):
    words = ["--player", "QZ", "--routine", "Round the black", "--attempts", "10"]
    assert main(["record", "add", *words, "--made", "6", "--missed", "long=2",
                 "--day", "2026-03-01"]) == 0  # fmt: skip
    assert "under 18" in capsys.readouterr().err
    assert records_file().exists()
    table = tmp_path / "p.csv"
    table.write_text(
        "player,routine,date,attempts,made\nQZ,Blue,2026-03-08,10,8\nAB,Blue,2026-03-08,10,2\n"
    )
    assert main(["record", "import", str(table)]) == 0
    assert main(["record", "import", str(table)]) == 0
    assert "0 lines taken in, 2 were there before." in capsys.readouterr().out
    assert main(["record", "players"]) == 0
    assert capsys.readouterr().out.split() == ["AB", "QZ"]
    assert main(["record", "show", "--player", "QZ"]) == 0
    assert "Round the black: 6 of 10, 6 in 10 (3 in 10 to 8 in 10)" in capsys.readouterr().out
    report, export = tmp_path / "r.pdf", tmp_path / "e.csv"
    assert main(["record", "report", "--player", "QZ", "-o", str(report)]) == 0
    text = "".join(page_texts(report))
    assert "Practice of QZ" in text and "AB" not in text
    assert main(["record", "export", "--player", "QZ", "-o", str(export)]) == 0
    assert export.read_text().count("QZ") == 2 and "AB" not in export.read_text()
    monkeypatch.setattr("sys.stdin", io.StringIO("no\n"))
    assert main(["record", "delete", "--player", "QZ"]) == 1
    monkeypatch.setattr("sys.stdin", io.StringIO("yes\n"))
    assert main(["record", "delete", "--player", "QZ"]) == 0
    with Records(records_file()) as records:
        assert records.players() == ("AB",)


def test_a_records_file_of_ones_own(tmp_path):
    file = tmp_path / "own.sqlite"
    assert main(["record", "add", "--records", str(file), "--player", "QZ", "--routine", "B",
                 "--attempts", "3", "--made", "1"]) == 0  # fmt: skip
    assert file.exists() and not records_file().exists()


def test_faulty_files_can_be_listed(folder, capsys):
    (folder / "torn.json").write_text("{")
    assert main(["library", "find", "--faulty", "--library", str(folder)]) == 0
    assert "torn.json" in capsys.readouterr().out
    assert Query(faulty=True).faulty
