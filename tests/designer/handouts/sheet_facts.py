"""What each kind of sheet says of a routine, as facts to read off in a ledger."""

from __future__ import annotations

import math
import re

from designer.texts import tr
from designer.words.facts import facts
from designer.words.figures import sentence
from designer.words.gaps import forgiven
from designer.words.names import ball_names, gap_name, printed_letters
from designer.words.pots import pot_lines
from designer.words.strikes import STRIKE_NAMES
from designer.words.telling import words_of
from designer.words.wording import Wording
from engine.placement import checking_distances, set_up_order
from engine.routine.context import conditions_of, table_of
from tests.designer.handouts.ledger import REAL, Ledger

#: Shares of the ball that have a name.
NAMED = (1.0, 0.75, 0.5, 0.25)
TENTH, HUNDREDTH, WHOLE, HALF_PACE = 0.0501, 0.005, 0.5, 0.25


def frame(ledger: Ledger, routine, answer, pages: int) -> None:
    """Heads and feet, and the texts that do not depend on the routine."""
    ledger.known(f"engine {answer.engine_version}")
    for page in range(1, pages + 1):
        ledger.known(f"page {page} of {pages}")
    ledger.known(f"level {routine.level} of 5")
    ledger.perhaps("90-degree line (dash", "runs along the 90-degree line")
    ledger.perhaps("nearest 1/16", "under 18", "500 mm on the table",
                   '20" on the table')  # fmt: skip
    count = len(routine.shots)
    for number in range(1, count + 1):
        ledger.perhaps(f"Shot {number} of {count}", f"shot {number} of {count}")


def own_texts(ledger: Ledger, routine, answer, *, coach: bool) -> None:
    """What the coach wrote and the engine's own sentences, word for word."""
    if coach:
        ledger.known(routine.notes, *(shot.note for shot in routine.shots))
        ledger.known(*(shot.answer for shot in routine.shots))
        played = [shot.shot for shot in answer.shots if not shot.refusals]
        said = words_of(Wording(routine, ledger.unit))
        ledger.known(*(said(v) for v in answer.verdicts if v.shot in played))
        told = [c for c in answer.claims if routine.claims[c.index].shot in played]
        ledger.known(*(said(routine.claims[c.index]) for c in told))
        ledger.known(*(f"{'holds' if c.holds else 'does not hold'}: {said(c)}" for c in told))
        ledger.known(*(sentence(said(p.fact)) for p in answer.problems))
        for shot in answer.shots:
            if shot.refusals:
                continue
            ledger.known(*(said(c) for lane in shot.lanes for c in lane.cautions))
            if shot.pot is not None:
                ledger.known(*(sentence(said(reason)) for reason in shot.pot.reasons))
        ledger.perhaps(*(shot.title for shot in routine.shots))
    ledger.known(*(shot.question for shot in routine.shots))
    ledger.perhaps(routine.title, routine.coach, routine.club)


def readings_on_drawing(ledger: Ledger, routine, answer) -> None:
    """The tape readings at the ends of the dimension lines."""
    letters = printed_letters(routine)
    for place in answer.placements:
        if place.spot:
            continue
        letter = re.escape(letters[place.ball])
        for reading in (place.across, place.along):
            ledger.fact(
                rf"(?<!\w){letter} {ledger.length} edge {ledger.length}(?!\w)",
                *ledger.lengths(reading.centre_mm, reading.edge_mm),
            )


def readings_in_table(ledger: Ledger, routine, answer, tolerances=None) -> None:
    """The table of readings, in set-up order, with checks and tolerances."""
    letters, length = printed_letters(routine), ledger.length
    places = {place.ball: place for place in answer.placements}
    checks = {check.ball: check for check in checking_distances(routine)}
    for number, ball in enumerate(set_up_order(routine), start=1):
        place = places[ball]
        pattern = rf"(?<!\w){number} {re.escape(letters[ball])} "
        values = []
        within = rf"(?:≥ )?{length} " if tolerances else ""
        step = ledger.mm / 16.0 if ledger.unit == "inch" else 1.0
        room = tolerances and math.floor(tolerances[ball] / step) * step  # told rounded down
        if place.spot:
            pattern += rf"on the {place.spot} spot " + within
            values += [room] if tolerances else []
        for index, reading in enumerate((place.across, place.along)):
            pattern += rf"{reading.cushion} {length} {length} "
            values += [reading.centre_mm, reading.edge_mm]
            if index == 0 and tolerances and not place.spot:
                pattern += within
                values.append(room)
        check = checks.get(ball)
        if check is not None:
            name = re.escape(letters[check.to]) if check.kind == "ball" else f"{check.to} spot"
            pattern += rf"check {name} {length} {length} "
            values += [check.centre_mm, check.edge_mm]
        ledger.fact(pattern.rstrip() + r"(?!\w)", *ledger.lengths(*values))


