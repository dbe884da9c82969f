"""Compiling all compiled functions into one piece of machine code, by numba.

They become one function that looks at a key and hands the block of arguments on, so that what
several of them share is compiled once. Every `inlined` function is compiled for one kind of
arguments: a call with others is an error here. None may allocate memory, raise, or otherwise need
Python or numba when it runs; that is proved by what the machine code asks for.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

import llvmlite.binding as llvm
from numba import carray, cfunc, types
from numba.core import event
from numba.extending import register_jitable

from engine.compiled import machine_code
from engine.compiled.functions import COMPILED, INLINED, Compiled

#: How each `inlined` function is compiled: without what only Python would call it by.
_LEAN = {
    "no_cpython_wrapper": True, "no_cfunc_wrapper": True, "_nrt": False,
    "error_model": "numpy", "no_rewrites": True,
}  # fmt: skip
#: How the one function is compiled that holds them all.
_OPTIONS: dict[str, Any] = {"nopython": True, "error_model": "numpy"}
#: What is called from outside: it hands on to numba's function, whose convention it follows (the
#: result and a fault are written through the first two pointers, the status is 0 if all is well).
_DOOR = """
declare i32 @{entry}(ptr, ptr, i64, ptr, ptr, ptr)
define i64 @{name}(i64 %key, ptr %block) {{
  %result = alloca i64
  %fault = alloca ptr
  %status = call i32 @{entry}(
    ptr %result, ptr %fault, i64 %key, ptr %block, ptr %block, ptr %block)
  %fine = icmp eq i32 %status, 0
  %answer = load i64, ptr %result
  %told = select i1 %fine, i64 %answer, i64 {failed}
  ret i64 %told
}}
"""
#: The share of the time after which every function is compiled, and put together last.
_SHARE = 0.8


def compile_all(tell: machine_code.Tell | None = None) -> bytes:
    """The machine code of every compiled function; takes half a minute.

    `tell` hears how far it has come.
    """
    for module in machine_code.MODULES:
        import_module(f"engine.{module}")
    functions = [*INLINED, *(one.function for one in COMPILED)]
    for function in functions:
        register_jitable(**_LEAN)(function)
    block = [types.CPointer(kind) for kind in (types.voidptr, types.int64, types.float64)]
    signature = types.int64(types.int64, *block)
    with _watched(functions, tell):
        entry = cfunc(signature, **_OPTIONS)(_entry())
    return _object_code(entry.inspect_llvm(), entry.native_name.removeprefix("cfunc."))


def _entry() -> Callable[..., int]:
    """The one function Python calls: by its key it finds which to call with the block's content.

    The same block comes as three pointers, by the kind of what is read from it.
    """
    lines = ["def baizewright(key, arrays, ints, floats):"]
    names: dict[str, Any] = {"carray": carray}
    for number, one in enumerate(COMPILED):
        names[f"call_{number}"] = one.function
        lines.append(f"    if key == {one.key}:")
        call = f"call_{number}({', '.join(_arguments(one, names))})"
        lines += (
            [f"        return {call}"] if one.answers else [f"        {call}", "        return 0"]
        )
    lines.append(f"    return {machine_code.FAILED}")
    exec("\n".join(lines), names)
    entry: Callable[..., int] = names["baizewright"]
    return entry


def _arguments(one: Compiled, names: dict[str, Any]) -> Iterator[str]:
    """How each argument of a compiled function is read from the block."""
    slot = 0
    for kind in one.kinds.values():
        if isinstance(kind, tuple):
            elements, axes = kind
            names[elements.name] = elements.type
            lengths = "".join(f"ints[{slot + 1 + axis}], " for axis in range(axes))
            yield f"carray(arrays[{slot}], ({lengths}), {elements.name})"
            slot += axes
        elif kind is float:
            yield f"floats[{slot}]"
        else:
            yield f"ints[{slot}] != 0" if kind is bool else f"ints[{slot}]"
        slot += 1


class _Watch(event.Listener):
    """Counts what is compiled, and tells how far it has come by the length of its bytecode."""

    def __init__(self, functions: list[Callable[..., Any]], tell: machine_code.Tell | None) -> None:
        self.lengths = {one.__code__: len(one.__code__.co_code) for one in functions}
        self.times = Counter(dict.fromkeys(self.lengths, 0))
        self.tell = tell or (lambda share, seconds: None)
        self.began = time.monotonic()

    def on_start(self, event: event.Event) -> None:
        """Nothing yet: a function is done when all it calls is."""

    def on_end(self, event: event.Event) -> None:
        """One more function is compiled."""
        code = event.data["dispatcher"].py_func.__code__
        if code in self.times:
            self.times[code] += 1
            self.told(sum(length for one, length in self.lengths.items() if self.times[one]))

    def told(self, done: int) -> None:
        """Tell the share done: what is left when all functions are is to put them together."""
        self.tell(_SHARE * done / sum(self.lengths.values()), time.monotonic() - self.began)


@contextmanager
def _watched(functions: list[Callable[..., Any]], tell: machine_code.Tell | None) -> Iterator[None]:
    """Tell how compiling gets on; `TypeError` unless each function is compiled once."""
    watch = _Watch(functions, tell)
    watch.told(0)
    event.register("numba:compile", watch)
    try:
        yield
    finally:
        event.unregister("numba:compile", watch)
    odd = [f"{code.co_qualname} ({count})" for code, count in watch.times.items() if count != 1]
    if odd:
        raise TypeError(f"not compiled for just one kind of arguments: {', '.join(odd)}")


def _object_code(text: str, entry: str) -> bytes:
    """The object file of a module in LLVM's language, of which only the entry is to be seen."""
    machine = machine_code.target_machine()
    module = llvm.parse_assembly(text)
    module.link_in(
        llvm.parse_assembly(
            _DOOR.format(name=machine_code.ENTRY, entry=entry, failed=machine_code.FAILED)
        )
    )
    module.data_layout = str(machine.target_data)
    for one in (*module.functions, *module.global_variables):
        if not one.is_declaration and one.name != machine_code.ENTRY:
            one.linkage = "internal"
    passes = llvm.create_new_module_pass_manager()
    passes.add_global_dead_code_eliminate_pass()
    passes.run(module, llvm.create_pass_builder(machine, llvm.create_pipeline_tuning_options()))
    outside = {one.name for one in module.functions if one.is_declaration}
    outside |= {one.name for one in module.global_variables if one.is_declaration}
    unknown = [
        name
        for name in outside
        if not name.startswith("llvm.") and not llvm.address_of_symbol(name)
    ]
    if unknown:
        raise TypeError(f"the machine code asks for {', '.join(sorted(unknown))}")
    return machine.emit_object(module)
