"""Charts of practice in the drawing model, in millimetres of paper: success by day, and misses.

No colour carries anything alone: bands are hatched and edged, points are marked, counts printed.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from designer.drawing import roles
from designer.drawing.look import INK, PAPER, SOFT_INK
from designer.drawing.model import Disc, Drawing, Fill, Item, Line, Point, Stroke, Text
from designer.fonts.metrics import text_width
from designer.texts import tr
from designer.words.figures import chance
from designer.words.library import line_name
from engine.records.summary import DayShare
from engine.records.summary import Line as RecordLine

#: Sizes on paper, mm.
TEXT, SMALL_TEXT = 3.0, 2.6
_LEFT, _RIGHT, _TOP, _BOTTOM = 15.0, 4.0, 7.0, 9.0
_BAND, _LINE_INK, _GRID = "#dde5ea", "#205c8c", "#c4cbcf"
_HATCH_MM = 2.4
_ROW = 7.0


def success_chart(
    title: str,
    days: Sequence[DayShare],
    width_mm: float = 170.0,
    height_mm: float = 52.0,
) -> Drawing:
    """Success over time: a mark a day on the line, the band of its interval round it."""
    frame = _Frame(days, width_mm, height_mm)
    items: list[Item] = [Fill(roles.CHART, _box(0.0, 0.0, width_mm, height_mm), PAPER)]
    items += _grid(frame)
    if days:
        items += _band(frame, days)
        middle = tuple(frame.at(one.day, one.result.share) for one in days)
        if len(middle) > 1:
            items.append(Stroke(roles.CHART_LINE, (middle,), 0.5, _LINE_INK))
        for point, one in zip(middle, days, strict=True):
            items.append(Disc(roles.CHART_LINE, point, 1.1, PAPER, 1.0, _LINE_INK, 0.5))
            told = f"{one.result.made}/{one.result.attempts}"
            above = point[1] + 2.9 if point[1] + 4.5 < frame.top else point[1] - 2.9
            if len(days) <= 14:
                items.append(Text(roles.CHART_TEXT, (point[0], above), told, 2.3, INK))
    else:
        at = ((frame.left + frame.right) / 2.0, frame.y(0.5))
        items.append(Text(roles.CHART_TEXT, at, tr("no attempts yet"), TEXT, SOFT_INK))
    head = _cut(title, width_mm - _LEFT - _RIGHT, TEXT, bold=True)
    items.append(
        Text(roles.CHART_TEXT, (_LEFT, height_mm - 3.0), head, TEXT, INK, "start", bold=True)
    )
    told = ", ".join(
        tr(
            "{day} {made} of {attempts} ({low} to {high})",
            day=one.day.isoformat(),
            made=one.result.made,
            attempts=one.result.attempts,
            low=chance(one.result.low),
            high=chance(one.result.high),
        )
        for one in days
    )
    about = tr("{title}: made of attempts by day, with 95 % bands.", title=title)
    description = f"{about} {told or tr('no attempts yet')}"
    return Drawing(tuple(items), (0.0, 0.0, width_mm, height_mm), title, description)  # fmt: skip


def misses_chart(
    lines: Sequence[RecordLine],
    kinds: Sequence[str],
    title: str,
    width_mm: float = 170.0,
) -> Drawing:
    """Where misses pile up: a row a step, a column a kind of miss, darker the more there are."""
    called = [line_name(line) for line in lines]
    names = width_mm * 0.42
    wide = (width_mm - names - _RIGHT) / max(len(kinds), 1)
    height = 16.0 + _ROW * max(len(lines), 1)
    most = max((count for line in lines for count in line.misses), default=0)
    items: list[Item] = [Fill(roles.CHART, _box(0.0, 0.0, width_mm, height), PAPER)]
    items.append(Text(roles.CHART_TEXT, (0.0, height - 3.0), title, TEXT, INK, "start", bold=True))
    for column, kind in enumerate(kinds):
        at = (names + wide * (column + 0.5), height - 10.5)
        items.append(
            Text(roles.CHART_TEXT, at, _cut(kind, wide - 1.0, SMALL_TEXT), SMALL_TEXT, INK)
        )
    for row, line in enumerate(lines):
        y = height - 14.0 - _ROW * (row + 0.5)
        name = _cut(called[row], names - 2.0, SMALL_TEXT)
        items.append(Text(roles.CHART_TEXT, (0.0, y), name, SMALL_TEXT, INK, "start"))
        for column, count in enumerate(line.misses):
            x = names + wide * column
            share = count / most if most else 0.0
            corners = _box(x + 0.4, y - _ROW / 2 + 0.4, x + wide - 0.4, y + _ROW / 2 - 0.4)
            items.append(Fill(roles.CHART, corners, _grey(share), 1.0, _GRID, 0.25))
            ink = PAPER if share > 0.55 else INK
            middle = (x + wide / 2.0, y)
            items.append(
                Text(roles.CHART_TEXT, middle, str(count), SMALL_TEXT, ink, bold=share > 0.55)
            )
    told = "; ".join(
        f"{name}: "
        + ", ".join(f"{kind} {count}" for kind, count in zip(kinds, line.misses, strict=True))
        for name, line in zip(called, lines, strict=True)
    )
    return Drawing(tuple(items), (0.0, 0.0, width_mm, height), title, f"{title}. {told}")


class _Frame:
    """Where days and shares lie on the paper."""

    def __init__(self, days: Sequence[DayShare], width_mm: float, height_mm: float) -> None:
        self.left, self.right = _LEFT, width_mm - _RIGHT - 3.0
        self.bottom, self.top = _BOTTOM, height_mm - _TOP
        self.first = min((one.day for one in days), default=date(2026, 1, 1))
        self.last = max((one.day for one in days), default=self.first)
        self.span = max((self.last - self.first).days, 1)
        self.inner = self.left + 4.0

    def x(self, day: date) -> float:
        """Across the paper; a single day stands in the middle."""
        if self.first == self.last:
            return (self.inner + self.right) / 2.0
        share = (day - self.first).days / self.span
        return self.inner + share * (self.right - self.inner)

    def y(self, share: float) -> float:
        """Up the paper."""
        return self.bottom + share * (self.top - self.bottom)

    def at(self, day: date, share: float) -> Point:
        """Both."""
        return self.x(day), self.y(share)


def _grid(frame: _Frame) -> list[Item]:
    items: list[Item] = []
    for tenths in (0, 2, 4, 6, 8, 10):
        y = frame.y(tenths / 10.0)
        items.append(Stroke(roles.CHART, (((frame.left, y), (frame.right + 3.0, y)),), 0.2, _GRID))
        told = chance(tenths / 10.0)
        at = (frame.left - 1.5, y)
        items.append(Text(roles.CHART_TEXT, at, told, SMALL_TEXT, SOFT_INK, "end"))
    if frame.first == frame.last:
        days = [frame.first]
    else:
        # dates stand only where they have room beside one another
        count = min(6, frame.span) + 1
        days = sorted(
            {
                date.fromordinal(frame.first.toordinal() + round(frame.span * at / (count - 1)))
                for at in range(count)
            }
        )
    for day in days:
        x = frame.x(day)
        items.append(
            Stroke(roles.CHART, (((x, frame.bottom), (x, frame.bottom - 1.2)),), 0.25, SOFT_INK)
        )
        at = (x, frame.bottom - 3.6)
        items.append(Text(roles.CHART_TEXT, at, day.isoformat(), 2.3, SOFT_INK))
    return items


def _band(frame: _Frame, days: Sequence[DayShare]) -> list[Item]:
    """The interval of each day, joined from day to day and hatched."""
    if len(days) == 1:
        x = frame.x(days[0].day)
        low, high = frame.y(days[0].result.low), frame.y(days[0].result.high)
        bar = ((x, low), (x, high))
        ends = tuple(((x - 1.4, y), (x + 1.4, y)) for y in (low, high))
        return [Stroke(roles.CHART_BAND, (bar, *ends), 0.4, SOFT_INK)]
    upper = [frame.at(one.day, one.result.high) for one in days]
    lower = [frame.at(one.day, one.result.low) for one in days]
    outline: Line = (*upper, *reversed(lower))
    items: list[Item] = [Fill(roles.CHART_BAND, outline, _BAND)]
    hatch: list[Line] = []
    x = frame.inner + _HATCH_MM / 2.0
    while x < frame.right:
        hatch.append(((x, _between(lower, x)), (x, _between(upper, x))))
        x += _HATCH_MM
    if hatch:
        items.append(Stroke(roles.CHART_BAND, tuple(hatch), 0.15, "#9fb0bb"))
    for edge in (upper, lower):
        items.append(Stroke(roles.CHART_BAND, (tuple(edge),), 0.25, SOFT_INK, dash=(1.2, 0.9)))
    return items


def _between(points: Sequence[Point], x: float) -> float:
    """Height of a line of points at x."""
    for (ax, ay), (bx, by) in pairwise(points):
        if ax <= x <= bx and bx > ax:
            return ay + (by - ay) * (x - ax) / (bx - ax)
    return points[-1][1]


def _box(x0: float, y0: float, x1: float, y1: float) -> Line:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _grey(share: float) -> str:
    """From paper to dark, evenly."""
    level = round(255 - 190 * share)
    return f"#{level:02x}{level:02x}{level:02x}"


def _cut(text: str, width_mm: float, size_mm: float, *, bold: bool = False) -> str:
    if text_width(text, size_mm, bold) <= width_mm:
        return text
    while text and text_width(text + "…", size_mm, bold) > width_mm:
        text = text[:-1]
    return text.rstrip() + "…"
