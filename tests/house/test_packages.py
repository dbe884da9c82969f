"""Wheel and sdist hold every file the program reads: fonts, schemas, tables, guide, pictures."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
BUILD = "import sys\nfrom setuptools import build_meta as b\ngetattr(b, sys.argv[1])(sys.argv[2])\n"


def wanted() -> set[str]:
    """Every file of the two packages, but what Python makes of them."""
    return {
        file.relative_to(HOUSE).as_posix()
        for package in ("engine", "designer")
        for file in (HOUSE / package).rglob("*")
        if file.is_file() and "__pycache__" not in file.parts and not file.name.startswith(".")
    }


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """Names in the wheel and in the sdist, built from a copy."""
    copy = tmp_path_factory.mktemp("copy")
    for name in ("engine", "designer"):
        shutil.copytree(
            HOUSE / name, copy / name, ignore=shutil.ignore_patterns("__pycache__", ".*")
        )
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(HOUSE / name, copy)
    out = copy / "dist"
    out.mkdir()
    for what in ("build_wheel", "build_sdist"):
        done = subprocess.run(
            [sys.executable, "-c", BUILD, what, str(out)],
            cwd=copy, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
    (wheel,), (sdist,) = out.glob("*.whl"), out.glob("*.tar.gz")
    with zipfile.ZipFile(wheel) as one, tarfile.open(sdist) as other:
        return set(one.namelist()), {
            name.partition("/")[2] for name in other.getnames()
        }, wheel  # fmt: skip


def test_nothing_is_missing_from_the_wheel(built):
    names, _, _ = built
    assert not wanted() - names
    assert any(name.endswith("LICENSE") for name in names)
    assert not [name for name in names if name.startswith(("tests/", "layouts_demo/"))]


def test_nothing_is_missing_from_the_sdist(built):
    _, names, _ = built
    assert not wanted() - names and {"pyproject.toml", "README.md", "LICENSE"} <= names


def test_the_wheel_works_where_it_is_unpacked(built, tmp_path):
    """Away from the sources: a check, the guide and a table read from the unpacked wheel."""
    _, _, wheel = built
    with zipfile.ZipFile(wheel) as one:
        one.extractall(tmp_path)
    code = (
        f"import sys; sys.path.insert(0, {str(tmp_path)!r})\n"
        "from designer.commands.main import main\nfrom designer.guide import pages, FOLDER\n"
        "assert len(pages()) > 5, FOLDER\n"
        "sys.exit(main(['place', str(FOLDER / 'first-routine.json')]) or main(['table']))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "598" in done.stdout and "snooker-12ft" in done.stdout
