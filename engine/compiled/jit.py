"""Compiling the shot kernel, with a cache on disk that knows when any of its sources changed.

numba compiles plain functions of `engine.motion`, `engine.shot` and `engine.reach` to machine
code on first use and keeps the result. Its own cache looks only at the file of the function
itself, not at the functions that were built into it, so the cache folder is named after a digest
of all sources.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba
from numba.extending import register_jitable

Function = TypeVar("Function", bound=Callable[..., Any])

_HERE = Path(__file__).resolve().parent
_SOURCES = tuple(_HERE.parent / name for name in ("compiled", "motion", "shot", "reach"))
_PREFIX = "kernel-"


def _digest() -> str:
    found = hashlib.sha256(f"{numba.__version__}".encode())
    for folder in _SOURCES:
        for source in sorted(folder.glob("*.py")):
            found.update(source.read_bytes())
    return found.hexdigest()[:16]


def _cache_folder() -> Path:
    """The folder for this kernel's machine code; older ones beside it are cleared away."""
    name = _PREFIX + _digest()
    for base in (_HERE / "__pycache__", Path.home() / ".cache" / "baizewright"):
        folder = base / name
        if folder.is_dir() and os.access(folder, os.W_OK):
            return folder
        try:
            folder.mkdir(parents=True)
        except OSError:
            continue
        for old in base.glob(_PREFIX + "*"):
            if old.name != name:
                with contextlib.suppress(OSError):
                    shutil.rmtree(old)
        return folder
    return Path(tempfile.mkdtemp(prefix=_PREFIX))


setattr(numba.config, "CACHE_DIR", str(_cache_folder()))  # noqa: B010 - the stubs lack it


def jit(function: Function) -> Function:
    """The function compiled on first call; it lets other threads run while it works."""
    return cast(Function, numba.njit(cache=True, nogil=True, error_model="numpy")(function))


def part(function: Function) -> Function:
    """The function as it is, for plain calls, and built into any compiled one that calls it."""
    return cast(Function, register_jitable(function))
