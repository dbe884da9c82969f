"""Makes the invented photograph of the examples, and what a coach would have marked in it.

    python3 -m tests.engine.photo.demo_photograph layouts_demo/photograph

Nobody and no place is in it: the picture is rendered from a routine of the examples.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

from engine.photo import BallMark, PhotoMarks, fit_camera, jpeg_of, picture_of, suggest_middle
from engine.storage import load_routine
from engine.storage.photo_files import save_photo_marks
from tests.engine.photo.cases import TABLE, marks_in
from tests.engine.photo.darkroom import RADIUS_MM, Lens, Pose, render

ROUTINE = Path(__file__).resolve().parents[3] / "layouts_demo" / "04-left-right-or-between.json"
#: A phone held up high behind the baulk end, its lens left as it is.
POSE = Pose(
    (640.0, -830.0, 1690.0), (905.0, 1330.0, 0.0), (1600, 1200), 25.0, 0.012,
    Lens("brown", (-0.07, 0.015)),
)  # fmt: skip


def main(folder: Path) -> None:
    """Write the picture and its marks into a folder."""
    balls = load_routine(ROUTINE).balls
    data = jpeg_of(render(POSE, [(b.kind, b.x_mm, b.y_mm) for b in balls], grain=0.006), 84)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "table.jpg").write_bytes(data)
    rng = np.random.default_rng(12)
    photo = PhotoMarks("table.jpg", POSE.size, marks=marks_in(POSE, rng, 1.0))
    camera = fit_camera(TABLE, photo).camera
    pixels = picture_of(data, "table.jpg").pixels
    for ball in balls:
        at = POSE.ball_middle(np.array([ball.x_mm, ball.y_mm, RADIUS_MM])) + rng.normal(0, 1.5, 2)
        seen = suggest_middle(pixels, tuple(at), camera=camera)
        assert seen is not None
        photo = photo.with_ball(BallMark(ball.id, ball.kind, *seen.middle_px, seen.spread_px))
    save_photo_marks(photo, folder / "table.photo.json")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
