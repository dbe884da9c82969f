"""What is told of compiling: a line that moves on a terminal, a few plain lines elsewhere."""

import io
import sys

from engine.compiled.progress import Line

SHARES = [k / 40 for k in range(41)]


class Terminal(io.StringIO):
    def isatty(self):
        return True


def told(stream, monkeypatch):
    monkeypatch.setattr(sys, "stderr", stream)
    line = Line()
    for share in SHARES:
        line(share, 30.0 * share)
    return stream


def test_on_a_terminal_one_line_moves(monkeypatch):
    text = told(Terminal(), monkeypatch).getvalue()
    assert text.count("\r") == len(SHARES) and text.count("\n") == 1 and text.endswith("\n")
    assert text.split("\r")[21].strip() == "compiling the shot engine: 50%, 15 s"


def test_elsewhere_a_few_lines_are_written(monkeypatch):
    lines = told(io.StringIO(), monkeypatch).getvalue().splitlines()
    assert [line.strip() for line in lines] == [
        f"compiling the shot engine: {share}%, {share * 0.3:.0f} s"
        for share in (0, 25, 50, 75, 100)
    ]


def test_without_an_error_stream_nothing_is_told(monkeypatch):
    assert told(None, monkeypatch) is None
