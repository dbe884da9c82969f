"""Where a straight jaw's small rounded tip bounds the window of a ball beside its face."""

import math

import pytest

from engine.conditions import usual_conditions
from engine.potting import pocket_window
from engine.tables import load_table

TABLE = load_table("pool-9ft")
R = usual_conditions(TABLE).ball_radius_mm


@pytest.mark.parametrize(
    "along", [(40.0, 2220.0), (38.0, 2250.0), (45.0, 2100.0), (39.739, 2216.546)]
)
@pytest.mark.parametrize("end", ["top", "bottom"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_edge_next_to_the_face_grazes_the_tip(along, side, end):
    """Tangent to a circle of radius r + R about the near jaw, by the arcsine; others mirrored."""
    pocket = TABLE.pocket(f"{end}-{side}")
    place = (along[0] if side == "left" else TABLE.width_mm - along[0],
             along[1] if end == "top" else TABLE.length_mm - along[1])  # fmt: skip
    window = pocket_window(pocket, place, R)
    assert window.is_clean
    # the jaw on the side cushion is the one nearer to that cushion's face
    edge = 0.0 if side == "left" else TABLE.width_mm
    near = min(pocket.jaws_mm, key=lambda jaw: abs(jaw[0] - edge))
    away = math.dist(place, near)
    off = math.asin((pocket.jaw_radius_mm + R) / away)
    towards = math.atan2(near[1] - place[1], near[0] - place[0])
    turned = -1.0 if (side == "left") == (end == "top") else 1.0
    grazing = towards + turned * off
    bound = window.direction_rad - turned * window.half_width_rad
    assert math.remainder(bound - grazing, 2.0 * math.pi) == pytest.approx(0.0, abs=1e-9)
