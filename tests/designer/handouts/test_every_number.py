"""Every number on the sheets, read back by another library, is the engine's.

A demo routine and a few random ones run by default; with BAIZEWRIGHT_FULL=1 all demo routines
and 50 random ones, on every kind of sheet.
"""

from __future__ import annotations

import io
import random
import re
from functools import cache
from pathlib import Path

import pdfplumber
import pypdf
import pytest

from designer.handouts import handout_pdf
from designer.words.facts import facts as told_of
from designer.words.names import gap_name, printed_letters
from designer.words.strikes import strike_word
from designer.words.wording import Wording
from engine.answers import answer
from engine.placement import checking_distances
from engine.results import BallTolerance, RoutineAnswer
from engine.routine.values import Gap, LaneAsk, Routine, Shot
from engine.storage import load_routine
from tests.designer.handouts import sheet_facts as facts
from tests.designer.handouts import small_facts
from tests.designer.handouts.ledger import REAL, Ledger
from tests.designer.samples.random_tables import random_balls
from tests.shares import FULL, mixed

DEMOS = sorted((Path(__file__).parents[3] / "layouts_demo").glob("*.json"))
NAMES = [path.stem for path in DEMOS] if FULL else [path.stem for path in DEMOS[3:4]]
SEEDS = range(50) if FULL else range(2)
POCKETS = ("top-left", "top-right", "middle-left", "middle-right", "bottom-left", "bottom-right")


def random_routine(seed: int) -> Routine:
    """Balls, one shot with three lanes, and a gap, all thrown at random."""
    rng = random.Random(seed)
    bare = random_balls(seed, least=3, most=8)
    others = [ball.id for ball in bare.balls if not ball.is_cue]
    target = rng.choice(others)
    lanes = tuple(
        LaneAsk(label, round(rng.uniform(-0.48, 0.48), 2), round(rng.uniform(2.0, 8.0), 1),
                side=rng.choice((0.0, 0.0, 0.2)))
        for label in "ABC"
    )  # fmt: skip
    shot = Shot("s", target, rng.choice(POCKETS), lanes=(*lanes[:2], LaneAsk("C", "stun", 4.0)))
    gaps = [Gap("g", "cushion-stretch", cushion="top", from_mm=300.0, to_mm=1100.0)]
    rest = [ball for ball in others if ball != target]
    if len(rest) >= 2 and seed % 2:
        gaps.append(Gap("h", "ball-ball", tuple(rest[:2]), title="between them"))
    return Routine(title=f"Thrown {seed}", balls=bare.balls, shots=(shot,), gaps=tuple(gaps))


@cache
def case(name: str) -> tuple[Routine, RoutineAnswer]:
    if name.isdigit():
        routine = random_routine(int(name))
    else:
        routine = load_routine(next(path for path in DEMOS if path.stem == name))
    return routine, answer(routine)


ALL = [*NAMES, *map(str, SEEDS)]


def opened(data: bytes, unit: str, routine, found, *, coach: bool) -> Ledger:
    """A ledger with heads, feet and word-for-word texts struck out."""
    ledger = Ledger(data, unit)
    facts.own_texts(ledger, routine, found, coach=coach)
    facts.frame(ledger, routine, found, len(pypdf.PdfReader(io.BytesIO(data)).pages))
    return ledger


def names_of(routine) -> list[str]:
    """Letters and names that may hold figures of their own."""
    return [*printed_letters(routine).values(), *(gap_name(routine, gap) for gap in routine.gaps),
            *(ball.id for ball in routine.balls)]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "unit", "landscape"),
    [(name, *way) for name, way in mixed(ALL, (("mm", False), ("inch", True)), usual=3)],
)
@pytest.mark.slow
def test_coachs_sheet(name, unit, landscape):
    routine, found = case(name)
    tolerances = {ball.id: 2.3 + 1.6 * index for index, ball in enumerate(routine.balls)}
    rooms = [BallTolerance(ball, room, 0, 0.0, room > 3.5) for ball, room in tolerances.items()]
    data = handout_pdf([(routine, found)], unit=unit, landscape=landscape, tolerances=[rooms])
    ledger = opened(data, unit, routine, found, coach=True)
    facts.readings_in_table(ledger, routine, found, tolerances)
    facts.readings_on_drawing(ledger, routine, found)
    ledger.fact(rf"Drawn at 1:{REAL}, balls larger", (drawn_scale(data, unit), 0.06))
    for shot in found.shots:
        mine = [v for v in found.verdicts if v.shot == shot.shot]
        facts.left_out(ledger, routine, shot)
        if shot.cannot_be_played:
            facts.refused(ledger, routine, shot, mine)
            continue
        facts.pot(ledger, routine, shot)
        for lane in shot.lanes:
            facts.lane(ledger, routine, shot, lane)
            facts.run(ledger, routine, lane, shot.pot)
        for verdict in mine:
            facts.gap(ledger, routine, shot, verdict)
    checks = [check.centre_mm for check in checking_distances(routine)]
    ledger.rest(letters=names_of(routine), lengths_mm=checks)
    assert ledger.read_off > 6 * len(routine.balls)
    assert not re.search(r"\b(nan|inf|None)\b", ledger.whole)


