"""Texts ready for translation: everything shown passes the wrapper, and a catalogue replaces it."""

import ast
import gettext
import re
import runpy
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QDialogButtonBox,
    QDoubleSpinBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QMenu,
    QMessageBox,
    QPlainTextEdit,
    QTabBar,
    QTabWidget,
    QTreeWidget,
    QWidget,
)

from designer import texts
from designer.answers.lane_list import LaneList
from designer.table_view.menu import menu_for
from designer.window.names import PANELS
from engine.routine.values import Claim, Gap

HOUSE = Path(__file__).resolve().parents[3]
QT_PARTS = (
    "answers", "exporting", "files", "lesson", "library", "open_routine", "photo", "plans",
    "practice", "setting_up", "table_view", "tables", "widgets", "window",
)  # fmt: skip
#: Units and names that are the same in every language.
SAME_EVERYWHERE = {"mm", "kg", "deg", "Baizewright", "OK"}
#: Keys are named by Qt, in its own catalogue's words.
SAME_EVERYWHERE |= {"Ctrl", "Shift", "Alt", "Del", "PgUp", "PgDown"}
WORD = re.compile(r"[A-Za-z]{2,}")


class FullCatalogue(gettext.NullTranslations):
    """Puts every text a translator is given between brackets, and no other."""

    def __init__(self):
        super().__init__()
        template = runpy.run_path(str(HOUSE / ".ci" / "texts.py"))["template"]()
        self.known = {message.id for message in template}

    def gettext(self, message):
        return f"⟦{message}⟧" if message in self.known else message

    def ngettext(self, one, many, count):
        told = one if count == 1 else many
        return f"⟦{told}⟧" if (one, many) in self.known else told


@pytest.fixture(scope="module")
def full_catalogue():
    return FullCatalogue()


@pytest.fixture
def made_up_language(full_catalogue):
    texts.use_catalogue(full_catalogue)
    yield
    texts.use_catalogue(gettext.NullTranslations())


@pytest.fixture
def routine(routine_with_gaps):
    """The titles are the coach's own words, here without a letter of ours."""
    gaps = (replace(routine_with_gaps.gaps[0], title="一"), *routine_with_gaps.gaps[1:])
    gaps += (Gap("stretch", "cushion-stretch", cushion="top", from_mm=300.0, to_mm=900.0),)
    balls = tuple(replace(ball, locked=ball.id == "black") for ball in routine_with_gaps.balls)
    claims = (
        *routine_with_gaps.claims,
        Claim("lane-clears", "shot-1", lane="A", margin_mm=900.0),
        Claim("gap-reachable", "shot-1", gap="beside", pace_min=2.0),
    )
    return replace(routine_with_gaps, title="二", coach="三", gaps=gaps, claims=claims, balls=balls)


def strays(text):
    """Words of a text that did not pass the wrapper."""
    text = re.sub(r"<[^>]*>", " ", text) if "<" in text else text
    before = None
    while before != text:
        before, text = text, re.sub(r"⟦[^⟦⟧]*⟧", " ", text)
    return [word for word in WORD.findall(text) if word not in SAME_EVERYWHERE]


def shown_by(widget):
    """Every text a widget shows or tells a screen reader."""
    yield from (widget.windowTitle() if widget.isWindow() else "", widget.toolTip())
    yield from (widget.accessibleName(), widget.accessibleDescription(), widget.statusTip())
    for action in widget.actions():
        yield from (action.text(), action.toolTip(), action.statusTip(), action.iconText())
    match widget:
        case QMessageBox():
            yield from (widget.text(), widget.informativeText())
        case QLabel() | QAbstractButton():
            yield widget.text()
        case QComboBox():
            yield from (widget.itemText(i) for i in range(widget.count()))
        case QDoubleSpinBox():
            yield from (widget.prefix(), widget.suffix(), widget.specialValueText())
        case QTabWidget():
            yield from (widget.tabText(i) for i in range(widget.count()))
        case QTreeWidget():
            head = widget.headerItem()
            rows = [head, *(widget.topLevelItem(i) for i in range(widget.topLevelItemCount()))]
            yield from (row.text(i) for row in rows for i in range(widget.columnCount()))
        case LaneList():
            yield from (row.words for row in widget.rows())
        case QListWidget():
            yield from (widget.item(i).text() for i in range(widget.count()))
        case QLineEdit() if not isinstance(widget.parent(), QAbstractSpinBox):
            yield widget.placeholderText()
        case QPlainTextEdit():
            yield widget.placeholderText()
        case QMenu():
            yield widget.title()


