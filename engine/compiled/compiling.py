"""Compiling all compiled functions into one piece of machine code, by numba.

They become one function that looks at a key and hands the block of arguments on, so that what
several of them share is compiled once. Every function is compiled for one kind of arguments; a call
with others is an error here. None may allocate memory or otherwise need Python or numba when it
runs: what the machine code asks for from outside is looked through.
"""

from __future__ import annotations

import gc
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from importlib import import_module
from typing import Any

import llvmlite.binding as llvm
import numpy as np
from numba import carray, cfunc, config, types
from numba.core import event
from numba.core.registry import cpu_target
from numba.extending import register_jitable

from engine.compiled import functions, machine_code
from engine.compiled.functions import Compiled

#: How every function is compiled: without what only Python would call it by, without memory of its
#: own, divisions as numpy does them, and without passes that find nothing in code like this.
_LEAN = {
    "no_cpython_wrapper": True, "no_cfunc_wrapper": True, "_nrt": False,
    "error_model": "numpy", "no_rewrites": True,
}  # fmt: skip
#: Modules of long sums of products and nothing else: each product is added without being rounded,
#: where the processor can.
_FUSED = ("engine.motion.rubbing", "engine.motion.cushion")
#: The share of the time after which every function is compiled, and all are put together.
_SHARE = 0.85
#: What is called from outside. It follows the convention of numba's functions: the answer and a
#: fault are written through the first two pointers, and the status is 0 when all is well. The
#: block is handed on as three pointers, one for each kind of thing read from it.
_DOOR = """
declare i32 @{entry}(ptr, ptr, i64, ptr, ptr, ptr)
define i64 @{door}(i64 %key, ptr %block) {{
  %answer = alloca i64
  %fault = alloca ptr
  %status = call i32 @{entry}(
    ptr %answer, ptr %fault, i64 %key, ptr %block, ptr %block, ptr %block)
  %fine = icmp eq i32 %status, 0
  %found = load i64, ptr %answer
  %told = select i1 %fine, i64 %found, i64 {failed}
  ret i64 %told
}}
"""


def compile_all(tell: machine_code.Tell) -> bytes:
    """The machine code of every compiled function of the engine; takes half a minute.

    `tell` hears how far it has come.
    """
    for module in machine_code.MODULES:
        import_module(f"engine.{module}")
    return compile_together(functions.INLINED, functions.COMPILED, tell)


def compile_together(
    inlined: Sequence[Callable[..., Any]], compiled: Sequence[Compiled], tell: machine_code.Tell
) -> bytes:
    """The machine code of some compiled functions and what they are made of.

    `TypeError` for a function that is compiled for more than one kind of arguments or never, and
    for one that needs more than a processor.
    """
    parts = [*inlined, *(one.function for one in compiled)]
    for part in parts:
        fused = {"contract"} if part.__module__ in _FUSED else False
        register_jitable(**_LEAN, fastmath=fused)(part)
    block = [types.CPointer(kind) for kind in (types.voidptr, types.int64, types.float64)]
    with _in_haste(), _watched(parts, tell):
        entry = cfunc(types.int64(types.int64, *block), error_model="numpy")(_entry(compiled))
    return _object_file(entry.inspect_llvm(), entry.native_name.removeprefix("cfunc."))


@contextmanager
def _in_haste() -> Iterator[None]:
    """Spare what is of no use here: a tenth of the time each.

    numba makes machine code of every single function, which is thrown away: the quickest will do.
    Python looks again and again for garbage among millions of things that are all still needed.
    """
    settings: Any = config  # made when numba is loaded: unknown to a type checker
    usual, collects = settings.OPT, gc.isenabled()
    settings.OPT = type(usual)(0)
    cpu_target.target_context.codegen()  # where the level of machine code is chosen, once for all
    settings.OPT = usual
    gc.disable()
    try:
        yield
    finally:
        if collects:
            gc.enable()


def _entry(compiled: Sequence[Compiled]) -> Callable[..., int]:
    """The function that finds by a key which to call, with what is read from the block."""
    lines = ["def entry(key, arrays, ints, floats):"]
    names: dict[str, Any] = {}
    for number, one in enumerate(compiled):
        names[f"call_{number}"] = one.function
        call = f"call_{number}({', '.join(_arguments(one, names))})"
        lines.append(f"    if key == {one.key}:")
        lines += (
            [f"        return {call}"] if one.answers else [f"        {call}", "        return 0"]
        )
    lines.append(f"    return {machine_code.FAILED}")
    exec("\n".join(lines), names)
    entry: Callable[..., int] = names["entry"]
    return entry


