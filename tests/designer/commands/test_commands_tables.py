"""The commands `table`, `move` and `calibrate`: exit codes, reports, files, clear refusals."""

import json

import pytest

from designer.commands.main import main
from engine.storage import load_conditions, load_measured_table, load_routine
from tests.engine.calibration.club import Club

ROUTINE = {
    "format": "baizewright-routine",
    "version": 1,
    "title": "Black and back",
    "balls": [
        {"id": "cue", "kind": "cue", "x_mm": 700, "y_mm": 2700},
        {"id": "black", "kind": "black", "x_mm": 889, "y_mm": 3245},
    ],
    "shots": [
        {
            "id": "s", "object_ball": "black", "pocket": "top-right",
            "lanes": [{"label": "A", "tip_height": 0.3, "pace": 4}],
        }
    ],
    "claims": [{"kind": "pot-on", "shot": "s"}],
}  # fmt: skip


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "routine.json"
    path.write_text(json.dumps(ROUTINE), encoding="utf-8")
    return str(path)


def observations(path, rows):
    columns = sorted({column for one in rows for column in one.cells})
    lines = [",".join(["kind", *columns])]
    lines += [",".join([one.kind, *(str(one.cells.get(c, "")) for c in columns)]) for one in rows]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return str(path)


# table ----------------------------------------------------------------------------------------


def test_table_lists_tables_and_presets_with_ranges(capsys):
    assert main(["table"]) == 0
    told = capsys.readouterr().out
    assert "uk-pool-7ft" in told and "worn-club-cloth" in told and "0.15 to 0.3" in told


def test_table_tells_rule_and_confidence_and_writes_a_copy_to_fill_in(tmp_path, capsys):
    own = tmp_path / "own.json"
    assert main(["table", "pool-8ft", "-o", str(own)]) == 0
    told = capsys.readouterr().out
    assert "[A] WPA" in told and "November 2001" in told and "[Mem]" in told
    table_id, measured = load_measured_table(own)
    assert table_id == "pool-8ft" and measured.values["length_mm"] == 2336.8
    text = own.read_text(encoding="utf-8").replace("2336.8", "2345")
    own.write_text(text, encoding="utf-8")
    assert main(["table", str(own)]) == 0
    assert "2345 mm, standard 2336.8, +8.2: OUTSIDE" in capsys.readouterr().out


def test_an_unknown_table_is_refused(capsys):
    assert main(["table", "snooker-13ft"]) == 2
    assert "snooker-12ft" in capsys.readouterr().err
    assert main(["table", "nowhere.json"]) == 2
    assert "there is no such file" in capsys.readouterr().err


# move -----------------------------------------------------------------------------------------


def test_move_reports_and_writes(file, tmp_path, capsys):
    out = tmp_path / "moved.json"
    assert main(["move", file, "--to", "snooker-10ft", "--by", "proportion", "-o", str(out)]) == 0
    told = capsys.readouterr().out
    assert "survives: The pot is on" in told and "Everything fits" in told
    assert load_routine(out).table == "snooker-10ft"
    assert load_routine(out).id != load_routine(file).id, "another file, another routine"
    assert main(["check", str(out)]) == 0


def test_move_without_out_writes_nothing_and_tells_what_is_lost(file, tmp_path, capsys):
    before = sorted(tmp_path.iterdir())
    assert main(["move", file, "--to", "carom"]) == 1
    told = capsys.readouterr().out
    assert "IS LOST" in told and "the new table has no top right" in told
    assert sorted(tmp_path.iterdir()) == before


def test_move_to_a_coachs_own_table_with_conditions_found_on_it(file, tmp_path, capsys):
    own, out, cond = tmp_path / "own.json", tmp_path / "m.json", tmp_path / "c.json"
    own.write_text(
        '{"format": "baizewright-table", "version": 1, "table": "snooker-12ft", '
        '"title": "ours", "values": {"width_mm": 1770}}',
        encoding="utf-8",
    )
    cond.write_text(
        '{"format": "baizewright-conditions", "version": 1, '
        '"conditions": {"rolling_resistance": 0.0111}}',
        encoding="utf-8",
    )
    args = ["move", file, "--to", str(own), "--conditions", str(cond), "-o", str(out)]
    assert main(args) == 0
    moved = load_routine(out)
    assert moved.measured_table.values == {"width_mm": 1770.0}
    assert moved.conditions == {"rolling_resistance": 0.0111}
    assert "ours" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--to", "snooker-13ft"], "there is no table called 'snooker-13ft'"),
        (["--to", "carom", "--by", "eye"], "invalid choice"),
        (["--to", "carom", "--conditions", "no.json"], "there is no such file"),
        (["--to", "carom", "-o", "/no/such/folder/x.json"], "its folder does not exist"),
    ],
)
def test_move_refuses_what_it_cannot_do(file, args, words, capsys):
    assert main(["move", file, *args]) == 2
    assert words in capsys.readouterr().err


