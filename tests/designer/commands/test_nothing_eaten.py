"""No command costs a coach a file: not its inputs, not another kind, not work done by hand."""

import argparse
import os
import re
import shutil
import stat
from pathlib import Path

import pytest

from designer import places
from designer.commands import photo
from designer.commands.main import main
from designer.commands.main import parser as whole_parser
from engine.records import Records
from engine.storage import load_plan, load_routine, previous_copy
from engine.storage.file_kinds import kind_of
from tests.shares import share

DEMOS = Path(__file__).resolve().parents[3] / "layouts_demo"
OBSERVATIONS = "kind,distance_mm,time_s,then_mm\nroll,1400,1.9,900\nroll,1400,2.2,550\n"
NO_OUTLINE = "Note: No outline was made out, so these stay where they were marked: "
POSIX = pytest.mark.skipif(os.name != "posix", reason="rights and links as on POSIX systems")
LINE = ["--player", "QZ", "--routine", "Blue", "--attempts", "3", "--made", "1"]


@pytest.fixture(scope="module")
def sample(tmp_path_factory):
    """Two routines, a plan, a photograph with its marks, a table, observations and records."""
    made = tmp_path_factory.mktemp("sample")
    for name, number in (("a", "01-three-ways-off-the-blue"), ("b", "02-home-to-baulk")):
        shutil.copy(DEMOS / f"{number}.json", made / f"{name}.json")
    for name in ("table.jpg", "table.photo.json"):
        shutil.copy(DEMOS / "photograph" / name, made / name)
    shutil.copy(made / "table.jpg", made / "other.jpg")
    (made / "obs.csv").write_text(OBSERVATIONS)
    (made / "notes.txt").write_text("milk, eggs\n")
    files = [str(made / name) for name in ("a.json", "b.json")]
    assert main(["plan", "new", *files, "-o", str(made / "plan.json")]) == 0
    assert main(["table", "snooker-12ft", "-o", str(made / "own.json")]) == 0
    assert main(["record", "add", "--records", str(made / "r.sqlite"), *LINE]) == 0
    return made


