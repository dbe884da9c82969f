"""Player levels in the window: edited, refused, loaded, saved, kept, and told for every gap."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from designer.open_routine import Settings
from designer.practice.players import PlayersDialog
from engine.players import PLAYERS, Player
from engine.storage import load_players, load_routine, save_players

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"
LEFT = Qt.MouseButton.LeftButton
TWO = (Player("junior", 0.4, 0.1, 0.08, 1.0), Player("coach", 0.08, 0.04, 0.02, 0.4))


@pytest.fixture
def dialog(qtbot, window):
    window.show_panel("Reach")
    dialog = None
    qtbot.mouseClick(window.menus.dialogs.reach().panel.levels, LEFT)
    dialog = window.menus.dialogs.levels()
    assert isinstance(dialog, PlayersDialog)
    yield dialog
    dialog.close()


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_the_three_invented_levels_are_there_at_first(dialog, session):
    assert session.levels.players == PLAYERS
    assert [row.name.text() for row in dialog.rows] == ["learner", "club player", "county player"]
    radius = session.conditions.cue_radius_mm
    club = dialog.rows[1].figures
    assert club["aim_deg"].text() == "0.12" and club["pace"].text() == "0.5"
    assert float(club["tip_height"].text()) == pytest.approx(0.05 * radius, abs=6e-3)
    assert "club player" in dialog.tell.text()


@pytest.mark.slow
def test_a_level_typed_counts_for_the_chances_and_is_kept(qtbot, dialog, window, session, settings):
    session.document.replace(load_routine(next(DEMO.glob("04-*.json"))))

    def chances():
        qtbot.waitUntil(lambda: session.answer_is_full)
        verdict = next(one for one in session.answer.verdicts if one.choice is not None)
        return {name: chance for name, chance, _, _ in verdict.choice.chances}

    before = chances()
    before_steps = session.document.undo_name
    type_into(qtbot, dialog.rows[0].name, "beginner")
    type_into(qtbot, dialog.rows[0].figures["aim_deg"], "3,0")
    type_into(qtbot, dialog.rows[0].figures["tip_height"], "10.5")
    assert session.levels.players[0] == Player("beginner", 3.0, 10.5 / 26.25, 0.06, 0.8)
    after = chances()
    assert set(after) == {"beginner", "club player", "county player"}
    assert after["beginner"] < before["learner"]
    # no step of the document, and there again at the next start
    assert session.document.undo_name == before_steps
    assert Settings(settings._path).load_players() == session.levels.players


def test_what_cannot_be_is_refused_and_told(qtbot, dialog, session):
    type_into(qtbot, dialog.rows[0].figures["aim_deg"], "twelve")
    assert "is no number" in dialog.note.text()
    type_into(qtbot, dialog.rows[0].figures["aim_deg"], "12")
    assert "stay as they were" in dialog.note.text() and "0 to 10" in dialog.note.text()
    type_into(qtbot, dialog.rows[0].name, "club player")
    assert "a name of its own" in dialog.note.text()
    assert session.levels.players == PLAYERS
    assert dialog.isVisible() and dialog.rows[0].name.text() == "learner"
    assert dialog.rows[0].figures["aim_deg"].text() == "0.25"


def test_levels_are_added_and_removed_and_one_stays(qtbot, dialog, session):
    qtbot.mouseClick(dialog.add, LEFT)
    assert len(dialog.rows) == len(session.levels.players) == 4
    while len(session.levels.players) > 1:
        qtbot.mouseClick(dialog.rows[0].remove, LEFT)
    assert len(dialog.rows) == 1 and not dialog.rows[0].remove.isEnabled()
    assert session.levels.remove(0) is False
    qtbot.mouseClick(dialog.usual, LEFT)
    assert session.levels.players == PLAYERS and len(dialog.rows) == 3
    for _ in range(12):
        session.levels.add()
    assert len(session.levels.players) == 12
    dialog.catch_up()
    assert not dialog.add.isEnabled()


def test_a_players_file_is_loaded_and_saved(qtbot, dialog, session, tmp_path):
    path, out = tmp_path / "mine.json", tmp_path / "out.json"
    save_players(TWO, path)
    dialog.ask_file = lambda: path
    qtbot.mouseClick(dialog.load, LEFT)
    assert session.levels.players == TWO
    assert [row.name.text() for row in dialog.rows] == ["junior", "coach"]
    dialog.ask_where = lambda: out
    qtbot.mouseClick(dialog.save, LEFT)
    assert load_players(out) == TWO
    path.write_text('{"format": "baizewright-players", "version": 1, "players": []}')
    qtbot.mouseClick(dialog.load, LEFT)
    assert "not taken" in dialog.note.text() and "1 to 12 players" in dialog.note.text()
    assert session.levels.players == TWO


def test_the_report_has_a_column_for_every_level(qtbot, window, session, routine_with_gaps):
    session.document.replace(routine_with_gaps)
    report = window.menus.dialogs.report()
    session.levels.put(TWO)
    qtbot.waitUntil(lambda: session.answer_is_full)
    report.catch_up()
    heads = [report.gaps.headerItem().text(k) for k in range(report.gaps.columnCount())]
    assert heads[4:] == ["Junior", "Coach"]
    report.close()


def test_kept_levels_that_are_damaged_give_the_invented_ones(settings):
    settings.save_players(TWO)
    assert Settings(settings._path).load_players() == TWO
    settings._store.setValue("players", "{not JSON")
    assert settings.load_players() == PLAYERS
    settings.save_players(PLAYERS)
    assert settings._store.value("players") == ""
