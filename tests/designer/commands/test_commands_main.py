"""The command line: exit codes, messages, files written whole, nothing loaded without need."""

import json
import subprocess
import sys

import jsonschema
import pypdf
import pytest

from designer.commands.main import main
from engine.routine.identity import revision_of
from engine.storage import check_schema, load_routine, reach_schema
from tests.designer.pdf_pages import page_texts

GOOD = {
    "format": "baizewright-routine",
    "version": 1,
    "title": "Round the black",
    "table": "snooker-12ft",
    "balls": [
        {"id": "cue", "kind": "cue", "x_mm": 1100, "y_mm": 2900},
        {"id": "black", "kind": "black", "x_mm": 889, "y_mm": 3245},
        {"id": "r1", "kind": "red", "x_mm": 1200, "y_mm": 2500},
        {"id": "r2", "kind": "red", "x_mm": 900, "y_mm": 2500},
    ],
    "shots": [
        {
            "id": "s",
            "object_ball": "black",
            "pocket": "top-left",
            "lanes": [{"label": "A", "tip_height": 0.5, "pace": 4}],
        }
    ],
    "gaps": [{"id": "g", "kind": "ball-ball", "balls": ["r1", "r2"]}],
    "claims": [{"kind": "pot-on", "shot": "s"}],
}


@pytest.fixture
def file(tmp_path):
    """Writes a routine file and returns its path as text."""

    def write(name="good.json", **changes):
        path = tmp_path / name
        path.write_text(json.dumps({**GOOD, **changes}), encoding="utf-8")
        return str(path)

    return write


FAILING = {"claims": [{"kind": "pot-off", "shot": "s"}]}
FAULTY = {"level": 9, "title": 3}


@pytest.mark.slow
def test_check_tells_and_exits_0_when_all_claims_hold(file, capsys):
    assert main(["check", file()]) == 0
    told = capsys.readouterr().out
    for words in ("Round the black", "Lane A: full top", ": yes, ", "1 of 1 claims hold"):
        assert words in told


@pytest.mark.slow
def test_check_exits_1_when_a_claim_fails(file, capsys):
    assert main(["check", file(**FAILING)]) == 1
    assert "FAILS  The pot is not on" in capsys.readouterr().out


def test_check_exits_2_with_one_line_a_fault_and_still_checks_the_others(file, capsys):
    bad = file("bad.json", **FAULTY)
    assert main(["check", bad, file()]) == 2
    told = capsys.readouterr()
    lines = told.err.splitlines()
    assert len(lines) == 2 and all(line.startswith(f"{bad}: ") for line in lines)
    assert {line.split(": ")[1] for line in lines} == {"level", "title"}
    assert "1 of 1 claims hold" in told.out


def test_bad_input_outweighs_a_failing_claim(file, tmp_path, capsys):
    assert main(["check", file(**FAILING), str(tmp_path / "away.json")]) == 2
    err = capsys.readouterr().err
    assert "away.json" in err and len(err.splitlines()) == 1


