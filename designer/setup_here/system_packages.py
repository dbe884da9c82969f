"""System packages (Debian and its kin): install them as root, or name the one command."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence

from designer.setup_here.faults import SetUpError


def apt_command(packages: Sequence[str]) -> str:
    """Return the one command that installs these packages, to be typed by the user."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return ("" if root else "sudo ") + "apt-get install -y " + " ".join(packages)


def may_install() -> bool:
    """Say whether system packages can be installed from here: apt-get there, and root."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def advice(packages: Sequence[str]) -> str:
    """Return what the user should do to get these packages."""
    if shutil.which("apt-get"):
        return f"Run this once, then the same command again:\n  {apt_command(packages)}"
    return (
        "Install them with the system's package manager. Debian and Ubuntu call them\n  "
        + " ".join(packages)
        + "\nthen run the same command again."
    )


def install(packages: Sequence[str], why: str) -> None:
    """Install system packages as root, saying so first; raise SetUpError when that fails."""
    print(f"{why}\nInstalling with apt-get: {' '.join(packages)}", file=sys.stderr, flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    get = ["apt-get", "-qq", "-o", "Dpkg::Use-Pty=0"]
    subprocess.run([*get, "update"], env=quiet, stdout=subprocess.DEVNULL, check=False)
    done = subprocess.run(
        [*get, "install", "-y", "--no-install-recommends", *packages],
        env=quiet,
        stdout=subprocess.DEVNULL,
        check=False,
    )
    if done.returncode:
        raise SetUpError(
            f"apt-get could not install them (its words are above).\n{why}\n" + advice(packages)
        )
