"""Arrays as compiled functions take them: by address and lengths, each of a stated kind."""

from __future__ import annotations

import ctypes
import threading
from collections.abc import Callable
from functools import wraps
from typing import Annotated

import numpy as np

#: What an array must be, beside contiguous: the type of its elements, and how many axes.
Kind = tuple[np.dtype, int]

FLOAT, INT, SHORT, FLAG = (np.dtype(one) for one in (np.float64, np.int64, np.int16, np.bool_))
Floats1 = Annotated[np.ndarray, (FLOAT, 1)]
Floats2 = Annotated[np.ndarray, (FLOAT, 2)]
Floats3 = Annotated[np.ndarray, (FLOAT, 3)]
Ints1 = Annotated[np.ndarray, (INT, 1)]
Ints2 = Annotated[np.ndarray, (INT, 2)]
Shorts3 = Annotated[np.ndarray, (SHORT, 3)]
Flags2 = Annotated[np.ndarray, (FLAG, 2)]

#: Rooms a thread keeps of each sort; it hardly ever needs more than those of two or three set-ups.
MOST_ROOMS = 32
_NOTHING = ctypes.c_char * 0


class Lasting:
    """An array that is handed over again and again: where it lies is looked up once."""

    __slots__ = ("array", "kind", "slots")

    def __init__(self, array: np.ndarray) -> None:
        self.array = array
        self.kind: Kind = (array.dtype, array.ndim)
        self.slots = slots_of(array, self.kind)

    def __repr__(self) -> str:
        return f"Lasting array of {self.kind[0]} with {self.kind[1]} axes"


Room = tuple[Lasting, ...]


def slots_of(array: np.ndarray, kind: Kind) -> tuple[int, ...]:
    """The address and the lengths of an array.

    `TypeError` for one of another kind, and for one that is read-only or not C-contiguous.
    """
    if not isinstance(array, np.ndarray):
        raise TypeError(f"given {array!r}; wanted an array")
    if array.dtype != kind[0] or array.ndim != kind[1]:
        raise TypeError(
            f"given an array of {array.dtype} with {array.ndim} axes; "
            f"wanted one of {kind[0]} with {kind[1]}"
        )
    return ctypes.addressof(_NOTHING.from_buffer(array)), *array.shape  # type: ignore[arg-type]


def room(make: Callable[..., tuple[np.ndarray, ...]]) -> Callable[..., Room]:
    """Arrays for a compiled function to work in, made once for each thread and for given sizes.

    The same sizes give the same arrays again: what is to outlast the next call must be copied.
    """
    own = threading.local()

    @wraps(make)
    def kept(*sizes: int) -> Room:
        rooms: dict[tuple[int, ...], Room] = own.__dict__.setdefault("rooms", {})
        found = rooms.get(sizes)
        if found is None:
            if len(rooms) >= MOST_ROOMS:
                rooms.clear()
            found = rooms[sizes] = tuple(Lasting(array) for array in make(*sizes))
        return found

    return kept
