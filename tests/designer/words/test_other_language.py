"""A real second language: German messages, and no word of the first on sheet, window or command."""

from __future__ import annotations

import gettext
import re
import runpy
from dataclasses import replace
from pathlib import Path

import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from designer import texts
from designer.commands.main import main
from designer.handouts import handout_pdf
from designer.handouts.calibration_form import form_pdf
from designer.words.calibration import how_to_measure
from designer.words.library import RECORDS_CAUTION
from designer.words.notes import MESSAGES as NOTES
from designer.words.notes import note
from designer.words.steps import step_title
from engine.answers import answer
from engine.balls import Ball
from engine.calibration import COLUMNS
from engine.calibration.form import form_csv
from engine.conditions import usual_conditions
from engine.results import Note
from engine.routine.values import STUN, Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import load_conditions, load_routine, save_routine
from engine.storage.photo_files import load_photo_marks, save_photo_marks
from engine.tables import load_table
from tests.designer.handouts.ledger import text_of
from tests.designer.pdf_pages import page_texts
from tests.designer.window.test_translation import is_qts_own, shown_by

HOUSE = Path(__file__).resolve().parents[3]
CATALOGUE = Path(__file__).with_name("de.po")
#: Words of both languages, and names: of the program, of units, of printed letters.
#: The printed letters of the cue ball ("Cue") are the same everywhere.
BOTH = {"baizewright", "cue", "in", "von", "mm", "snooker", "und", "um", "die", "bis"}
LANES = (LaneAsk("A", 0.4, 4.0), LaneAsk("B", STUN, 3.0), LaneAsk("C", -0.4, 5.0))
#: Ids and titles without a letter of the first language.
ROUTINE = Routine(
    title="Übung",
    balls=(
        Ball("c1", "cue", 640.0, 1420.0),
        Ball("b1", "blue", 889.0, 1784.5),
        Ball("r1", "red", 1180.0, 1250.0),
        Ball("r2", "red", 1420.0, 1180.0),
    ),
    shots=(Shot("s1", "b1", "top-right", lanes=LANES, question="Wohin?", note="Ruhig."),),
    gaps=(
        Gap("g1", "ball-ball", ("r1", "r2"), title="Zwischen Rot"),
        Gap("g2", "ball-cushion", ("r2",), cushion="right"),
    ),
    claims=(
        Claim("pot-on", "s1"),
        Claim("lane-clears", "s1", lane="A", ball="r1", margin_mm=20.0),
        Claim("lane-threads", "s1", lane="A", gap="g1"),
        Claim("gap-unreachable", "s1", gap="g2"),
    ),
)
#: Columns of a file are called as the file calls them.
COLUMN = re.compile(rf"\b(?:{'|'.join(sorted(COLUMNS, key=len, reverse=True))})\b")
WORD = re.compile(r"[^\W\d_]{2,}")


@pytest.fixture(scope="module")
def catalogue():
    with CATALOGUE.open("rb") as source:
        return read_po(source, locale="de")


@pytest.fixture
def german(catalogue, tmp_path):
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "baizewright.mo").open("wb") as out:
        write_mo(out, catalogue)
    assert texts.use_languages(["de-AT"], tmp_path) == "de_AT"
    yield
    texts.use_catalogue(gettext.NullTranslations())
    texts.use_languages(["en"])


@pytest.fixture(scope="module")
def first_language(catalogue):
    """Words that only the texts of the first language have."""
    template = runpy.run_path(str(HOUSE / ".ci" / "texts.py"))["template"]()

    def words_in(parts):
        flat = [text for part in parts for text in (part if isinstance(part, tuple) else (part,))]
        bare = [re.sub(r"\{[^}]*\}|<[^>]*>", " ", text) for text in flat if text]
        return {word.lower() for text in bare for word in WORD.findall(text)}

    english = words_in(message.id for message in template)
    return english - words_in(message.string for message in catalogue) - BOTH


def strays(text, first_language):
    """Words of the first language in a text."""
    bare = re.sub(r"<[^>]*>", " ", text)
    return sorted({word for word in WORD.findall(bare) if word.lower() in first_language})


def test_the_catalogue_is_of_messages_that_are_asked_for(catalogue):
    template = runpy.run_path(str(HOUSE / ".ci" / "texts.py"))["template"]()
    known = {message.id for message in template}
    told = [message for message in catalogue if message.id]
    assert len(told) > 200
    assert not [message.id for message in told if message.id not in known]
    for message in told:
        parts = zip(*(x if isinstance(x, tuple) else (x,) for x in (message.id, message.string)),
                    strict=True)  # fmt: skip
        for asked, answered in parts:
            fields = [set(re.findall(r"\{[^}]*\}", text)) for text in (asked, answered)]
            assert fields[0] == fields[1], asked


@pytest.mark.usefixtures("german")
@pytest.mark.slow
def test_a_sheet(first_language):
    data = handout_pdf([(ROUTINE, answer(ROUTINE))])
    told = "\n".join(page_texts(data))
    assert "Bahnen" in told and "Keine Bahn geht durch" in told and "Aufbau, der Reihe nach" in told
    told = re.sub(r"\bcue\b", "", told)  # as printed on the ball
    assert not strays(told, first_language)


