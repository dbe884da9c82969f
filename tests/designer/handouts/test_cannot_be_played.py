"""A shot that cannot be played: the coach's sheet keeps all that was written and says why; the
player's sheets say so plainly, and whoever prints them is told before."""

from dataclasses import replace

import pytest

from designer.commands.main import main
from designer.drawing import Layers, build_drawing, roles
from designer.handouts import handout_pdf
from designer.words.in_short import claim_in_short, gap_line
from designer.words.telling import words_of
from designer.words.wording import Wording
from engine.answers import answer
from engine.balls import Ball
from engine.routine.values import STUN, Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import Plan, PlanItem, save_plan, save_routine
from tests.designer.handouts.ledger import flat, text_of
from tests.designer.pdf_pages import page_texts
from tests.shares import mixed

ASK, TELL, NOTE, TITLE = "Which way off it?", "Back with screw.", "Keep it level.", "Long screw"
LANES = (LaneAsk("A", 0.4, 4.0), LaneAsk("B", STUN, 4.0), LaneAsk("C", -0.4, 4.0))
BALLS = (
    Ball("cue", "cue", 640.0, 1420.0), Ball("blue", "blue", 889.0, 1784.5),
    Ball("red-1", "red", 1180.0, 1250.0), Ball("red-2", "red", 1420.0, 1180.0),
)  # fmt: skip
SHOT = Shot("s", "blue", "top-right", lanes=LANES, question=ASK, answer=TELL, note=NOTE,
            title=TITLE)  # fmt: skip
GAPS = (Gap("g", "ball-ball", ("red-1", "red-2"), title="Between the reds"),)
CLAIMS = (
    Claim("pot-on", "s"), Claim("lane-clears", "s", lane="A"), Claim("gap-reachable", "s", gap="g"),
)  # fmt: skip
ROUTINE = Routine("Off the blue", balls=BALLS, shots=(SHOT,), gaps=GAPS, claims=CLAIMS,
                  coach="Wren Ashgrove")  # fmt: skip
PLAIN = "This shot cannot be played as it is set here: ask your coach."
#: Nothing of these can be played.
NONE_OF_IT = {
    "cut past 90 degrees": replace(ROUTINE, shots=(replace(SHOT, pocket="bottom-left"),)),
    "no cue ball": replace(ROUTINE, balls=BALLS[1:]),
    "no object ball": replace(ROUTINE, shots=(replace(SHOT, object_ball=""),)),
    "no pocket": replace(ROUTINE, shots=(replace(SHOT, pocket=""),)),
}
#: A part of these can.
A_PART = {
    "a miscue": replace(
        ROUTINE, shots=(replace(SHOT, lanes=(*LANES[:2], LaneAsk("C", -0.9, 4.0))),)
    ),
    "half a gap": replace(ROUTINE, gaps=(Gap("g", "ball-ball", ("red-1",), title="Half a gap"),)),
}
SHEETS = ["full", "steps", "card", "record"]


def pages_of(data):
    return [flat(text) for text in page_texts(data)]


@pytest.mark.parametrize(
    ("case", "landscape"), mixed((*NONE_OF_IT, *A_PART), (False, True), usual=5)
)
@pytest.mark.slow
def test_the_coachs_sheet_keeps_all_and_says_why(case, landscape):
    routine = {**NONE_OF_IT, **A_PART}[case]
    found = answer(routine)
    (shot,) = found.shots
    assert shot.refusals and found.all_claims_hold == (case == "a miscue")
    told = text_of(handout_pdf([(routine, found)], landscape=landscape))
    for words in (ASK, TELL, NOTE, TITLE):
        assert words in told
    said = words_of(Wording(routine))
    for why in shot.refusals:
        assert flat(said(why)).lower() in told.lower()
    for claim in found.claims:
        short = claim_in_short(Wording(routine), routine.claims[claim.index], claim.holds)
        assert f"{'✓' if claim.holds else '✗'} {short.told}" in told
        assert claim.holds or flat(said(claim)) in told
    for verdict in found.verdicts:
        gap = routine.gap(verdict.gap)
        assert gap_line(Wording(routine), gap, verdict, shot.passes).told in told
    assert ("This shot cannot be played" in told) == (case in NONE_OF_IT)
    assert "nan" not in told and "None" not in told


@pytest.mark.parametrize("case", A_PART)
@pytest.mark.slow
def test_what_can_be_played_of_a_shot_is_drawn_and_told(case):
    routine = A_PART[case]
    found = answer(routine)
    played = [lane.label for lane in found.shots[0].lanes]
    assert played[:2] == ["A", "B"]
    told = text_of(handout_pdf([(routine, found)]))
    for lane in found.shots[0].lanes:
        assert f"{lane.label} {lane.strike_name}" in told
    drawn = build_drawing(routine, found, Layers(), "mm", shot="s")
    letters = [item.text for item in drawn.items if getattr(item, "role", "") == roles.LETTER
               and hasattr(item, "text")]  # fmt: skip
    assert set(letters) == set(played)
    steps = text_of(handout_pdf([(routine, found)], sheet="steps"))
    assert "To A" in steps and "nothing to build up" not in steps


