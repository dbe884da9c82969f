"""What is wrong with a routine as it stands, told all at once and without raising.

A routine may be unfinished or unplayable and still be saved; these are the things a coach
has to see to before it can be played as it stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import suppress
from itertools import combinations

from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.results import Problem
from engine.routine.context import conditions_of, table_of
from engine.routine.rules import breaches
from engine.routine.values import Claim, Gap, Routine, Shot
from engine.tables.bed import bed_of, pocket_holding
from engine.tables.model import Table

#: Balls nearer than touching by less than this are taken as touching.
TOUCHING_MM = 0.01
#: A face, an edge or an area may lie this far off the bed before it is told.
_ON_EDGE_MM = 1e-6

#: What each kind of claim must name.
CLAIM_NEEDS: dict[str, tuple[str, ...]] = {
    "pot-on": ("shot",),
    "pot-off": ("shot",),
    "lane-clears": ("shot", "lane"),
    "lane-contacts": ("shot", "lane", "ball"),
    "lane-threads": ("shot", "lane", "gap"),
    "gap-reachable": ("shot", "gap"),
    "gap-unreachable": ("shot", "gap"),
}

_KIND_OF_PART = {"table": "table", "pocket_openings_mm": "table", "conditions": "conditions"}


def problems_of(routine: Routine) -> tuple[Problem, ...]:
    """Every problem of a routine, of balls first, then shots, gaps and claims; () if none.

    Kinds: rule, table, conditions, no-cue-ball, overlap, off-bed, in-pocket, no-object-ball,
    no-pocket, no-lanes, gap-incomplete, gap-off-bed, claim-incomplete.

    >>> [problem.kind for problem in problems_of(Routine())]
    ['no-cue-ball']
    """
    return tuple(_all(routine))


def _all(routine: Routine) -> Iterator[Problem]:
    for breach in breaches(routine):
        part = breach.path.partition(".")[0].partition("[")[0]
        kind = _KIND_OF_PART.get(part, "rule")
        yield Problem(kind, f"{breach.what} {breach.message}.")
    # What keeps a table or conditions from being made has been told just now.
    table, conditions = None, Conditions()
    with suppress(BaizewrightError):
        table = table_of(routine)
    with suppress(BaizewrightError):
        conditions = conditions_of(routine)
    yield from _ball_problems(routine, table, conditions)
    for shot in routine.shots:
        yield from _shot_problems(shot, table)
    for gap in routine.gaps:
        yield from _gap_problems(routine, gap, table)
    for index, claim in enumerate(routine.claims):
        yield from _claim_problems(claim, index)


def _ball_problems(
    routine: Routine, table: Table | None, conditions: Conditions
) -> Iterator[Problem]:
    if routine.cue_ball is None:
        yield Problem("no-cue-ball", "There is no cue ball: place one.")
    for a, b in combinations(routine.balls, 2):
        over = conditions.touch_of(a, b) - math.dist(a.centre_mm, b.centre_mm)
        if over > TOUCHING_MM:
            text = f"{a.id} and {b.id} overlap by {over:.2f} mm: move one of them away."
            yield Problem("overlap", text, balls=(a.id, b.id))
    if table is None:
        return
    for ball in routine.balls:
        radius_mm = conditions.radius_of(ball)
        bed = bed_of(table, radius_mm)
        pocket = pocket_holding(table, ball.centre_mm)
        if pocket is not None:
            text = f"{ball.id} lies in the {pocket.title}: move it onto the bed."
            yield Problem("in-pocket", text, balls=(ball.id,))
        elif not bed.allows(ball.centre_mm, slack_mm=TOUCHING_MM):
            text = (
                f"{ball.id} at ({ball.x_mm:g}, {ball.y_mm:g}) mm is not on the bed: its centre "
                f"must keep {radius_mm:g} mm from each cushion face."
            )
            yield Problem("off-bed", text, balls=(ball.id,))


def _shot_problems(shot: Shot, table: Table | None) -> Iterator[Problem]:
    aimed = shot.aim_deg is not None
    if not aimed and table is not None and not table.pockets:
        text = f"Shot {shot.id} can pot nothing on a table without pockets: give it a direction."
        yield Problem("no-pocket", text, shot=shot.id)
        aimed = True
    if not aimed and not shot.object_ball:
        text = f"Shot {shot.id} has no object ball: pick one."
        yield Problem("no-object-ball", text, shot=shot.id)
    if not aimed and not shot.pocket:
        text = f"Shot {shot.id} has no pocket: pick one."
        yield Problem("no-pocket", text, shot=shot.id)
    if not shot.lanes:
        text = f"Shot {shot.id} asks for no lane: add one."
        yield Problem("no-lanes", text, shot=shot.id)


def _gap_problems(routine: Routine, gap: Gap, table: Table | None) -> Iterator[Problem]:
    wanted = _missing_of_gap(routine, gap)
    if wanted:
        yield Problem(
            "gap-incomplete", f"Gap {gap.id} needs {wanted}.", balls=gap.balls, gap=gap.id
        )
    elif table is not None and _gap_off_bed(gap, table):
        text = f"Gap {gap.id} reaches off the bed: keep it within the cushion faces."
        yield Problem("gap-off-bed", text, gap=gap.id)


def _missing_of_gap(routine: Routine, gap: Gap) -> str:
    """What a gap of that kind still needs, in words; "" if nothing."""
    cue = routine.cue_ball
    count = {"ball-ball": 2, "ball-cushion": 1, "cannon": 1}.get(gap.kind, 0)
    if count and cue is not None and cue.id in gap.balls:
        return "balls other than the cue ball"
    if len(set(gap.balls)) < count or (count == 1 and len(gap.balls) > 1):
        return "two different balls" if count == 2 else "one ball"
    if gap.kind in ("ball-cushion", "cushion-stretch") and not gap.cushion:
        return "a cushion"
    if gap.kind == "cushion-stretch" and (gap.from_mm is None or gap.to_mm is None):
        return "both ends of its stretch, from_mm and to_mm"
    if gap.kind == "cushion-stretch" and gap.from_mm == gap.to_mm:
        return "two different ends, from_mm and to_mm"
    if gap.kind == "cloth-area" and not _is_area(gap.points_mm):
        return "at least three corners round an area"
    return ""


def _is_area(points: tuple[tuple[float, float], ...]) -> bool:
    """Whether the corners bound anything (shoelace formula)."""
    if len(points) < 3:
        return False
    ends = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in ends)) > 1.0


def _gap_off_bed(gap: Gap, table: Table) -> bool:
    low, high = -_ON_EDGE_MM, _ON_EDGE_MM
    if gap.kind == "cushion-stretch" and gap.from_mm is not None and gap.to_mm is not None:
        size = table.length_mm if gap.cushion in ("left", "right") else table.width_mm
        return not all(low <= end <= size + high for end in (gap.from_mm, gap.to_mm))
    return gap.kind == "cloth-area" and not all(
        low <= x <= table.width_mm + high and low <= y <= table.length_mm + high
        for x, y in gap.points_mm
    )


def _claim_problems(claim: Claim, index: int) -> Iterator[Problem]:
    needs = CLAIM_NEEDS.get(claim.kind, ())
    missing = [need for need in needs if not getattr(claim, need)]
    if missing:
        text = f"Claim {index + 1} ({claim.kind}) does not say which {' and which '.join(missing)}."
        yield Problem("claim-incomplete", text, shot=claim.shot, gap=claim.gap, claim=index)