def _arguments(one: Compiled, names: dict[str, Any]) -> Iterator[str]:
    """How each argument of a compiled function is read from the block."""
    slot = 0
    for kind in one.kinds.values():
        if isinstance(kind, tuple):
            elements, axes = kind
            reader = f"{elements.name}_{axes}"
            if reader not in names:
                names[reader] = _reader(elements, axes)
            yield f"{reader}(arrays, ints, {slot})"
            slot += axes
        elif kind is float:
            yield f"floats[{slot}]"
        else:
            yield f"ints[{slot}] != 0" if kind is bool else f"ints[{slot}]"
        slot += 1


def _reader(elements: np.dtype, axes: int) -> Callable[..., Any]:
    """What makes an array of a kind of the address and lengths that stand at a slot."""
    lengths = "".join(f"ints[slot + {1 + axis}], " for axis in range(axes))
    text = f"def read(arrays, ints, slot):\n    return carray(arrays[slot], ({lengths}), elements)"
    names: dict[str, Any] = {"carray": carray, "elements": elements.type}
    exec(text, names)
    return register_jitable(no_cpython_wrapper=True, no_cfunc_wrapper=True)(names["read"])


class _Watch(event.Listener):
    """Counts what is compiled, and tells how far it has come by the length of its bytecode."""

    def __init__(self, parts: Sequence[Callable[..., Any]], tell: machine_code.Tell) -> None:
        self.lengths = {part.__code__: len(part.__code__.co_code) for part in parts}
        self.times = Counter(dict.fromkeys(self.lengths, 0))
        self.tell = tell
        self.began = time.monotonic()

    def on_start(self, event: event.Event) -> None:
        """Nothing yet: a function is done when all it calls is."""

    def on_end(self, event: event.Event) -> None:
        """One more function is compiled."""
        code = event.data["dispatcher"].py_func.__code__
        if code in self.lengths:
            self.times[code] += 1
            done = sum(length for part, length in self.lengths.items() if self.times[part])
            self.told(_SHARE * done / sum(self.lengths.values()))

    def told(self, share: float) -> None:
        """Tell the share done."""
        self.tell(share, time.monotonic() - self.began)


@contextmanager
def _watched(parts: Sequence[Callable[..., Any]], tell: machine_code.Tell) -> Iterator[None]:
    """Tell how compiling the parts gets on; `TypeError` unless each is compiled just once."""
    watch = _Watch(parts, tell)
    watch.told(0.0)
    event.register("numba:compile", watch)
    try:
        yield
    finally:
        event.unregister("numba:compile", watch)
    odd = [f"{code.co_qualname}: {count}" for code, count in watch.times.items() if count != 1]
    if odd:
        raise TypeError(f"kinds of arguments, wanted one each: {', '.join(odd)}")
    watch.told(1.0)


def _object_file(text: str, entry: str) -> bytes:
    """The object file of a module in LLVM's language, of which only the door is to be seen."""
    door = _DOOR.format(entry=entry, door=machine_code.DOOR, failed=machine_code.FAILED)
    machine = machine_code.target_machine()
    module = llvm.parse_assembly(text)
    module.link_in(llvm.parse_assembly(door))
    for one in (*module.functions, *module.global_variables):
        if not one.is_declaration and one.name != machine_code.DOOR:
            one.linkage = "internal"
    passes = llvm.create_new_module_pass_manager()
    passes.add_global_dead_code_eliminate_pass()
    tuning = llvm.create_pipeline_tuning_options(speed_level=3)
    # much of the work is the same done to two or four numbers
    tuning.slp_vectorization = True
    passes.run(module, llvm.create_pass_builder(machine, tuning))
    wanted = {
        one.name for one in (*module.functions, *module.global_variables) if one.is_declaration
    }
    strange = {name for name in wanted if not name.startswith("llvm.")} - {*machine_code.OUTSIDE}
    if strange:
        raise TypeError(f"the machine code asks for {', '.join(sorted(strange))}")
    return machine.emit_object(module)
