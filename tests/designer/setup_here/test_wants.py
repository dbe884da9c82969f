"""Reading what the project asks for, and comparing it with what is there."""

from __future__ import annotations

from importlib import metadata

import pytest

from designer.setup_here import PROJECT
from designer.setup_here.wants import Want, has_all, read_wants

PACKAGES = {"numpy": "1.26.4", "shapely": "2.0rc1", "odd": "3"}


def version_of(name: str) -> str:
    try:
        return PACKAGES[name]
    except KeyError:
        raise metadata.PackageNotFoundError(name) from None


@pytest.mark.parametrize(
    ("want", "there"),
    [
        (Want("numpy"), True),
        (Want("numpy", (1, 26)), True),
        (Want("numpy", (1, 26, 4)), True),
        (Want("numpy", (1, 26, 5)), False),
        (Want("numpy", (1, 100)), False),
        (Want("numpy", (1,), (2,)), True),
        (Want("numpy", (1,), (1, 26)), False),
        (Want("shapely", (2,)), True),
        (Want("odd", (3,)), True),
        (Want("numpy", (1, 20), (2,)), True),
        (Want("numpy", (1, 20), (1, 26)), False),
        (Want("odd", (), (3,)), False),
        (Want("missing"), False),
    ],
)
def test_one_want(want, there):
    assert has_all([want], version_of) is there


def test_one_missing_package_is_enough():
    assert not has_all([Want("numpy"), Want("missing")], version_of)


def test_the_projects_own_lines_are_understood():
    plain = {want.name for want in read_wants(PROJECT / "pyproject.toml")}
    tests = {want.name for want in read_wants(PROJECT / "pyproject.toml", ["test"])}
    assert {"numpy", "shapely", "PySide6-Essentials"} <= plain
    assert plain < tests and "pytest" in tests


def test_both_bounds_are_read(tmp_path):
    file = tmp_path / "pyproject.toml"
    file.write_text('[project]\nname = "x"\ndependencies = ["numpy>=1.2,<2.5", "six"]\n')
    assert read_wants(file) == (Want("numpy", (1, 2), (2, 5)), Want("six"))


def test_lines_beyond_the_quick_check_are_refused(tmp_path):
    file = tmp_path / "pyproject.toml"
    file.write_text('[project]\nname = "x"\ndependencies = ["numpy>=1,!=1.5"]\n')
    with pytest.raises(ValueError, match=r"numpy>=1,!=1\.5"):
        read_wants(file)
