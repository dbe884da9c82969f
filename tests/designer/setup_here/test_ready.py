"""When set-up runs, what it leaves behind after each ending, and who goes on afterwards."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from designer.setup_here import (
    SetUpError,
    installing,
    make_ready,
    ready,
    run_when_ready,
    system_packages,
    venv_folder,
    wants,
)
from designer.setup_here.stamp import Stamps, python_in


class House:
    """A project folder on which set-up runs with its slow steps replaced by notes."""

    def __init__(self, project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.project, self.steps, self.fault = project, [], None
        (project / "pyproject.toml").write_text(
            '[project]\nname = "x"\ndependencies = ["surely-not-installed"]\n'
            '[project.optional-dependencies]\ntest = ["nor-this"]\n'
        )
        monkeypatch.delenv(ready.HANDED_OVER, raising=False)
        monkeypatch.setattr(venv_folder, "make_folder", self._make)
        monkeypatch.setattr(installing, "install", self._install)
        monkeypatch.setattr(installing, "prepare_engine", lambda *_: self.steps.append("prepare"))
        monkeypatch.setattr(ready, "_take_over", self._take_over)

    def _make(self, venv: Path, *, afresh: bool) -> list[str]:
        self.steps.append("afresh" if afresh else "folder")
        python = python_in(venv)
        if not python.exists():
            python.parent.mkdir(parents=True)
            python.symlink_to(sys.executable)
        return ["pip"]

    def _install(self, pip, project, extras, log):
        self.steps.append("install " + ",".join(sorted(extras)))
        if self.fault:
            raise self.fault

    def _take_over(self, python, module, args, venv):
        assert python == python_in(venv)
        self.steps.append(f"go on: {module} {' '.join(args)}")
        return 0

    def run(self, *args: str, extras: tuple[str, ...] = ()) -> list[str]:
        self.steps.clear()
        make_ready("designer", args, extras, self.project)
        return self.steps


@pytest.fixture
def house(tmp_path, monkeypatch) -> House:
    return House(tmp_path, monkeypatch)


def test_first_run_does_every_step_and_passes_the_arguments_on(house):
    assert house.run("check", "a.json") == [
        "folder",
        "install ",
        "prepare",
        "go on: designer check a.json",
    ]


def test_second_run_does_nothing_but_go_on(house):
    house.run()
    assert house.run() == ["go on: designer "]


def test_a_changed_engine_is_compiled_again_and_nothing_installed(house):
    house.run()
    source = house.project / "engine" / "shot.py"
    source.parent.mkdir()
    source.write_text("# faster\n")
    assert house.run() == ["prepare", "go on: designer "]
    assert house.run() == ["go on: designer "]
    source.write_text("# faster still\n")
    assert house.run() == ["prepare", "go on: designer "]


def test_tests_add_their_tools_and_the_designer_keeps_them(house):
    house.run()
    assert "install test" in house.run(extras=("test",))
    assert house.run() == ["go on: designer "]
    (house.project / "pyproject.toml").open("a").write("# changed\n")
    assert "install test" in house.run()


def test_orderly_failure_leaves_what_worked_before(house):
    house.run()
    house.fault = SetUpError("no network")
    with pytest.raises(SetUpError, match="no network"):
        house.run(extras=("test",))
    assert house.run() == ["go on: designer "]


def test_broken_off_set_up_is_done_afresh(house):
    house.fault = KeyboardInterrupt()
    with pytest.raises(KeyboardInterrupt):
        house.run()
    assert Stamps(house.project).broken_off()
    house.fault = None
    assert house.run()[0] == "afresh"
    assert not Stamps(house.project).broken_off()


def test_a_python_with_every_package_is_used_as_it_stands(house):
    (house.project / "pyproject.toml").write_text(
        '[project]\nname = "x"\ndependencies = ["pytest>=1"]\n'
    )
    assert make_ready("designer", [], (), house.project) is None
    assert not (house.project / ".venv").exists()


def test_a_finished_folder_goes_on_without_a_look_at_its_packages(house, monkeypatch):
    house.run()
    monkeypatch.setattr(sys, "prefix", str(house.project / ".venv"))
    monkeypatch.setattr(wants, "has_all", pytest.fail)
    assert house.run() == []  # in this Python, which is the folder's own
    (house.project / "pyproject.toml").open("a").write("# changed\n")
    monkeypatch.setattr(wants, "has_all", lambda wanted: False)
    assert house.run()[:2] == ["folder", "install "]


def test_handed_over_python_asks_no_questions(house, monkeypatch):
    monkeypatch.setenv(ready.HANDED_OVER, str(house.project / ".venv"))
    assert make_ready("designer", [], (), house.project) is None
    assert ready.HANDED_OVER not in ready.os.environ


def test_faults_end_with_their_message_and_code_2(house, monkeypatch, capsys):
    monkeypatch.setattr(ready, "make_ready", _raise(SetUpError("The disk is full.")))
    assert run_when_ready("designer", [], pytest.fail) == 2
    assert "The disk is full." in capsys.readouterr().err


def test_stopped_set_up_ends_with_code_130(monkeypatch, capsys):
    monkeypatch.setattr(ready, "make_ready", _raise(KeyboardInterrupt()))
    assert run_when_ready("designer", [], pytest.fail) == 130
    assert "Run the same command again" in capsys.readouterr().err


def _raise(error: BaseException):
    def raising(*_):
        raise error

    return raising


def test_debian_without_its_venv_package_gets_one_command(monkeypatch, tmp_path):
    monkeypatch.setattr(venv_folder, "_has", lambda module: module not in ("ensurepip", "pip"))
    monkeypatch.setattr(system_packages, "may_install", lambda: False)
    monkeypatch.setattr(system_packages.shutil, "which", lambda *_, **__: "/usr/bin/apt-get")
    monkeypatch.setattr(venv_folder, "venv_package", lambda: "python3-venv")
    with pytest.raises(SetUpError, match="apt-get install -y python3-venv"):
        venv_folder.make_folder(tmp_path / ".venv", afresh=False)


@pytest.mark.slow
def test_a_pip_that_serves_others_stands_in_for_the_venv_package(monkeypatch, tmp_path):
    monkeypatch.setattr(venv_folder, "_has", lambda module: module != "ensurepip")
    venv = tmp_path / ".venv"
    pip = venv_folder.make_folder(venv, afresh=False)
    assert pip[-2:] == ["--python", str(python_in(venv))]
    listed = subprocess.run([*pip, "list"], capture_output=True, text=True, check=True)
    assert "pytest" not in listed.stdout  # it looks into the new folder, not into its own


def test_system_packages_are_installed_by_root_alone(monkeypatch):
    monkeypatch.setattr(system_packages.shutil, "which", lambda _: "/usr/bin/apt-get")
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000, raising=False)
    assert not system_packages.may_install()
    assert system_packages.apt_command(["a", "b"]) == "sudo apt-get install -y a b"
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 0)
    assert system_packages.may_install()
    assert system_packages.apt_command(["a"]) == "apt-get install -y a"
