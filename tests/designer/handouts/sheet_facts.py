"""What each kind of sheet says of a routine, as facts to read off in a ledger."""

from __future__ import annotations

import math
import re

from designer.texts import tr
from designer.words.facts import facts
from designer.words.figures import sentence
from designer.words.in_short import claim_in_short, gap_line
from designer.words.names import gap_name, printed_letters
from designer.words.pots import pot_lines
from designer.words.strikes import STRIKE_NAMES
from designer.words.telling import words_of
from designer.words.wording import Wording
from engine.placement import checking_distances, set_up_order, touching_balls
from engine.routine.context import conditions_of, table_of
from engine.routine.identity import revision_of
from tests.designer.handouts.ledger import REAL, Ledger

#: Shares of the ball that have a name.
NAMED = (1.0, 0.75, 0.5, 0.25)
TENTH, HUNDREDTH, WHOLE, HALF_PACE = 0.0501, 0.005, 0.5, 0.25


def frame(ledger: Ledger, routine, answer, pages: int) -> None:
    """Heads and feet, and the texts that do not depend on the routine."""
    ledger.known(f"engine {answer.engine_version}", f"{tr(table_of(routine).title)} · usual cloth")
    ledger.known(f"revision {revision_of(routine)}")
    ledger.fact(r"(\d{4})-(\d\d)-(\d\d)", *((one, 0.0) for one in ledger.day))
    day = "-".join(f"{one:02}" for one in ledger.day)
    ledger.perhaps(day)
    for page in range(1, pages + 1):
        ledger.known(f"page {page} of {pages}")
    ledger.known(f"level {routine.level} of 5")
    ledger.perhaps("90-degree line:", "runs along the 90-degree line", "3 times in 5")
    ledger.perhaps("inches to 1/16", "under 18", "500 mm on the table",
                   '20" on the table')  # fmt: skip
    count = len(routine.shots)
    if count == 1:
        ledger.perhaps("Shot 1")
    for number in range(1, count + 1):
        ledger.perhaps(f"Shot {number} of {count}", f"shot {number} of {count}")


def own_texts(ledger: Ledger, routine, answer, *, coach: bool) -> None:
    """What the coach wrote and the engine's own sentences, word for word."""
    if coach:
        wording = Wording(routine, ledger.unit)
        said = words_of(wording)
        ledger.known(routine.notes, *(shot.note for shot in routine.shots))
        ledger.known(*(shot.answer for shot in routine.shots))
        for result in answer.claims:
            claimed = routine.claims[result.index]
            short = claim_in_short(wording, claimed, result.holds)
            ledger.known(f"{short.told}, {short.beside}" if short.beside else short.told)
            ledger.known("" if result.holds else said(result))
        ledger.known(*(sentence(said(p.fact)) for p in answer.problems))
        for shot in answer.shots:
            if shot.cannot_be_played:
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
                rf"(?<!\w){letter}: {ledger.length} edge {ledger.length}(?!\w)",
                *ledger.lengths(reading.centre_mm, reading.edge_mm),
            )


def readings_in_table(ledger: Ledger, routine, answer, tolerances=None) -> None:
    """The table of readings, in set-up order, with checks and tolerances."""
    letters, length = printed_letters(routine), ledger.length
    places = {place.ball: place for place in answer.placements}
    checks = {check.ball: check for check in checking_distances(routine)}
    touching = touching_balls(routine)
    for number, ball in enumerate(set_up_order(routine), start=1):
        place = places[ball]
        pattern = rf"(?<!\w){number} {re.escape(letters[ball])} "
        values = []
        if place.spot:
            one, other = place.across, place.along
            pattern += rf"on the {place.spot} spot {length} from {one.cushion}, {length} from "
            pattern += rf"{other.cushion} "
            values += [one.centre_mm, other.centre_mm]
        else:
            for reading in (place.across, place.along):
                pattern += rf"{length} from {reading.cushion} edge {length} "
                values += [reading.centre_mm, reading.edge_mm]
        if tolerances:
            step = ledger.mm / 16.0 if ledger.unit == "inch" else 1.0
            pattern += rf"± (?:≥ )?{length} "
            values.append(math.floor(tolerances[ball] / step) * step)  # told rounded down
        check = checks.get(ball)
        if ball in touching:
            pattern += "touching "
        elif check is not None:
            name = re.escape(letters[check.to]) if check.kind == "ball" else f"{check.to} spot"
            pattern += rf"check to {name}: {length}, edge {length} "
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
    if 0.0 < found.cut_deg < WHOLE:
        ledger.known("cut under 1°")
    else:
        ledger.fact(rf"cut {REAL}°", (found.cut_deg, WHOLE))


