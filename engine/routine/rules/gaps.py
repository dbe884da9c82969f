"""Rules for gaps and claims: known kinds, names that exist, numbers that are numbers."""

from __future__ import annotations

from collections.abc import Iterator

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import listed, short
from engine.routine.rules.breach import Breach, Names, names_once, number, shown, unknown
from engine.routine.rules.setup import FARTHEST_MM
from engine.routine.values import CLAIM_KINDS, GAP_KINDS, Claim, Gap, Routine
from engine.tables import CUSHIONS

GAP_SIDES: tuple[str, ...] = ("left", "right", "either")


def gap_breaches(routine: Routine) -> Iterator[Breach]:
    """Gaps have names of their own and known kinds; what they name exists."""
    yield from names_once("gaps", "id", "gap id", [gap.id for gap in routine.gaps])
    balls = Names(ball.id for ball in routine.balls)
    plain = Names(gap.id for gap in routine.gaps if gap.kind != "in-order")
    for index, gap in enumerate(routine.gaps):
        path, called = f"gaps[{index}]", short(gap.id)
        yield from _choice(f"{path}.kind", f"kind of gap {called}", gap.kind, GAP_KINDS)
        for place, name in enumerate(gap.balls):
            if name not in balls:
                where, what = f"{path}.balls[{place}]", f"ball of gap {called}"
                yield unknown(where, what, name, balls, "the id of a ball", refers="balls")
        # An in-order gap names gaps that exist and are not in-order themselves.
        for place, name in enumerate(gap.gaps):
            if name not in plain:
                where, what = f"{path}.gaps[{place}]", f"part of gap {called}"
                wanted = "the id of a gap that is not in-order itself"
                yield unknown(where, what, name, plain, wanted, refers="gaps")
        if gap.cushion:
            yield from _choice(f"{path}.cushion", f"cushion of gap {called}", gap.cushion, CUSHIONS)
        yield from _choice(f"{path}.side", f"side of gap {called}", gap.side, GAP_SIDES)
        yield from _gap_numbers(gap, path, called)


def _gap_numbers(gap: Gap, path: str, called: str) -> Iterator[Breach]:
    for key, value in (("from_mm", gap.from_mm), ("to_mm", gap.to_mm)):
        what = f"{key} of gap {called}"
        yield from number(f"{path}.{key}", what, value, -FARTHEST_MM, FARTHEST_MM, "mm")
    for place, point in enumerate(gap.points_mm):
        for axis, value in enumerate(point):
            where, what = f"{path}.points_mm[{place}][{axis}]", f"point {place + 1} of gap {called}"
            yield from number(where, what, value, -FARTHEST_MM, FARTHEST_MM, "mm")


def claim_breaches(routine: Routine) -> Iterator[Breach]:
    """Claims have known kinds, and the shot, lane, ball and gap they name exist."""
    families = (
        ("shot", Names(shot.id for shot in routine.shots)),
        ("ball", Names(ball.id for ball in routine.balls)),
        ("gap", Names(gap.id for gap in routine.gaps)),
    )
    lanes = {shot.id: Names(lane.label for lane in shot.lanes) for shot in reversed(routine.shots)}
    for index, claim in enumerate(routine.claims):
        path, whose = f"claims[{index}]", f"claim {index + 1}"
        yield from _choice(f"{path}.kind", f"kind of {whose}", claim.kind, CLAIM_KINDS)
        for key, known in families:
            name, wanted = getattr(claim, key), f"the id of a {key}"
            if name and name not in known:
                yield unknown(f"{path}.{key}", f"{key} of {whose}", name, known, wanted, f"{key}s")
        labels = lanes.get(claim.shot)
        for key in ("lane", "other"):
            label = getattr(claim, key)
            if label and labels is not None and label not in labels:
                wanted = f"a lane of shot {short(claim.shot)}"
                yield unknown(
                    f"{path}.{key}", f"{key} of {whose}", label, labels, wanted, refers="shots"
                )
        yield from _claim_numbers(claim, path, whose)


def _claim_numbers(claim: Claim, path: str, whose: str) -> Iterator[Breach]:
    margin = f"margin of {whose}"
    yield from number(f"{path}.margin_mm", margin, claim.margin_mm, -FARTHEST_MM, FARTHEST_MM, "mm")
    yield from number(f"{path}.within_deg", f"degrees of {whose}", claim.within_deg, 0.0, 180.0)
    yield from _choice(f"{path}.side", f"side of {whose}", claim.side, ("", "left", "right"))
    low, high = claim.pace_min, claim.pace_max
    for key, value in (("pace_min", low), ("pace_max", high)):
        yield from number(f"{path}.{key}", f"{key} of {whose}", value, PACE_LOWEST, PACE_HIGHEST)
    if low is not None and high is not None and PACE_LOWEST <= high < low <= PACE_HIGHEST:
        wanted = f"at least pace_min, which is {low:g}"
        yield Breach(f"{path}.pace_max", f"pace_max of {whose}", shown(high), wanted)


def _choice(path: str, what: str, value: str, known: tuple[str, ...]) -> Iterator[Breach]:
    if value not in known:
        yield Breach(path, what, shown(value), f"one of {listed(known)}")
