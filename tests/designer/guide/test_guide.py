"""The guide is true: what it names is in the program, its steps work, its commands run."""

import os
import re
import subprocess
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QAction, QKeySequence, QTextDocument
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QGroupBox,
    QLabel,
    QMenu,
    QTabWidget,
    QTreeWidget,
    QWidget,
)

from designer.commands.main import main
from designer.guide import FOLDER, ORDER, PICTURES, pages
from designer.window.help import KEYS
from engine.storage import load_routine
from engine.version import VERSION

HOUSE = Path(__file__).resolve().parents[3]
DEMOS = HOUSE / "layouts_demo"
PAGES = {page.name: page.text for page in pages()}
LINK = re.compile(r"(!?)\[[^\]]*\]\(([^)]+)\)")
BOLD, CODE = re.compile(r"\*\*([^*]+)\*\*"), re.compile(r"(?<!`)`([^`\n]+)`(?!`)")
FENCED = re.compile(r"^ *```\n(.*?)^ *```", re.M | re.S)
#: Readings of a roll at hand, so that the command has something to work on.
OBSERVATIONS = "kind,distance_mm,time_s,then_mm\nroll,1400,1.9,900\nroll,1400,2.2,550\n"


def words(text):
    """A text of the window without its key letter."""
    return re.sub(r"&(?=\w)", "", text).strip()


def menu_paths(menu, way=()):
    """Every entry below a menu as its path."""
    found = set()
    for action in menu.actions():
        if action.isSeparator():
            continue
        path = (*way, words(action.text()))
        found.add(path)
        if action.menu() is not None:
            action.menu().aboutToShow.emit()
            found |= menu_paths(action.menu(), path)
    return found


def texts_of(root):
    """Every word that can be read in a window."""
    found = set()
    for widget in root.findChildren(QWidget):
        match widget:
            case QAbstractButton() | QLabel():
                found.add(words(widget.text()))
            case QGroupBox():
                found.add(words(widget.title()))
            case QComboBox():
                found |= {widget.itemText(i) for i in range(widget.count())}
            case QTabWidget():
                found |= {widget.tabText(i) for i in range(widget.count())}
            case QTreeWidget():
                rows = [widget.topLevelItem(i) for i in range(widget.topLevelItemCount())]
                for row in [widget.headerItem(), *rows]:
                    found |= {row.text(i) for i in range(widget.columnCount())}
            case QMenu():
                found |= {words(action.text()) for action in widget.actions()}
    return found


@pytest.fixture
def in_the_program(window):
    """Menu paths, texts and keys of the window and its dialogs."""
    from designer.exporting.handout_dialog import HandoutDialog
    from designer.window.guide_window import GuideWindow

    asides = window.menus.dialogs
    for open_one in (asides.report, asides.table, asides.reach):
        open_one().show()
    GuideWindow(window)
    HandoutDialog(window.session, lambda: None, list, window)
    keys = {
        sequence.toString(QKeySequence.SequenceFormat.PortableText)
        for action in window.findChildren(QAction)
        for sequence in action.shortcuts()
    }
    return menu_paths(window.menuBar()), texts_of(window), keys


def test_every_page_is_there_and_is_reached(qtbot):
    assert tuple(PAGES) == ORDER
    assert all(page.title for page in pages("xx_YY")), "English where there is no translation"
    linked = {target for _, target in LINK.findall(PAGES["index"])}
    assert linked == {f"{name}.md" for name in ORDER} - {"index.md"}


@pytest.mark.parametrize("name", ORDER)
def test_links_and_pictures_are_there(name):
    for picture, target in LINK.findall(PAGES[name]):
        file = (FOLDER / "en" / target).resolve()
        assert file.is_file(), target
        assert bool(picture) == (file.suffix == ".png")


def test_every_picture_is_shown():
    shown = {Path(t).name for text in PAGES.values() for p, t in LINK.findall(text) if p}
    assert shown == {file.name for file in PICTURES.glob("*.png")} and len(shown) >= 3


