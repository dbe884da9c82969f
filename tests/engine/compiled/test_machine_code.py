"""Where the machine code is kept: beside the sources, else in the home folder, else for one run."""

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


def test_code_for_these_sources_replaces_older_code(places):
    here, _ = places
    folder, name = here / "__pycache__", machine_code._name()
    mine = name.rpartition("-")[0]
    (folder / "kernel-of-a-folder").mkdir(parents=True)
    (folder / f"{mine}-0123456789abcdef").write_bytes(b"old")
    (folder / "kept").write_bytes(b"of somebody else")
    machine_code._keep(b"code")
    assert sorted(one.name for one in folder.iterdir()) == sorted([name, "kept"])
    assert machine_code._kept() == b"code", "it is found again"


def test_where_the_sources_cannot_be_written_the_home_folder_is_taken(places):
    here, home = places
    (here / "__pycache__").write_text("a file, where a folder is wanted")
    machine_code._keep(b"code")
    assert (home / ".cache" / "baizewright" / machine_code._name()).is_file()
    assert machine_code._kept() == b"code"


def test_where_nothing_can_be_written_nothing_is_kept(places):
    here, home = places
    (here / "__pycache__").write_text("")
    (home / ".cache").write_text("")
    machine_code._keep(b"code")
    assert machine_code._kept() is None


def test_damaged_code_is_no_code(places):
    here, _ = places
    machine_code._keep(b"code")
    file = here / "__pycache__" / machine_code._name()
    for damaged in (b"", file.read_bytes()[:-1], file.read_bytes() + b"x"):
        file.write_bytes(damaged)
        assert machine_code._kept() is None


def test_the_name_changes_with_any_source(tmp_path, monkeypatch):
    monkeypatch.setattr(machine_code, "_ENGINE", tmp_path)
    monkeypatch.setattr(machine_code, "MODULES", ("one",))
    source = tmp_path / "one.py"
    source.write_text("a = 1\n")
    before = machine_code._name()
    assert machine_code._name() == before
    source.write_text("a = 2\n")
    assert machine_code._name() != before


def test_every_module_with_compiled_functions_is_among_the_sources():
    engine = machine_code._ENGINE
    marked = {
        ".".join(path.relative_to(engine).with_suffix("").parts)
        for path in engine.rglob("*.py")
        if "\n@compiled" in path.read_text("utf-8") or "\n@inlined" in path.read_text("utf-8")
    }
    assert marked and not marked - set(machine_code.MODULES)


def test_a_function_that_is_not_there_is_refused():
    machine_code.prepare()
    with pytest.raises(RuntimeError, match="no function"):
        machine_code.run(10**9, b"\0" * 64)
