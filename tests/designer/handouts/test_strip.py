"""Full-size strips: 1:1 by the path coordinates in the file, pieces that meet, easy corners."""

from __future__ import annotations

import io
import itertools
import math
import re
from dataclasses import replace

import pdfplumber
import pytest

from designer.handouts import handout_pdf
from designer.handouts.clusters import NEAR_MM, clusters, strip_of
from designer.handouts.papers import paper_of
from designer.handouts.strip import piece_room_mm
from engine.balls import Ball
from engine.errors import OutOfRangeError
from engine.placement import placements
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.tables import load_table
from engine.units import inch_text
from tests.designer.handouts.ledger import number
from tests.designer.pdf_pages import page_texts
from tests.designer.samples.random_tables import random_balls

R, MM = 26.25, 72.0 / 25.4


def answered(routine: Routine) -> tuple[Routine, RoutineAnswer]:
    return routine, RoutineAnswer("0", (), (), (), (), placements(routine))


def pack(x: float = 889.0, y: float = 2735.0) -> Routine:
    reds = [
        Ball(f"red-{row}-{i}", "red", x + (i - row / 2) * 52.6, y + row * 45.6)
        for row in range(5)
        for i in range(row + 1)
    ]
    return Routine(title="Pack", balls=(Ball("cue", "cue", 600.0, 500.0), *reds))


def rings(page) -> list[tuple[float, float, float, float]]:
    """Centre, width and height of every whole circle of a page, in mm from its top-left corner."""
    found = []
    for curve in page.curves:
        wide, high = curve["x1"] - curve["x0"], curve["bottom"] - curve["top"]
        if not curve["fill"] and abs(wide - high) < 0.05 and wide > 100:
            x, y = (curve["x0"] + curve["x1"]) / 2 / MM, (curve["top"] + curve["bottom"]) / 2 / MM
            found.append((x, y, wide / MM, high / MM))
    return found


@pytest.mark.parametrize(
    ("paper", "landscape", "ruler"), [("a4", False, 100), ("letter", True, 100), ("a5", True, 50)]
)
@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.slow
def test_rings_and_rulers_measure_one_to_one(paper, landscape, ruler, unit):
    routine, answer = answered(pack())
    data = handout_pdf([(routine, answer)], paper, unit=unit, sheet="strip", landscape=landscape)
    table = load_table(routine.table)
    (balls,) = clusters(routine)
    strip = strip_of(routine, table, balls, piece_room_mm(paper_of(paper, landscape)), unit)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == len(strip.pieces)
        for page, piece in zip(pdf.pages, strip.pieces, strict=True):
            shown = rings(page)
            assert shown
            assert all(w == pytest.approx(2 * R, abs=0.02) for ring in shown for w in ring[2:])
            left, top = _corner(page)
            for x, y, *_ in shown:
                place = _on_table(piece, strip.turned, x - left, y - top)
                nearest = min(math.dist(place, ball.centre_mm) for ball in balls)
                assert nearest < 0.05, place
            assert _ruler_lengths(page) == pytest.approx([ruler, ruler], abs=0.01)
    for told in page_texts(data):
        assert f"both rulers must measure {ruler} mm" in " ".join(told.split())
        assert told.count(f"check: {ruler} mm") == 2


def _corner(page) -> tuple[float, float]:
    """The piece's top-left corner: where the crop marks' lines would meet, mm."""
    marks = [ln for ln in page.lines if abs(ln["linewidth"] - 0.35) < 0.01]
    assert len(marks) == 8
    upright = sorted({round(ln["x0"], 2) for ln in marks if abs(ln["x1"] - ln["x0"]) < 0.01})
    level = sorted({round(ln["top"], 2) for ln in marks if abs(ln["top"] - ln["bottom"]) < 0.01})
    assert len(upright) == len(level) == 2
    return upright[0] / MM, level[0] / MM


def _on_table(piece, turned: bool, right: float, down: float) -> tuple[float, float]:
    """The place on the table of a point that far right of and below a piece's corner."""
    x0, y0, _, y1 = piece.box_mm
    return (x0 + down, y0 + right) if turned else (x0 + right, y1 - down)


