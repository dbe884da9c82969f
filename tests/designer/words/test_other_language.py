"""A real second language: German messages, and no word of the first on sheet, window or command."""

from __future__ import annotations

import gettext
import io
import re
import runpy
from pathlib import Path

import pypdf
import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from designer import texts
from designer.commands.main import main
from designer.handouts import handout_pdf
from engine.answers import answer
from engine.balls import Ball
from engine.routine.values import STUN, Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import save_routine
from tests.designer.app.test_translation import is_qts_own, shown_by

HOUSE = Path(__file__).resolve().parents[3]
CATALOGUE = Path(__file__).with_name("de.po")
#: Words of both languages, and names: of the program, of units, of printed letters.
BOTH = {"baizewright", "in", "von", "mm", "snooker", "und", "um", "die", "bis"}
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
    told = "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)
    assert "Bahnen" in told and "Verzeiht am meisten" in told and "geht um" in told
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

    from designer.dialogs.report import ReportDialog

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
def test_what_has_no_message_stays_in_the_first_language(first_language):
    assert strays(texts.tr("Take ball off the table"), first_language)