def is_qts_own(widget):
    """Buttons Qt itself names; its own catalogue translates them."""
    box = widget.parent()
    if isinstance(box, QDialogButtonBox) and isinstance(widget, QAbstractButton):
        return box.standardButton(widget) != QDialogButtonBox.StandardButton.NoButton
    return isinstance(box, QTabBar) or widget.objectName().startswith("qt_")


def assert_all_translated(root):
    widgets = [root, *root.findChildren(QWidget)]
    found = {
        (type(widget).__name__, tuple(strays(text)), text)
        for widget in widgets
        if not is_qts_own(widget)
        for text in shown_by(widget)
        if text and strays(text)
    }
    assert not found, sorted(found)
    return len(widgets)


@pytest.mark.usefixtures("made_up_language")
@pytest.mark.slow
def test_the_main_window_in_a_made_up_language(qtbot, window, session):
    session.predictions.ask_now(session.routine)
    qtbot.waitUntil(lambda: session.answer_is_full)
    for tab in PANELS:
        window.show_panel(tab)
        window.tabs.currentWidget().widget().catch_up_now()
    session.point_at_ball("red-1")
    session.balls.nudge("red-1", 1.0, 0.0)
    window.menus.layers.refresh()
    assert assert_all_translated(window) > 150
    session.balls.remove("red-1")
    assert not strays(window.messages.words.text())
    assert not strays(window.menus.undo.text()) and "⟦" in window.menus.undo.text()
    session.document.undo()
    session.balls.add("cue")
    session.player.open()
    session.player.step(1)
    assert_all_translated(window)
    for place in (("red-2", ""), ("", "top-right"), ("", "")):
        assert_all_translated(menu_for(window, session, *place, (300.0, 500.0)))
    session.player.close()


@pytest.mark.usefixtures("made_up_language")
@pytest.mark.slow
def test_every_step_is_named_in_the_made_up_language(session):
    names = []
    session.document.observe(lambda change: names.append(session.document.undo_name))
    shots, balls, group, sheet, gaps = (
        session.shots, session.balls, session.group, session.sheet, session.gaps,
    )  # fmt: skip
    balls.add("red")
    balls.lock("red-2", True)
    balls.relabel("red-2", "7")
    session.choose_balls(["red-1", "blue"])
    group.nudge(1.0, 0.0)
    group.lock(True)
    group.lock(False)
    group.duplicate()
    group.remove()
    group.mirror("long")
    shots.add()
    shots.set_object_ball("black")
    shots.set_pocket("top-left")
    shots.set_words("note", "一")
    shots.put_standard_lanes()
    shots.add_lane()
    shots.set_tip(0.2)
    shots.set_pace(5.0)
    shots.set_strike(0.1, 6.0)
    shots.remove_lane()
    shots.move(-1)
    shots.remove()
    gaps.add_beside_cushion("black", "left")
    sheet.set_text("title", "一")
    sheet.set_level(3)
    sheet.set_table("snooker-10ft")
    assert len(set(names)) > 20
    assert not [name for name in names if name and (strays(name) or "⟦" not in name)]