@pytest.fixture(autouse=True)
def folder(sample, tmp_path, monkeypatch):
    """A copy of them, where the commands are given."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    shutil.copytree(sample, tmp_path / "work")
    monkeypatch.chdir(tmp_path / "work")


def everything():
    return {path: path.read_bytes() for path in Path().rglob("*") if path.is_file()}


#: Each command that writes: what it is asked, and a name its output may have.
COMMANDS = {
    "diagram": (["diagram", "a.json"], "out.svg"),
    "diagram png": (["diagram", "a.json"], "out.png"),
    "handout": (["handout", "a.json"], "out.pdf"),
    "table": (["table", "snooker-12ft"], "out.json"),
    "move": (["move", "a.json", "--to", "snooker-10ft"], "out.json"),
    "calibrate": (["calibrate", "obs.csv"], "out.json"),
    "form": (["calibrate", "--form"], "out.csv"),
    "form pdf": (["calibrate", "--form"], "out.pdf"),
    "photo begin": (["photo", "begin", "table.jpg"], "out.json"),
    "photo read": (["photo", "read", "table.photo.json"], "out.json"),
    "photo draw": (["photo", "draw", "table.photo.json", "a.json"], "out.jpg"),
    "step": (["library", "step", "a.json", "--gap", "left-stretch", "--harder", "12"], "out.json"),
    "plan new": (["plan", "new", "a.json", "b.json"], "out.json"),
    "plan order": (["plan", "order", "plan.json"], "out.json"),
    "booklet": (["plan", "booklet", "plan.json"], "out.pdf"),
    "report": (["record", "report", "--records", "r.sqlite", "--player", "QZ"], "out.pdf"),
    "export": (["record", "export", "--records", "r.sqlite", "--player", "QZ"], "out.csv"),
}
#: What else may stand where each writes.
WORK = ("b.json", "plan.json", "own.json", "table.photo.json", "obs.csv", "r.sqlite", "other.jpg",
        "notes.txt")  # fmt: skip


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.slow
def test_work_of_any_kind_stays_where_it_is_until_replace_is_given(name, capsys):
    words, out = COMMANDS[name]
    for work in WORK:
        shutil.copy(work, out)
        before = everything()
        assert main([*words, "-o", out]) == 2, work
        assert everything() == before, work
        told = capsys.readouterr().err.splitlines()[-1]
        assert re.fullmatch(
            rf"{re.escape(out)}: the file: holds .+, which would be lost; name another file, or "
            "give --replace to write over it", told,
        ), told  # fmt: skip


@pytest.mark.parametrize("name", share(sorted(COMMANDS), 5))
@pytest.mark.slow
def test_replace_writes_over_it(name):
    words, out = COMMANDS[name]
    shutil.copy("notes.txt", out)
    assert main([*words, "-o", out, "--replace"]) in (0, 1)
    assert kind_of(Path(out)) != "other"
    again = main([*words, "-o", out])
    if out.endswith((".pdf", ".svg", ".png")):
        assert again in (0, 1), "what can be made again is made again"
    else:
        assert again == 2
    if out.endswith(".json"):
        assert previous_copy(out).read_text() == "milk, eggs\n"


@pytest.mark.parametrize(
    "words",
    [
        ["record", "export", "--records", "r.sqlite", "--player", "QZ", "-o", "r.sqlite"],
        ["record", "report", "--records", "r.pdf", "--player", "QZ", "-o", "r.pdf"],
        ["photo", "draw", "table.photo.json", "a.json", "-o", "table.jpg"],
        ["photo", "read", "table.photo.json", "-o", "table.photo.json"],
        ["photo", "read", "table.photo.json", "-o", "table.jpg"],
        ["photo", "read", "table.photo.json", "--onto", "a.json", "-o", "a.json"],
        ["photo", "read", "table.photo.json", "--table", "own.json", "-o", "own.json"],
        ["photo", "begin", "table.jpg", "-o", "table.jpg"],
        ["photo", "begin", "table.jpg", "--table", "own.json", "-o", "own.json"],
        ["plan", "new", "a.json", "b.json", "-o", "a.json"],
        ["plan", "new", "a.json", "b.json", "-o", "./b.json"],
        ["plan", "order", "plan.json", "-o", "b.json"],
        ["plan", "booklet", "plan.pdf", "-o", "plan.pdf"],
        ["table", "own.json", "-o", "own.json"],
        ["move", "a.json", "--to", "own.json", "-o", "own.json"],
        ["move", "a.json", "--to", "snooker-10ft", "-o", "a.json"],
        ["calibrate", "obs.csv", "-o", "obs.csv"],
        ["calibrate", "--form", "--table", "own.csv", "-o", "own.csv"],
        ["library", "step", "a.json", "--harder", "12", "-o", "a.json"],
        ["diagram", "a.svg", "-o", "a.svg"],
        ["handout", "b.json", "a.pdf", "-o", "a.pdf"],
    ],
    ids=" ".join,
)
@pytest.mark.parametrize("more", [[], ["--replace"]], ids=["", "replace"])
def test_no_input_is_ever_the_output(words, more, capsys):
    """Whatever the files are called, and whatever is said."""
    for name, copy in (("a.json", "a.svg"), ("a.json", "a.pdf"), ("plan.json", "plan.pdf"),
                       ("own.json", "own.csv"), ("r.sqlite", "r.pdf")):  # fmt: skip
        shutil.copy(name, copy)
    before = everything()
    assert main([*words, *more]) == 2
    assert everything() == before
    told = capsys.readouterr().err.splitlines()[-1]
    assert told.endswith("is read here and would be lost; name another file to write"), told


def test_a_plan_may_be_put_in_order_itself_when_that_is_said(capsys):
    assert main(["plan", "order", "plan.json", "-o", "plan.json"]) == 2
    assert "holds a lesson plan already, which would be lost" in capsys.readouterr().err
    assert main(["plan", "order", "plan.json", "-o", "plan.json", "--replace"]) == 0
    assert {item.file for item in load_plan("plan.json").items} == {"a.json", "b.json"}


def test_a_chain_of_steps_writes_all_of_its_files_or_none(capsys):
    Path("chain").mkdir()
    shutil.copy("b.json", "chain/a-step-3.json")
    before = everything()
    words = ["library", "step", "a.json", "--gap", "left-stretch", "--harder", "5", "--steps", "2"]
    assert main([*words, "-o", "chain"]) == 2
    assert "chain/a-step-3.json: the file: holds a routine already" in capsys.readouterr().err
    assert everything() == before


def test_readings_filled_in_are_not_blanked(capsys):
    assert main(["calibrate", "--form", "-o", "obs.csv"]) == 2
    assert "holds observations on a table already, which would be lost" in capsys.readouterr().err
    assert Path("obs.csv").read_text() == OBSERVATIONS


@pytest.mark.parametrize("act", [["find"], ["index"], ["index", "--anew"], ["alike"]])
@pytest.mark.parametrize("file", [*WORK, "a.json"])
def test_an_index_is_never_kept_in_place_of_something_else(act, file, capsys):
    before = everything()
    assert main(["library", act[0], "--library", ".", "--index", file, *act[1:]]) == 2
    assert "wanted the index of a library. It was left as it is" in capsys.readouterr().err
    assert everything() == before


@pytest.mark.parametrize("file", [one for one in WORK if one != "r.sqlite"])
def test_records_are_never_kept_in_place_of_something_else(file, capsys):
    before = everything()
    for words in (["add", *LINE], ["players"], ["import", "obs.csv"]):
        assert main(["record", words[0], "--records", file, *words[1:]]) == 2
        assert "wanted practice records. It was left as it is" in capsys.readouterr().err
    assert everything() == before


@POSIX
def test_what_is_told_of_players_is_for_its_owner_alone(capsys):
    for what, out in (("export", "e.csv"), ("report", "e.pdf")):
        words = ["record", what, "--records", "r.sqlite", "--player", "QZ", "-o", out]
        assert main(words) == 0
        assert stat.S_IMODE(Path(out).stat().st_mode) == 0o600
        Path(out).chmod(0o644)
        assert main([*words, "--replace"]) == 0
        assert stat.S_IMODE(Path(out).stat().st_mode) == 0o600
    assert stat.S_IMODE(Path("r.sqlite").stat().st_mode) == 0o600


@POSIX
def test_a_routine_for_its_owner_alone_has_such_a_copy_of_what_it_was():
    Path("a.json").chmod(0o600)
    assert main(["library", "tag", "a.json", "--add", "warm-up"]) == 0
    for one in (Path("a.json"), previous_copy("a.json")):
        assert stat.S_IMODE(one.stat().st_mode) == 0o600


@POSIX
def test_names_and_links_of_a_tagged_routine_are_kept():
    long = Path("n" * 245 + ".json")
    long.hardlink_to("a.json")
    assert main(["library", "tag", str(long), "--add", "warm-up"]) == 0
    assert "warm-up" in load_routine("a.json").tags and os.path.samefile(long, "a.json")


@POSIX
def test_without_a_home_records_are_kept_where_the_system_says_or_nowhere(
    monkeypatch, capsys, tmp_path
):
    import pwd

    me = list(pwd.getpwuid(os.getuid()))
    monkeypatch.delenv("XDG_DATA_HOME")
    monkeypatch.delenv("XDG_CACHE_HOME")
    for home in ("", "coach"):
        me[5] = str(tmp_path / "home")
        monkeypatch.setattr(pwd, "getpwuid", lambda _uid: pwd.struct_passwd(me))
        monkeypatch.setenv("HOME", home)
        if os.sys.platform == "linux":
            assert places.records_file() == tmp_path / (
                "home/.local/share/Baizewright/baizewright/practice-records.sqlite"
            )
        assert places.index_file().is_relative_to(tmp_path / "home")
        assert main(["record", "add", *LINE]) == 0
        with Records(places.records_file()) as records:
            assert records.players() == ("QZ",)
        me[5] = "/"
        monkeypatch.setenv("HOME", home)
        capsys.readouterr()
        for words in (["record", "players"], ["library", "index", "--library", "."]):
            assert main(words) == 2
            wanted = f"HOME is {home!r}; wanted the whole path of your home folder. Set it, or name"
            assert wanted in capsys.readouterr().err
        assert main(["record", "players", "--records", "r.sqlite"]) == 0


@pytest.mark.slow
def test_balls_without_an_outline_are_told(monkeypatch, capsys):
    found = photo.suggest_middle
    calls = []

    def sometimes(*given, **more):
        calls.append(given)
        return None if len(calls) in (2, 3) else found(*given, **more)

    monkeypatch.setattr(photo, "suggest_middle", sometimes)
    assert main(["photo", "read", "table.photo.json", "--fit"]) in (0, 1)
    told = capsys.readouterr().out.splitlines()
    balls = photo.load_photo_marks("table.photo.json").balls
    wanted = f"{NO_OUTLINE}{balls[1].id}, {balls[2].id}."
    assert [line for line in told if "outline" in line] == [wanted]
    calls[:] = [None] * 9
    assert main(["photo", "read", "table.photo.json", "--fit"]) in (0, 1)
    assert "outline" not in capsys.readouterr().out


def test_a_click_beside_every_ball_is_told(capsys):
    """On the real picture: a click on bare cloth has no outline."""
    marks = photo.load_photo_marks("table.photo.json")
    photo_file = Path("table.photo.json")
    ball = marks.balls[0]
    text = photo_file.read_text()
    moved = text.replace(f'"x_px": {ball.x_px:g}', f'"x_px": {ball.x_px + 120:g}')
    assert moved != text
    photo_file.write_text(moved)
    assert main(["photo", "read", "table.photo.json", "--fit"]) in (0, 1)
    assert f"{NO_OUTLINE}{ball.id}." in capsys.readouterr().out


# Help ----------------------------------------------------------------------------------------


def parsers(parser, way=()):
    """Every parser below one, with the words that lead to it."""
    yield way, parser
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, below in action.choices.items():
                yield from parsers(below, (*way, name))


def test_every_help_text_is_plain_words():
    found = dict(parsers(whole_parser()))
    assert len(found) > 25
    for way, parser in found.items():
        told = parser.format_help()
        assert not re.search(r"\{'|%\(|%%|\bNone\b", told), (way, told)


def test_the_help_of_records_says_what_it_says(capsys):
    assert main(["record", "--help"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "show success by routine, with 95 % ranges" in told


def test_every_command_that_writes_takes_replace():
    for way, parser in parsers(whole_parser()):
        options = set(parser._option_string_actions)
        assert ("--out" in options) == ("--replace" in options), way
