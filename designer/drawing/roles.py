"""Names of the roles a drawing's items play, so that layers can be told apart and switched."""

from __future__ import annotations

RIM = "rim"
BED = "bed"
CUSHION = "cushion"
POCKET = "pocket"
MARKS = "marks"
BALL = "ball"
BALL_LETTER = "ball-letter"
INSET = "inset"
POTTING_LINE = "potting-line"
NINETY_LINE = "ninety-line"
AIM_LINE = "aim-line"
CONTACT = "contact"
LANE = "lane"
CORRIDOR = "corridor"
BENEATH = "beneath"
BAND = "band"
HATCH = "hatch"
TOUCH = "touch"
GAP = "gap"
VERDICT = "verdict"
LETTER = "letter"
MEASURE = "measure"
CHECK = "check"
TIP = "tip"
SCALE_BAR = "scale-bar"
CLOTH_MARK = "cloth-mark"
CHART = "chart"
CHART_BAND = "chart-band"
CHART_LINE = "chart-line"
CHART_TEXT = "chart-text"

ROLES: tuple[str, ...] = (
    RIM, BED, CUSHION, POCKET, MARKS, BALL, BALL_LETTER, INSET, POTTING_LINE, NINETY_LINE,
    AIM_LINE, CONTACT, LANE, CORRIDOR, BENEATH, BAND, HATCH, TOUCH, GAP, VERDICT, LETTER, MEASURE,
    CHECK, TIP, SCALE_BAR, CLOTH_MARK, CHART, CHART_BAND, CHART_LINE, CHART_TEXT,
)  # fmt: skip