@pytest.mark.slow
def test_check_json_of_one_file_is_one_valid_object(file, capsys):
    path = file()
    assert main(["check", path, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator(check_schema()).validate(data)
    assert data["file"] == path and data["format"] == "baizewright-check"
    routine = load_routine(path)
    assert (data["id"], data["revision"]) == (routine.id, revision_of(routine))


@pytest.mark.slow
def test_check_json_of_several_files_is_one_object_with_a_list(file, capsys):
    bad = file("bad.json", **FAULTY)
    assert main(["check", file(), file("two.json", **FAILING), bad, "--json"]) == 2
    data = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator(check_schema()).validate(data)
    assert [one["all_claims_hold"] for one in data["files"]] == [True, False]
    assert (data["files_read"], data["files_asked"]) == (2, 3)
    assert data["all_claims_hold"] is False


def test_json_of_one_faulty_file_prints_no_half_answer(file, capsys):
    assert main(["check", file(**FAULTY), "--json"]) == 2
    told = capsys.readouterr()
    assert told.out == "" and told.err


@pytest.mark.slow
def test_reach_as_text_and_as_json(file, capsys):
    path = file()
    assert main(["reach", path]) == 0
    assert "(g), 248 mm wide, " in capsys.readouterr().out
    assert main(["reach", path, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator(reach_schema()).validate(data)
    assert data["verdicts"][0]["reachable"] is True


def test_place_in_both_units(file, capsys):
    path = file()
    assert main(["place", path]) == 0
    assert "324 mm" in capsys.readouterr().out
    assert main(["place", path, "--units", "inch"]) == 0
    assert '12 3/4"' in capsys.readouterr().out


@pytest.mark.parametrize(("ending", "start"), [("svg", b"<"), ("pdf", b"%PDF")])
def test_diagram_kinds(file, tmp_path, ending, start):
    out = tmp_path / f"picture.{ending}"
    assert main(["diagram", file(), "-o", str(out)]) == 0
    assert out.read_bytes().lstrip().startswith(start)


def test_diagram_of_another_kind_is_refused(file, tmp_path, capsys):
    out = tmp_path / "picture.bmp"
    assert main(["diagram", file(), "-o", str(out)]) == 2
    assert ".svg, .png, .pdf" in capsys.readouterr().err and not out.exists()


@pytest.mark.slow
def test_handout_has_a_page_for_every_routine(file, tmp_path):
    out = tmp_path / "sheets.pdf"
    args = ["handout", file(), file("two.json", title="Second set-up"), "-o", str(out)]
    assert main([*args, "--paper", "letter", "--for", "player"]) == 0
    text = " ".join(page_texts(out))
    pages = pypdf.PdfReader(out).pages
    assert len(pages) >= 2 and "Round the black" in text and "Second set-up" in text
    assert [float(side) for side in pages[0].mediabox[2:]] == pytest.approx([612, 792])


def test_handout_with_a_faulty_file_writes_nothing(file, tmp_path, capsys):
    out = tmp_path / "sheets.pdf"
    assert main(["handout", file(), file("bad.json", **FAULTY), "-o", str(out)]) == 2
    assert not out.exists() and len(capsys.readouterr().err.splitlines()) == 2


def test_output_that_cannot_be_written_is_told(file, tmp_path, capsys):
    out = str(tmp_path / "nowhere" / "picture.svg")
    assert main(["diagram", file(), "-o", out]) == 2
    err = capsys.readouterr().err
    assert "cannot be saved: its folder does not exist" in err


def test_folder_as_output_is_refused(file, tmp_path, capsys):
    folder = tmp_path / "sheets.pdf"
    folder.mkdir()
    assert main(["handout", file(), "-o", str(folder)]) == 2
    assert "it is a folder; name a file in it" in capsys.readouterr().err


@pytest.mark.parametrize("args", [["check"], ["place", "a", "--units", "cubit"], ["--what"]])
def test_wrong_usage_exits_2(args, capsys):
    assert main(args) == 2 and "usage" in capsys.readouterr().err


def test_help_and_version_exit_0(capsys):
    assert main(["--help"]) == 0 and main(["--version"]) == 0
    told = capsys.readouterr().out
    assert "check" in told and "Baizewright" in told


def test_only_files_ask_for_the_window(monkeypatch, capsys):
    monkeypatch.setenv("BAIZEWRIGHT_SCREEN", "no")
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    assert main(["routine.json"]) == 2 and main([]) == 2
    assert "No window can open here" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("args", "spared"),
    [(["place"], ("PySide6", "numba", "shapely", "reportlab")),
     (["check"], ("PySide6", "reportlab"))],
)  # fmt: skip
@pytest.mark.slow
def test_commands_load_only_what_they_need(file, args, spared):
    code = (
        "import sys; from designer.commands.main import main; "
        f"code = main({[*args, file()]!r}); "
        f"print([name for name in {spared!r} if name in sys.modules], file=sys.stderr); "
        "sys.exit(code)"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert run.returncode == 0 and run.stderr.strip() == "[]"