@pytest.mark.parametrize(("case", "sheet"), mixed(NONE_OF_IT, SHEETS, usual=6))
@pytest.mark.slow
def test_the_players_sheets_say_so_and_give_nothing_away(case, sheet):
    routine = NONE_OF_IT[case]
    found = answer(routine)
    told = text_of(handout_pdf([(routine, found)], "a4", "player", sheet=sheet))
    assert PLAIN in told
    assert ASK in told or sheet == "steps"
    for secret in (TELL, NOTE, TITLE, "past 90", "173", "does not hold"):
        assert secret not in told


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.slow
def test_shots_that_can_be_played_carry_no_such_line(sheet):
    for routine in (ROUTINE, *A_PART.values()):
        told = text_of(handout_pdf([(routine, answer(routine))], "a4", "player", sheet=sheet))
        assert "cannot be played" not in told


@pytest.mark.parametrize("audience", ["coach", "player"])
def test_steps_name_the_shot_that_is_left_out(audience):
    bad = replace(NONE_OF_IT["cut past 90 degrees"].shots[0], id="t")
    routine = replace(ROUTINE, shots=(SHOT, bad))
    found = answer(routine)
    told = text_of(handout_pdf([(routine, found)], "a4", audience, sheet="steps"))
    assert "1. The pot alone" in told and "page 1 of 1" in told
    name = "Shot 2" if audience == "player" else f"Shot “{TITLE}”"
    assert f"{name} cannot be played" in told
    assert ("past 90" in told) == (audience == "coach")


# Before it is printed -------------------------------------------------------------------------


@pytest.fixture
def bad_file(tmp_path):
    path = tmp_path / "bad.json"
    save_routine(NONE_OF_IT["cut past 90 degrees"], path)
    return path


@pytest.mark.parametrize("audience", ["coach", "player"])
def test_the_command_says_so(bad_file, tmp_path, capsys, audience):
    out = tmp_path / "out.pdf"
    assert main(["handout", str(bad_file), "-o", str(out), "--for", audience]) == 0
    told = capsys.readouterr()
    assert "written" in told.out and out.exists()
    assert f"{bad_file}: Shot “{TITLE}” cannot be played as it stands" in told.err
    assert "past 90" in told.err and "sheet says so" in told.err


def test_the_booklets_command_says_so(bad_file, tmp_path, capsys):
    plan = tmp_path / "plan.json"
    save_plan(Plan("Tuesday", items=(PlanItem("bad.json"),)), plan)
    assert main(["plan", "booklet", str(plan), "-o", str(tmp_path / "b.pdf")]) == 0
    told = capsys.readouterr().err
    assert "bad.json" in told and "cannot be played as it stands" in told


def test_nothing_is_said_of_shots_that_can_be_played(tmp_path, capsys):
    path = tmp_path / "good.json"
    save_routine(ROUTINE, path)
    assert main(["handout", str(path), "-o", str(tmp_path / "out.pdf")]) == 0
    assert "cannot be played" not in capsys.readouterr().err


def test_the_dialog_says_so_before_and_after(qtbot, make_session, tmp_path):
    from designer.exporting.handout_dialog import HandoutDialog

    session = make_session(NONE_OF_IT["cut past 90 degrees"])
    told = []
    session.messages.told.connect(told.append)
    dialog = HandoutDialog(session, lambda: tmp_path / "sheet.pdf")
    dialog.show()
    qtbot.waitUntil(lambda: "cannot be played as it stands" in dialog.note.text())
    assert "past 90" in dialog.note.text()
    with qtbot.waitSignal(dialog.work.task.finished, timeout=60_000):
        dialog.work.begin.click()
    assert "sheet.pdf" in told[-1].what and "cannot be played as it stands" in told[-1].todo


def test_the_plan_says_so_of_its_booklet(qtbot, settings, bad_file, tmp_path):
    from designer.plans.plan_window import PlanWindow

    class Answers:
        def file_to_write(self, *_):
            return tmp_path / "booklet.pdf"

        def about_unsaved(self, *_):
            return "drop"

    plan = PlanWindow(settings)
    plan.asker = Answers()
    plan.show()
    plan.add(bad_file)
    plan.print_booklet()
    qtbot.waitUntil(lambda: "booklet.pdf written" in plan.note.text(), timeout=60_000)
    assert "cannot be played as it stands" in plan.note.text()
    assert "Off the blue" in plan.note.text()
    plan.close()