def test_what_the_guide_names_is_in_the_program(in_the_program, window, session):
    paths, texts, _ = in_the_program
    missing = []
    for name, text in PAGES.items():
        for named in BOLD.findall(FENCED.sub("", text)):
            path = tuple(part.strip() for part in " ".join(named.split()).split("▸"))
            there = path in paths if len(path) > 1 else path[0] in texts
            # What is said of a claim that no longer holds is told only when there is one.
            if not there and path != ("FAILS",):
                missing.append((name, named))
    assert not missing
    assert sum(len(BOLD.findall(text)) for text in PAGES.values()) > 40


def test_keys_the_guide_names_do_something(in_the_program):
    _, _, keys = in_the_program
    told = {key for pair in KEYS for key in re.split(r", | to | while .*", pair[0])}
    named = {code for text in PAGES.values() for code in CODE.findall(FENCED.sub("", text))}
    looks_like_key = {c for c in named if re.fullmatch(r"(Ctrl|Shift|Alt)\+.+|F\d+|Space", c)}
    assert looks_like_key >= {"Ctrl+P", "Space"}
    assert looks_like_key <= keys | told


def test_the_pages_can_be_turned(qtbot, window):
    from designer.window.guide_window import show_guide

    guide = show_guide(window)
    assert show_guide(window) is guide, "one guide, brought to the front"
    for row, page in enumerate(pages()):
        guide.list.setCurrentRow(row)
        assert guide.browser.source() == QUrl.fromLocalFile(str(page.file))
        heading = guide.browser.document().firstBlock()
        assert heading.text() == page.title and heading.blockFormat().headingLevel() == 1
    guide.turn_to("index")
    guide.browser.setSource(QUrl("first-routine.md"))
    assert guide.list.currentItem().text() == "Your first routine"
    picture = guide.browser.document().resource(
        QTextDocument.ResourceType.ImageResource, QUrl("../pictures/first-routine.png")
    )
    assert picture is not None and not picture.isNull()
    qtbot.mouseClick(guide.back, Qt.MouseButton.LeftButton)
    assert guide.list.currentItem().text() != "Your first routine"
    guide.close()


def open_help(window, entry):
    """Choose an entry of the menu Help."""
    (menu,) = (a.menu() for a in window.menuBar().actions() if words(a.text()) == "Help")
    (action,) = (action for action in menu.actions() if words(action.text()) == entry)
    action.trigger()


def test_what_is_new_opens_the_guide_at_its_page(qtbot, window):
    from designer.window.guide_window import GuideWindow

    open_help(window, "What is new")
    (guide,) = window.findChildren(GuideWindow)
    assert guide.list.currentItem().text() == "What is new"
    headings, block = [], guide.browser.document().begin()
    while block.isValid():
        if level := block.blockFormat().headingLevel():
            headings.append((level, block.text()))
        block = block.next()
    assert headings[:2] == [(1, "What is new"), (2, f"Version {VERSION}")]
    guide.turn_to("glossary")
    open_help(window, "Guide")
    assert guide.list.currentItem().text() == "Words of the trade", "left where it was"
    open_help(window, "What is new")
    assert guide.list.currentItem().text() == "What is new"
    assert window.findChildren(GuideWindow) == [guide]
    guide.close()


def versions_of(page):
    """The versions of a page of changes with what stands below each."""
    return dict(re.findall(r"^## Version (\S+)\n(.*?)(?=^## |\Z)", page, re.M | re.S))


def test_versions_stand_newest_first_and_each_tells_of_the_figures():
    versions = versions_of(PAGES["what-is-new"])
    numbers = [tuple(map(int, version.split("."))) for version in versions]
    assert numbers == sorted(numbers, reverse=True) and len(set(numbers)) == len(numbers)
    for version, text in versions.items():
        kinds = re.findall(r"^### (.+)$", text, re.M)
        assert kinds[-1] == "Your figures", version
        assert set(kinds) <= {"Added", "Changed", "Removed", "Mended", "Your figures"}, version