@pytest.mark.usefixtures("german")
@pytest.mark.slow
def test_a_command(tmp_path, capsys, first_language):
    path = tmp_path / "u.json"
    save_routine(ROUTINE, path)
    main(["check", str(path), "--tolerance"])
    told = capsys.readouterr().out.replace(str(path), "")
    assert "Behauptungen stimmen" in told and "Spielraum des Aufbaus" in told
    assert not strays(told, first_language)


@pytest.mark.usefixtures("german")
@pytest.mark.slow
def test_a_window(qtbot, make_session, first_language):
    from PySide6.QtWidgets import QWidget

    from designer.answers.report import ReportDialog

    session = make_session(ROUTINE)
    session.predictions.ask_now(session.routine)
    qtbot.waitUntil(lambda: session.answer_is_full)
    dialog = ReportDialog(session)
    qtbot.addWidget(dialog)
    dialog.catch_up()
    shown = [
        text
        for widget in (dialog, *dialog.findChildren(QWidget))
        if not is_qts_own(widget)
        for text in shown_by(widget)
        if text
    ]
    assert any("Verzeiht am meisten" in text for text in shown) and len(shown) > 20
    assert not [(text, strays(text, first_language)) for text in shown
                if strays(text, first_language)]  # fmt: skip


@pytest.mark.usefixtures("german")
def test_a_calibration(tmp_path, capsys, first_language):
    path, out = tmp_path / "b.csv", tmp_path / "c.json"
    rows = ("1500,2.8", "1500,2.9", "1500,3.0", "1500,2.85", "1500,9", "1500,0", "5000,5")
    path.write_text("kind,distance_mm,time_s\n" + "".join(f"roll,{row}\n" for row in rows))
    assert main(["calibrate", str(path), "-o", str(out)]) == 1
    told = COLUMN.sub("", capsys.readouterr().out.replace(str(out), ""))
    assert "von 7 Beobachtungen verwendet" in told and "ist unmöglich: sie läuft 5000 mm" in told
    assert "Rollwiderstand ergibt sich zu" in told and "widerspricht den übrigen" in told
    ids = re.compile("snooker-cloth|snooker-12ft")
    assert not strays(ids.sub("", told), first_language)
    assert not strays(COLUMN.sub("", " ".join(load_conditions(out).notes)), first_language)


@pytest.mark.usefixtures("german")
def test_a_form_to_fill_in(first_language):
    table = load_table("snooker-12ft")
    told = text_of(form_pdf(table, usual_conditions(table)))
    typed = "baizewright calibrate OBSERVATIONS.csv --table TABLE -o CONDITIONS.json"
    assert typed in told
    told = COLUMN.sub("", told.replace(typed, ""))
    assert "Eine rollende Kugel gestoppt" in told and "Eintippen" in told
    assert not strays(told, first_language)
    csv = form_csv(table, usual_conditions(table), how_to_measure())
    remarks = [line for line in csv.splitlines() if line.startswith("#")]
    assert len(remarks) == 7 and not strays("\n".join(remarks), first_language)


@pytest.mark.usefixtures("german")
def test_a_photograph(tmp_path, capsys, first_language):
    marks = load_photo_marks(HOUSE / "layouts_demo" / "photograph" / "table.photo.json")
    wrong = replace(marks.marks[0], x_px=marks.marks[0].x_px + 60.0)
    balls = tuple(replace(ball, id=f"b{k}") for k, ball in enumerate(marks.balls))
    save_photo_marks(replace(marks.with_mark(wrong), balls=balls), tmp_path / "m.json")
    out = tmp_path / "u.json"
    assert main(["photo", "read", str(tmp_path / "m.json"), "-o", str(out)]) == 1
    told = capsys.readouterr().out.replace(str(out), "")
    assert "BEISEITE" in told and "Hinweis: Die Marke „" in told and "Kugeln, von der" in told
    assert not strays(told, first_language)
    assert load_routine(out).title == "Von einem Foto gelesen"


@pytest.mark.usefixtures("german")
def test_records_and_steps(first_language):
    assert not strays(texts.tr(RECORDS_CAUTION), first_language)
    assert step_title("Übung", 2) == "Übung – Stufe 2"


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("kind", NOTES)
def test_every_note(kind, first_language):
    values = dict.fromkeys(re.findall(r"{(\w+)", NOTES[kind]), 3.0)
    names = {"cushion": "left", "place": "blue spot", "number": "rolling_resistance",
             "known": ("time_s",), "balls": ("b1", "b2"), "ball": "b1", "column": "at_mm",
             "given": "x", "observations": "roll"}  # fmt: skip
    told = note(Note(kind, values | {key: names[key] for key in names if key in values}))
    assert told and not strays(COLUMN.sub("", told), first_language)


@pytest.mark.usefixtures("german")
def test_what_has_no_message_stays_in_the_first_language(first_language):
    assert strays(texts.tr("Remove ball"), first_language)
