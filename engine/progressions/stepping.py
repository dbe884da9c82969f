"""A bit harder, a bit easier: the change that moves a level's success chance by what is asked.

The dial of one way is turned until the chance of the most forgiving strike comes to the chance
wanted: growing steps until it is passed, then closing in. Balls are then set on whole millimetres
(finer where a millimetre is too coarse) and the chance is proved with errors of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from engine.advice.proving import holding
from engine.errors import OutOfRangeError, UnknownNameError
from engine.players import Player
from engine.progressions.changed import change_of, described
from engine.progressions.changes import MOST_MM, can_change, changed
from engine.progressions.rating import SEARCH_SEED, SEARCH_TRIES, rate
from engine.progressions.values import WAYS, Rate, Step
from engine.routine.values import Routine

#: Told the share done (0 to 1); False asks to stop.
Progress = Callable[[float], bool | None]
#: The first step of a dial, and by how much each next one is larger.
FIRST_MM, GROWTH = {"gap": 12.0, "distance": 60.0, "pot": 60.0}, 2.0
CLOSINGS = 9
#: A chance this near to the one wanted is near enough to set balls by.
CLOSE_CHANCE = 0.0015
#: Chances nearer to none or all than this are not asked for: nobody can tell them apart.
LEAST_CHANCE, MOST_CHANCE = 0.02, 0.98
GRAINS_MM = (1.0, 0.5)
#: What is left to the chance wanted may be made up by a fine change, a share of the usual one.
FINE_CHANCE, FINE_SHARE = 0.05, 0.2
#: Dials tried on each side of the one found, in grains.
NEIGHBOURS = 3
#: So many of them are proved, the likeliest first.
PROVED = 3


#: A routine, the way it was made, and its proved rate.
Found = tuple[Routine, str, Rate]


class StoppedError(Exception):
    """The caller asked to stop."""


@dataclass(frozen=True, slots=True)
class _Tried:
    amount_mm: float
    chance: float


def a_bit_harder(
    routine: Routine,
    shot_id: str,
    gap_id: str,
    player: Player,
    drop: float = 0.15,
    *,
    ways: tuple[str, ...] = WAYS,
    progress: Progress | None = None,
) -> Step | None:
    """A step whose success chance for a player is lower by `drop` (easier when below 0).

    The first of `ways` that can give it is taken; when none hits the chance within its interval,
    the nearest step found is returned, not `exact`. None when there is none at all or `progress`
    asked to stop. `gap_id` "" asks for the pot alone. `UnknownNameError` for names that are not
    there; `OutOfRangeError` when nothing makes the shot as it is or the chance wanted is out of
    what can be told apart.
    """
    routine.shot(shot_id)
    if gap_id:
        routine.gap(gap_id)
    for way in ways:
        if way not in WAYS:
            raise UnknownNameError("way to make it harder", way, WAYS)
    before = rate(routine, shot_id, gap_id, player)
    if before is None:
        raise OutOfRangeError(
            f"shot {shot_id}", "out of reach as it stands", "one that some strike makes",
            "Ask for advice on the gap first.",
        )  # fmt: skip
    wanted = before.chance - drop
    if not LEAST_CHANCE <= wanted <= MOST_CHANCE:
        raise OutOfRangeError(
            "the success chance asked for", f"{100 * wanted:.0f} %",
            f"{100 * LEAST_CHANCE:.0f} to {100 * MOST_CHANCE:.0f} %",
            f"It is {100 * before.chance:.0f} % for a {player.name} now.",
        )  # fmt: skip
    usable = [way for way in ways if can_change(routine, shot_id, gap_id, way)]
    best: Found | None = None
    try:
        for at, way in enumerate(usable):
            tell = _part(progress, at / len(usable), 1.0 / len(usable))
            dial = _Dial(routine, shot_id, gap_id, player, way, wanted, tell)
            best = _nearer(best, dial.solutions(1.0 if drop > 0.0 else -1.0), wanted)
            if best is not None and not best[2].holds(wanted):
                best = _finer(best, usable, shot_id, gap_id, player, wanted, tell)
            if best is not None and best[2].holds(wanted):
                break
    except StoppedError:
        return None
    if best is None:
        return None
    made, way, found = best
    step = _step(routine, made, shot_id, gap_id, player, way, wanted, before, found)
    if progress is not None:
        progress(1.0)
    return step


def _nearer(best: Found | None, solutions: Iterator[Found], wanted: float) -> Found | None:
    """The nearest of the best so far and some solutions, which end with the first exact one."""
    for one in solutions:
        if best is None or abs(one[2].chance - wanted) < abs(best[2].chance - wanted):
            best = one
        if one[2].holds(wanted):
            break
    return best


def _finer(
    best: Found,
    usable: Sequence[str],
    shot_id: str,
    gap_id: str,
    player: Player,
    wanted: float,
    tell: Callable[[float], None],
) -> Found:
    """The best so far with what is left to the chance wanted made up by a small other change."""
    start, way, found = best
    if abs(found.chance - wanted) > FINE_CHANCE:
        return best
    sign = 1.0 if found.chance > wanted else -1.0
    searched = rate(start, shot_id, gap_id, player, tries=SEARCH_TRIES, seed=SEARCH_SEED)
    bias = 0.0 if searched is None else searched.chance - found.chance
    for other in (*(one for one in usable if one != way), way):
        dial = _Dial(start, shot_id, gap_id, player, other, wanted, tell, fine=True, bias=bias)
        solved = ((made, way, rated) for made, _, rated in dial.solutions(sign))
        nearer = _nearer(best, solved, wanted)
        if nearer is not None and nearer[2].holds(wanted):
            return nearer
    return best  # fmt: skip


def _part(progress: Progress | None, start: float, share: float) -> Callable[[float], None]:
    most = 0.0

    def tell(done: float) -> None:
        nonlocal most
        most = max(most, min(done, 1.0))  # a fine dial after the coarse one begins anew
        if progress is not None and progress(start + share * most) is False:
            raise StoppedError

    return tell


class _Dial:
    """One way to change a shot, and the chances met while turning it.

    A `fine` dial is turned a little only, and sets balls on whole millimetres. `bias` is how far
    the search's errors have told a chance too high, against those of the proof.
    """

    def __init__(
        self,
        routine: Routine,
        shot_id: str,
        gap_id: str,
        player: Player,
        way: str,
        wanted: float,
        tell: Callable[[float], None],
        *,
        fine: bool = False,
        bias: float = 0.0,
    ) -> None:
        self.bias = bias
        self.routine, self.shot, self.gap = routine, shot_id, gap_id
        self.player, self.way, self.wanted, self.tell = player, way, wanted, tell
        self.looks = 0
        share = FINE_SHARE if fine else 1.0
        self.first_mm, self.most_mm = share * FIRST_MM[way], share * MOST_MM[way]
        self.grains = GRAINS_MM[:1] if fine else GRAINS_MM  # fmt: skip

    def solutions(self, sign: float) -> Iterator[Found]:
        """Proved routines, the likeliest first; `sign` is above 0 for harder ones."""
        found = self._bracket(sign)
        if found is None:
            return
        nearest = self._close_in(*found)
        for grain in self.grains:
            yield from self._set_up(nearest, grain)

    def _chance(self, amount: float, grain: float = 0.0) -> float | None:
        """The chance with the dial there; 0 where no strike does it, None where none can be."""
        self.looks += 1
        self.tell(0.8 * self.looks / (self.looks + 12.0))
        made = changed(self.routine, self.shot, self.gap, self.way, amount, grain)
        if made is None:
            return None
        found = rate(made, self.shot, self.gap, self.player, tries=SEARCH_TRIES, seed=SEARCH_SEED)
        return 0.0 if found is None else found.chance - self.bias

    def _bracket(self, sign: float) -> tuple[_Tried, _Tried] | None:
        """Two amounts with the chance wanted between them; the way may turn out to be short."""
        near = _Tried(0.0, self._chance(0.0) or 0.0)
        amount = self.first_mm
        while amount <= self.most_mm:
            chance = self._chance(sign * amount)
            if chance is None:
                # the dial's end: as far as it can be set up
                amount = (abs(near.amount_mm) + amount) / 2.0
                if amount - abs(near.amount_mm) < 2.0:
                    return None
                continue
            here = _Tried(sign * amount, chance)
            if (chance - self.wanted) * sign <= 0.0:
                return near, here
            near = here
            amount *= GROWTH
        return None

    def _close_in(self, one: _Tried, other: _Tried) -> float:
        """The amount whose chance comes nearest, between two that enclose it.

        By false position, the end that stays counting half each time (as Illinois does it).
        """
        best = min((one, other), key=lambda tried: abs(tried.chance - self.wanted))
        off_one, off_other = one.chance - self.wanted, other.chance - self.wanted
        for _ in range(CLOSINGS):
            if abs(best.chance - self.wanted) < CLOSE_CHANCE or off_one == off_other:
                break
            share = min(max(off_one / (off_one - off_other), 0.05), 0.95)
            middle = one.amount_mm + share * (other.amount_mm - one.amount_mm)
            chance = self._chance(middle)
            if chance is None:
                break
            here, off = _Tried(middle, chance), chance - self.wanted
            if abs(off) < abs(best.chance - self.wanted):
                best = here
            if off * off_one > 0.0:
                one, off_one, off_other = here, off, off_other / 2.0
            else:
                other, off_other, off_one = here, off, off_one / 2.0
            if abs(one.amount_mm - other.amount_mm) < 0.05:
                break
        return best.amount_mm

    def _set_up(self, amount: float, grain: float) -> Iterator[Found]:
        """Set-ups on that grain near an amount, by how near their proved chances come."""
        seen: list[tuple[float, Routine]] = []
        for count in sorted(range(-NEIGHBOURS, NEIGHBOURS + 1), key=abs):
            there = amount + count * grain
            made = changed(self.routine, self.shot, self.gap, self.way, there, grain)
            if made is None or any(made == one for _, one in seen):
                continue
            chance = self._chance(there, grain)
            if chance is not None:
                seen.append((abs(chance - self.wanted), made))
        proved = []
        for _, made in sorted(seen, key=lambda pair: pair[0])[:PROVED]:
            self.tell(0.9)
            found = rate(made, self.shot, self.gap, self.player)
            if found is not None:
                proved.append((made, self.way, found))
                if abs(found.chance - self.wanted) < CLOSE_CHANCE:
                    break
        yield from sorted(proved, key=lambda one: abs(one[2].chance - self.wanted))


def _step(
    routine: Routine,
    made: Routine,
    shot_id: str,
    gap_id: str,
    player: Player,
    way: str,
    wanted: float,
    before: Rate,
    found: Rate,
) -> Step:
    here = {ball.id: ball.centre_mm for ball in routine.balls}
    moves = tuple(
        (ball.id, here[ball.id], ball.centre_mm)
        for ball in made.balls
        if ball.centre_mm != here[ball.id]
    )  # fmt: skip
    lost = tuple(sorted(holding(routine) - holding(made)))
    change = change_of(routine, made, shot_id, gap_id, way)
    kept = described(made, routine, player, way, before, found)
    exact = found.holds(wanted)
    return Step(kept, player.name, way, wanted, before, found, exact, moves, lost, change)


def a_chain(
    routine: Routine,
    shot_id: str,
    gap_id: str,
    player: Player,
    steps: int,
    drop: float = 0.15,
    *,
    ways: tuple[str, ...] = WAYS,
    progress: Progress | None = None,
) -> tuple[Step, ...]:
    """Up to so many steps, each harder (or easier) than the one before by `drop`.

    It ends early where no further step can be made, or `progress` asks to stop. Errors as
    `a_bit_harder`, but only for the first step.
    """
    if not 1 <= steps <= 12:
        raise OutOfRangeError("number of steps", steps, "1 to 12")
    made: list[Step] = []
    current = routine
    for number in range(steps):
        tell = _share(progress, number / steps, 1.0 / steps)
        try:
            step = a_bit_harder(current, shot_id, gap_id, player, drop, ways=ways, progress=tell)
        except OutOfRangeError:
            if not made:
                raise
            break
        if step is None:
            break
        title = f"{routine.title or 'Routine'} – step {number + 2}"
        step = replace(step, routine=replace(step.routine, title=title))
        made.append(step)
        current = step.routine
    return tuple(made)


def _share(progress: Progress | None, start: float, share: float) -> Progress:
    return lambda done: None if progress is None else progress(start + share * done)
