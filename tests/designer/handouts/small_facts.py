"""What steps, table cards, posters and the strokes to choose from say, as facts to read off."""

from __future__ import annotations

import re

from designer.words.names import printed_letters
from designer.words.wording import Wording
from engine.routine.context import conditions_of
from engine.routine.shuffling import shuffled_lanes
from engine.units import rounded
from tests.designer.handouts.ledger import REAL, Ledger
from tests.designer.handouts.sheet_facts import room_of, tip_pattern


def new_pots(routine, answer) -> set[str]:
    """The shots whose pot was in no shot before, among those that can be played."""
    first: dict[tuple[str, str], str] = {}
    for shot in answer.shots:
        asked = routine.shot(shot.shot)
        if asked.object_ball and not shot.cannot_be_played:
            first.setdefault((asked.object_ball, asked.pocket), shot.shot)
    return set(first.values())


def step_numbers(ledger: Ledger, counts: list[int]) -> None:
    """The numbers of the steps: from 1 in each shot, so many."""
    for number in (step for count in counts for step in range(1, count + 1)):
        ledger.fact(rf"{REAL}\. (?:The pot alone|To \w|All of them)", (number, 0.0))


def readings_in_list(ledger: Ledger, routine, answer) -> None:
    """The list of readings below steps: every ball's spot, or two readings of it.

    It is there where the small drawings cannot name all balls, and of many balls.
    """
    listed = "Set up, in this order" in ledger.whole
    assert listed == ("Enlarged, from" in ledger.whole or len(routine.balls) > 15)
    if not listed:
        return
    letters = printed_letters(routine)
    for place in answer.placements:
        letter = re.escape(letters[place.ball])
        if place.spot:
            ledger.known(f"{letters[place.ball]} {place.spot} spot")
            continue
        one, other = place.across, place.along
        ledger.fact(
            rf"(?<!\w){letter} {one.cushion} {ledger.length}, {other.cushion} {ledger.length}"
            r"(?!\w)", *ledger.lengths(one.centre_mm, other.centre_mm),
        )  # fmt: skip


def nearest(ledger: Ledger, routine, each) -> None:
    """The ball that leaves a clear lane least room, by how much, and after which cushions."""
    least = min(each.clearances, key=lambda one: one.clearance_mm)
    name = re.escape(Wording(routine).ball(least.ball))
    pattern, values = room_of(ledger, rf"clears {name} by ", ledger.with_unit(), least.clearance_mm)
    if least.after_cushions:
        pattern += rf", after {REAL} cushions?"
        values = [*values, (least.after_cushions, 0.0)]
    ledger.fact(pattern, *values)


def parts_of_cards(ledger: Ledger) -> int:
    """How many cards tell of one shot, each numbered as often as there are copies of it."""
    told = re.findall(r"card (\d) of (\d)", ledger.text)
    counts = {int(count) for _, count in told}
    if not told:
        return 1
    assert len(counts) == 1 and min(counts) > 1, told
    (parts,) = counts
    assert sorted(int(number) for number, _ in told) == sorted(
        [*range(1, parts + 1)] * max(4 // parts, 1)
    ), told
    ledger.known(*(f"card {number} of {parts}" for number in range(1, parts + 1)))
    return parts


def numbered(routine, shot) -> dict[int, object]:
    """The lanes by their strokes' numbers: a number is the same stroke on every sheet.

    Strokes that cannot be played have their numbers as well, and are on no sheet.
    """
    order = shuffled_lanes(routine, routine.shot(shot.shot))
    return {order.index(each.label) + 1: each for each in shot.lanes}


def cards(ledger: Ledger, routine, shot) -> None:
    """The strokes to choose from: each lane's is on the card of its number, and in the record."""
    if len(shot.lanes) < 2:
        return
    conditions = conditions_of(routine)
    for number, each in numbered(routine, shot).items():
        tip, values = tip_pattern(each.tip_height, conditions)
        tip = tip.replace(REAL, f"{rounded(values[0][0]):.0f}" if values else "")
        pattern = rf"(?<![\w.]){number} pace {rounded(each.pace, 0.5):g} {tip}"
        if each.side:
            pattern += rf" {rounded(abs(each.side) * conditions.cue_radius_mm):.0f} mm \w+ side"
        ledger.fact(pattern)
        ledger.read_off += 2
        ledger.known(f"stroke {number}")


def posted(ledger: Ledger, routine, shot) -> None:
    """The strokes on a poster: each lane's pace beside its stroke's number."""
    for number, each in numbered(routine, shot).items() if len(shot.lanes) > 1 else ():
        ledger.fact(rf"(?<![\w.]){number} pace {rounded(each.pace, 0.5):g}(?![\d.])")