@pytest.mark.slow
def test_lanes_with_long_notes_go_on_to_the_next_page():
    """Two lanes too low and one that is no stun: their notes are higher than a page on its side."""
    routine, found = case("44")
    assert sum(len(lane.cautions) for lane in found.shots[0].lanes) >= 6
    data = handout_pdf([(routine, found)], landscape=True)
    opened(data, "mm", routine, found, coach=True)


@pytest.mark.parametrize(("unit", "name"), mixed(("mm", "inch"), ALL, usual=3))
@pytest.mark.slow
def test_players_sheet(name, unit):
    routine, found = case(name)
    data = handout_pdf([(routine, found)], "letter", "player", unit)
    ledger = opened(data, unit, routine, found, coach=False)
    facts.readings_in_table(ledger, routine, found)
    facts.readings_on_drawing(ledger, routine, found)
    ledger.fact(rf"Drawn at 1:{REAL}, balls larger", (drawn_scale(data, unit), 0.06))
    for shot in found.shots:
        small_facts.cards(ledger, routine, shot)
    checks = [check.centre_mm for check in checking_distances(routine)]
    ledger.rest(letters=names_of(routine), lengths_mm=checks)


@pytest.mark.parametrize("name", ALL)
@pytest.mark.slow
def test_steps(name):
    routine, found = case(name)
    data = handout_pdf([(routine, found)], sheet="steps")
    ledger = Ledger(data, "mm")
    ledger.perhaps(routine.title, *(gap.title for gap in routine.gaps))
    counts, pots = [], small_facts.new_pots(routine, found)
    for number, shot in enumerate(found.shots, start=1):
        if shot.cannot_be_played:
            why = told_of(Wording(routine), shot.refusals)
            ledger.known(f"Shot {number} cannot be played: {why}")
            continue
        clear = sorted(
            (lane for lane in shot.lanes if lane.clear and not lane.in_off),
            key=lambda lane: (-min((c.clearance_mm for c in lane.clearances), default=1e9),
                              lane.label),
        )  # fmt: skip
        counts.append((shot.shot in pots) + len(clear) + (len(clear) > 1))
        for lane in clear:
            pattern, values = facts.strike_pattern(lane, facts.conditions_of(routine))
            if lane.side:
                pattern += rf", {REAL} mm right side"
                values.append((lane.side * 26.25, 0.5))
            ledger.fact(rf"{re.escape(strike_word(lane.strike_name))}, {pattern}", *values)
            if lane.clearances:
                small_facts.nearest(ledger, routine, lane)
    steps_end(ledger, data, routine, found, counts)


def steps_end(ledger, data, routine, found, counts):
    """What steps have in common for coach and player, after which nothing is left."""
    facts.frame(ledger, routine, found, len(pypdf.PdfReader(io.BytesIO(data)).pages))
    assert "nan" not in ledger.whole
    small_facts.step_numbers(ledger, counts)
    small_facts.readings_in_list(ledger, routine, found)
    ledger.rest(letters=names_of(routine))


