"""Bands in the drawing: outlines of where a lane may lie, when asked for and worked out."""

from pathlib import Path

from designer.drawing import Layers, build_drawing, roles
from engine.answers import answer, with_bands
from engine.storage import load_routine

DEMO = Path(__file__).parents[3] / "layouts_demo" / "01-three-ways-off-the-blue.json"


def test_bands_are_drawn_when_switched_on_and_worked_out():
    routine = load_routine(DEMO)
    plain = answer(routine)
    doubted = with_bands(routine, plain)
    shown = Layers(bands=True)

    def bands(found, layers):
        items = build_drawing(routine, found, layers).items
        return [item for item in items if item.role == roles.BAND]

    assert bands(plain, shown) == [] and bands(doubted, Layers()) == []
    outlines = [one for lane in doubted.shots[0].lanes for one in lane.doubt.outlines_mm]
    assert len(bands(doubted, shown)) == len(outlines) >= len(plain.shots[0].lanes)


def test_doubt_is_told_on_the_command_line(capsys):
    from designer.commands.main import main

    assert main(["check", str(DEMO), "--bands"]) == 0
    assert capsys.readouterr().out.count("expect up to ") == 3
