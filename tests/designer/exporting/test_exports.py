"""Diagrams and handouts out of the window, read back with other readers."""

import io

import pytest
from lxml import etree
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from designer.exporting.diagram import write_diagram
from designer.exporting.handout_dialog import HandoutDialog
from designer.exporting.handouts import HandoutWish, handout_bytes
from tests.designer.pdf_pages import page_texts


@pytest.mark.parametrize("ending", [".svg", ".png", ".pdf"])
def test_a_diagram_of_every_kind(session, tmp_path, told, ending):
    path = tmp_path / f"blue{ending}"
    assert write_diagram(session, path)
    assert str(path) in told[-1].what and told[-1].file == path
    if ending == ".svg":
        assert etree.parse(path).getroot().tag.endswith("svg")
    elif ending == ".png":
        image = Image.open(path)
        assert image.size[0] == 2400
        assert image.size[0] > image.size[1]
    else:
        assert len(PdfReader(path).pages) == 1


@pytest.mark.slow
def test_the_diagram_lies_or_stands_as_the_canvas_does(session, tmp_path):
    from dataclasses import replace

    session.set_view(replace(session.view, turned=False))
    path = tmp_path / "standing.png"
    write_diagram(session, path)
    image = Image.open(path)
    assert image.size[0] < image.size[1]


def test_an_ending_nobody_can_write_is_told(session, tmp_path, told):
    assert not write_diagram(session, tmp_path / "blue.gif")
    assert told[-1].weight == "error" and ".gif" in told[-1].details[0]
    assert not (tmp_path / "blue.gif").exists()


def test_a_place_nobody_can_write_to_is_told(session, tmp_path, told):
    assert not write_diagram(session, tmp_path / "nowhere" / "blue.svg")
    assert told[-1].weight == "error"


def text_of(path):
    return "".join(page_texts(path))


