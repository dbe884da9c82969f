"""The lists of tested versions fit the project's bounds, and set-up installs from them."""

from __future__ import annotations

import json
import re
import sys
import tomllib
from itertools import groupby
from pathlib import Path

import pytest

from designer.setup_here import PROJECT, SetUpError
from designer.setup_here.installing import install
from designer.setup_here.wants import Want, has_all, lock_files, read_wants

PINNED = re.compile(r"(?P<name>[a-z0-9-]+)==(?P<version>[0-9][\w.]*)(?: ; (?P<where>.+))?")
INTEL_MAC = "platform_machine == 'x86_64' and sys_platform == 'darwin'"
#: An installer that notes what it was asked, says its lines and ends as each run is told to.
INSTALLER = """
import json, sys
from pathlib import Path
here = Path(__file__).parent
asked = here / "asked.json"
runs = json.loads(asked.read_text()) if asked.exists() else []
code, said = json.loads((here / "ends.json").read_text())[len(runs)]
asked.write_text(json.dumps([*runs, sys.argv[1:]]))
print(said)
sys.exit(code)
"""
NO_WHEEL = "ERROR: No matching distribution found for numba==0.68.1"


def blocks(extra: str = "") -> list[list[str]]:
    """The entries of a list: the pin, then its checksums, each without its line's end."""
    (*_, file) = lock_files(PROJECT, [extra] if extra else [])
    lines = file.read_text(encoding="utf-8").splitlines()
    rows = [line.removesuffix(" \\").strip() for line in lines if not line.startswith("#")]
    starts = [index for index, row in enumerate(rows) if not row.startswith("--hash=")]
    return [rows[a:b] for a, b in zip(starts, [*starts[1:], len(rows)], strict=True)]


def pins(*extras: str) -> list[re.Match[str]]:
    """The pins of the program's list and those of the extras."""
    found = [PINNED.fullmatch(block[0]) for name in ("", *extras) for block in blocks(name)]
    assert all(found), "every entry is name==version, with a marker at most"
    return found


def plain(name: str) -> str:
    """A package's name as lists write it."""
    return re.sub(r"[-_.]+", "-", name).lower()


@pytest.mark.parametrize("extra", ["", "test"])
def test_every_entry_has_checksums_and_no_address(extra):
    for pin, *checksums in blocks(extra):
        assert checksums, pin
        assert all(re.fullmatch(r"--hash=sha256:[0-9a-f]{64}", one) for one in checksums), pin
    (*_, file) = lock_files(PROJECT, [extra] if extra else [])
    assert not re.search(r"://|index|find-links", file.read_text(encoding="utf-8"))


@pytest.mark.parametrize("extras", [(), ("test",)], ids=["program", "tests"])
@pytest.mark.parametrize("mac", [False, True], ids=["elsewhere", "intel-mac"])
def test_they_satisfy_what_the_project_asks_for(extras, mac):
    leave = {False: INTEL_MAC, True: "platform_machine != 'x86_64' or sys_platform != 'darwin'"}[
        mac
    ]
    there = {pin["name"]: pin["version"] for pin in pins(*extras) if pin["where"] != leave}
    wanted = read_wants(PROJECT / "pyproject.toml", extras)
    for want in wanted:
        assert has_all([Want(plain(want.name), want.at_least, want.below)], there.__getitem__), want


def test_every_want_has_a_bound_above():
    assert all(want.below for want in read_wants(PROJECT / "pyproject.toml", ["test"]))


def test_the_builder_of_the_project_is_among_them():
    asked = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))
    (builder,) = asked["build-system"]["requires"]
    assert builder.partition(">")[0] in {pin["name"] for pin in pins()}


def test_one_version_for_every_python_but_on_macs_with_an_intel_processor():
    entries = {(pin["name"], pin["version"], pin["where"]) for pin in pins("test")}
    for name, group in groupby(sorted(entries, key=str), key=lambda entry: entry[0]):
        versions = {version: where for _, version, where in group}
        if len(versions) > 1:
            assert INTEL_MAC in versions.values() and len(versions) == 2, name


