"""The stamp: when a finished set-up still holds, and when it does not."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from designer.setup_here.stamp import Stamps, python_in


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project folder with a pyproject file and a `.venv` whose Python is a link."""
    (tmp_path / "pyproject.toml").write_text('[project]\nname = "x"\ndependencies = []\n')
    python = python_in(tmp_path / ".venv")
    python.parent.mkdir(parents=True)
    python.symlink_to(sys.executable)
    return tmp_path


def test_no_stamp_before_the_first_set_up(project):
    assert not Stamps(project).fits()


def test_stamp_fits_after_finishing(project):
    stamps = Stamps(project)
    stamps.begin()
    assert stamps.broken_off() and not stamps.fits()
    stamps.finish(["test"])
    assert not stamps.broken_off()
    assert stamps.fits() and stamps.fits(["test"])
    assert stamps.extras() == {"test"}


def test_set_up_without_the_test_tools_does_not_do_for_the_tests(project):
    stamps = Stamps(project)
    stamps.finish([])
    assert stamps.fits() and not stamps.fits(["test"])


def test_changed_wants_make_the_stamp_stale(project):
    stamps = Stamps(project)
    stamps.finish([])
    with (project / "pyproject.toml").open("a") as file:
        file.write("# one more package\n")
    assert not stamps.fits()


@pytest.mark.parametrize("name", ["lock.txt", "lock-test.txt"])
def test_another_list_of_tested_versions_makes_the_stamp_stale(project, name):
    lock = project / ".packaging" / name
    lock.parent.mkdir()
    lock.write_text("numpy==2.4.5\n")
    stamps = Stamps(project)
    stamps.finish([])
    assert stamps.fits()
    lock.write_text("numpy==2.4.6\n")
    assert not stamps.fits()


def test_moved_project_makes_the_stamp_stale(project, tmp_path_factory):
    Stamps(project).finish([])
    moved = tmp_path_factory.mktemp("elsewhere") / "moved"
    os.rename(project, moved)
    assert not Stamps(moved).fits()


def test_another_python_behind_the_folder_makes_the_stamp_stale(project):
    stamps = Stamps(project)
    stamps.finish([])
    python = python_in(project / ".venv")
    newer = project / "python-newer"
    newer.write_text("")
    python.unlink()
    python.symlink_to(newer)
    assert not stamps.fits()
    newer.unlink()
    assert not stamps.fits()


def test_broken_off_set_up_never_fits(project):
    stamps = Stamps(project)
    stamps.finish([])
    stamps.begin()
    assert not stamps.fits()
    stamps.give_up()
    assert stamps.fits()


@pytest.mark.parametrize("content", ["", "not json", "[]", '{"fingerprint": 3}'])
def test_damaged_stamp_does_not_fit(project, content):
    stamps = Stamps(project)
    stamps.finish([])
    (project / ".venv" / "set-up-finished.json").write_text(content)
    assert not stamps.fits()