@pytest.mark.usefixtures("made_up_language")
def test_the_dialogs_in_a_made_up_language(qtbot, window, session):
    from designer.exporting.handout_dialog import HandoutDialog
    from designer.open_routine import Message
    from designer.window.faults import FaultsDialog
    from designer.window.help import show_about, show_keys
    from designer.window.left_work import LeftWork, LeftWorkDialog

    session.predictions.ask_now(session.routine)
    qtbot.waitUntil(lambda: session.answer_is_full)
    report, advice = window.menus.dialogs.report(), window.menus.dialogs.advice()
    table = window.menus.dialogs.table()
    dialogs = [report, advice, show_keys(window), show_about(window)]
    dialogs.append(HandoutDialog(session, lambda: None, list, window))
    dialogs.append(FaultsDialog(Message("一", "二", ("三",)), window))
    left = LeftWork(HOUSE / "x.json", session.routine, None, datetime(2026, 2, 3, 4, 5))
    dialogs.append(LeftWorkDialog((left,), lambda work: None, window))
    report.catch_up()
    advice.catch_up()
    for dialog in dialogs:
        assert_all_translated(dialog)
    for page in range(table.parts.count()):
        table.parts.setCurrentIndex(page)
        table.catch_up()
        assert_all_translated(table)
    table.move_page.check.click()
    qtbot.waitUntil(lambda: table.move_page.checked is not None)
    assert_all_translated(table)
    lesson = window.begin_lesson()
    assert_all_translated(lesson)
    for _ in range(len(lesson.asked.order) + 1):
        lesson.play_next()
        assert_all_translated(lesson)
    lesson.coach.show_screens()
    assert_all_translated(lesson.coach)
    lesson.close()
    for dialog in (*dialogs, table):
        dialog.close()
    QApplication.processEvents()


def calls_of_tr():
    for part in QT_PARTS:
        for path in sorted((HOUSE / "designer" / part).glob("*.py")):
            for node in ast.walk(ast.parse(path.read_text())):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                    yield path, node


@pytest.mark.slow
def test_no_text_is_put_together_before_it_is_translated():
    """An f-string or a sum can be in no catalogue; and `tr` when a module loads is too early."""
    wrong, seen = [], 0
    for path, call in calls_of_tr():
        if call.func.id in ("tr", "tr_count", "mark"):
            seen += 1
            asked = call.args[: 2 if call.func.id == "tr_count" else 1]
            if any(isinstance(one, ast.JoinedStr | ast.BinOp) for one in asked):
                wrong.append(f"{path.name}:{call.lineno}")
            if call.func.id == "mark" and not isinstance(call.args[0], ast.Constant):
                wrong.append(f"{path.name}:{call.lineno}")
    for part in QT_PARTS:
        for path in (HOUSE / "designer" / part).glob("*.py"):
            wrong += [f"{path.name}:{line}" for line in early_calls(ast.parse(path.read_text()))]
    assert seen > 500 and not wrong, wrong


def early_calls(tree):
    """Lines at which `tr` is called while the module is being loaded."""
    waiting = list(tree.body)
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.FunctionDef | ast.Lambda | ast.AsyncFunctionDef):
            waiting += node.decorator_list if isinstance(node, ast.FunctionDef) else []
            continue
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in ("tr", "tr_count"):
            yield node.lineno
        waiting += ast.iter_child_nodes(node)


def test_a_catalogue_made_from_the_template_is_used(tmp_path, window):
    """The way a translator goes: template, PO file, catalogue, window; plurals and all."""
    from babel.messages.mofile import write_mo

    catalogue = runpy.run_path(str(HOUSE / ".ci" / "texts.py"))["template"]()
    ids = {message.id for message in catalogue}
    assert {"Remove ball", ("{count} ball", "{count} balls")} <= ids
    assert len(ids) > 700
    catalogue.locale = "de"
    catalogue["Turn table"].string = "Tisch drehen"
    catalogue[("{count} ball", "{count} balls")].string = ("{count} Ball", "{count} Bälle")
    catalogue["Pace {pace}"].string = "Tempo {speed}"
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "baizewright.mo").open("wb") as out:
        write_mo(out, catalogue)
    try:
        assert texts.use_languages(["de-AT", "en-GB"], tmp_path) == "de_AT"
        assert texts.tr("Turn table") == "Tisch drehen"
        assert texts.tr_count("{count} ball", "{count} balls", 1) == "1 Ball"
        assert texts.tr_count("{count} ball", "{count} balls", 9) == "9 Bälle"
        assert texts.tr("Whole table") == "Whole table"
        # A slip of the translator's: the English stands in.
        assert texts.tr("Pace {pace}", pace=4) == "Pace 4"
        assert texts.use_languages(["en-GB", "de"], tmp_path) == ""
        assert texts.tr("Turn table") == "Turn table"
    finally:
        texts.use_catalogue(gettext.NullTranslations())
    assert window.menus.turn.text() == "Turn table"
