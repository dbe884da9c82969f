"""Rules for gaps and claims: known kinds, names that exist, numbers that are numbers."""

from __future__ import annotations

from collections.abc import Iterator

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.routine.rules.breach import Breach, listed, names_once, number, shown, unknown
from engine.routine.rules.setup import FARTHEST_MM
from engine.routine.values import CLAIM_KINDS, GAP_KINDS, Claim, Gap, Routine
from engine.tables import CUSHIONS

GAP_SIDES: tuple[str, ...] = ("left", "right", "either")


def gap_breaches(routine: Routine) -> Iterator[Breach]:
    """Gaps have names of their own and known kinds; what they name exists."""
    yield from names_once("gaps", "id", "gap id", [gap.id for gap in routine.gaps])
    ids = [ball.id for ball in routine.balls]
    for index, gap in enumerate(routine.gaps):
        path = f"gaps[{index}]"
        yield from _choice(f"{path}.kind", f"kind of gap {gap.id}", gap.kind, GAP_KINDS)
        for place, name in enumerate(gap.balls):
            if name not in ids:
                yield unknown(
                    f"{path}.balls[{place}]",
                    f"ball of gap {gap.id}",
                    name,
                    ids,
                    "the id of a ball",
                    refers="balls",
                )
        yield from _gap_order(routine, gap, path)
        if gap.cushion:
            yield from _choice(f"{path}.cushion", f"cushion of gap {gap.id}", gap.cushion, CUSHIONS)
        yield from _choice(f"{path}.side", f"side of gap {gap.id}", gap.side, GAP_SIDES)
        yield from _gap_numbers(gap, path)


def _gap_order(routine: Routine, gap: Gap, path: str) -> Iterator[Breach]:
    """An in-order gap names gaps that exist and are not in-order themselves."""
    plain = [one.id for one in routine.gaps if one.kind != "in-order"]
    for place, name in enumerate(gap.gaps):
        if name not in plain:
            yield unknown(
                f"{path}.gaps[{place}]",
                f"part of gap {gap.id}",
                name,
                plain,
                "the id of a gap that is not in-order itself",
                refers="gaps",
            )


def _gap_numbers(gap: Gap, path: str) -> Iterator[Breach]:
    for key, value in (("from_mm", gap.from_mm), ("to_mm", gap.to_mm)):
        what = f"{key} of gap {gap.id}"
        yield from number(f"{path}.{key}", what, value, -FARTHEST_MM, FARTHEST_MM, "mm")
    for place, point in enumerate(gap.points_mm):
        for axis, value in enumerate(point):
            where, what = f"{path}.points_mm[{place}][{axis}]", f"point {place + 1} of gap {gap.id}"
            yield from number(where, what, value, -FARTHEST_MM, FARTHEST_MM, "mm")


def claim_breaches(routine: Routine) -> Iterator[Breach]:
    """Claims have known kinds, and the shot, lane, ball and gap they name exist."""
    for index, claim in enumerate(routine.claims):
        path = f"claims[{index}]"
        yield from _choice(f"{path}.kind", f"kind of claim {index + 1}", claim.kind, CLAIM_KINDS)
        yield from _claim_names(routine, claim, path, f"claim {index + 1}")
        yield from _claim_numbers(claim, path, f"claim {index + 1}")


def _claim_names(routine: Routine, claim: Claim, path: str, whose: str) -> Iterator[Breach]:
    families = (
        ("shot", claim.shot, [shot.id for shot in routine.shots], "the id of a shot", "shots"),
        ("ball", claim.ball, [ball.id for ball in routine.balls], "the id of a ball", "balls"),
        ("gap", claim.gap, [gap.id for gap in routine.gaps], "the id of a gap", "gaps"),
    )
    for key, name, known, wanted, family in families:
        if name and name not in known:
            yield unknown(f"{path}.{key}", f"{key} of {whose}", name, known, wanted, family)
    shot = next((shot for shot in routine.shots if shot.id == claim.shot), None)
    if claim.lane and shot is not None:
        labels = [lane.label for lane in shot.lanes]
        if claim.lane not in labels:
            yield unknown(
                f"{path}.lane",
                f"lane of {whose}",
                claim.lane,
                labels,
                f"a lane of shot {shot.id}",
                refers="shots",
            )


def _claim_numbers(claim: Claim, path: str, whose: str) -> Iterator[Breach]:
    margin = f"margin of {whose}"
    yield from number(f"{path}.margin_mm", margin, claim.margin_mm, -FARTHEST_MM, FARTHEST_MM, "mm")
    low, high = claim.pace_min, claim.pace_max
    for key, value in (("pace_min", low), ("pace_max", high)):
        yield from number(f"{path}.{key}", f"{key} of {whose}", value, PACE_LOWEST, PACE_HIGHEST)
    if low is not None and high is not None and PACE_LOWEST <= high < low <= PACE_HIGHEST:
        wanted = f"at least pace_min, which is {low:g}"
        yield Breach(f"{path}.pace_max", f"pace_max of {whose}", shown(high), wanted)


def _choice(path: str, what: str, value: str, known: tuple[str, ...]) -> Iterator[Breach]:
    if value not in known:
        yield Breach(path, what, shown(value), f"one of {listed(known)}")
