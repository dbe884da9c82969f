"""What is remembered between two starts."""

from dataclasses import replace

from designer.drawing.layers import Layers
from designer.open_routine import Settings, View
from designer.open_routine.settings import MOST_RECENT
from designer.open_routine.view import SWITCHES


def test_the_view_comes_back(tmp_path):
    view = View(replace(Layers(), lanes=False, measurements=True), "inch", False)
    Settings(tmp_path / "s.ini").save_view(view)
    assert Settings(tmp_path / "s.ini").load_view() == view


def test_without_settings_the_view_is_as_at_first(tmp_path):
    assert Settings(tmp_path / "none.ini").load_view() == View()


def test_recent_files_are_newest_first_and_not_too_many(tmp_path):
    settings = Settings(tmp_path / "s.ini")
    paths = [(tmp_path / f"{i}.json").resolve() for i in range(MOST_RECENT + 3)]
    for path in [*paths, paths[-2]]:
        settings.note_recent(path)
    again = Settings(tmp_path / "s.ini").recent_files
    assert again[:2] == [paths[-2], paths[-1]]
    assert len(again) == MOST_RECENT
    settings.forget_recent(paths[-2])
    assert settings.recent_files[0] == paths[-1]
    assert settings.folder == tmp_path.resolve()


def test_every_switch_names_layers_that_exist():
    for switch in SWITCHES:
        assert switch.is_on(Layers()) in (True, False)
        off = View()
        for name in switch.names:
            off = off.with_layer(name, False)
        assert not switch.is_on(off.layers)
