"""What can go wrong during set-up, in plain words, and what to do about it."""

from __future__ import annotations

import errno
import re
import sys
from pathlib import Path

ROOM_WANTED = "about 1.5 GB"
"""Free room to ask for: the finished folder with the test tools measures 0.9 GB, and the
downloaded files lie beside it while it is filled."""


class SetUpError(Exception):
    """Set-up cannot go on; the text is fit to be shown as it is."""


class NoBuildError(SetUpError):
    """A package has no ready-made build for this Python on this computer."""


DISK_FULL = re.compile(
    r"No space left on device|Errno 28\b|not enough space on the disk|WinError 112\b|"
    r"Disk quota exceeded",
    re.IGNORECASE,
)
NO_PERMISSION = re.compile(
    r"Permission denied|Errno 13\b|WinError 5\b|Read-only file system|Errno 30\b", re.IGNORECASE
)
NO_NETWORK = re.compile(
    r"name resolution|getaddrinfo failed|nodename nor servname|Name or service not known|"
    r"Failed to establish a new connection|Network is unreachable|No route to host|"
    r"Connection refused|ConnectTimeout|Read timed out|ReadTimeoutError|ProxyError|"
    r"Cannot connect to proxy|Connection aborted|RemoteDisconnected|NewConnectionError|"
    r"Max retries exceeded",
    re.IGNORECASE,
)
BAD_CERTIFICATE = re.compile(r"CERTIFICATE_VERIFY_FAILED|SSLCertVerificationError", re.IGNORECASE)
NO_BUILD = re.compile(
    r"No matching distribution found for (?P<name>[\w.\-]+)|"
    r"requires a different Python|Failed building wheel for (?P<wheel>[\w.\-]+)|"
    r"Cannot install on Python version",
    re.IGNORECASE,
)

WRONG_CHECKSUM = re.compile(r"DO NOT MATCH THE HASHES", re.IGNORECASE)

BUILDER = "setuptools"
"""Every package source has this one for every Python: where none of it is found, no source was
reached. (A single version of it, as the tested ones are asked for, may be missing.)"""


def no_permission(folder: Path) -> SetUpError:
    """The fault for a folder that may not be written to."""
    return SetUpError(
        f"No permission to write in {folder}.\n"
        "Set-up keeps everything in the project folder. Copy the project to a folder of your "
        "own\n(your home folder, say), go there, and run the same command again."
    )


def disk_full(folder: Path) -> SetUpError:
    """The fault for a full disk."""
    return SetUpError(
        f"The disk is full: set-up wants {ROOM_WANTED} free for {folder}\n"
        "and for the computer's folder of temporary files. Make room, then run the same "
        "command again;\nit goes on from here."
    )


def from_os_error(error: OSError, folder: Path) -> SetUpError:
    """The fault for an operating-system error met while working in `folder`."""
    if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", None)):
        return disk_full(folder)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return no_permission(folder)
    return SetUpError(f"Set-up could not work in {folder}: {error}.\nRun the same command again.")


def from_installer_text(text: str, folder: Path, log: Path | None = None) -> SetUpError:
    """The fault that fits what the package installer said before it gave up.

    `text` is its whole output, `folder` where it was installing, `log` where that output is
    kept. Disk and permission come first: a full disk also breaks downloads.
    """
    if DISK_FULL.search(text):
        return disk_full(folder)
    if NO_PERMISSION.search(text):
        return no_permission(folder)
    if BAD_CERTIFICATE.search(text):
        return SetUpError(
            "The network answered, but its certificate could not be trusted.\n"
            "Check the computer's date and time. Behind a firm's or school's filter, ask whoever\n"
            "runs the network for its certificate and name the file in the variable PIP_CERT.\n"
            "Then run the same command again."
        )
    kept = f"\nAll the installer said is in {log}." if log else ""
    if WRONG_CHECKSUM.search(text):
        return SetUpError(
            "A package that was fetched is not the one that was tested: its checksum differs, so\n"
            "nothing was installed. The download was damaged, or changed on its way. Run the same\n"
            "command again, best on another network; if this comes back, tell whoever gave you\n"
            f"Baizewright.{kept}"
        )
    found = NO_BUILD.search(text)
    nothing_found = found and found["name"] == BUILDER and text[found.end() :][:2] != "=="
    if nothing_found or NO_NETWORK.search(text):
        return SetUpError(
            "No network: the packages Baizewright needs could not be fetched.\n"
            "Connect this computer to the internet (only the first run needs it; behind a proxy,\n"
            "set the variable HTTPS_PROXY), then run the same command again; it goes on from here."
            f"{kept}"
        )
    if found:
        name = found["name"] or found["wheel"] or "one of the packages"
        have = f"{sys.version_info.major}.{sys.version_info.minor}"
        return NoBuildError(
            f"There is no ready-made build of {name} for Python {have} on this computer.\n"
            "Use a Python for which there is one (3.11 to 3.13 are safe choices) and run the "
            f"same command\nwith it, for example: python3.12 -m designer{kept}"
        )
    tail = "\n".join("  " + line for line in text.strip().splitlines()[-12:])
    return SetUpError(
        f"The packages could not be installed. The installer's last words:\n{tail}{kept}\n"
        "Run the same command again; if it fails in the same way, delete the folder .venv first."
    )
