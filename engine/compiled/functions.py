"""Marks of compiled functions, and how Python hands its arguments over to them.

A compiled function gets all its arguments in one block of eight-byte slots: numbers as they are,
an array as its address and its lengths. What an argument must be is read off the function's own
annotations, so an array of another kind or layout is an error and never a second compilation.
"""

from __future__ import annotations

import os
import struct
import zlib
from collections.abc import Callable
from functools import cached_property, update_wrapper
from typing import Any, ParamSpec, TypeVar, cast, get_type_hints

import numpy as np

from engine.compiled import machine_code
from engine.compiled.arrays import Lasting, slots_of

Parameters = ParamSpec("Parameters")
Result = TypeVar("Result")
Function = TypeVar("Function", bound=Callable[..., Any])

AS_PLAIN_PYTHON = os.environ.get("NUMBA_DISABLE_JIT", "0") not in ("", "0")

#: How a number is packed, by its type.
NUMBERS = {int: "q", bool: "q", float: "d"}

INLINED: list[Callable[..., Any]] = []
COMPILED: list[Compiled] = []


def inlined(function: Function) -> Function:
    """The function as it is, built into any compiled one that calls it."""
    INLINED.append(function)
    return function


def compiled(function: Callable[Parameters, Result]) -> Callable[Parameters, Result]:
    """The function as machine code, loaded when it is first called.

    Its parameters are annotated as int, float, bool or a kind of array of
    `engine.compiled.arrays`, its result as int or None.
    """
    made = Compiled(function)
    COMPILED.append(made)
    return function if AS_PLAIN_PYTHON else cast(Callable[Parameters, Result], made)


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
    def kinds(self) -> list[Any]:
        """The kind of each parameter: a type of number, or (type of elements, axes)."""
        return [
            hint if hint in NUMBERS else hint.__metadata__[0]
            for name, hint in self._hints.items()
            if name != "return"
        ]

    @property
    def answers(self) -> bool:
        """Whether it returns a whole number, rather than nothing."""
        return self._hints["return"] is int

    @cached_property
    def _how(self) -> tuple[list[tuple[np.dtype, int] | None], Callable[..., bytes]]:
        """What each argument must be (None: a number), and what packs the block of them."""
        wanted: list[tuple[np.dtype, int] | None] = []
        slots = ""
        for kind in self.kinds:
            if kind in NUMBERS:
                wanted.append(None)
                slots += NUMBERS[kind]
            else:
                elements, axes = kind
                wanted.append((np.dtype(elements), axes))
                slots += "P" + axes * "q"
        return wanted, struct.Struct(slots).pack

    def __call__(self, *given: Any) -> int:
        """Run the function; `TypeError` for an argument that is not of its parameter's kind."""
        wanted, pack = self._how
        values: list[Any] = []
        for kind, value in zip(wanted, given, strict=True):
            if kind is None:
                values.append(value)
                continue
            if value.dtype != kind[0] or value.ndim != kind[1]:
                raise TypeError(
                    f"{self.function.__qualname__} was given an array of {value.dtype} with "
                    f"{value.ndim} axes; wanted one of {kind[0]} with {kind[1]}"
                )
            slots = value.slots if type(value) is Lasting else None
            values += slots or slots_of(value)
        return machine_code.run(self.key, pack(*values))