def test_changes_are_listed_nowhere_else():
    notes = {HOUSE / "README.md", HOUSE / "DEVELOPERS.md", *HOUSE.glob("*/DECISIONS.md")}
    notes |= {page.file for page in pages() if page.name != "what-is-new"}
    assert len(notes) > 8
    for file in notes:
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"change ?log|^\W*(version )?\d+\.\d+\.\d+\b", text, re.I | re.M), file
    assert not [
        file for file in HOUSE.iterdir() if re.match("(?i)(change|history|news)", file.name)
    ]


@pytest.mark.slow
def test_the_first_routine_works_as_told(qtbot, window, session):
    """Its places typed, its lanes and its claim as the page says them."""
    from engine.answers import answer

    text = PAGES["first-routine"]
    session.document.replace(load_routine(FOLDER / "first-routine.json"))
    routine, table = session.routine, session.table
    for ball_id, first, second in (
        ("cue", "598 mm from the right", "1500 mm from the bottom"),
        ("red-1", "780 mm from the left", "1069 mm from the top"),
        ("red-2", "768 mm from the right", "1069 mm from the top"),
    ):
        assert f"{first}, {second}" in text
        ball = routine.ball(ball_id)
        across, along = int(first.split()[0]), int(second.split()[0])
        x = table.width_mm - ball.x_mm if "right" in first else ball.x_mm
        y = table.length_mm - ball.y_mm if "top" in second else ball.y_mm
        assert (x, y) == (across, along)
    found = answer(routine)
    shot = found.shots[0]
    assert shot.pot.on and f"the cut is {shot.pot.cut_deg:.0f}°" in text
    clear = {lane.label: {c.ball: c.clearance_mm for c in lane.clearances} for lane in shot.lanes}
    assert clear["A"]["red-1"] < 0 < clear["B"]["red-2"]
    assert f"the left one by {clear['B']['red-1']:.0f} mm" in text
    assert min(clear["C"].values()) > 0
    assert found.claims[0].holds, "lane B goes through the gap"


def commands_in(text):
    """Lines of commands, in order."""
    lines = [line.strip() for block in FENCED.findall(text) for line in block.splitlines()]
    return [line for line in lines if line]


GUIDES = [command for name in ORDER for command in commands_in(PAGES[name])]


README = (HOUSE / "README.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^    (python3 -m designer .+)$", README, re.M)
#: What one of sh, PowerShell and cmd takes for its own outside double quotation marks; stars are
#: written out by the program where the shell leaves them.
TAKEN = re.compile(r"[<>|&^%$;(){}!'`\\,@#~]")
#: In place of the program: writes down what it was given.
STAND_IN = '#!/bin/sh\nprintf "%s\\0" "$@" > "$GIVEN"\n'


@pytest.fixture
def typed(tmp_path, monkeypatch):
    """What a line typed into a real shell gives the program, among the examples it names."""
    programs, here, given = tmp_path / "programs", tmp_path / "here", tmp_path / "given"
    programs.mkdir()
    for name in ("python3", "baizewright"):
        (programs / name).write_text(STAND_IN)
        (programs / name).chmod(0o755)
    demos = here / "layouts_demo"
    demos.mkdir(parents=True)
    told = README + "".join(PAGES.values())
    for name in {"photograph", *re.findall(r"layouts_demo/([\w-]+\.json)", told)}:
        (demos / name).symlink_to(DEMOS / name)
    monkeypatch.chdir(here)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    path = f"{programs}{os.pathsep}{os.environ.get('PATH', os.defpath)}"

    def run(line):
        before = set(here.iterdir())
        done = subprocess.run(
            ["sh", "-c", line], env={**os.environ, "PATH": path, "GIVEN": str(given)},
            capture_output=True, text=True, cwd=here,
        )  # fmt: skip
        assert (done.returncode, done.stderr) == (0, ""), (line, done.stderr)
        assert set(here.iterdir()) == before, f"a shell writes a file by {line}"
        return given.read_bytes().decode().split("\0")[:-1]

    return run


