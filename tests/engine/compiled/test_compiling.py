"""Small functions compiled, loaded and called as those of the engine are, and what is refused."""

import math
import struct

import numpy as np
import pytest

from engine.compiled import Floats1, Floats2, Lasting, machine_code
from engine.compiled.functions import Compiled

# All but the last test need a compiler: it is loaded once, by the first of them.
pytest.importorskip("numba")


def _longest(rows):
    most = 0.0
    for k in range(rows.shape[0]):
        most = max(most, math.hypot(rows[k, 0], rows[k, 1]))
    return most


def scale(rows: Floats2, by: float, double: bool, out: Floats1) -> int:
    factor = by * (2.0 if double else 1.0)
    for k in range(rows.shape[0]):
        out[k] = factor * rows[k, 0]
    out[rows.shape[0]] = _longest(rows)
    return rows.shape[0]


def fill(out: Floats1, value: int) -> None:
    for k in range(out.shape[0]):
        out[k] = value


def _compiled(inlined, *functions):
    from engine.compiled.compiling import compile_together

    made = [Compiled(one) for one in functions]
    told = []
    code = compile_together(inlined, made, lambda share, seconds: told.append((share, seconds)))
    return code, made, told


@pytest.fixture(scope="module")
def program():
    """Two functions, their door, and what was told of compiling them."""
    code, made, told = _compiled([_longest], scale, fill)
    return *made, machine_code.load(code), told


@pytest.fixture
def functions(program, monkeypatch):
    monkeypatch.setattr(machine_code, "_loaded", list(program[2]))
    return program[:2]


@pytest.mark.slow
def test_numbers_and_arrays_arrive_and_results_come_back(functions):
    scaled, filled = functions
    rows, out = np.array([[3.0, 4.0], [-6.0, 8.0]]), np.zeros(3)
    assert scaled(rows, 0.5, True, out) == 2
    assert out.tolist() == [3.0, -6.0, 10.0]
    assert scaled(Lasting(rows), 2, False, Lasting(out)) == 2, "a whole number will do as well"
    assert out.tolist() == [6.0, -12.0, 10.0]
    assert scaled(np.empty((0, 2)), 1.0, False, out) == 0 and out[0] == 0.0
    filled(out, np.int64(7))
    assert out.tolist() == [7.0, 7.0, 7.0]


ROWS = np.zeros((4, 2))


@pytest.mark.parametrize(
    "rows",
    [ROWS.astype(np.float32), ROWS.astype(int), ROWS[0], ROWS[::2], ROWS.T, np.asfortranarray(ROWS),
     np.broadcast_to(ROWS[0], (4, 2)), Lasting(ROWS[0]), ROWS.tolist()],
    ids=["single", "whole", "flat", "gaps", "turned", "by columns", "read-only", "kept", "list"],
)  # fmt: skip
def test_an_array_of_another_kind_is_refused(functions, rows):
    with pytest.raises(TypeError):
        functions[0](rows, 1.0, False, np.zeros(5))


@pytest.mark.parametrize("given", [("1", False), (1.0, "no"), (None, True), (1.0, 0.5)])
def test_what_is_no_such_number_is_refused(functions, given):
    with pytest.raises(struct.error):
        functions[0](ROWS, *given, np.zeros(5))


def test_too_few_or_too_many_arguments_are_refused(functions):
    for given in ((), (ROWS, 1.0, False), (ROWS, 1.0, False, np.zeros(5), 1)):
        with pytest.raises(TypeError, match="argument"):
            functions[0](*given)


def test_a_function_that_is_not_in_the_code_is_told(functions):
    def elsewhere(out: Floats1) -> None:
        """Never compiled."""

    with pytest.raises(RuntimeError, match="no function"):
        Compiled(elsewhere)(np.zeros(1))


def test_the_share_done_rises_from_none_to_all(program):
    shares = [share for share, _ in program[3]]
    assert shares[0] == 0.0 and shares[-1] == 1.0 and len(shares) == 5
    assert shares == sorted(shares)
    assert all(seconds >= 0.0 for _, seconds in program[3])


def test_two_kinds_of_arguments_are_an_error():
    def either(x):
        return x + x

    def calls_with_both(out: Floats1, n: int) -> int:
        out[0] = either(out[0])
        return either(n)

    with pytest.raises(TypeError, match="either: 2"):
        _compiled([either], calls_with_both)


def test_an_unused_function_is_an_error():
    def unused(x):
        return x

    def nothing(out: Floats1) -> None:
        out[0] = 0.0

    with pytest.raises(TypeError, match="unused: 0"):
        _compiled([unused], nothing)


def test_memory_of_its_own_is_an_error():
    def makes_an_array(out: Floats1) -> None:
        own = np.zeros(3)
        out[0] = own[0]

    with pytest.raises(Exception, match=r"np\.zeros"):
        _compiled([], makes_an_array)


def test_as_plain_python_nothing_is_compiled(monkeypatch):
    monkeypatch.setattr(machine_code, "AS_PLAIN_PYTHON", True)
    monkeypatch.setattr(machine_code, "_loaded", [])
    machine_code.prepare()
    out = np.zeros(3)
    assert Compiled(scale)(Lasting(np.array([[3.0, 4.0]])), 1.0, False, Lasting(out)) == 1
    assert out.tolist() == [3.0, 5.0, 0.0] and not machine_code._loaded
