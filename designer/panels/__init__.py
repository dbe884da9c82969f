"""Panels beside the table: each shows one side of the session and asks it for changes."""

from designer.panels.answers import AnswersPanel
from designer.panels.balls import BallsPanel
from designer.panels.gaps import GapsPanel
from designer.panels.reach import ReachPanel
from designer.panels.sheet import SheetPanel
from designer.panels.shot import ShotPanel

__all__ = ["AnswersPanel", "BallsPanel", "GapsPanel", "ReachPanel", "SheetPanel", "ShotPanel"]
