"""What each kind of sheet says of a routine, as facts to read off in a ledger."""

from __future__ import annotations

import math
import re
from functools import partial

from designer.words.in_names import in_names
from designer.words.names import ball_names, gap_name, printed_letters
from engine.placement import checking_distances, set_up_order
from engine.routine.context import conditions_of, table_of
from tests.designer.handouts.ledger import REAL, Ledger

TENTH, HUNDREDTH, WHOLE = 0.05, 0.005, 0.5


def frame(ledger: Ledger, routine, answer, pages: int) -> None:
    """Heads and feet, and the texts that do not depend on the routine."""
    ledger.known(f"engine {answer.engine_version}")
    for page in range(1, pages + 1):
        ledger.known(f"page {page} of {pages}")
    ledger.known(f"level {routine.level} of 5")
    ledger.perhaps("90-degree line", "nearest 1/16", "under 18", "500 mm on the table",
                   '20" on the table')  # fmt: skip
    count = len(routine.shots)
    for number in range(1, count + 1):
        ledger.perhaps(f"Shot {number} of {count}", f"shot {number} of {count}")


def own_texts(ledger: Ledger, routine, answer, *, coach: bool) -> None:
    """What the coach wrote and the engine's own sentences, word for word."""
    if coach:
        ledger.known(routine.notes, *(shot.note for shot in routine.shots))
        ledger.known(*(shot.answer for shot in routine.shots))
        played = [shot.shot for shot in answer.shots if not shot.refusal]
        said = partial(in_names, routine)
        ledger.known(*(said(v.sentence) for v in answer.verdicts if v.shot in played))
        told = [c for c in answer.claims if routine.claims[c.index].shot in played]
        ledger.known(*(said(c.sentence) for c in told), *(said(c.found) for c in told))
        ledger.known(*(said(p.message) for p in answer.problems))
        for shot in answer.shots:
            if shot.refusal:
                continue
            ledger.known(*(said(c) for lane in shot.lanes for c in lane.cautions))
            if shot.pot is not None:
                ledger.known(*map(said, shot.pot.reasons), said(shot.pot.lowest_tip_reason))
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


def pot(ledger: Ledger, shot) -> None:
    """The pot's cut, fullness and room, and the close-up's figures."""
    found = shot.pot
    if found is None:
        return
    full = (found.fullness * 100.0, WHOLE)
    if found.cut_side:
        ledger.fact(
            rf"cut {REAL}° to the {found.cut_side}, {found.fullness_name} \({REAL} % of the ball\)",
            (found.cut_deg, TENTH), full,
        )  # fmt: skip
    if found.on:
        ledger.fact(rf"the pocket forgives {REAL}° either way", (found.pocket_margin_deg, TENTH))
    ledger.fact(rf"{REAL} % of the ball", full)
    ledger.fact(rf"cut {REAL}°", (found.cut_deg, TENTH))


def refused(ledger: Ledger, routine, shot, verdicts) -> None:
    """A shot that cannot be played: why, its pot, and its gaps with the same reason."""
    ledger.known(shot.refusal)
    found = shot.pot
    if found is not None:
        ledger.perhaps(*found.reasons)
        ledger.fact(
            rf"cut {REAL}° to the {found.cut_side}, {found.fullness_name} \({REAL} % of the ball\)",
            (found.cut_deg, TENTH), (found.fullness * 100.0, WHOLE),
        )  # fmt: skip
    for number, verdict in enumerate(verdicts, start=1):
        gap(ledger, routine, verdict, number)


def strike_pattern(lane, conditions) -> tuple[str, list[tuple[float, float]]]:
    """How a lane is struck, as printed."""
    height = lane.tip_height * conditions.ball_radius_mm
    values: list[tuple[float, float]] = []
    if abs(height) < TENTH:
        pattern = "centre ball"
    else:
        pattern = rf"{REAL} mm {'above' if height > 0 else 'below'} centre, {REAL} % of maximum"
        values += [(abs(height), TENTH),
                   (abs(lane.tip_height) / conditions.tip_limit * 100.0, WHOLE)]  # fmt: skip
    pattern += rf",? pace {REAL}, {REAL} m/s"
    return pattern, [*values, (lane.pace, TENTH), (lane.speed_m_s, HUNDREDTH)]


