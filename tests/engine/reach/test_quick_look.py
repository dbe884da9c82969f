"""The quick look says the same as the refined verdict on all demo routines."""

from pathlib import Path

import pytest

from engine.errors import UnknownNameError
from engine.reach import verdicts
from engine.reach.quick import quick_looks
from engine.storage import load_routine
from tests.shares import share

DEMO = sorted((Path(__file__).resolve().parents[3] / "layouts_demo").glob("*.json"))


@pytest.mark.parametrize("path", share(DEMO, 5), ids=lambda path: path.stem)
@pytest.mark.slow
def test_agrees_with_the_verdict(path):
    routine = load_routine(path)
    for shot in routine.shots:
        full = {one.gap: one for one in verdicts(routine, shot.id, forgiving=False)}
        quick = {look.verdict.gap: look.verdict for look in quick_looks(routine, shot.id)}
        assert set(quick) == set(full)
        for gap, one in quick.items():
            assert one.reachable == full[gap].reachable, gap
            assert one.width_mm == pytest.approx(full[gap].width_mm)


def test_a_shot_that_is_not_there_is_refused():
    with pytest.raises(UnknownNameError):
        quick_looks(load_routine(DEMO[0]), "no-such-shot")
