"""Routines made by chance but repeatably: titles, balls, pots, lanes, gaps and tags."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

from engine.balls import Ball
from engine.routine.values import STUN, Gap, LaneAsk, Routine, Shot
from engine.storage import dump_routine
from engine.tables import load_table

_WHAT = ("Blue", "Pink", "Black", "Red", "Brown", "Long red", "Thin red", "Cluster", "Yellow")
_WHERE = ("to baulk", "round the table", "off the side cushion", "into the pack", "past the brown")
_COACHES = ("Maren Tolliver", "Edda Quill", "Wren Ashgrove", "Tobias Fennel")
_TAGS = ("warm-up", "break-building", "safety", "juniors", "Tuesday", "left hand")
_KINDS = ("red", "red", "red", "black", "pink", "blue", "brown", "green", "yellow")
_GAP = 60.0


def generated(number: int, seed: int = 8) -> Routine:
    """Routine `number` of the series of a seed."""
    chance = random.Random(seed * 1_000_003 + number)
    table = load_table("snooker-12ft")
    places: list[tuple[float, float]] = []
    count = chance.randint(2, 8)
    while len(places) < count:
        spot = (
            float(chance.randint(40, int(table.width_mm) - 40)),
            float(chance.randint(40, int(table.length_mm) - 40)),
        )
        if all((spot[0] - x) ** 2 + (spot[1] - y) ** 2 > _GAP**2 for x, y in places):
            places.append(spot)
    balls = [Ball("cue", "cue", *places[0])]
    for at, place in enumerate(places[1:], start=1):
        kind = _KINDS[chance.randrange(len(_KINDS))]
        balls.append(Ball(f"ball-{at}", kind, *place))
    lanes = tuple(
        LaneAsk(
            label,
            STUN if chance.random() < 0.2 else round(chance.uniform(-0.48, 0.48), 2),
            round(chance.uniform(2.0, 6.0), 1),
        )
        for label in "ABC"[: chance.randint(1, 3)]
    )
    pocket = table.pockets[chance.randrange(len(table.pockets))].id
    shot = Shot("shot-1", "ball-1", pocket, lanes=lanes, question="Where does the cue ball go?")
    return Routine(
        title=f"{chance.choice(_WHAT)} {chance.choice(_WHERE)} {number}",
        balls=tuple(balls),
        shots=(shot,),
        gaps=_gaps(chance, balls),
        coach=chance.choice(_COACHES),
        club="Thistlewharf Snooker Club",
        level=chance.randint(1, 5),
        notes="Play it ten times from the same place and write down what came of it.",
        tags=tuple(chance.sample(_TAGS, chance.randint(0, 2))),
    )


def _gaps(chance: random.Random, balls: list[Ball]) -> tuple[Gap, ...]:
    if len(balls) >= 4 and chance.random() < 0.5:
        return (Gap("gap-1", "ball-ball", ("ball-2", "ball-3")),)
    if chance.random() < 0.5:
        start = float(chance.randint(200, 2400))
        return (
            Gap("gap-1", "cushion-stretch", cushion="left", from_mm=start, to_mm=start + 500.0),
        )
    x, y = float(chance.randint(200, 1200)), float(chance.randint(200, 2900))
    corners = ((x, y), (x + 400.0, y), (x + 400.0, y + 400.0), (x, y + 400.0))
    return (Gap("gap-1", "cloth-area", points_mm=corners),)


def shifted(routine: Routine, by_mm: float, seed: int) -> Routine:
    """The same set-up with every ball moved a little, and the balls in another order."""
    chance = random.Random(seed)
    balls = [
        replace(
            ball,
            x_mm=ball.x_mm + chance.uniform(-by_mm, by_mm),
            y_mm=ball.y_mm + chance.uniform(-by_mm, by_mm),
        )
        for ball in routine.balls
    ]
    chance.shuffle(balls)
    return replace(routine, balls=tuple(balls), title=f"{routine.title} again")


def write_library(folder: Path, count: int, seed: int = 8) -> list[Path]:
    """`count` routine files below a folder, a hundred to a folder of their own."""
    written = []
    for number in range(count):
        inner = folder / f"shelf-{number // 100:02}"
        inner.mkdir(parents=True, exist_ok=True)
        path = inner / f"routine-{number:04}.json"
        path.write_text(dump_routine(generated(number, seed)), encoding="utf-8")
        written.append(path)
    return written