def _ruler_lengths(page) -> list[float]:
    lines = [ln for ln in page.lines if abs(ln["linewidth"] - 0.5) < 0.01]
    spans = [(ln["x1"] - ln["x0"], ln["bottom"] - ln["top"]) for ln in lines]
    return sorted(max(w, h) / MM for w, h in spans if max(w, h) / MM > 5.0)


def test_the_ruler_has_a_tick_every_ten_millimetres():
    data = handout_pdf([answered(pack())], sheet="strip")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        lines = [ln for ln in pdf.pages[0].lines if abs(ln["linewidth"] - 0.5) < 0.01]
    ticks = sorted(
        ln["x0"] / MM for ln in lines
        if ln["x1"] - ln["x0"] < 0.01 and (ln["bottom"] - ln["top"]) / MM < 4
    )  # fmt: skip
    assert len(ticks) == 11
    apart = [b - a for a, b in itertools.pairwise(ticks)]
    assert apart == pytest.approx([10.0] * 10, abs=0.001)


@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.parametrize("seed", range(30))
def test_pieces_cover_their_cluster_and_lie_on_easy_lengths(seed, unit):
    routine = random_balls(seed, least=6)
    table = load_table(routine.table)
    for landscape in (False, True):
        room = piece_room_mm(paper_of("a4", landscape))
        for balls in clusters(routine):
            strip = strip_of(routine, table, balls, room, unit)
            for ball in balls:
                inside = [p for p in strip.pieces
                          if p.box_mm[0] <= ball.x_mm <= p.box_mm[2]
                          and p.box_mm[1] <= ball.y_mm <= p.box_mm[3]]  # fmt: skip
                assert inside, ball
            for piece in strip.pieces:
                x0, y0, x1, y1 = piece.box_mm
                wide, high = (y1 - y0, x1 - x0) if strip.turned else (x1 - x0, y1 - y0)
                assert wide <= room[0] + 1e-6 and high <= room[1] + 1e-6
                assert 0 <= x0 < x1 <= table.width_mm and 0 <= y0 < y1 <= table.length_mm
                for length in (piece.across_mm, piece.along_mm):
                    whole = length / (25.4 if unit == "inch" else 10.0)
                    assert whole == pytest.approx(round(whole), abs=1e-6)
                x, y = piece.corner_mm
                across = x if strip.across == "left" else table.width_mm - x
                along = y if strip.along == "bottom" else table.length_mm - y
                assert (across, along) == pytest.approx((piece.across_mm, piece.along_mm))


@pytest.mark.slow
def test_the_corner_is_told_as_it_lies():
    routine = pack(300.0, 2600.0)
    (balls,) = clusters(routine)
    for unit in ("mm", "inch"):
        data = handout_pdf([answered(routine)], unit=unit, sheet="strip")
        strip = strip_of(
            routine, load_table(routine.table), balls, piece_room_mm(paper_of("a4")), unit
        )
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            for page, piece in zip(pdf.pages, strip.pieces, strict=True):
                text = " ".join(page.extract_text().split())
                length = r'([\d/ ]+?)"' if unit == "inch" else r"(\d+) mm"
                found = re.search(
                    rf"black dot {length} from the face of the left cushion and {length} "
                    "from the face of the top cushion",
                    text,
                )
                assert found, text
                mark = '"' if unit == "inch" else ""
                told = [number(group + mark) for group in found.groups()]
                scale = 25.4 if unit == "inch" else 1.0
                lengths = [v / scale for v in (piece.across_mm, piece.along_mm)]
                assert told == pytest.approx(lengths, abs=0.01)
                assert "actual size" in text and "nothing adhesive" in text


@pytest.mark.slow
def test_readings_in_the_rings_are_the_balls_own():
    routine, answer = answered(pack())
    data = handout_pdf([(routine, answer)], unit="inch", sheet="strip")
    text = " ".join(" ".join(page_texts(data)).split())
    for place in answer.placements[1:]:
        assert f"{place.across.cushion} {inch_text(place.across.centre_mm)}" in text