@pytest.fixture
def dialog(qtbot, window, session, tmp_path):
    """The dialog as the menu opens it; the file chosen is `sheet.pdf`."""
    window.files.asker.handout_path = tmp_path / "sheet.pdf"
    with qtbot.waitActive(window):
        window.activateWindow()
    qtbot.keyClick(window, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    (made,) = window.findChildren(HandoutDialog)
    qtbot.waitExposed(made)
    return made


def choose(box, key):
    box.setCurrentIndex(box.findData(key))


def make(qtbot, dialog):
    """Press the button and wait for the work."""
    with qtbot.waitSignal(dialog.work.task.finished):
        qtbot.mouseClick(dialog.work.begin, Qt.MouseButton.LeftButton)


@pytest.mark.parametrize("audience", ["coach", "player"])
@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
@pytest.mark.slow
def test_a_handout(session, audience, paper, size):
    data = handout_bytes([session.routine], HandoutWish(paper, audience, "inch"))
    reader = PdfReader(io.BytesIO(data))
    box = reader.pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == size
    text = "".join(page.extract_text() for page in reader.pages)
    assert "Blue to the top" in text


def test_a_handout_by_the_dialog_is_told_and_closes_it(qtbot, dialog, tmp_path, told):
    assert dialog.wish() == HandoutWish("a4", "coach", "mm")
    make(qtbot, dialog)
    assert "Blue to the top" in text_of(tmp_path / "sheet.pdf")
    assert str(tmp_path / "sheet.pdf") in told[-1].what
    assert told[-1].file == tmp_path / "sheet.pdf"
    qtbot.waitUntil(lambda: not dialog.isVisible())


@pytest.mark.parametrize(
    ("sheet", "words"),
    [("steps", "Step by step"), ("record", "Practice record"), ("card", "Blue to the top")],
)
def test_every_kind_of_sheet(qtbot, dialog, tmp_path, sheet, words):
    choose(dialog.sheet, sheet)
    dialog.landscape.setChecked(True)
    make(qtbot, dialog)
    assert words in text_of(tmp_path / "sheet.pdf")
    box = PdfReader(tmp_path / "sheet.pdf").pages[0].mediabox
    assert box.width > box.height


def test_only_what_goes_with_the_sheet_can_be_chosen(dialog):
    assert not dialog.answers.isEnabled() and dialog.tolerance.isEnabled()
    choose(dialog.audience, "player")
    assert dialog.answers.isEnabled()
    choose(dialog.answers, "upside-down")
    dialog.tolerance.setChecked(True)
    assert dialog.wish().answers == "upside-down" and dialog.wish().tolerance
    choose(dialog.sheet, "card")
    assert not dialog.answers.isEnabled() and not dialog.audience.isEnabled()
    wish = dialog.wish()
    assert (wish.answers, wish.tolerance) == ("none", False)
    dialog.title.setText("Autumn term")
    assert not dialog.title.isEnabled() and dialog.wish().title == ""


def test_answers_tolerances_and_a_booklet(qtbot, dialog, session, tmp_path):
    from engine.routine import edits
    from engine.routine.values import Claim

    session.apply("claim", lambda r: edits.add_claim(r, Claim("pot-on", "shot-1")))
    choose(dialog.audience, "player")
    choose(dialog.answers, "last-page")
    dialog.tolerance.setChecked(True)
    dialog.booklet.setChecked(True)
    dialog.title.setText("Autumn term")
    make(qtbot, dialog)
    text = text_of(tmp_path / "sheet.pdf")
    assert "Autumn term" in text and "±" in text and "Answers" in text


@pytest.mark.slow
def test_a_booklet_of_every_open_window(qtbot, window, session, settings, make_session, tmp_path):
    from dataclasses import replace

    from designer.window.main_window import DesignerWindow

    other = DesignerWindow(make_session(replace(session.routine, title="The other one")), settings)
    other.show()
    wish = HandoutWish(booklet=True, title="Both", every_open=True)
    (pair,) = window.other_routines()
    assert pair[0].title == "The other one"
    dialog = HandoutDialog(session, lambda: tmp_path / "both.pdf", window.other_routines, window)
    assert not dialog.every_open.isHidden()
    dialog.every_open.setChecked(True)
    dialog.booklet.setChecked(True)
    dialog.title.setText("Both")
    assert dialog.wish() == wish
    make(qtbot, dialog)
    text = text_of(tmp_path / "both.pdf")
    assert "Both" in text and "Blue to the top" in text and "The other one" in text
    other.close()
    QApplication.processEvents()


def test_the_work_can_be_called_off_and_writes_nothing(qtbot, dialog, tmp_path):
    dialog.tolerance.setChecked(True)
    with qtbot.waitSignal(dialog.work.task.finished):
        qtbot.mouseClick(dialog.work.begin, Qt.MouseButton.LeftButton)
        qtbot.mouseClick(dialog.work.cancel, Qt.MouseButton.LeftButton)
    assert dialog.isVisible() and "Cancelled" in dialog.note.text()
    assert not (tmp_path / "sheet.pdf").exists()


def test_a_sheet_that_cannot_be_made_is_told_in_the_dialog(qtbot, dialog, session, tmp_path):
    # No two balls lie near each other: there is no cluster to lay a strip under.
    choose(dialog.sheet, "strip")
    for ball_id in ("red-1", "red-2"):
        session.balls.remove(ball_id)
    with qtbot.waitSignal(dialog.work.task.failed):
        qtbot.mouseClick(dialog.work.begin, Qt.MouseButton.LeftButton)
    assert "The handout was not written" in dialog.note.text() and dialog.isVisible()
    assert not (tmp_path / "sheet.pdf").exists()


def test_from_the_menu(qtbot, window, tmp_path):
    window.files.asker.diagram_path = tmp_path / "menu.svg"
    qtbot.keyClick(window, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    assert (tmp_path / "menu.svg").read_text().startswith("<")