def cut_of(ledger: Ledger, found) -> None:
    """The cut to the degree, and the figure of the fullness where no name is near."""
    if found.cut_deg >= 90.0:
        return
    if not found.cut_side or found.cut_deg < WHOLE:
        ledger.known("Straight, full ball")
        return
    near = min((1.0, 0.75, 0.5, 0.25), key=lambda at: abs(at - found.fullness))
    pattern, values = rf"Cut {REAL}° to the {found.cut_side}, ", [(found.cut_deg, WHOLE)]
    if abs(near - found.fullness) > 0.05:
        pattern += rf"[\w -]+, {REAL} of the ball"
        values.append((found.fullness, HUNDREDTH))
    ledger.fact(pattern, *values)


def left_out(ledger: Ledger, routine, shot) -> None:
    """Why a shot cannot be played, or one of its lanes or gaps."""
    ledger.known(sentence(facts(Wording(routine, ledger.unit), shot.refusals)))


def refused(ledger: Ledger, routine, shot, verdicts) -> None:
    """The pot of a shot that cannot be played, and its gaps with the same reason."""
    wording = Wording(routine, ledger.unit)
    if shot.pot is not None:
        ledger.perhaps(*pot_lines(wording, shot.pot))
    for verdict in verdicts:
        gap(ledger, routine, shot, verdict)


def strike_pattern(lane, conditions) -> tuple[str, list[tuple[float, float]]]:
    """How a lane is struck, as printed at length."""
    pattern, values = tip_pattern(lane.tip_height, conditions, " centre")
    pattern += rf",? pace {REAL}, {REAL} m/s"
    return pattern, [*values, (lane.pace, HALF_PACE), (lane.speed_m_s, TENTH)]


def tip_pattern(tip: float, conditions, after: str = "") -> tuple[str, list[tuple[float, float]]]:
    """Where the tip meets the ball, as printed."""
    height = tip * conditions.cue_radius_mm
    if abs(height) < WHOLE:
        return "centre", []
    return rf"{REAL} mm {'above' if height > 0 else 'below'}{after}", [(abs(height), WHOLE)]


def lane(ledger: Ledger, routine, shot, each) -> None:
    """One row of the lanes: strike and verdict."""
    conditions = conditions_of(routine)
    tip, values = tip_pattern(each.tip_height, conditions)
    name = each.title or tr(STRIKE_NAMES.get(each.strike_name, each.strike_name))
    pattern = rf"(?<!\w){each.label} {re.escape(name)} {tip}, pace {REAL}"
    values = [*values, (each.pace, HALF_PACE)]
    if each.side:
        pattern += rf", {REAL} mm (?:right|left) side"
        values.append((abs(each.side) * conditions.cue_radius_mm, WHOLE))
    told, more = verdict_of(ledger, routine, shot, each)
    ledger.fact(f"{pattern} {told}", *values, *more)


def verdict_of(ledger: Ledger, routine, shot, each) -> tuple[str, list[tuple[float, float]]]:
    """A lane's verdict in a line: the pattern and its figures."""
    length = ledger.with_unit()
    if len(each.path_mm) < 2 and each.contact is None:
        return "✗ stops short", []
    touched = [c for c in each.clearances if c.clearance_mm < 0]
    if touched:
        first = min(touched, key=lambda c: (c.after_cushions, c.clearance_mm))
        told = rf"✗ touches {re.escape(printed_letters(routine)[first.ball])} by "
        return room_of(ledger, told, length, -first.clearance_mm, len(touched) - 1)
    if each.in_off:
        return "✗ goes in-off", []
    through = [p.margin_mm for p in shot.passes if p.lane == each.label and p.threads]
    if through:
        return room_of(ledger, "✓ goes through, ", length, min(through))
    rooms = [c.clearance_mm for c in each.clearances]
    return room_of(ledger, "✓ clear, ", length, min(rooms)) if rooms else ("✓ clear", [])


def room_of(ledger: Ledger, told: str, length: str, mm: float, more: int = 0):
    """A room that is there is never told as none."""
    if mm / ledger.mm < ledger.half:
        told, values = rf"{told}under (?:1 mm|1/16\")", []
    else:
        told, values = told + length, ledger.lengths(mm)
    if more:
        told, values = rf"{told}, {REAL} more", [*values, (more, 0.0)]
    return told, values