def lane(ledger: Ledger, routine, each) -> None:
    """One row of the lanes' table: strike, clearances, first cushion, where it stops."""
    table, conditions = table_of(routine), conditions_of(routine)
    pattern, values = strike_pattern(each, conditions)
    ledger.fact(rf"(?<!\w){each.label} {re.escape(each.strike_name)} {pattern}", *values)
    length, names = ledger.with_unit(), ball_names(routine)
    ranked = sorted(each.clearances, key=lambda c: c.clearance_mm)
    near = [c for c in ranked if c.clearance_mm < 150.0][:3] or ranked[:1]
    for clearance in near:
        name = re.escape(names[clearance.ball])
        said = (rf"clears {name} by {length}" if clearance.clearance_mm >= 0
                else rf"touches {name}: short of clearing by {length}")  # fmt: skip
        ledger.fact(said, *ledger.lengths(abs(clearance.clearance_mm)))
    if each.first_cushion and each.first_cushion_mm is not None:
        side = each.first_cushion in ("left", "right")
        size = table.length_mm if side else table.width_mm
        along = each.first_cushion_mm[1 if side else 0]
        ledger.fact(
            rf"first cushion: {each.first_cushion} cushion, {length} from the \w+",
            *ledger.lengths(min(along, size - along)),
        )
    if not each.in_off and each.stops_mm is not None:
        x, y = each.stops_mm
        ledger.fact(
            rf"stops {length} from \w+, {length} from \w+",
            *ledger.lengths(min(x, table.width_mm - x), min(y, table.length_mm - y)),
        )


def talking(ledger: Ledger, each) -> None:
    """Why a lane runs as it does."""
    if math.isnan(each.spin_ratio_on_arrival):
        ledger.known(f"{each.label} does not come to the contact position")
        return
    spin = abs(each.spin_ratio_on_arrival)
    pattern, values = rf"(?<!\w){each.label} arrives ", []
    if spin >= 0.03 and not each.spin_ratio_on_arrival > 0.97:
        pattern += rf"with {REAL} % of a rolling ball’s spin, as \w+"
        values.append((spin * 100.0, WHOLE))
    else:
        pattern += r"(?:without spin|rolling)"
    if math.isfinite(each.first_angle_deg):
        pattern += rf"; leaves {REAL}° from the potting line"
        values.append((each.first_angle_deg, TENTH))
    if each.bend_end_mm is not None:
        bend = math.dist(tuple(each.path_mm[0]), each.bend_end_mm)
        if bend > 1.0:
            pattern += rf"; the spin has taken hold {ledger.with_unit()} on"
            values += ledger.lengths(bend)
    if math.isfinite(each.deflection_deg):
        pattern += rf"; then runs {REAL}° from its line of approach"
        values.append((each.deflection_deg, TENTH))
    ledger.fact(pattern, *values)


def tips(ledger: Ledger, routine, shot) -> None:
    """The labels of the tip heights on the ball's face."""
    radius = conditions_of(routine).ball_radius_mm
    for each in shot.lanes:
        # one decimal is printed: the reader may run the next text on without a space
        figure = r"([+−]\d+\.\d|0\.0)"
        ledger.fact(rf"(?<!\w){each.label} {figure}", (each.tip_height * radius, TENTH))


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
        ledger.fact(rf"{REAL} more windows? (?:is|are) too thin", (verdict.slivers, 0.0))
    choice = verdict.choice
    if choice is None:
        return
    conditions = conditions_of(routine)
    radius = conditions.ball_radius_mm
    height = choice.tip_height * radius
    pattern, values = "Most forgiving: centre ball", []
    if abs(height) >= TENTH:
        side = "above" if height > 0 else "below"
        pattern = rf"Most forgiving: {REAL} mm {side} centre, {REAL} % of maximum"
        values = [(abs(height), TENTH),
                  (abs(choice.tip_height) / conditions.tip_limit * 100.0, WHOLE)]  # fmt: skip

    def least(pair: tuple[float, float], scale: float = 1.0) -> float:
        return min(map(abs, pair)) * scale

    ledger.fact(
        pattern + rf", pace {REAL} \({REAL} m/s\), {ledger.with_unit()} to spare; forgives, each "
        rf"alone, {REAL}° of aim, {REAL} mm of tip height, {REAL} mm of side, {REAL} of pace",
        *values, (choice.pace, TENTH), (choice.speed_m_s, HUNDREDTH),
        *ledger.lengths(choice.margin_mm), (least(choice.aim_deg), HUNDREDTH),
        (least(choice.tip_error, radius), TENTH), (least(choice.side_error, radius), TENTH),
        (least(choice.pace_error), TENTH),
    )  # fmt: skip
    if choice.chances:
        told = ", ".join(rf"{re.escape(name)} {REAL} %" for name, *_ in choice.chances)
        ledger.fact(rf"guess\): {told}", *((c[1] * 100.0, WHOLE) for c in choice.chances))