class Ends:
    """A project folder and an installer whose runs end as told."""

    def __init__(self, folder: Path, *ends: tuple[int, str]) -> None:
        self.folder, self.log = folder, folder / "set-up.log"
        (folder / "ends.json").write_text(json.dumps(ends))
        (folder / "pip.py").write_text(INSTALLER)
        (folder / ".packaging").mkdir()

    def run(self, *extras: str, locks: tuple[str, ...] = ("lock.txt", "lock-test.txt")):
        """Install; return what the installer was asked, run by run."""
        for name in locks:
            (self.folder / ".packaging" / name).write_text("numpy==2\n")
        install([sys.executable, str(self.folder / "pip.py")], self.folder, extras, self.log)
        return self.asked()

    def asked(self) -> list[list[str]]:
        return json.loads((self.folder / "asked.json").read_text())


def test_tested_versions_come_first_then_the_project_alone(tmp_path, capsys):
    first, second = Ends(tmp_path, (0, "Collecting numpy==2"), (0, "")).run()
    assert (
        first[-2:] == ["-r", str(tmp_path / ".packaging" / "lock.txt")] and first.count("-r") == 1
    )
    assert {"--require-hashes", "--no-deps", "--only-binary"} <= set(first)
    assert second[-2:] == ["--editable", str(tmp_path)] and "--no-build-isolation" in second
    assert capsys.readouterr().err == "  fetching numpy\n"


def test_the_tests_take_both_lists(tmp_path):
    first, second = Ends(tmp_path, (0, ""), (0, "")).run("test")
    assert [Path(word).name for word in first if word.endswith(".txt")] == [
        "lock.txt",
        "lock-test.txt",
    ]
    assert second[-1] == f"{tmp_path}[test]"


def test_a_python_without_builds_of_them_gets_others_and_is_told_in_a_line(tmp_path, capsys):
    ends = Ends(tmp_path, (1, NO_WHEEL), (0, "Collecting numba"))
    _, second = ends.run()
    assert second[-2:] == ["--editable", str(tmp_path)]
    assert "--prefer-binary" in second and "--no-build-isolation" not in second
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 2 and "not every tested version can be had for this Python" in told[0]
    assert NO_WHEEL in ends.log.read_text() and "Collecting numba" in ends.log.read_text()


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (NO_WHEEL + "\nOSError: [Errno 28] No space left on device", "The disk is full"),
        (NO_WHEEL + "\nNewConnectionError: Network is unreachable", "No network"),
        ("THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.", "checksum differs"),
    ],
)
def test_other_faults_of_the_tested_versions_end_set_up(tmp_path, said, words):
    ends = Ends(tmp_path, (1, said))
    with pytest.raises(SetUpError, match=words):
        ends.run()
    assert len(ends.asked()) == 1


def test_where_no_other_has_a_build_either_the_package_is_named(tmp_path):
    ends = Ends(tmp_path, (1, NO_WHEEL), (1, "ERROR: Failed building wheel for numba"))
    with pytest.raises(SetUpError, match="no ready-made build of numba"):
        ends.run()


def test_where_no_source_can_be_reached_it_is_no_matter_of_builds(tmp_path):
    nothing = "ERROR: No matching distribution found for setuptools>=70.1"
    ends = Ends(
        tmp_path, (1, "ERROR: No matching distribution found for attrs==26.1.0"), (1, nothing)
    )
    with pytest.raises(SetUpError, match="No network"):
        ends.run()


@pytest.mark.parametrize("locks", [(), ("lock.txt",)], ids=["none", "not-the-tests"])
def test_without_the_lists_the_bounds_decide(tmp_path, locks):
    (only,) = Ends(tmp_path, (0, "")).run("test", locks=locks)
    assert only[-1] == f"{tmp_path}[test]" and "--no-build-isolation" not in only