# calibrate ------------------------------------------------------------------------------------


@pytest.mark.slow
def test_calibrate_writes_conditions_and_a_report(tmp_path, capsys):
    club = Club(0)
    rows = [one for one in club.observations() if one.kind in ("roll", "rebound", "bank")]
    csv, out = observations(tmp_path / "o.csv", rows), tmp_path / "c.json"
    args = ["calibrate", csv, "--table", "snooker-12ft", "-o", str(out)]
    assert main([*args, "--precision", "rolling_resistance=0.0001"]) == 0
    told = capsys.readouterr().out
    assert f"{len(rows)} of {len(rows)} observations used" in told
    assert "rolling resistance: 0.0" in told and "more observations" in told
    found = load_conditions(out)
    assert found.table == "snooker-12ft" and found.preset == "snooker-cloth"
    low, high = (found.found["rolling_resistance"][k] for k in ("low_95", "high_95"))
    assert low <= club.truth.rolling_resistance <= high


def test_calibrate_exits_1_when_an_observation_is_set_aside(tmp_path, capsys):
    csv = tmp_path / "o.csv"
    csv.write_text(
        "kind,distance_mm,time_s\nroll,1500,4.9\nroll,1500,4.8\nroll,1500,0.1\n", encoding="utf-8"
    )
    assert main(["calibrate", str(csv)]) == 1
    assert "line 4 (roll) is impossible" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "args", "words"),
    [
        ("kind,time_s\nroll,x\n", [], 'line 2, column time_s: is "x"'),
        ("kind,distance_mm,time_s\nroll,1,2\n", ["--precision", "speed=1"], "called 'speed'"),
        ("kind,distance_mm,time_s\nroll,1,2\n", ["--precision", "speed"], "is not NAME=ERROR"),
        ("kind,distance_mm,time_s\nroll,1,2\n", ["--start", "felt"], "invalid choice"),
        ("kind,distance_mm,time_s\nroll,1,2\n", ["--table", "felt"], "no table called 'felt'"),
    ],
)
def test_calibrate_refuses_what_it_cannot_read(text, args, words, tmp_path, capsys):
    csv = tmp_path / "o.csv"
    csv.write_text(text, encoding="utf-8")
    assert main(["calibrate", str(csv), *args]) == 2
    assert words in capsys.readouterr().err


def test_calibrate_needs_a_file_or_the_form(capsys):
    assert main(["calibrate"]) == 2
    assert "--form" in capsys.readouterr().err


@pytest.mark.parametrize("table", ["snooker-12ft", "carom"])
@pytest.mark.slow
def test_the_form_is_a_pdf_to_print_or_a_csv_to_fill_in(table, tmp_path, capsys):
    import pdfplumber

    pdf, csv = tmp_path / "form.pdf", tmp_path / "form.csv"
    assert main(["calibrate", "--form", "--table", table, "-o", str(pdf)]) == 0
    with pdfplumber.open(pdf) as opened:
        text = "\n".join(page.extract_text() for page in opened.pages)
        assert 2 <= len(opened.pages) <= 4
        wide, high = opened.pages[0].width, opened.pages[0].height
        for page in opened.pages:
            for word in page.extract_words():
                assert word["x0"] >= 0 and word["x1"] <= wide and word["bottom"] <= high
    for words in ("Observations for calibration", "kind: roll", "kind: bank", "time_s", "Coach"):
        assert words in text, words
    assert main(["calibrate", "--form", "--table", table, "-o", str(csv)]) == 0
    assert csv.read_text(encoding="utf-8").count("\nlane,") == 6
    capsys.readouterr()
    assert main(["calibrate", "--form", "-o", str(tmp_path / "form.doc")]) == 2
    assert ".pdf or .csv" in capsys.readouterr().err
