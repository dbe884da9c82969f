"""The machine code of all compiled functions: where it is kept, and how it is loaded.

One file holds the code for these sources on this kind of processor. It lies beside the sources,
or in the home folder where those cannot be written. Only llvmlite is needed to load it, which
takes milliseconds; numba takes seconds and is called in only where no such file is found.
"""

from __future__ import annotations

import contextlib
import ctypes
import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Lock
from typing import Any

import llvmlite
import llvmlite.binding as llvm

from engine.compiled.progress import Line

#: The modules compiled functions are made of: a change of any of them compiles all anew.
MODULES = (
    "compiled.arrays", "compiled.functions", "compiled.machine_code", "compiled.compiling",
    "motion.rubbing", "motion.small_steps", "motion.cushion", "motion.impact", "motion.straight",
    "motion.strike",
    "shot.layout", "shot.roots", "shot.segments", "shot.meetings", "shot.contacts", "shot.lying",
    "shot.pressing", "shot.kernel", "shot.striking", "shot.polyline",
    "playing.edges", "playing.plane", "playing.ways", "playing.aims",
    "judging.rules", "judging.scan", "judging.trying", "judging.nearing", "reach.regions",
)  # fmt: skip
#: What the code may call that is not in it: of the C library, on any system.
OUTSIDE = (
    "sqrt", "hypot", "_hypot", "atan2", "exp", "pow", "sin", "cos", "ceil",
    "memset", "memcpy", "memmove", "__chkstk",
)  # fmt: skip
#: The one function that is called: it takes the key of the function that is meant and the block of
#: its arguments. What it answers when there is none of that key, or when that one failed.
DOOR, FAILED = "baizewright", -(2**63)

#: Whether nothing is compiled or loaded, and every function runs as the Python it is written in.
AS_PLAIN_PYTHON = os.environ.get("NUMBA_DISABLE_JIT", "0") not in ("", "0")

#: Whether the machine code looks at every index before it is used, and fails where it lies outside.
CHECKED = os.environ.get("NUMBA_BOUNDSCHECK", "0") not in ("", "0")

#: Told how far compiling has come (0 to 1) and the seconds since it began.
Tell = Callable[[float, float], None]

_HERE = Path(__file__).resolve().parent
_PREFIX = "kernel-"
_C_LIBRARIES = {"win32": ("ucrtbase", "ntdll"), "linux": ("libm.so.6", None)}
_PROTOTYPE = ctypes.CFUNCTYPE(ctypes.c_int64, ctypes.c_int64, ctypes.c_char_p)
_lock = Lock()
_loaded: list[Any] = []


def run(key: int, block: bytes) -> int:
    """What the function of that key answers for the arguments in the block."""
    if not _loaded:
        prepare()
    answer: int = _loaded[0](key, block)
    if answer == FAILED:
        raise RuntimeError(f"the machine code has no function {key}, or it failed")
    return answer


def prepare() -> None:
    """Load the machine code; where it is missing or damaged compile it first, telling so."""
    with _lock:
        if _loaded or AS_PLAIN_PYTHON:
            return
        name = _name()
        code = _kept(name)
        if code is None:
            from engine.compiled.compiling import compile_all

            code = compile_all(Line())
            _keep(name, code)
        _loaded.extend(load(code))


def load(code: bytes) -> tuple[Callable[[int, bytes], int], object]:
    """The door of an object file, and what must be kept for it to stay in memory."""
    _provide()
    engine = llvm.create_mcjit_compiler(llvm.parse_assembly(""), target_machine())
    engine.add_object_file(llvm.ObjectFileRef.from_data(code))
    engine.finalize_object()
    return _PROTOTYPE(engine.get_function_address(DOOR)), engine


def target_machine() -> llvm.TargetMachine:
    """This computer's processor, as code loaded at run time has to be made for it."""
    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    target = llvm.Target.from_default_triple()
    return target.create_target_machine(
        cpu=llvm.get_host_cpu_name(),
        features=_features(),
        opt=3,
        reloc="static" if target.name.startswith("x86") else "default",
        codemodel="jitdefault",
        jit=True,
    )


def _features() -> str:
    try:
        return str(llvm.get_host_cpu_features().flatten())
    except RuntimeError:  # LLVM does not know this processor's
        return ""


def _provide() -> None:
    """Tell LLVM where the C library's functions are: a name it cannot find ends the process."""
    libraries = []
    for name in _C_LIBRARIES.get(sys.platform, (None,)):
        with contextlib.suppress(OSError):
            libraries.append(ctypes.CDLL(name))
    for name in OUTSIDE:
        for library in libraries:
            found = getattr(library, name, None)
            if found is not None:
                llvm.add_symbol(name, ctypes.cast(found, ctypes.c_void_p).value)
                break


def _name() -> str:
    """The file's name: the kind of processor, then a digest of the sources."""
    kind = f"{llvmlite.__version__} {llvm.get_host_cpu_name()} {_features()} {CHECKED or ''}"
    sources = hashlib.sha256()
    for module in MODULES:
        sources.update(_HERE.parent.joinpath(*module.split(".")).with_suffix(".py").read_bytes())
    processor = hashlib.sha256(kind.encode()).hexdigest()[:8]
    return f"{_PREFIX}{processor}-{sources.hexdigest()[:16]}"


def _folders() -> Iterator[Path]:
    yield _HERE / "__pycache__"
    yield Path.home() / ".cache" / "baizewright"


def _kept(name: str) -> bytes | None:
    """The code kept under a name; None where there is none, or not all of it."""
    for folder in _folders():
        try:
            content = (folder / name).read_bytes()
        except OSError:
            continue
        digest, code = content[:32], content[32:]
        if hashlib.sha256(code).digest() == digest:
            return code
    return None


def _keep(name: str, code: bytes) -> None:
    """Keep the code for later runs, whole or not at all, and clear older code away."""
    for folder in _folders():
        try:
            folder.mkdir(parents=True, exist_ok=True)
            handle, draft = tempfile.mkstemp(dir=folder, prefix=f"{name}-")
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(code).digest() + code)
            os.chmod(draft, 0o644)
            os.replace(draft, folder / name)
        except OSError:
            continue
        _clear(folder, name)
        return


def _clear(folder: Path, name: str) -> None:
    """Remove code of other sources for this processor, and folders of earlier versions."""
    processor = name.rpartition("-")[0]
    for old in folder.glob(_PREFIX + "*"):
        if old.is_dir():
            shutil.rmtree(old, ignore_errors=True)
        elif old.name.startswith(processor) and old.name != name:
            with contextlib.suppress(OSError):
                old.unlink()