def run(ledger: Ledger, routine, each, pot) -> None:
    """How a lane runs and why, first cushion, where it stops."""
    if math.isnan(each.spin_ratio_on_arrival):
        ledger.known(f"{each.label} does not come to the contact position")
    else:
        pattern = rf"(?<!\w){each.label} arrives (?:with(?:out)? [\w ]+|rolling) at {REAL} m/s"
        values = [(each.arrival_speed_m_s, TENTH)]
        if each.bend_end_mm is not None:
            bend = math.dist(tuple(each.path_mm[0]), each.bend_end_mm)
            if bend > 1.0:
                pattern += rf"; the spin has taken hold {ledger.with_unit()} on"
                values += ledger.lengths(bend)
        ledger.fact(pattern, *values)
        if pot is not None and math.isfinite(each.final_direction_deg):
            (ax, ay), (bx, by) = pot.ninety_line_mm
            off = each.final_direction_deg - math.degrees(math.atan2(by - ay, bx - ax))
            off = abs((off + 180.0) % 360.0 - 180.0)
            if off >= WHOLE:
                told = rf"runs {REAL}° (?:forward of|behind) the 90-degree line"
                ledger.fact(told, (off, WHOLE))
    _ending(ledger, routine, each)


def _ending(ledger: Ledger, routine, each) -> None:
    table, length = table_of(routine), ledger.with_unit()
    touched = [one for one in each.clearances if one.clearance_mm < 0]
    if each.first_cushion_mm is not None and all(one.after_cushions for one in touched):
        side = each.first_cushion in ("left", "right")
        size = table.length_mm if side else table.width_mm
        along = each.first_cushion_mm[1 if side else 0]
        ledger.fact(
            rf"first cushion: {each.first_cushion} cushion, {length} from the \w+",
            *ledger.lengths(min(along, size - along)),
        )
    stops, told = each.stops_mm, "stops"
    if touched:
        cue = next(ball.id for ball in routine.balls if ball.is_cue)
        stops, told = dict(each.rests).get(cue, each.stops_mm), "after the touch stops"
    if not each.in_off and stops is not None:
        x, y = stops
        ledger.fact(
            rf"{told} {length} from \w+, {length} from \w+",
            *ledger.lengths(min(x, table.width_mm - x), min(y, table.length_mm - y)),
        )


def gap(ledger: Ledger, routine, shot, verdict) -> None:
    """One gap: its width, who goes through or what would, the strike that forgives most."""
    wording = Wording(routine, ledger.unit)
    one = next(each for each in routine.gaps if each.id == verdict.gap)
    title, length = re.escape(gap_name(routine, one)), ledger.with_unit()
    pattern, values = title, []
    if math.isfinite(verdict.width_mm) and verdict.width_mm > 0:
        pattern += rf" \({length} wide\)"
        values += ledger.lengths(verdict.width_mm)
    ledger.fact(rf"[✓✗?] {pattern}:", *values)
    threads = [p for p in shot.passes if p.gap == one.id and p.threads]
    choice = verdict.choice
    if not threads and not verdict.reachable:
        short = gap_line(wording, one, verdict, shot.passes)
        ledger.known(short.told)
        if verdict.nearest_miss_mm is not None and not verdict.slivers:
            ledger.fact(*_packed(room_of(ledger, "misses by ", length, verdict.nearest_miss_mm)))
        return
    if threads:
        names = " and ".join(p.lane for p in sorted(threads, key=lambda p: p.lane))
        told, values = room_of(ledger, "", length, min(p.margin_mm for p in threads))
        ledger.fact(rf"{names} (?:goes|go) through, {told} to spare", *values)
    best = choice or verdict.best
    if best is not None:
        tip, values = tip_pattern(best.tip_height, conditions_of(routine), " centre")
        speed = float(conditions_of(routine).speed_mm_s(best.pace, best.tip_height)) / 1000.0
        ledger.fact(rf"tip {tip}, pace {REAL} \({REAL} m/s\)", *values, (best.pace, HALF_PACE),
                    (speed, TENTH))  # fmt: skip
        if threads:
            ledger.fact(*_packed(room_of(ledger, ", ", length, best.margin_mm)))
    shares = (
        [] if choice is None else [s for name, s, *_ in choice.chances if name == choice.player]
    )
    if shares:
        told = rf"{re.escape(choice.player)}, (?:over |under )?{REAL} in 10"
        ledger.fact(told, _tenths(shares[0]))


def _packed(found) -> tuple:
    told, values = found
    return (told, *values)


def _tenths(chance: float) -> tuple[float, float]:
    """A chance in tenths, and how near its figure is; always and never are told with a word."""
    if 0.95 <= chance < 1.0:
        return 9.0, 0.0
    return (1.0, 0.0) if 0.0 < chance < 0.05 else (10.0 * chance, WHOLE)
