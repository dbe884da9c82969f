"""Compiling the hot physics to machine code, with a cache that knows when its sources change."""

from engine.compiled.jit import jit, part

__all__ = ["jit", "part"]
