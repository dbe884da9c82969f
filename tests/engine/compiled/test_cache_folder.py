"""Where machine code is kept: beside the sources, else in the home folder, else for one run."""

from importlib import import_module

import pytest

#: The module; the package's `jit` is the function in it.
jit = import_module("engine.compiled.jit")


@pytest.fixture
def places(tmp_path, monkeypatch):
    """The folder of the sources and the home folder, both empty."""
    here, home = tmp_path / "here", tmp_path / "home"
    here.mkdir()
    home.mkdir()
    monkeypatch.setattr(jit, "_HERE", here)
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USERPROFILE", str(home))
    monkeypatch.setattr(jit.tempfile, "tempdir", str(tmp_path))
    return here, home


def test_a_folder_for_these_sources_replaces_older_ones(places):
    here, _ = places
    old, other = here / "__pycache__" / "kernel-0123456789abcdef", here / "__pycache__" / "kept"
    old.mkdir(parents=True)
    (old / "code.nbi").write_bytes(b"old")
    other.mkdir()
    folder = jit._cache_folder()
    assert folder.parent == here / "__pycache__" and folder.is_dir()
    assert folder.name == "kernel-" + jit._digest()
    assert not old.exists() and other.exists(), "older code goes, what is not its own stays"
    assert jit._cache_folder() == folder, "it is found again"


def test_where_the_sources_cannot_be_written_the_home_folder_is_taken(places):
    here, home = places
    (here / "__pycache__").write_text("a file, where a folder is wanted")
    folder = jit._cache_folder()
    assert folder.parent == home / ".cache" / "baizewright" and folder.is_dir()


def test_where_nothing_can_be_written_it_is_kept_for_one_run(places, tmp_path):
    here, home = places
    (here / "__pycache__").write_text("")
    (home / ".cache").write_text("")
    folder = jit._cache_folder()
    assert folder.parent == tmp_path and folder.name.startswith("kernel-") and folder.is_dir()


def test_the_digest_changes_with_any_source(tmp_path, monkeypatch):
    source = tmp_path / "one.py"
    source.write_text("a = 1\n")
    monkeypatch.setattr(jit, "_SOURCES", (tmp_path,))
    before = jit._digest()
    assert jit._digest() == before
    source.write_text("a = 2\n")
    assert jit._digest() != before
