"""How commands end when something is wrong with names, stores or the program: never with 1."""

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from designer.commands import ending
from designer.commands.main import FILES, main, parser
from tests.fuzz.arguments import options_of

HOUSE = Path(__file__).resolve().parents[3]


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)


def add(*more):
    return main(
        ["record", "add", "--records", "r.sqlite", "--routine", "Blue", "--attempts", "5",
         "--made", "3", "--day", "2026-03-01", *more]
    )  # fmt: skip


def test_words_that_are_no_utf8_are_refused_before_anything_is_done(capsys):
    odd = os.fsdecode(b"Q\xe9") if sys.platform != "win32" else "Q\ud8e9"
    for given in (["--player", odd], ["--player", "QZ", "--note", odd]):
        assert add(*given) == 2
        assert "is not UTF-8 text; type it anew" in capsys.readouterr().err
    assert main(["library", "find", odd]) == 2
    assert not Path("r.sqlite").exists()


@pytest.mark.parametrize(
    "given",
    [["plan", "new", "a.json", "-o--"], ["plan", "new", "a.json", "-o", "p.json", "--title=--"],
     ["library", "find", "--skill=--"]],
)  # fmt: skip
def test_an_option_given_two_dashes_as_its_value_is_refused(given, capsys):
    assert main(given) == 2
    assert "ends in --, which is no value" in capsys.readouterr().err


def test_every_argument_is_known_as_a_file_or_as_words():
    """A new argument that names a file belongs into FILES, or no odd name can be given to it."""
    named = {
        one.dest
        for _, options in options_of(parser())
        for one in options
        if one.metavar in {"FILE", "OUT", "FOLDER", "PICTURE", "MARKS", "TABLE"}
        or (one.metavar or "").rpartition(".")[2] in ("json", "pdf", "csv")
    }
    assert named == FILES - {"conditions", "players"}, "these are called otherwise"


@pytest.mark.parametrize(
    ("column", "cell", "told"),
    [
        ("day", "yesterday", "its day is 'yesterday'"), ("day", 7, "its day is '7'"),
        ("misses", "{", "its misses is '{'"),
        ("misses", "[1]", "its misses is '[1]'"), ("misses", '{"pot": "x"}', "its misses is"),
        ("misses", '{"sky": 1}', "its kind of miss is 'sky'"), ("misses", "[" * 100_000, "its mis"),
        ("note", b"\xff", "its note is b'\\xff'"), ("note", "a\nb", "its note is 'a\\nb'"),
        ("attempts", "many", "its attempts is 'many'"),
        ("routine", b"\xff", "its routine is"), ("step", 2.5, "its step is 2.5"),
    ],
)  # fmt: skip
def test_a_damaged_cell_of_the_records_is_named(column, cell, told, capsys):
    assert add("--player", "QZ", "--missed", "pot=1") == 0
    connection = sqlite3.connect("r.sqlite")
    connection.execute("PRAGMA ignore_check_constraints = ON")
    connection.execute(f"UPDATE practice SET {column} = ?", (cell,))
    connection.commit()
    connection.close()
    before = Path("r.sqlite").read_bytes()
    for given in (["show"], ["export", "-o", "o.csv"], ["report", "-o", "o.pdf"]):
        assert main(["record", *given, "--records", "r.sqlite", "--player", "QZ"]) == 2
        err = capsys.readouterr().err
        assert f"r.sqlite is damaged: line 1 cannot be read, {told}" in err
        assert "Put back a copy of the file; it was left as it is." in err
    assert Path("r.sqlite").read_bytes() == before and not Path("o.csv").exists()


def test_an_error_nobody_foresaw_ends_with_2_and_a_report(monkeypatch, capsys, tmp_path):
    def failing(_file, _unit):
        raise KeyError("secret words")

    monkeypatch.setattr("designer.commands.exports.place", failing)
    assert main(["place", "a.json"]) == 2
    told = capsys.readouterr().err
    assert told.startswith("Something in the program went wrong (KeyError); what was asked for is")
    assert "secret words" not in told
    (report,) = (tmp_path / "data" / "Baizewright" / "baizewright" / "reports").iterdir()
    assert str(report) in told and "secret words" not in report.read_text(encoding="utf-8")


def test_where_no_report_can_be_written_the_command_ends_with_2_all_the_same(monkeypatch, capsys):
    def failing(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("designer.fault_report.write_report", failing)
    assert ending.unforeseen(ValueError("x")) == 2
    assert "No report could be written." in capsys.readouterr().err


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a device that is always full")
def test_an_output_that_cannot_be_written_ends_with_2_and_a_sentence(tmp_path):
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "designer.commands.main", "table"],
            cwd=HOUSE, stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr == "The output could not be written: No space left on device.\n"
