"""Arrays as compiled functions take them: by address and lengths, each of a stated kind."""

from __future__ import annotations

import ctypes
import threading
from typing import Annotated

import numpy as np

#: Kinds of arrays a compiled function may take, C-contiguous: (type of its elements, axes).
Floats1 = Annotated[np.ndarray, (np.float64, 1)]
Floats2 = Annotated[np.ndarray, (np.float64, 2)]
Floats3 = Annotated[np.ndarray, (np.float64, 3)]
Ints1 = Annotated[np.ndarray, (np.int64, 1)]
Ints2 = Annotated[np.ndarray, (np.int64, 2)]
Shorts3 = Annotated[np.ndarray, (np.int16, 3)]
Bytes2 = Annotated[np.ndarray, (np.int8, 2)]
Flags2 = Annotated[np.ndarray, (np.bool_, 2)]

#: Rooms a thread keeps at most; it hardly ever needs more than those of two or three set-ups.
MOST_ROOMS = 64
_NOTHING = ctypes.c_char * 0


class Lasting(np.ndarray):
    """An array that is handed over again and again: where it lies is looked up once."""

    slots: tuple[int, ...] | None = None


def slots_of(array: np.ndarray) -> tuple[int, ...]:
    """The address and the lengths of an array; `TypeError` for one not contiguous or read-only."""
    return ctypes.addressof(_NOTHING.from_buffer(array)), *array.shape


def lasting(array: np.ndarray, *, writable: bool = False) -> np.ndarray:
    """A view of an array that is handed over quickly; read-only unless it is room for results."""
    view = array.view(Lasting)
    view.slots = slots_of(array)
    view.flags.writeable = writable
    return view


_rooms = threading.local()


def room(*shapes: tuple[int, ...]) -> tuple[np.ndarray, ...]:
    """Arrays of floats of these shapes for a compiled function to work in, this thread's own.

    The same shapes give the same arrays again: what is to outlast the next call must be copied.
    """
    kept: dict[tuple[tuple[int, ...], ...], tuple[np.ndarray, ...]]
    kept = _rooms.__dict__.setdefault("kept", {})
    if shapes not in kept:
        if len(kept) >= MOST_ROOMS:
            kept.clear()
        kept[shapes] = tuple(lasting(np.empty(shape), writable=True) for shape in shapes)
    return kept[shapes]
