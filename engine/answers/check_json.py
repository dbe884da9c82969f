"""All answers of a routine as JSON (schema `check.schema.json`): units in every key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from engine.answers.distinct import lane_pairs
from engine.answers.lane_json import lane_json
from engine.answers.plain import Words, figures, number, plain
from engine.conditions import Conditions
from engine.results import (
    BallTolerance,
    Choice,
    GapVerdict,
    PotAnswer,
    Problem,
    ReachWindow,
    RoutineAnswer,
    ShotAnswer,
)
from engine.routine.context import conditions_of, table_of
from engine.routine.identity import id_of, revision_of
from engine.routine.values import Routine

FORMAT, FORMAT_VERSION = "baizewright-check", 1


#: What stops a gap, by the kind of fact: names that scripts know, the same in every language.
LIMITS = {
    "pot-off": "the pot is not on",
    "narrow": "gap narrower than the cue ball",
    "no-backspin": "backspin gone before contact",
    "late-bend": "bend comes too late at this pace",
    "in-the-way": "blocked by a ball",
    "kisses-first": "blocked by a ball",
    "beyond-screw": "needs side or another angle",
    "beyond-top": "needs side or another angle",
    "needs-side": "needs side or another angle",
    "short-of-pot": "needs more pace than the table's limit",
    "highest-pace-short": "needs more pace than the table's limit",
    "pot-fails": "the pot fails with every strike that comes near",
    "always-in-off": "in-off",
    "never-near": "no strike brings the cue ball near",
}


def to_json(
    answer: RoutineAnswer,
    routine: Routine,
    tolerance: Sequence[BallTolerance] | None = None,
    *,
    words: Words,
) -> dict[str, Any]:
    """A routine's answers as a JSON object: no NaN, None for what has no value.

    `tolerance`: what `set_up_tolerance` found, when it was asked for. `words` makes the texts.
    """
    return {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        **heading(answer.engine_version, routine),
        "all_claims_hold": answer.all_claims_hold,
        "claims": [
            {
                "index": claim.index,
                "sentence": words(routine.claims[claim.index]),
                "holds": claim.holds,
                "found": words(claim),
            }
            for claim in answer.claims
        ],
        "shots": [_shot(shot, routine, words) for shot in answer.shots],
        "verdicts": [verdict_json(verdict, words) for verdict in answer.verdicts],
        "problems": [_problem(problem, words) for problem in answer.problems],
        "placements": [
            {**figures(placement), "spot": placement.spot or None}
            for placement in answer.placements
        ],
        "tolerance": None if tolerance is None else plain(tolerance),
        "notes": [words(note) for note in answer.notes],
    }


def heading(engine_version: str, routine: Routine) -> dict[str, Any]:
    """What every answer rests on: engine, table, conditions and where the balls lie."""
    table, conditions = table_of(routine), conditions_of(routine)
    return {
        "engine_version": engine_version,
        "id": id_of(routine),
        "revision": revision_of(routine),
        "title": routine.title,
        "table_id": table.id,
        "table_width_mm": number(table.width_mm),
        "table_length_mm": number(table.length_mm),
        "pocket_openings_mm": {pocket.id: number(pocket.opening_mm) for pocket in table.pockets},
        "conditions": conditions_json(conditions),
        "balls": [
            {"id": ball.id, "kind": ball.kind, "x_mm": number(ball.x_mm), "y_mm": number(ball.y_mm)}
            for ball in routine.balls
        ],
    }


def conditions_json(conditions: Conditions) -> dict[str, Any]:
    """Every condition value used, by the name a routine file gives it."""
    # left out means like the other balls, or the same at any speed: the answer says what was used
    slow, _, fast = conditions.cushion_restitutions
    return {
        **figures(conditions),
        "cushion_restitution_slow": number(slow),
        "cushion_restitution_fast": number(fast),
        "cue_ball_radius_mm": number(conditions.cue_radius_mm),
        "cue_ball_mass_kg": number(conditions.cue_ball_kg),
    }


_BOX = ("tip_min_ratio", "tip_max_ratio", "pace_min", "pace_max")


def verdict_json(verdict: GapVerdict, words: Words) -> dict[str, Any]:
    """A gap verdict with its windows."""
    return {
        "shot": verdict.shot,
        "gap": verdict.gap,
        "reachable": verdict.reachable,
        "width_mm": number(verdict.width_mm),
        "nearest_miss_mm": number(verdict.nearest_miss_mm),
        "sentence": words(verdict),
        "windows": [_window(window) for window in verdict.windows],
        "slivers": verdict.slivers,
        "threading_share": number(verdict.threading_share),
        "limit": None if verdict.limit is None else LIMITS[verdict.limit.kind],
        "choice": None if verdict.choice is None else _choice(verdict.choice),
    }


def _window(window: ReachWindow) -> dict[str, Any]:
    keys = {
        "tip_min": "tip_min_ratio", "tip_max": "tip_max_ratio", "best_tip": "best_tip_ratio",
        "strikes": "", "box": "",
    }  # fmt: skip
    return {
        **figures(window, **keys),
        "is_diagonal": window.is_diagonal,
        "filled_box": dict(zip(_BOX, map(number, window.box), strict=True)),
    }


def _choice(choice: Choice) -> dict[str, Any]:
    """The most forgiving strike, with its chances and the errors it forgives."""
    keys = {
        "tip_height": "tip_height_ratio", "aim_deg": "aim_error_deg",
        "tip_error": "tip_error_ratio", "side_error": "side_error_ratio", "player": "",
        "within": "",
    }  # fmt: skip
    names = ("player", "chance", "low", "high")
    tip, pace = choice.within or (None, None)
    return {
        **figures(choice, **keys),
        "finer_than_a_hand": choice.finer_than_a_hand,
        "tip_width_ratio": number(tip),
        "pace_width": number(pace),
        "chances": [dict(zip(names, plain(one), strict=True)) for one in choice.chances],
    }


def _shot(shot: ShotAnswer, routine: Routine, words: Words) -> dict[str, Any]:
    conditions, cue = conditions_of(routine), routine.cue_ball
    radius, limit = conditions.cue_radius_mm, conditions.tip_limit
    cue_id = "" if cue is None else cue.id
    stun = shot.stun_tip_height
    return {
        "id": shot.shot,
        "title": routine.shot(shot.shot).title,
        "refusal": "; ".join(map(words, shot.refusals)) or None,
        "pot": None if shot.pot is None else _pot(shot.pot, radius, words),
        "stun_tip_height_ratio": number(stun),
        "stun_tip_height_mm": None if stun is None else number(stun * radius),
        "lanes": [lane_json(lane, cue_id, radius, limit, words) for lane in shot.lanes],
        "passes": [
            {**figures(one, along_mm=""), "reason": words(one.reason)} for one in shot.passes
        ],
        "lane_pairs": plain(lane_pairs(shot)),
    }


def _pot(pot: PotAnswer, radius_mm: float, words: Words) -> dict[str, Any]:
    reason = pot.lowest_tip_reason
    return {
        **figures(pot, lowest_tip="lowest_tip_ratio"),
        "reasons": [words(reason) for reason in pot.reasons],
        "cut_side": pot.cut_side or None,
        "lowest_tip_mm": number(pot.lowest_tip * radius_mm),
        "lowest_tip_reason": None if reason is None else words(reason),
    }


def _problem(problem: Problem, words: Words) -> dict[str, Any]:
    return {
        **figures(problem, fact=""),
        "message": words(problem.fact),
        "shot": problem.shot or None,
        "gap": problem.gap or None,
    }