@pytest.mark.parametrize("name", ALL)
@pytest.mark.slow
def test_players_steps(name):
    routine, found = case(name)
    data = handout_pdf([(routine, found)], "a4", "player", "inch", sheet="steps")
    ledger = Ledger(data, "inch")
    ledger.perhaps(routine.title, *(gap.title for gap in routine.gaps))
    counts, pots = [], small_facts.new_pots(routine, found)
    for number, shot in enumerate(found.shots, start=1):
        if not shot.cannot_be_played:
            counts.append((shot.shot in pots) + len(shot.lanes) + (len(shot.lanes) > 1))
        elif len(routine.shots) > 1:
            ledger.known(f"Shot {number} cannot be played as it is set here: ask your coach.")
    steps_end(ledger, data, routine, found, counts)


@pytest.mark.parametrize("name", ALL)
@pytest.mark.slow
def test_record(name):
    routine, found = case(name)
    ledger = opened(handout_pdf([(routine, found)], sheet="record"), "mm", routine, found,
                    coach=False)  # fmt: skip
    if len(routine.shots) > 1:
        for number in range(1, len(routine.shots) + 1):
            ledger.fact(rf"Shot {REAL}:", (number, 0.0))
    elif len(routine.shots) == 1:
        numbers = small_facts.numbered(routine, found.shots[0])
        if len(numbers) > 1:
            ledger.known(*(f"stroke {number}" for number in numbers))
    ledger.rest(letters=())


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.slow
def test_cards(name, unit):
    routine, found = case(name)
    data = handout_pdf([(routine, found)], "a4", "player", unit, sheet="card")
    cards = 4 if len(routine.shots) == 1 else len(routine.shots)
    ledger = Ledger(data, unit)
    ledger.known(*(shot.question for shot in routine.shots), f"level {routine.level} of 5")
    ledger.perhaps(routine.title, *(f"Shot {n} of {len(routine.shots)}" for n in range(9)))
    if len(routine.shots) == 1:
        # cards that follow with more of a shot take places of its copies
        cards //= small_facts.parts_of_cards(ledger)
    for _ in range(cards):
        for place in found.placements:
            if not place.spot:
                one, other = place.across, place.along
                letter = re.escape(printed_letters(routine)[place.ball])
                ledger.fact(
                    rf"(?<!\w){letter} {one.cushion} {ledger.length} {other.cushion} "
                    rf"{ledger.length}(?!\w)", *ledger.lengths(one.centre_mm, other.centre_mm),
                )  # fmt: skip
    ledger.rest(letters=names_of(routine))


@pytest.mark.parametrize("name", ALL)
@pytest.mark.slow
def test_poster(name):
    routine, found = case(name)
    data = handout_pdf([(routine, found)], "a3", "player", sheet="poster")
    ledger = opened(data, "mm", routine, found, coach=False)
    for shot in found.shots:
        small_facts.posted(ledger, routine, shot)
    ledger.rest(letters=names_of(routine))


def drawn_scale(data: bytes, unit: str) -> float:
    """Table mm for a mm of paper, measured on the scale bar of the first page."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        page = pdf.pages[0]
        word = next(w for w in page.extract_words() if w["text"] in ("500", '20"') and any(
            o["text"] == "mm" or o["text"] == "on" for o in page.extract_words()
            if abs(o["top"] - w["top"]) < 1 and o["x0"] > w["x0"]))  # fmt: skip
        middle = (word["top"] + word["bottom"]) / 2.0
        bars = [
            s for s in page.rects + page.curves
            if s["top"] <= middle <= s["bottom"] and s["bottom"] - s["top"] < 6
            and s["x1"] < word["x0"] and s["fill"] and s["stroke"]
        ]  # fmt: skip
        length = max(b["x1"] for b in bars) - min(b["x0"] for b in bars)
    table_mm = 500.0 if unit == "mm" else 508.0
    return table_mm / (length / 72.0 * 25.4)


def test_a_wrong_figure_is_seen():
    """The ledger itself: a figure off by one, or one too many, is found."""
    routine, found = case("0")
    data = handout_pdf([(routine, found)], audience="player")
    ledger = opened(data, "mm", routine, found, coach=False)
    place = next(p for p in found.placements if not p.spot)
    letter = printed_letters(routine)[place.ball]
    with pytest.raises(AssertionError):
        ledger.fact(rf"{letter} {ledger.length}", (place.across.centre_mm + 1.2, 0.5))
    with pytest.raises(AssertionError, match="no known figure"):
        ledger.rest(letters=names_of(routine))
