"""Gaps from lists, their verdicts, and claims that hold."""

import pytest
from PySide6.QtCore import Qt

from designer.open_routine.claims_on_offer import claims_on_offer
from designer.words.claims import claim as claim_told
from designer.words.wording import Wording
from engine.answers import answer
from engine.routine.values import Claim

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(window):
    window.show_panel("Gaps")
    return window.gaps


def pick(box, text):
    index = box.findText(text)
    assert index >= 0, [box.itemText(i) for i in range(box.count())]
    box.setCurrentIndex(index)


def test_a_gap_between_two_balls_and_one_beside_a_cushion(qtbot, panel, session):
    pick(panel.first, "red R1")
    pick(panel.second, "red R2")
    qtbot.mouseClick(panel.add, LEFT)
    pick(panel.second, "right cushion")
    qtbot.mouseClick(panel.add, LEFT)
    first, second = session.routine.gaps
    assert (first.kind, first.balls) == ("ball-ball", ("red-1", "red-2"))
    assert (second.kind, second.balls, second.cushion) == ("ball-cushion", ("red-1",), "right")
    assert panel.list.topLevelItem(0).text(0) == "red R1 and red R2"
    assert session.document.undo_name == "Add gap red R1 and right cushion"


def test_a_gap_needs_two_different_edges(qtbot, panel, session, told):
    pick(panel.first, "black")
    pick(panel.second, "black")
    qtbot.mouseClick(panel.add, LEFT)
    assert session.routine.gaps == ()
    assert "two different" in told[-1].what


def test_verdicts_come_after_a_rest(qtbot, panel, session, routine_with_gaps):
    session.document.replace(routine_with_gaps)
    qtbot.waitUntil(lambda: panel.list.topLevelItemCount() == 2)
    qtbot.waitUntil(lambda: session.answer_is_full)
    panel.catch_up_now()
    words = [panel.list.topLevelItem(i).text(2) for i in range(2)]
    held = {one.gap: one.reachable for one in session.answer.verdicts}
    assert words == ["reachable" if held[g] else "not reachable" for g in ("between", "beside")]
    assert panel.list.topLevelItem(0).text(1).endswith(" mm")
    marks = [panel.claims.item(i).text() for i in range(2)]
    signs = ["✓" if one.holds else "✕ FAILS:" for one in session.answer.claims]
    assert all(mark.startswith(sign) for mark, sign in zip(marks, signs, strict=True))


def test_naming_and_removing(qtbot, panel, session, routine_with_gaps):
    session.document.replace(routine_with_gaps)
    qtbot.waitUntil(lambda: panel.list.topLevelItemCount() == 2)
    panel.list.setCurrentItem(panel.list.topLevelItem(1))
    panel.title.setFocus()
    qtbot.keyClicks(panel.title, "By the cushion")
    qtbot.keyClick(panel.title, Qt.Key.Key_Return)
    assert session.routine.gap("beside").title == "By the cushion"
    qtbot.mouseClick(panel.remove, LEFT)
    assert [gap.id for gap in session.routine.gaps] == ["between"]


@pytest.mark.slow
def test_only_what_holds_is_offered_and_not_twice(routine_with_gaps):
    found = answer(routine_with_gaps)
    offers = claims_on_offer(routine_with_gaps, found, "shot-1")
    assert offers
    assert Claim("pot-on", "shot-1") not in offers
    from dataclasses import replace

    claimed = replace(routine_with_gaps, claims=tuple(offers))
    results = answer(claimed).claims
    assert [one for one in results if not one.holds] == []
    assert claims_on_offer(claimed, answer(claimed), "shot-1") == [Claim("pot-on", "shot-1")]


def test_claims_in_words(routine_with_gaps):
    r = routine_with_gaps
    assert claim_told(Wording(r), r.claims[1]) == "Lane A threads gap “Between the reds”"
    claim = Claim("lane-contacts", "shot-1", lane="B", ball="red-2", margin_mm=5.0)
    assert claim_told(Wording(r), claim) == "Lane B touches red R2, by 5 mm or more"
    assert claim_told(Wording(r), Claim("gap-unreachable", "shot-1", gap="beside")) == (
        "Gap “red R2 and right cushion” is not reachable"
    )
