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
from engine.errors import BaizewrightError, OutOfRangeError
from engine.results import Fact, Problem
from engine.routine.context import conditions_of, table_of
from engine.routine.rules import breaches
from engine.routine.rules.breach import sentence
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
        advice = sentence(breach.advice)
        error = OutOfRangeError(breach.what, breach.got, breach.wanted, advice)
        yield Problem(kind, Fact("refused", error=error))
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
        yield Problem("no-cue-ball", Fact("no-cue-ball"))
    for a, b in combinations(routine.balls, 2):
        over = conditions.touch_of(a, b) - math.dist(a.centre_mm, b.centre_mm)
        if over > TOUCHING_MM:
            fact = Fact("balls-overlap", ball=a.id, other=b.id, mm=over)
            yield Problem("overlap", fact, balls=(a.id, b.id))
    if table is None:
        return
    for ball in routine.balls:
        radius_mm = conditions.radius_of(ball)
        bed = bed_of(table, radius_mm)
        pocket = pocket_holding(table, ball.centre_mm)
        if pocket is not None:
            fact = Fact("lies-in-pocket", ball=ball.id, pocket=pocket.id)
            yield Problem("in-pocket", fact, balls=(ball.id,))
        elif not bed.allows(ball.centre_mm, slack_mm=TOUCHING_MM):
            fact = Fact("off-bed", ball=ball.id, mm=radius_mm)
            yield Problem("off-bed", fact, balls=(ball.id,))


def _shot_problems(shot: Shot, table: Table | None) -> Iterator[Problem]:
    aimed = shot.aim_deg is not None
    if not aimed and table is not None and not table.pockets:
        yield _of_shot("no-pocket", shot, "shot-pots-nothing")
        aimed = True
    if not aimed and not shot.object_ball:
        yield _of_shot("no-object-ball", shot, "no-object-ball")
    if not aimed and not shot.pocket:
        yield _of_shot("no-pocket", shot, "no-pocket")
    if not shot.lanes:
        yield _of_shot("no-lanes", shot, "asks-for-no-lane")


def _of_shot(kind: str, shot: Shot, fact: str) -> Problem:
    return Problem(kind, Fact(fact, shot=shot.id), shot=shot.id)


def _gap_problems(routine: Routine, gap: Gap, table: Table | None) -> Iterator[Problem]:
    wanted = _missing_of_gap(routine, gap)
    if wanted:
        yield Problem("gap-incomplete", Fact(wanted, gap=gap.id), balls=gap.balls, gap=gap.id)
    elif table is not None and _gap_off_bed(gap, table):
        yield Problem("gap-off-bed", Fact("gap-off-bed", gap=gap.id), gap=gap.id)


def _missing_of_gap(routine: Routine, gap: Gap) -> str:
    """What a gap of that kind still needs, as a kind of fact; "" if nothing."""
    cue = routine.cue_ball
    count = {"ball-ball": 2, "ball-cushion": 1, "cannon": 1}.get(gap.kind, 0)
    if count and cue is not None and cue.id in gap.balls:
        return "gap-needs-other-balls"
    if len(set(gap.balls)) < count or (count == 1 and len(gap.balls) > 1):
        return "gap-needs-two-balls" if count == 2 else "gap-needs-one-ball"
    if gap.kind in ("ball-cushion", "cushion-stretch") and not gap.cushion:
        return "gap-needs-cushion"
    if gap.kind == "cushion-stretch" and (gap.from_mm is None or gap.to_mm is None):
        return "gap-needs-both-ends"
    if gap.kind == "cushion-stretch" and gap.from_mm == gap.to_mm:
        return "gap-needs-two-ends"
    if gap.kind == "cloth-area" and not _is_area(gap.points_mm):
        return "gap-needs-corners"
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
        fact = Fact("claim-incomplete", count=index + 1, names=tuple(missing))
        yield Problem("claim-incomplete", fact, shot=claim.shot, gap=claim.gap, claim=index)
