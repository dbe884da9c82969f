"""Each kind of set-up failure gets its own message with a next step."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from designer.setup_here.faults import from_installer_text, from_os_error
from designer.setup_here.installing import told

NO_NAME = (
    "WARNING: Retrying (Retry(total=4, ...)) after connection broken by 'NewConnectionError("
    "...: Failed to establish a new connection: [Errno -3] Temporary failure in name "
    "resolution')': /simple/numpy/\n"
    "ERROR: Could not find a version that satisfies the requirement numpy>=1.26 "
    "(from versions: none)\nERROR: No matching distribution found for numpy>=1.26\n"
)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (NO_NAME, "No network"),
        ("socket.gaierror: [Errno 11001] getaddrinfo failed", "No network"),
        ("ERROR: No matching distribution found for setuptools>=68", "No network"),
        ("ERROR: No matching distribution found for setuptools==84.2.1", "build of setuptools"),
        (
            "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE. If you",
            "its checksum differs",
        ),
        ("ERROR: No matching distribution found for numba>=0.61", "no ready-made build of numba"),
        ("ERROR: Failed building wheel for shapely", "no ready-made build of shapely"),
        ("OSError: [Errno 28] No space left on device", "The disk is full"),
        (NO_NAME + "OSError: [Errno 28] No space left on device", "The disk is full"),
        ("PermissionError: [WinError 5] Access is denied: 'C:\\\\x'", "No permission to write"),
        ("ssl.SSLCertVerificationError: CERTIFICATE_VERIFY_FAILED", "certificate"),
        ("ERROR: something never seen before", "something never seen before"),
    ],
)
def test_the_message_names_the_cause(said, words):
    fault = str(from_installer_text(said, Path("/some/project")))
    assert words in fault
    assert "again" in fault or "run the same command" in fault


def test_the_log_is_named_when_there_is_one():
    assert "set-up.log" in str(from_installer_text(NO_NAME, Path("/p"), Path("/p/set-up.log")))


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "The disk is full"),
        (errno.EACCES, "No permission to write in /some/project"),
        (errno.EROFS, "No permission to write in /some/project"),
        (errno.EIO, "could not work in /some/project"),
    ],
)
def test_errors_of_the_system(number, words):
    assert words in str(from_os_error(OSError(number, "as it is"), Path("/some/project")))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Collecting numpy>=1.26 (from baizewright==0.1.0)", "  fetching numpy"),
        ("Processing /there/numpy-2.4.6-cp311-cp311-linux.whl", "  fetching numpy"),
        ("Installing collected packages: numpy, shapely", "  unpacking all of them"),
        ("Installing collected packages: baizewright", None),
        ("Requirement already satisfied: numpy in ./here", None),
        ("  Preparing metadata (pyproject.toml): started", None),
    ],
)
def test_progress_in_plain_words(line, words):
    assert told(line) == words
