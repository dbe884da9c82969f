"""A file just written can be opened, shown in its folder, and its path copied."""

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices, QGuiApplication

from designer.exporting.diagram import write_diagram
from designer.widgets.file_links import FileLinks

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def handed(monkeypatch):
    """What the desktop is asked to open; it opens all but PDFs."""
    asked = []

    def open_url(url):
        asked.append(url)
        return not url.path().endswith(".pdf")

    monkeypatch.setattr(QDesktopServices, "openUrl", open_url)
    return asked


@pytest.fixture
def links(qtbot):
    made = FileLinks()
    qtbot.addWidget(made)
    return made


def test_a_file_is_opened_shown_and_its_path_copied(qtbot, links, handed, tmp_path):
    file = tmp_path / "blue to the top.png"
    file.write_bytes(b"x")
    links.show_file(file)
    for button in (links.open_button, links.folder_button, links.copy_button):
        qtbot.mouseClick(button, LEFT)
    assert handed == [QUrl.fromLocalFile(str(file)), QUrl.fromLocalFile(str(tmp_path))]
    assert QGuiApplication.clipboard().text() == str(file)
    links.show_file(None)
    assert links.isHidden()


def test_what_cannot_be_opened_is_told(qtbot, links, handed, tmp_path):
    told = []
    links.failed.connect(told.append)
    sheet = tmp_path / "sheet.pdf"
    sheet.write_bytes(b"x")
    for file in (sheet, tmp_path / "gone.png"):
        links.show_file(file)
        qtbot.mouseClick(links.open_button, LEFT)
    assert ["sheet.pdf" in told[0], "gone.png" in told[1]] == [True, True]
    assert len(handed) == 1, "nobody is asked to open what is not there"


def test_the_message_of_an_export_offers_its_file(qtbot, window, session, tmp_path):
    file = tmp_path / "blue.png"
    assert write_diagram(session, file)
    assert window.messages.links.file == file and window.messages.links.isVisible()
    session.messages.note("Another thing.")
    assert window.messages.links.isHidden()
