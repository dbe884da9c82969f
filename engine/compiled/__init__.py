"""The hot physics as machine code: compiled once in set-up, then loaded without the compiler.

A function marked `inlined` is built into every compiled function that calls it. One marked
`compiled` is what Python calls: its parameters say which arrays and numbers it takes, and nothing
else is let in. All of them are compiled together into one file (`engine.compiled.compiling`, the
only place that loads numba), which `engine.compiled.machine_code` finds and loads. With
NUMBA_DISABLE_JIT=1 everything runs as the plain Python it is written in.
"""

from engine.compiled.arrays import (
    Flags2,
    Floats1,
    Floats2,
    Floats3,
    Ints1,
    Ints2,
    Lasting,
    Room,
    Shorts3,
    room,
)
from engine.compiled.functions import compiled, inlined
from engine.compiled.machine_code import prepare

__all__ = [
    "Flags2",
    "Floats1",
    "Floats2",
    "Floats3",
    "Ints1",
    "Ints2",
    "Lasting",
    "Room",
    "Shorts3",
    "compiled",
    "inlined",
    "prepare",
    "room",
]
