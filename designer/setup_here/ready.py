"""Decide what set-up is needed, do it once at a time, and go on inside `.venv`."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from designer.setup_here.faults import SetUpError, from_os_error
from designer.setup_here.installing import install, prepare_engine, tell
from designer.setup_here.stamp import Stamps, python_in
from designer.setup_here.venv_folder import make_folder
from designer.setup_here.wants import has_all, read_wants

PROJECT = Path(__file__).resolve().parents[2]
HANDED_OVER = "BAIZEWRIGHT_HANDED_OVER"
"""Set for the Python inside `.venv` by the one that set it up: no second look is needed."""


def run_when_ready(
    module: str,
    args: Sequence[str],
    job: Callable[[list[str]], int],
    extras: Sequence[str] = (),
) -> int:
    """Set up if need be, then run ``job(args)`` in a Python that has every package.

    That may be the running one, or the one in `.venv`, started as ``-m module args``. Returns
    the exit code: the job's, 2 when set-up failed, 130 when it was stopped by the user.
    """
    try:
        code = make_ready(module, args, extras)
    except SetUpError as fault:
        tell(f"\n{fault}")
        return 2
    except KeyboardInterrupt:
        tell("\nSet-up was stopped. Run the same command again to finish it.")
        return 130
    return job(list(args)) if code is None else code


def make_ready(
    module: str, args: Sequence[str], extras: Sequence[str] = (), project: Path = PROJECT
) -> int | None:
    """Make a Python with every package ready; return None when it is the running one.

    Otherwise the Python in `.venv` takes over: where the system can replace a process this
    call never returns, elsewhere it returns that run's exit code. Raises SetUpError.
    """
    venv = project / ".venv"
    if os.environ.pop(HANDED_OVER, "") == str(venv):
        return None
    pyproject = project / "pyproject.toml"
    if not pyproject.exists():
        return None  # installed as a package, apart from its project folder
    stamps = Stamps(project)
    inside = Path(sys.prefix).resolve() == venv.resolve()
    if not (inside and stamps.broken_off()) and has_all(read_wants(pyproject, extras)):
        return None
    if not stamps.fits(extras):
        try:
            with _one_at_a_time(pyproject):
                if not stamps.fits(extras):
                    _set_up(project, stamps, extras)
        except OSError as error:
            raise from_os_error(error, project) from error
    if not stamps.engine_prepared():
        _prepare_again(project, stamps)
    return _take_over(python_in(venv), module, args, venv)


def _set_up(project: Path, stamps: Stamps, extras: Iterable[str]) -> None:
    """Make the folder, install, prepare, stamp."""
    venv = project / ".venv"
    afresh = stamps.broken_off()
    wanted = frozenset(extras) | stamps.extras()
    tell(f"Setting up Baizewright in {project} (once; some minutes on a slow line).")
    if afresh:
        tell("The last set-up was broken off; starting it afresh.")
    tell("1 of 3: a private folder for its packages, .venv")
    pip = make_folder(venv, afresh=afresh)
    stamps.begin()
    tell("2 of 3: the packages (some hundred megabytes)")
    try:
        install(pip, project, wanted, venv / "set-up.log")
    except SetUpError:
        stamps.give_up()
        raise
    tell("3 of 3: the shot engine, compiled for this computer")
    prepare_engine(python_in(venv), project)
    stamps.finish(wanted)
    tell("Set-up is done.\n")


def _prepare_again(project: Path, stamps: Stamps) -> None:
    """See to the engine after its sources have changed: better now, with a word, than mid-drag."""
    prepare_engine(python_in(project / ".venv"), project)
    with contextlib.suppress(OSError):  # set up by another user: they may keep the stamp
        stamps.finish(stamps.extras())


@contextlib.contextmanager
def _one_at_a_time(pyproject: Path) -> Iterator[None]:
    """Hold the project folder for one set-up at a time, where the system offers such a hold."""
    try:
        import fcntl
    except ImportError:  # Windows: locking the file there would keep the installer from it
        yield
        return
    with pyproject.open("rb") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            tell("Another set-up of this folder is under way; waiting for it.")
            fcntl.flock(held, fcntl.LOCK_EX)
        except OSError:  # a network drive that knows no holds: do without
            pass
        yield


def _take_over(python: Path, module: str, args: Sequence[str], venv: Path) -> int:
    """Go on in another Python with the same arguments."""
    command = [str(python), "-m", module, *args]
    env = {**os.environ, HANDED_OVER: str(venv)}
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name == "nt":  # replacing a process there returns to the prompt too early
        return subprocess.call(command, env=env)
    os.execve(command[0], command, env)
