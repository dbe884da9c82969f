"""Drawings sized for paper in few rounds, and words broken into lines once for each width."""

from __future__ import annotations

import pytest
from reportlab.pdfgen.canvas import Canvas

from designer.drawing import PLACEMENT_LAYERS, Look, build_drawing
from designer.handouts.figure import fit_drawing, table_as_shown
from designer.handouts.styles import paragraph
from designer.painters.pdf import POINTS_PER_MM
from engine.answers import answer
from tests.designer.handouts.test_packs import pack
from tests.shares import share


@pytest.mark.parametrize("seed", share(range(40), 3))
@pytest.mark.parametrize("size", [(300.0, 560.0), (150.0, 300.0)])
@pytest.mark.slow
def test_a_drawing_fits_in_three_rounds_and_its_texts_are_large_enough(seed, size):
    routine, made = pack(seed), []
    found = answer(routine)

    def make(look):
        made.append(build_drawing(routine, found, PLACEMENT_LAYERS, look=look))
        return made[-1]

    drawing, width = fit_drawing(make, *size, Look(), table_as_shown(routine, Look()))
    assert len(made) <= 3
    shown = drawing.width_mm / (width / POINTS_PER_MM)
    assert width <= size[0] + 0.01
    assert width * drawing.height_mm / drawing.width_mm <= size[1] + 0.01
    # a drawing made for the scale it is shown at has texts of the same size
    again = build_drawing(routine, found, PLACEMENT_LAYERS, look=Look().at_scale(shown))
    largest, wanted = (
        max(item.size_mm for item in one.items if hasattr(item, "size_mm"))
        for one in (drawing, again)
    )
    assert largest >= wanted * 0.999


def test_the_same_words_can_stand_in_columns_of_two_widths():
    told = "words that take several lines in a narrow column and one or two in a wide one " * 2
    wide, narrow, later = paragraph(told), paragraph(told), paragraph(told)
    high, low = narrow.wrap(80.0, 1e5)[1], wide.wrap(400.0, 1e5)[1]
    assert high > 2.5 * low
    assert len(narrow.blPara.lines) > len(wide.blPara.lines)
    assert later.wrap(400.0, 1e5) == (400.0, low) and narrow.wrap(80.0, 1e5)[1] == high
    parts = narrow.split(80.0, high / 2.0)
    assert len(parts) == 2 and sum(part.wrap(80.0, 1e5)[1] for part in parts) == pytest.approx(high)
    assert paragraph(told).wrap(80.0, 1e5)[1] == high
    page = Canvas("/dev/null")
    page.tagged = lambda *_: _Nothing()
    wide.drawOn(page, 0.0, 0.0)
    assert paragraph(told).wrap(400.0, 1e5)[1] == low


def test_a_column_with_no_width_is_too_narrow_for_words():
    assert paragraph("words").wrap(-1.0, 100.0)[1] > 1e6
    assert paragraph("words").wrap(60.0, 100.0)[1] < 20.0


class _Nothing:
    def __enter__(self):
        return self

    def __exit__(self, *_):
        return None