def pot(ledger: Ledger, routine, shot) -> None:
    """The pot's cut, fullness and room, and the close-up's figures."""
    found = shot.pot
    if found is None:
        return
    cut_of(ledger, found)
    if found.pocket_margin_deg >= 0.5:
        told = rf"The pocket forgives {REAL}° either way"
        ledger.fact(told, (found.pocket_margin_deg, WHOLE))
    elif found.pocket_margin_deg > 0.0:
        ledger.known("The pocket forgives under 1° either way")
    if found.lowest_tip_reason is not None:
        height = found.lowest_tip * conditions_of(routine).cue_radius_mm
        told = rf"limits how low the tip can go: {REAL} mm \w+ centre"
        ledger.fact(told, (abs(height), WHOLE))
    ledger.fact(rf"{REAL} of the ball", (found.fullness, HUNDREDTH))
    ledger.fact(rf"cut {REAL}°", (found.cut_deg, WHOLE))


def cut_of(ledger: Ledger, found) -> None:
    """The cut to the degree, and the figure of the fullness where no name is near."""
    if not found.cut_side or found.cut_deg >= 90.0:
        return
    near = min((1.0, 0.75, 0.5, 0.25), key=lambda at: abs(at - found.fullness))
    pattern, values = rf"Cut {REAL}° to the {found.cut_side}, ", [(found.cut_deg, WHOLE)]
    if abs(near - found.fullness) > 0.05:
        pattern += rf"[\w -]+, {REAL} of the ball"
        values.append((found.fullness, HUNDREDTH))
    ledger.fact(pattern, *values)


def refused(ledger: Ledger, routine, shot, verdicts) -> None:
    """A shot that cannot be played: why, its pot, and its gaps with the same reason."""
    wording = Wording(routine, ledger.unit)
    ledger.known(sentence(facts(wording, shot.refusals)))
    found = shot.pot
    if found is not None:
        ledger.perhaps(*pot_lines(wording, found))
    for number, verdict in enumerate(verdicts, start=1):
        gap(ledger, routine, verdict, number)
        ledger.perhaps(words_of(wording)(verdict))


def strike_pattern(lane, conditions) -> tuple[str, list[tuple[float, float]]]:
    """How a lane is struck, as printed."""
    height = lane.tip_height * conditions.ball_radius_mm
    values: list[tuple[float, float]] = []
    if abs(height) < WHOLE:
        pattern = "centre"
    else:
        pattern = rf"{REAL} mm {'above' if height > 0 else 'below'} centre"
        values.append((abs(height), WHOLE))
    pattern += rf",? pace {REAL}, {REAL} m/s"
    return pattern, [*values, (lane.pace, HALF_PACE), (lane.speed_m_s, TENTH)]


def lane(ledger: Ledger, routine, each) -> None:
    """One row of the lanes' table: strike, clearances, first cushion, where it stops."""
    table, conditions = table_of(routine), conditions_of(routine)
    pattern, values = strike_pattern(each, conditions)
    name = each.title or tr(STRIKE_NAMES.get(each.strike_name, each.strike_name))
    ledger.fact(rf"(?<!\w){each.label} {re.escape(name)} {pattern}", *values)
    length, names = ledger.with_unit(), ball_names(routine)
    ranked = sorted(
        each.clearances,
        key=lambda c: (
            (0, c.after_cushions, c.clearance_mm) if c.clearance_mm < 0 else (1, 0, c.clearance_mm)
        ),
    )
    near = [c for c in ranked if c.clearance_mm < 150.0][:3] or ranked[:1]
    for one in near:
        verb = "clears" if one.clearance_mm >= 0 else "touches"
        told, values = rf"{verb} {re.escape(names[one.ball])} by {length}", []
        if one.after_cushions:
            told += rf", after {REAL} cushions?"
            values.append((one.after_cushions, 0.0))
        if one.clearance_mm < 0 and min(abs(one.fullness - at) for at in NAMED) > 0.05:
            told += rf", (?:[\w -]+, )?{REAL} of the ball"
            values.append((one.fullness, HUNDREDTH))
        ledger.fact(told, *ledger.lengths(abs(one.clearance_mm)), *values)
    touched = [one for one in each.clearances if one.clearance_mm < 0]
    if each.first_cushion_mm is not None and all(one.after_cushions for one in touched):
        side = each.first_cushion in ("left", "right")
        size = table.length_mm if side else table.width_mm
        along = each.first_cushion_mm[1 if side else 0]
        ledger.fact(
            rf"first cushion: {each.first_cushion} cushion, {length} from the \w+",
            *ledger.lengths(min(along, size - along)),
        )
    stops = each.stops_mm
    if touched:
        stops = dict(each.rests).get("cue", each.stops_mm)
    if not each.in_off and stops is not None:
        x, y = stops
        ledger.fact(
            rf"stops {length} from \w+, {length} from \w+",
            *ledger.lengths(min(x, table.width_mm - x), min(y, table.length_mm - y)),
        )


