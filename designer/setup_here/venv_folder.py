"""Make the `.venv` folder, with the standard library alone, and find an installer for it."""

from __future__ import annotations

import importlib
import os
import shutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

from designer.setup_here import system_packages
from designer.setup_here.faults import SetUpError, from_installer_text
from designer.setup_here.stamp import python_in


def make_folder(venv: Path, *, afresh: bool) -> list[str]:
    """Make `venv` unless a sound one is there, and return the start of an install command.

    `afresh` empties it first (a broken-off set-up may have left half a package in it). The
    returned command takes pip's own arguments. Raises SetUpError.
    """
    inside = Path(sys.prefix).resolve() == venv.resolve()
    if inside:
        return [sys.executable, "-m", "pip"]
    python = python_in(venv)
    if not afresh and _runs([str(python), "-m", "pip", "--version"]):
        return [str(python), "-m", "pip"]
    if _has("ensurepip") and _has("venv"):
        _make([sys.executable, "-m", "venv", "--clear", str(venv)], venv)
        return [str(python), "-m", "pip"]
    if _has("venv") and _own_pip_serves_others():
        _make([sys.executable, "-m", "venv", "--clear", "--without-pip", str(venv)], venv)
        return [sys.executable, "-m", "pip", "--python", str(python)]
    _get_venv_package()
    _make([sys.executable, "-m", "venv", "--clear", str(venv)], venv)
    return [str(python), "-m", "pip"]


def _has(module: str) -> bool:
    """Say whether the running Python has a module; Debian leaves some of the library out."""
    return find_spec(module) is not None


def _own_pip_serves_others() -> bool:
    """Say whether the running Python's pip can install into another Python (22.3 or newer)."""
    return _has("pip") and _runs([sys.executable, "-m", "pip", "--python", sys.executable, "list"])


def _runs(command: list[str]) -> bool:
    try:
        done = subprocess.run(command, capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def _make(command: list[str], venv: Path) -> None:
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
    if done.returncode:
        raise from_installer_text(done.stdout + done.stderr, venv)


def _get_venv_package() -> None:
    """Get Debian's package for private package folders: as root at once, else by advice."""
    packages = [venv_package()]
    why = "This Python cannot make private package folders: a piece of it comes separately."
    if not system_packages.may_install():
        raise SetUpError(f"{why}\n{system_packages.advice(packages)}")
    system_packages.install(packages, why)
    importlib.invalidate_caches()
    if not (_has("ensurepip") and _has("venv")):
        raise SetUpError(
            f"{why}\nInstalling {packages[0]} did not bring it for {sys.executable}.\n"
            "Run the same command with the system's own Python: /usr/bin/python3"
        )


def venv_package() -> str:
    """Return Debian's package name for the running Python's missing piece."""
    default = shutil.which("python3", path="/usr/bin")
    if default and os.path.realpath(default) == os.path.realpath(sys.executable):
        return "python3-venv"
    return f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
