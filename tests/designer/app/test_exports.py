"""Diagrams and handouts out of the window, read back with other readers."""

import pytest
from lxml import etree
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import Qt

from designer.app.exports import HandoutDialog, HandoutWish, write_diagram, write_handout


@pytest.mark.parametrize("ending", [".svg", ".png", ".pdf"])
def test_a_diagram_of_every_kind(session, tmp_path, told, ending):
    path = tmp_path / f"blue{ending}"
    assert write_diagram(session, path)
    assert str(path) in told[-1].what
    if ending == ".svg":
        assert etree.parse(path).getroot().tag.endswith("svg")
    elif ending == ".png":
        image = Image.open(path)
        assert image.size[0] == 2400
        assert image.size[0] > image.size[1]
    else:
        assert len(PdfReader(path).pages) == 1


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


@pytest.mark.parametrize("audience", ["coach", "player"])
@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_a_handout(session, tmp_path, audience, paper, size):
    path = tmp_path / "sheet.pdf"
    assert write_handout(session, path, HandoutWish(paper, audience, "inch"))
    reader = PdfReader(path)
    box = reader.pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == size
    text = "".join(page.extract_text() for page in reader.pages)
    assert "Blue to the top" in text


def test_the_dialog_offers_what_there_is(qtbot):
    dialog = HandoutDialog("inch")
    qtbot.addWidget(dialog)
    assert dialog.wish() == HandoutWish("a4", "coach", "inch")
    dialog.audience.setCurrentIndex(1)
    dialog.paper.setCurrentIndex(1)
    dialog.unit.setCurrentIndex(0)
    assert dialog.wish() == HandoutWish("letter", "player", "mm")


def test_from_the_menu(qtbot, window, tmp_path):
    window.files.asker.diagram_path = tmp_path / "menu.svg"
    qtbot.keyClick(window, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    assert (tmp_path / "menu.svg").read_text().startswith("<")
