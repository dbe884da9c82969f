"""Run without some packages: `python tests/house/alone.py NAMES MODULES [pytest arguments]`.

NAMES are top-level packages that must not be importable, MODULES packages or modules whose
every part is imported without them (both separated by commas). Given pytest arguments, those
tests run as well. This proves what the import contracts say by doing it.
"""

from __future__ import annotations

import importlib
import pkgutil
import sys
from collections.abc import Sequence
from importlib.abc import MetaPathFinder


class Barred(MetaPathFinder):
    """Refuse to find some top-level packages."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = frozenset(names)

    def find_spec(self, fullname: str, path: object = None, target: object = None) -> None:
        """Raise for a barred package, leave the others to the usual finders."""
        if fullname.partition(".")[0] in self.names:
            raise ModuleNotFoundError(f"{fullname} is barred here", name=fullname)


def import_all(name: str) -> int:
    """Import a module and, when it is a package, all within; return how many."""
    module = importlib.import_module(name)
    within = getattr(module, "__path__", None)
    if within is None:
        return 1
    return 1 + sum(import_all(f"{name}.{part.name}") for part in pkgutil.iter_modules(within))


def main(barred: str, modules: str, *tests: str) -> int:
    """Bar, import, test; return the exit code."""
    sys.meta_path.insert(0, Barred(barred.split(",")))
    count = sum(import_all(name) for name in modules.split(","))
    print(f"{count} modules of {modules} imported without {barred}")
    if not tests:
        return 0
    import pytest

    return int(pytest.main(["-p", "no:pytest-qt", "-p", "no:cacheprovider", *tests]))


if __name__ == "__main__":
    sys.path.insert(0, "")
    sys.exit(main(*sys.argv[1:]))
