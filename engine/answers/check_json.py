"""All answers of a routine as JSON (schema `check.schema.json`): units in every key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any

from engine.answers.care_json import pairs_json, tolerance_json
from engine.answers.distinct import lane_pairs
from engine.answers.lane_json import lane_json
from engine.answers.plain import Words, number, pair, plain
from engine.conditions import Conditions
from engine.results import (
    BallPlacement,
    BallTolerance,
    Choice,
    CushionReading,
    GapPass,
    GapVerdict,
    PotAnswer,
    Problem,
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
        "placements": [_placement(placement) for placement in answer.placements],
        "tolerance": None if tolerance is None else tolerance_json(tolerance),
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
    found = {field.name: plain(getattr(conditions, field.name)) for field in fields(conditions)}
    # left out means like the other balls: the answer says what was used
    found["cue_ball_radius_mm"] = plain(conditions.cue_radius_mm)
    found["cue_ball_mass_kg"] = plain(conditions.cue_ball_kg)
    return found


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
        "windows": [
            {
                "tip_min_ratio": number(window.tip_min),
                "tip_max_ratio": number(window.tip_max),
                "pace_min": number(window.pace_min),
                "pace_max": number(window.pace_max),
                "best_tip_ratio": number(window.best_tip),
                "best_pace": number(window.best_pace),
                "best_margin_mm": number(window.best_margin_mm),
                "filled_share": number(window.filled_share),
                "is_diagonal": window.is_diagonal,
                "filled_box": dict(zip(_BOX, map(number, window.box), strict=True)),
            }
            for window in verdict.windows
        ],
        "slivers": verdict.slivers,
        "threading_share": number(verdict.threading_share),
        "limit": None if verdict.limit is None else LIMITS[verdict.limit.kind],
        "choice": None if verdict.choice is None else _choice(verdict.choice),
    }


def _choice(choice: Choice) -> dict[str, Any]:
    """The most forgiving strike, with its chances and the errors it forgives."""
    return {
        "tip_height_ratio": number(choice.tip_height),
        "pace": number(choice.pace),
        "speed_m_s": number(choice.speed_m_s),
        "strike_name": choice.strike_name,
        "margin_mm": number(choice.margin_mm),
        "chances": [
            {"player": name, "chance": number(chance), "low": number(low), "high": number(high)}
            for name, chance, low, high in choice.chances
        ],
        "aim_error_deg": [number(end) for end in choice.aim_deg],
        "tip_error_ratio": [number(end) for end in choice.tip_error],
        "side_error_ratio": [number(end) for end in choice.side_error],
        "pace_error": [number(end) for end in choice.pace_error],
        "grade": choice.grade,
        "finer_than_a_hand": choice.finer_than_a_hand,
        "after_cushions": choice.after_cushions,
        "by_jaw": choice.by_jaw,
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
        "passes": [_pass(one, words) for one in shot.passes],
        "lane_pairs": pairs_json(lane_pairs(shot)),
    }


def _pot(pot: PotAnswer, radius_mm: float, words: Words) -> dict[str, Any]:
    return {
        "on": pot.on,
        "reasons": [words(reason) for reason in pot.reasons],
        "object_ball": pot.object_ball,
        "pocket": pot.pocket,
        "contact_mm": pair(pot.contact_mm),
        "cut_deg": number(pot.cut_deg),
        "cut_side": pot.cut_side or None,
        "fullness": number(pot.fullness),
        "fullness_name": pot.fullness_name,
        "potting_line_mm": [pair(point) for point in pot.potting_line_mm],
        "aim_line_mm": [pair(point) for point in pot.aim_line_mm],
        "ninety_line_mm": [pair(point) for point in pot.ninety_line_mm],
        "pocket_margin_deg": number(pot.pocket_margin_deg),
        "lowest_tip_ratio": number(pot.lowest_tip),
        "lowest_tip_mm": number(pot.lowest_tip * radius_mm),
        "lowest_tip_reason": None
        if pot.lowest_tip_reason is None
        else words(pot.lowest_tip_reason),
    }


def _pass(one: GapPass, words: Words) -> dict[str, Any]:
    return {
        "lane": one.lane,
        "gap": one.gap,
        "threads": one.threads,
        "margin_mm": number(one.margin_mm),
        "reason": words(one.reason),
        "kind": one.kind,
    }


def _problem(problem: Problem, words: Words) -> dict[str, Any]:
    return {
        "kind": problem.kind,
        "message": words(problem.fact),
        "balls": list(problem.balls),
        "shot": problem.shot or None,
        "gap": problem.gap or None,
        "claim": problem.claim,
    }


def _placement(placement: BallPlacement) -> dict[str, Any]:
    return {
        "ball": placement.ball,
        "letter": placement.letter,
        "kind": placement.kind,
        "spot": placement.spot or None,
        "across": _reading(placement.across),
        "along": _reading(placement.along),
    }


def _reading(reading: CushionReading) -> dict[str, Any]:
    return {
        "cushion": reading.cushion,
        "centre_mm": number(reading.centre_mm),
        "edge_mm": number(reading.edge_mm),
    }