@pytest.mark.slow
def test_the_commands_of_the_guide_run(tmp_path, typed, capsys):
    assert len(GUIDES) > 12
    for command in GUIDES:
        arguments = typed(command)
        assert command.startswith("baizewright ")
        code = main(arguments)
        told = capsys.readouterr()
        assert code in ((0, 1) if arguments[0] in ("move", "calibrate") else (0,)), (
            command,
            told.err,
        )
        if "-o" in arguments:
            out = Path(arguments[arguments.index("-o") + 1])
            assert out.stat().st_size > 100
            if out.name == "observations.csv":
                out.write_text(OBSERVATIONS)


NOTES = ("README.md", "DEVELOPERS.md", "engine/DECISIONS.md", "designer/DECISIONS.md")


@pytest.mark.parametrize("name", NOTES)
def test_files_that_notes_name_are_there(name):
    text = (HOUSE / name).read_text(encoding="utf-8")
    files = set(re.findall(r"[\w.-]+(?:/[\w.-]+)+\.(?:py|md|json|txt|png)\b", text))
    near = [HOUSE, HOUSE / "engine", HOUSE / "designer"]
    made = (".venv/", "build/")
    lost = [
        file
        for file in files
        if not (file.startswith(made) or any((folder / file).exists() for folder in near))
    ]
    assert files and not lost


def test_the_contributors_guide_is_short_and_its_example_runs(monkeypatch, capsys):
    text = (HOUSE / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 200
    (example,) = re.findall(r"^```python\n(.*?)^```", text, re.M | re.S)
    monkeypatch.chdir(HOUSE)
    exec(example, {})
    assert "move the cue ball is undone" in capsys.readouterr().out


@pytest.mark.slow
def test_the_examples_of_the_readme_run(typed, capsys):
    assert len(EXAMPLES) >= 10
    for example in EXAMPLES:
        python, designer, *arguments = typed(example)
        assert (python, designer) == ("-m", "designer")
        if arguments:  # without any, the window opens
            assert main(arguments) == 0, (example, capsys.readouterr().err)
        capsys.readouterr()
    named = set(re.findall(r"^\| `(\w+) ", README, re.M))
    for command in named - {"FILE"}:
        assert main([command, "--help"]) == 0


def test_searches_told_find_something(typed, capsys):
    searches = [line for line in (*EXAMPLES, *GUIDES) if " library find " in line]
    assert len(searches) == 4
    for line in searches:
        arguments = typed(line)
        assert main(arguments[arguments.index("library") :]) == 0
        count = re.search(r"^(\d+) of \d+ routines", capsys.readouterr().out, re.M)
        assert int(count[1]) > 0, line


def test_what_is_to_be_typed_can_be_in_every_shell():
    """Nothing that sh, PowerShell or cmd would take for its own, nor a line that goes on."""
    for line in (*EXAMPLES, *GUIDES):
        assert not TAKEN.search(re.sub(r'"[^"]*"', "", line)), line
        assert not re.search(r"[$`%!\\]", line), line
    # Conditions of a search are told in the table of commands as well, to be put together.
    (row,) = re.findall(r"^\| `library find .*$", README, re.M)
    for told in re.findall(r"`([^`]*)`", row):
        assert not TAKEN.search(told), told


@pytest.mark.slow
def test_patterns_are_written_out_where_the_shell_leaves_them(typed, capsys):
    first, *_ = sorted(Path("layouts_demo").glob("*.json"))
    assert main(["check", "layouts_demo/0[1]*.json"]) == 0
    assert first.stem.split("-")[0] == "01" and str(first) in capsys.readouterr().out
    assert main(["check", "layouts_demo/no-*.json"]) == 2
    assert "no such file" in " ".join(capsys.readouterr().err.split())
