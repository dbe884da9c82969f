"""Where machine code is kept: beside the sources, else in the home folder; and what replaces it."""

import pytest

from engine.compiled import machine_code


@pytest.fixture
def places(tmp_path, monkeypatch):
    """The folder of the sources and the home folder, both empty."""
    here, home = tmp_path / "here", tmp_path / "home"
    here.mkdir()
    home.mkdir()
    monkeypatch.setattr(machine_code, "_HERE", here)
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USERPROFILE", str(home))
    return here, home


def test_new_code_replaces_older_of_this_processor_alone(places):
    here, _ = places
    folder = here / "__pycache__"
    (folder / "kernel-0123456789abcdef").mkdir(parents=True)  # as earlier versions kept it
    (folder / "kernel-0123456789abcdef" / "code.nbi").write_bytes(b"old")
    for name in ("kernel-mine-old", "kernel-mine-new-draft", "kernel-other-old", "module.pyc"):
        (folder / name).write_bytes(b"")
    machine_code._keep("kernel-mine-new", b"code")
    assert {one.name for one in folder.iterdir()} == {
        "kernel-mine-new", "kernel-other-old", "module.pyc",
    }  # fmt: skip
    assert machine_code._kept("kernel-mine-new") == b"code"
    assert machine_code._kept("kernel-mine-old") is None


def test_where_the_sources_cannot_be_written_the_home_folder_is_taken(places):
    here, home = places
    (here / "__pycache__").write_text("a file, where a folder is wanted")
    machine_code._keep("kernel-mine-new", b"code")
    assert (home / ".cache" / "baizewright" / "kernel-mine-new").is_file()
    assert machine_code._kept("kernel-mine-new") == b"code"


def test_where_nothing_can_be_written_nothing_is_kept(places):
    here, home = places
    (here / "__pycache__").write_text("")
    (home / ".cache").write_text("")
    machine_code._keep("kernel-mine-new", b"code")
    assert machine_code._kept("kernel-mine-new") is None


@pytest.mark.parametrize("damage", [lambda all_of_it: all_of_it[:-1], lambda _: b"", bytes.upper])
def test_damaged_code_is_as_good_as_none(places, damage):
    here, _ = places
    machine_code._keep("kernel-mine-new", b"code")
    file = here / "__pycache__" / "kernel-mine-new"
    file.write_bytes(damage(file.read_bytes()))
    assert machine_code._kept("kernel-mine-new") is None


def test_the_name_changes_with_any_source_and_any_processor(places, monkeypatch):
    here, _ = places
    (here.parent / "shot").mkdir()
    source = here.parent / "shot" / "one.py"
    source.write_text("a = 1\n")
    monkeypatch.setattr(machine_code, "MODULES", ("shot.one",))
    before = machine_code._name()
    assert machine_code._name() == before
    source.write_text("a = 2\n")
    after = machine_code._name()
    assert after != before and after.rpartition("-")[0] == before.rpartition("-")[0]
    monkeypatch.setattr(machine_code, "_features", lambda: "-avx2")
    assert machine_code._name().rpartition("-")[0] != after.rpartition("-")[0]
