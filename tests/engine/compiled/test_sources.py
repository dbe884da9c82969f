"""What compiled functions are made of is known: whatever else changes compiles nothing anew."""

import ast
from pathlib import Path

import pytest

import engine
from engine.compiled.machine_code import MODULES

ENGINE = Path(engine.__file__).parent
MARKS = {"inlined", "compiled"}


def marked(tree: ast.Module) -> list[ast.FunctionDef]:
    """The functions of a module that are built into machine code."""
    return [
        one for one in tree.body
        if isinstance(one, ast.FunctionDef)
        and any(isinstance(mark, ast.Name) and mark.id in MARKS for mark in one.decorator_list)
    ]  # fmt: skip


def borrowed(tree: ast.Module) -> dict[str, str]:
    """The names a module takes from the engine, and the module each comes from."""
    return {
        name.asname or name.name: one.module.removeprefix("engine.")
        for one in tree.body
        if isinstance(one, ast.ImportFrom) and one.module and one.module.startswith("engine.")
        for name in one.names
    }


TREES = {
    ".".join(path.relative_to(ENGINE).with_suffix("").parts): ast.parse(path.read_text("utf-8"))
    for path in sorted(ENGINE.rglob("*.py"))
}


def test_every_module_with_compiled_functions_is_listed():
    found = {name for name, tree in TREES.items() if marked(tree)}
    assert len(found) > 15 and found <= set(MODULES)


@pytest.mark.parametrize("module", [name for name in MODULES if marked(TREES[name])])
def test_what_compiled_functions_use_comes_from_listed_modules(module):
    sources = borrowed(TREES[module])
    for function in marked(TREES[module]):
        for name in {one.id for part in function.body for one in ast.walk(part)
                     if isinstance(one, ast.Name)} & set(sources):  # fmt: skip
            assert sources[name] in MODULES, f"{function.name} uses {name}"
