"""How often a level makes a shot: its most forgiving strike, looked for and then tried afresh."""

from __future__ import annotations

from engine.errors import BaizewrightError
from engine.players import Player
from engine.playing import gaps_in_order, laid_out_of
from engine.playing.laid_out import LaidOutShot
from engine.playing.strikes import strike_name
from engine.progressions.values import Rate
from engine.reach import reach_map
from engine.reach.choosing import best_choice
from engine.reach.forgiveness import chance
from engine.routine.values import Routine

#: Strikes of the search, and of the proof with other errors.
SEARCH_TRIES, PROOF_TRIES = 2048, 8192
SEARCH_SEED, PROOF_SEED = 20_260_101, 71_003_417


def scene_for_gap(routine: Routine, shot_id: str, gap_id: str) -> LaidOutShot:
    """The shot laid out with its gap; without a gap the pot alone is asked for."""
    return laid_out_of(routine, shot_id, gaps_in_order(routine, gap_id) if gap_id else ())


def best_strike(scene: LaidOutShot, player: Player) -> tuple[float, float] | None:
    """Tip height and pace of the most forgiving strike; None when nothing does it."""
    found = reach_map(scene)
    if not found.windows:
        return None
    choice = best_choice(scene, found, (player,))
    return None if choice is None else (choice.tip_height, choice.pace)


def rate(
    routine: Routine,
    shot_id: str,
    gap_id: str,
    player: Player,
    *,
    tries: int = PROOF_TRIES,
    seed: int = PROOF_SEED,
) -> Rate | None:
    """How often a player makes it with the most forgiving strike; None when nothing does it."""
    try:
        scene = scene_for_gap(routine, shot_id, gap_id)
    except BaizewrightError:
        return None
    strike = best_strike(scene, player)
    if strike is None:
        return None
    made = chance(scene, *strike, player, tries, seed)
    name = strike_name(strike[0], scene.conditions.tip_limit)
    return Rate(made.chance, made.low, made.high, strike[0], strike[1], name)  # fmt: skip
