"""The main command: which of window, command line and demo handouts it comes to."""

from __future__ import annotations

import sys
from types import ModuleType

import pytest

from designer import demo_handouts, python_version, start_here
from designer import screen as asked_screen
from designer.screen import Screen


@pytest.fixture
def calls(monkeypatch) -> list[tuple[str, list[str]]]:
    """Stand in for the window and the command line, which have tests of their own."""
    noted: list[tuple[str, list[str]]] = []

    def stand_in(name: str, code: int) -> ModuleType:
        module = ModuleType(name)
        module.main = lambda args: noted.append((name, args)) or code
        return module

    for name, code in (("designer.commands.main", 7), ("designer.window.start", 0)):
        package = name.rpartition(".")[0]
        monkeypatch.setitem(sys.modules, package, ModuleType(package))
        monkeypatch.setitem(sys.modules, name, stand_in(name, code))
    monkeypatch.setattr(asked_screen, "provide_libraries", lambda way: ())
    return noted


def screen(monkeypatch, present: bool) -> None:
    monkeypatch.setattr(asked_screen, "find_screen", lambda: Screen(present, "so it is", "x11"))


def test_arguments_go_to_the_command_line_as_they_are(calls):
    assert start_here.start(["check", "a.json", "--json"]) == 7
    assert calls == [("designer.commands.main", ["check", "a.json", "--json"])]


def test_a_screen_opens_the_window(calls, monkeypatch):
    screen(monkeypatch, True)
    assert start_here.start([]) == 0
    assert calls == [("designer.window.start", [])]


def test_no_screen_checks_the_demos(calls, monkeypatch, capsys):
    screen(monkeypatch, False)
    monkeypatch.setattr(demo_handouts, "check_and_write", lambda: 0)
    assert start_here.start([]) == 0
    assert calls == []
    assert "No screen here (so it is)" in capsys.readouterr().out


def test_missing_libraries_are_named_and_the_rest_is_done(calls, monkeypatch, capsys):
    screen(monkeypatch, True)
    done = []
    monkeypatch.setattr(asked_screen, "provide_libraries", lambda way: ("libxcb-cursor.so.0",))
    monkeypatch.setattr(demo_handouts, "check_and_write", lambda: done.append(1) or 0)
    assert start_here.start([]) == 2
    assert calls == [] and done == [1]
    assert capsys.readouterr().err.count("libxcb-cursor0") == 2


def test_a_picture_without_a_screen_is_painted_out_of_sight(calls, monkeypatch):
    screen(monkeypatch, False)
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.setenv("QT_QPA_PLATFORM", "")  # so that it is put back afterwards
    monkeypatch.delenv("QT_QPA_PLATFORM")
    assert start_here.start(["--picture", "out.png"]) == 0
    assert calls == [("designer.window.start", ["--picture", "out.png"])]
    assert start_here.os.environ["QT_QPA_PLATFORM"] == "offscreen"


class Commands:
    """A command line that notes what it was asked and answers with given exit codes."""

    def __init__(self, codes: dict[str, int]) -> None:
        self.codes, self.asked = codes, []

    def __call__(self, args: list[str]) -> int:
        self.asked.append(args)
        return self.codes.get(args[0], 0)


@pytest.fixture
def demos(tmp_path):
    for name in ("b", "a"):
        (tmp_path / f"{name}.json").write_text("{}")
    return tmp_path


def test_every_demo_is_checked_and_written(demos, capsys):
    commands = Commands({})
    assert demo_handouts.check_and_write(demos, commands) == 0
    routines = [str(demos / "a.json"), str(demos / "b.json")]
    pdfs = [str(demos / "handouts" / f"{name}.pdf") for name in "ab"]
    assert commands.asked == [
        ["check", *routines],
        ["handout", routines[0], "-o", pdfs[0]],
        ["handout", routines[1], "-o", pdfs[1]],
    ]
    assert (demos / "handouts").is_dir()
    assert f"2 of 2 handouts are in {demos / 'handouts'}" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("codes", "worst"), [({"check": 1}, 1), ({"handout": 2}, 2), ({"check": 1, "handout": 2}, 2)]
)
def test_the_worst_exit_code_counts(demos, codes, worst):
    assert demo_handouts.check_and_write(demos, Commands(codes)) == worst


def test_no_demos_is_said(tmp_path, capsys):
    assert demo_handouts.check_and_write(tmp_path, Commands({})) == 2
    assert str(tmp_path) in capsys.readouterr().err


@pytest.mark.parametrize("version", [(2, 7), (3, 6), (3, 10)])
def test_old_pythons_are_turned_away(version, capsys):
    with pytest.raises(SystemExit) as leaving:
        python_version.refuse_if_too_old(version)
    assert leaving.value.code == 2
    text = capsys.readouterr().err
    assert "Python 3.11 or newer" in text and f"Python {version[0]}.{version[1]}" in text


def test_this_python_will_do():
    assert python_version.refuse_if_too_old() is None
    assert python_version.refuse_if_too_old((4, 0)) is None
