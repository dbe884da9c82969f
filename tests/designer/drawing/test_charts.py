"""Charts of practice: marks and bands where the figures say, inside the paper, without colour."""

from datetime import date, timedelta
from itertools import pairwise

import pytest

from designer.drawing import roles
from designer.drawing.charts import misses_chart, success_chart
from designer.drawing.model import Disc, Fill, Stroke, Text
from engine.records import MISSES, NOT_SAID, DayShare, Practice, lines_of, share_of

START = date(2026, 1, 5)


def days(counts, apart=7):
    return [DayShare(START + timedelta(days=apart * n), share_of(*one))
            for n, one in enumerate(counts)]  # fmt: skip


def points_of(item):
    if isinstance(item, Stroke):
        return [point for line in item.lines for point in line]
    if isinstance(item, Fill):
        return list(item.points)
    if isinstance(item, Disc):
        return [item.centre]
    if isinstance(item, Text):
        left = item.at[0] + item.start_shift_mm
        return [(left, item.at[1]), (left + item.width_mm, item.at[1])]
    raise AssertionError(item)


@pytest.mark.parametrize(
    "counts", [[], [(3, 10)], [(0, 1), (1, 1)], [(n % 11, 10) for n in range(60)]]
)
def test_all_of_a_chart_is_on_its_paper(counts):
    chart = success_chart("A routine with " + "a long title " * 20, days(counts, 1))
    x0, y0, x1, y1 = chart.bounds
    for item in chart.items:
        for x, y in points_of(item):
            assert x0 - 0.01 <= x <= x1 + 0.01 and y0 - 0.01 <= y <= y1 + 0.01, item


def test_marks_stand_where_the_shares_say():
    found = days([(0, 10), (5, 10), (10, 10)])
    chart = success_chart("Blue", found)
    marks = [item.centre for item in chart.items if isinstance(item, Disc)]
    assert len(marks) == 3
    assert marks[1][0] - marks[0][0] == pytest.approx(marks[2][0] - marks[1][0])
    assert marks[1][1] == pytest.approx((marks[0][1] + marks[2][1]) / 2)
    (band,) = [i for i in chart.items if isinstance(i, Fill) and i.role == roles.CHART_BAND]
    scale = marks[2][1] - marks[0][1]
    upper = [(y - marks[0][1]) / scale for _, y in band.points[:3]]
    lower = [(y - marks[0][1]) / scale for _, y in reversed(band.points[3:])]
    assert upper == pytest.approx([one.result.high for one in found])
    assert lower == pytest.approx([one.result.low for one in found])


def test_the_words_tell_what_the_picture_shows():
    told = success_chart("Blue", days([(6, 10), (7, 10)])).description
    assert "2026-01-05 6 of 10 (3 in 10 to 8 in 10)" in told and "2026-01-12 7 of 10" in told


def test_more_misses_are_darker_and_every_count_is_printed():
    lines = lines_of(
        Practice("QZ", "Blue", START, 40, 10, 1, {"pot": 16, "left": 8, "long": 2})
        for _ in range(1)
    )
    chart = misses_chart(lines, (*MISSES, NOT_SAID), "Misses")
    cells = [i for i in chart.items if isinstance(i, Fill) and i.edge_mm > 0]
    greys = dict(zip(lines[0].misses, (int(cell.colour[1:3], 16) for cell in cells), strict=False))
    for (_, light), (_, dark) in pairwise(sorted(greys.items())):
        assert dark < light
    assert all(len({c.colour[1:3], c.colour[3:5], c.colour[5:7]}) == 1 for c in cells), "grey"
    texts = [item.text for item in chart.items if isinstance(item, Text)]
    assert [str(count) for count in lines[0].misses] == texts[-6:]