def talking(ledger: Ledger, each, pot) -> None:
    """Why a lane runs as it does."""
    if math.isnan(each.spin_ratio_on_arrival):
        ledger.known(f"{each.label} does not come to the contact position")
        return
    pattern = rf"(?<!\w){each.label} arrives (?:with(?:out)? [\w ]+|rolling) at {REAL} m/s"
    values = [(each.arrival_speed_m_s, TENTH)]
    if math.isfinite(each.first_angle_deg):
        pattern += rf", leaves {REAL}° from the potting line"
        values.append((each.first_angle_deg, WHOLE))
    if each.bend_end_mm is not None:
        bend = math.dist(tuple(each.path_mm[0]), each.bend_end_mm)
        if bend > 1.0:
            pattern += rf", the spin has taken hold {ledger.with_unit()} on"
            values += ledger.lengths(bend)
    ledger.fact(pattern, *values)
    if pot is not None and math.isfinite(each.final_direction_deg):
        (ax, ay), (bx, by) = pot.ninety_line_mm
        off = each.final_direction_deg - math.degrees(math.atan2(by - ay, bx - ax))
        off = abs((off + 180.0) % 360.0 - 180.0)
        if off >= WHOLE:
            told = rf"runs {REAL}° (?:forward of|behind) the 90-degree line"
            ledger.fact(told, (off, WHOLE))


def tips(ledger: Ledger, routine, shot) -> None:
    """The labels of the tip heights on the ball's face."""
    radius = conditions_of(routine).ball_radius_mm
    for each in shot.lanes:
        figure = r"([+−]\d+|0)"
        ledger.fact(rf"(?<!\w){each.label} {figure}", (each.tip_height * radius, WHOLE))


def gap(ledger: Ledger, routine, verdict, number: int) -> None:
    """One gap's number and width, the strike that forgives most and the chances."""
    titles = {each.id: gap_name(routine, each) for each in routine.gaps}
    title = re.escape(titles[verdict.gap])
    if math.isfinite(verdict.width_mm) and verdict.width_mm > 0:
        ledger.fact(rf"{REAL}\. {title} \({ledger.with_unit()} wide\)", (number, 0.0),
                    *ledger.lengths(verdict.width_mm))  # fmt: skip
    else:
        ledger.fact(rf"{REAL}\. {title}", (number, 0.0))
    if verdict.slivers:
        told = rf"{REAL} windows? (?:is|are) left out: too thin"
        ledger.fact(told, (verdict.slivers, 0.0))
    choice = verdict.choice
    if choice is None:
        return
    wording = Wording(routine, ledger.unit)
    told = "; ".join(forgiven(wording, choice))
    ledger.known(f"It forgives, each alone: {told}.")
    assert told.count(";") == 3
    if choice.chances:
        each = rf" (?:over |under )?{REAL} in 10"
        told = ", ".join(re.escape(name) + each for name, *_ in choice.chances)
        ledger.fact(rf"guess\): {told}", *(_tenths(one[1]) for one in choice.chances))


def _tenths(chance: float) -> tuple[float, float]:
    """A chance in tenths, and how near its figure is; always and never are told with a word."""
    if 0.95 <= chance < 1.0:
        return 9.0, 0.0
    return (1.0, 0.0) if 0.0 < chance < 0.05 else (10.0 * chance, WHOLE)
