"""Every command and every answer on every table, with pockets or without, D or no D.

One table runs by default; with BAIZEWRIGHT_FULL=1 in the environment all do.
"""

import json

import pytest

from designer.commands.main import main
from engine.answers import answer, reach_of, reach_to_json
from engine.balls import Ball
from engine.conditions import usual_conditions
from engine.routine.context import conditions_of, table_of
from engine.routine.settle import settle
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import save_routine
from engine.tables import load_table, table_ids
from tests.shares import FULL

TABLES = table_ids() if FULL else ("pool-8ft",)


def routine_on(table_id: str) -> Routine:
    """A pot where there are pockets, a plain shot, gaps of three kinds, and claims."""
    table = load_table(table_id)
    w, h = table.width_mm, table.length_mm
    r = usual_conditions(table).ball_radius_mm
    shots = [
        Shot("plain", aim_deg=80.0, lanes=(LaneAsk("A", 0.2, 4.0),)),
    ]
    claims = [
        Claim("lane-clears", "plain", lane="A"),
        Claim("gap-reachable", "plain", gap="stretch"),
        Claim("lane-threads", "plain", lane="A", gap="side"),
    ]
    if table.pockets:
        shots.append(
            Shot("pot", "red-1", "top-right", lanes=(LaneAsk("A", "stun", 4.0), LaneAsk("B", 0.4)))
        )
        claims.append(Claim("pot-on", "pot"))
    return Routine(
        title=f"All on {table_id}",
        table=table_id,
        balls=(
            Ball("cue", "cue", 0.45 * w, 0.55 * h),
            Ball("red-1", "red", 0.60 * w, 0.75 * h),
            Ball("yellow-1", "yellow", 0.2 * w, 0.8 * h),
            Ball("black", "black", 0.35 * w, h - r),
        ),
        shots=tuple(shots),
        gaps=(
            Gap("side", "ball-cushion", ("yellow-1",), "left"),
            Gap("stretch", "cushion-stretch", cushion="top", from_mm=0.3 * w, to_mm=0.8 * w),
            Gap("cannon", "cannon", ("black",)),
        ),
        claims=tuple(claims),
    )  # fmt: skip


@pytest.fixture(params=TABLES)
def case(request, tmp_path):
    routine = routine_on(request.param)
    path = tmp_path / "routine.json"
    save_routine(routine, path)
    return routine, str(path), tmp_path


@pytest.mark.slow
def test_every_command_runs(case, capsys, monkeypatch):
    routine, path, folder = case
    known = []

    def once(asked, **_):
        """The same answer for every command: it is the commands that are tried here."""
        if not known:
            known.append(answer(asked))
        return known[0]

    monkeypatch.setattr("engine.answers.answer", once)
    table = load_table(routine.table)
    assert main(["check", path]) in (0, 1)
    assert table.title in capsys.readouterr().out
    assert main(["check", path, "--json"]) in (0, 1)
    data = json.loads(capsys.readouterr().out)
    assert data["table_id"] == routine.table
    assert data["pocket_openings_mm"].keys() == {pocket.id for pocket in table.pockets}
    assert len(data["shots"]) == len(routine.shots)
    assert all(shot["lanes"] for shot in data["shots"])
    assert main(["reach", path, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["table_id"] == routine.table
    assert main(["place", path, "--units", "inch"]) == 0
    assert "black" in capsys.readouterr().out
    for name in ("d.svg", "d.pdf", "h.pdf"):
        command = "handout" if name.startswith("h") else "diagram"
        out = folder / name
        assert main([command, path, "-o", str(out)]) == 0
        assert out.stat().st_size > 3000


@pytest.mark.slow
def test_answers_hold_together(case):
    routine, _, _ = case
    found = answer(routine)
    assert not [problem.fact for problem in found.problems]
    assert len(found.claims) == len(routine.claims)
    for shot in found.shots:
        assert not shot.refusals
        for lane in shot.lanes:
            assert len(lane.path_mm) >= 2
    reached = reach_to_json(routine, reach_of(routine), words=str)
    assert {verdict["gap"] for verdict in reached["verdicts"]} == {g.id for g in routine.gaps}


def test_balls_settle_on_the_bed(case):
    routine, _, _ = case
    table, conditions = table_of(routine), conditions_of(routine)
    for wanted in ((-50.0, -50.0), (table.width_mm / 2, table.length_mm + 80.0), (0.0, 5.0)):
        for ball in routine.balls:
            radius = conditions.radius_of(ball)
            x, y = settle(routine, table, radius, ball.id, wanted)
            assert 0.0 <= x <= table.width_mm and 0.0 <= y <= table.length_mm