def test_lone_balls_make_no_strip():
    apart = 2 * R + NEAR_MM
    lone = Routine(balls=(Ball("c", "cue", 300, 300), Ball("r", "red", 300, 301 + apart)))
    assert clusters(lone) == []
    with pytest.raises(OutOfRangeError, match=f"within {NEAR_MM:.0f} mm"):
        handout_pdf([answered(lone)], sheet="strip")
    near = replace(lone, balls=(lone.balls[0], replace(lone.balls[1], y_mm=300 + apart)))
    assert len(clusters(near)) == 1
    data = handout_pdf([answered(lone), answered(near)], sheet="strip", booklet=True)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert "Contents" in pdf.pages[0].extract_text()
        assert all("cluster 1 of 1" in page.extract_text() for page in pdf.pages[1:])


@pytest.mark.slow
def test_nothing_is_printed_beyond_the_edges_of_a_piece():
    """Rings are cut off there; their words are on a piece whole or not at all."""
    data = handout_pdf([answered(pack())], sheet="strip")
    seen = set()
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            left, top = _corner(page)
            marks = [ln for ln in page.lines if abs(ln["linewidth"] - 0.35) < 0.01]
            right = max(ln["x0"] for ln in marks if ln["x1"] - ln["x0"] < 0.01) / MM
            bottom = max(ln["top"] for ln in marks if ln["bottom"] - ln["top"] < 0.01) / MM
            for word in page.extract_words():
                if re.fullmatch(r"R\d+", word["text"]):
                    seen.add(word["text"])
                    assert left < word["x0"] / MM and word["x1"] / MM < right
                    assert top < word["top"] / MM and word["bottom"] / MM < bottom
    assert seen == {f"R{n}" for n in range(1, 16)}


def test_a_piece_by_a_cushion_ends_at_its_face():
    routine = Routine(balls=(Ball("c", "cue", R, 800.0), Ball("r", "red", R + 60.0, 830.0)))
    (balls,) = clusters(routine)
    strip = strip_of(routine, load_table(routine.table), balls, (170.0, 200.0), "mm")
    assert strip.pieces[0].box_mm[0] == 0.0 and strip.pieces[0].across_mm == 0.0


def test_a_cluster_of_185_by_287_mm_takes_two_pages():
    """Cut between its balls, not through them."""
    reds = [Ball(f"red-{i}", "red", 600.0 + R + 66.25 * (i % 3), 900.0 + R + 78.0 * (i // 3))
            for i in range(12)]  # fmt: skip
    routine = Routine(balls=(Ball("cue", "cue", 300.0, 300.0), *reds))
    (balls,) = clusters(routine)
    xs, ys = [ball.x_mm for ball in balls], [ball.y_mm for ball in balls]
    assert (max(xs) - min(xs) + 2 * R, max(ys) - min(ys) + 2 * R) == pytest.approx((185, 286.5))
    strip = strip_of(routine, load_table(routine.table), balls, piece_room_mm(paper_of("a4")), "mm")
    assert len(strip.pieces) == 2
    for piece in strip.pieces:
        x0, y0, x1, y1 = piece.box_mm
        cut = [ball for ball in balls
               if any(abs(ball.y_mm - y) < R for y in (y0, y1)) or
               any(abs(ball.x_mm - x) < R for x in (x0, x1))]  # fmt: skip
        assert not cut
    data = handout_pdf([answered(routine)], sheet="strip")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == 2


@pytest.mark.slow
def test_balls_that_touch_have_windows_to_mark_through():
    touching = Routine(balls=(Ball("a", "red", 500, 500), Ball("b", "blue", 552.5, 500)))
    apart = Routine(balls=(Ball("a", "red", 500, 500), Ball("b", "blue", 570, 500)))
    for routine, windows in ((touching, 2), (apart, 0)):
        with pdfplumber.open(io.BytesIO(handout_pdf([answered(routine)], sheet="strip"))) as pdf:
            shapes = (*pdf.pages[0].rects, *pdf.pages[0].curves)
            squares = [
                one
                for one in shapes
                if abs(one["width"] / MM - 8.0) + abs(one["height"] / MM - 8.0) < 0.1
            ]
            assert len(squares) == windows
            assert ("windows" in pdf.pages[0].extract_text()) == bool(windows)
