"""Marks of compiled functions, and how Python hands its arguments over to them.

A compiled function gets all its arguments in one block of eight-byte slots: numbers as they are,
an array as its address and its lengths. What an argument must be is read off the function's own
annotations, so an array of another kind or layout is an error and never a second compilation.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable
from functools import cached_property, update_wrapper
from typing import Any, TypeVar, get_type_hints

from engine.compiled import machine_code
from engine.compiled.arrays import Kind, Lasting, slots_of

Result = TypeVar("Result")
Function = TypeVar("Function", bound=Callable[..., Any])

#: How a number is packed, by its type.
NUMBERS = {int: "q", bool: "q", float: "d"}

INLINED: list[Callable[..., Any]] = []
COMPILED: list[Compiled] = []


def inlined(function: Function) -> Function:
    """The function as it is, built into any compiled one that calls it."""
    INLINED.append(function)
    return function


def compiled(function: Callable[..., Result]) -> Callable[..., Result]:
    """The function as machine code, loaded when it is first called.

    Its parameters are annotated as int, float, bool or a kind of array of
    `engine.compiled.arrays`, its result as int or None. It takes a `Lasting` array in place of any
    array. `TypeError` for an argument of another kind, `struct.error` for what is no such number.
    """
    made = Compiled(function)
    COMPILED.append(made)
    return made


class Compiled:
    """A function that Python calls as machine code."""

    def __init__(self, function: Callable[..., Any]) -> None:
        update_wrapper(self, function)
        self.function = function
        #: What the machine code knows it by; the same in every process.
        self.key = zlib.crc32(f"{function.__module__}.{function.__qualname__}".encode())

    @cached_property
    def _hints(self) -> dict[str, Any]:
        return get_type_hints(self.function, include_extras=True)

    @property
    def kinds(self) -> dict[str, type | Kind]:
        """The type of number or the kind of array that each parameter is, by its name."""
        hints = {name: hint for name, hint in self._hints.items() if name != "return"}
        return {
            name: hint if hint in NUMBERS else hint.__metadata__[0] for name, hint in hints.items()
        }

    @property
    def answers(self) -> bool:
        """Whether it returns a whole number, rather than nothing."""
        return self._hints["return"] is int

    def __call__(self, *given: Any) -> Any:
        """Run the function."""
        return self._call(*given)

    @cached_property
    def _call(self) -> Callable[..., Any]:
        """What packs the arguments and runs the machine code, written out for these parameters.

        A drag calls dozens of times a frame: a loop over the parameters would take twice as long.
        """
        if machine_code.AS_PLAIN_PYTHON:
            return self._call_plain
        names: dict[str, Any] = {"Lasting": Lasting, "slots_of": slots_of, "key": self.key}
        slots, values = "", []
        for name, kind in self.kinds.items():
            if isinstance(kind, tuple):
                slots += "P" + kind[1] * "q"
                names[f"kind_of_{name}"] = kind
                values.append(
                    f"*({name}.slots if type({name}) is Lasting and {name}.kind == kind_of_{name}"
                    f" else slots_of({name}, kind_of_{name}))"
                )
            else:
                slots += NUMBERS[kind]
                values.append(name)
        names |= {"pack": struct.Struct(slots).pack, "run": machine_code.run}
        exec(
            f"def call({', '.join(self.kinds)}):\n return run(key, pack({', '.join(values)}))",
            names,
        )
        call: Callable[..., Any] = names["call"]
        return call

    def _call_plain(self, *given: Any) -> Any:
        return self.function(*(one.array if type(one) is Lasting else one for one in given))
