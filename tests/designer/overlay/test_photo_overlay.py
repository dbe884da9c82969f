"""Drawings over photographs: held to an independent projection, to what hides them, to pixels."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from designer.drawing import Layers, build_drawing, roles
from designer.drawing.model import Arc, Stroke
from designer.overlay import PHOTO_LAYERS, StandingBall, photo_drawing
from designer.overlay.lettering import box_of
from designer.overlay.paint import overlay_pixels
from designer.overlay.seen import View
from designer.overlay.shapes import arc_area, stroke_area
from engine.answers import answer
from engine.photo import fit_camera, laid_over, png_of
from tests.engine.photo.cases import LENSES, TABLE, plain_case
from tests.engine.photo.darkroom import LONG_MM, NOSE_MM, RADIUS_MM, WIDE_MM, Lens, Pose
from tests.shares import share

POSES = [
    Pose((700, -1200, 1550), (900, 1600, 0), (1600, 1200), 26.0, 0.01, LENSES[0]),
    Pose((-1300, 1500, 1500), (889, 1750, 0), (1600, 1200), 24.0, -0.02, LENSES[1]),
    Pose((2600, -800, 1700), (900, 1700, 0), (1600, 1200), 25.0, 0.03, LENSES[1]),
    Pose((900, 4700, 1500), (900, 1700, 0), (1200, 1600), 26.0, 0.0, Lens()),
]


@pytest.fixture
def answered(routine):
    return routine, answer(routine)


def camera_of(pose):
    return fit_camera(TABLE, plain_case(pose)).camera


def ring_of(pose, ring):
    """A ring of table mm on the cloth as the test's own projection sees it, densely."""
    points = shapely.get_coordinates(shapely.segmentize(ring, 3.0))
    return pose.sees(np.column_stack((points, np.zeros(len(points)))))


@pytest.mark.parametrize("pose", POSES)
def test_projected_lines_lie_within_a_pixel_of_the_independent_projection(answered, pose):
    """Every outline point of every lane, line and arc, from marks alone, is on the true outline."""
    routine, found = answered
    view = View(camera_of(pose))
    worst, count = 0.0, 0
    plan = build_drawing(routine, found, PHOTO_LAYERS)
    for item in plan.items:
        if not isinstance(item, Stroke | Arc) or item.role == roles.HATCH:
            continue
        area = stroke_area(item) if isinstance(item, Stroke) else arc_area(item)
        inside = shapely.intersection(area, shapely.box(0, 0, WIDE_MM, LONG_MM))
        for part in shapely.get_parts(inside):
            if part.geom_type != "Polygon" or not view.area.contains(part):
                continue
            for mine, true in zip(
                view.outlines(part), (part.exterior, *part.interiors), strict=True
            ):
                there = shapely.LineString(ring_of(pose, true))
                off = shapely.distance(there, shapely.points(mine[pose.holds(mine)]))
                worst, count = max(worst, off.max(initial=0.0)), count + len(off)
    print(f"{count} points, worst {worst:.2f} px")
    assert count > 500
    assert worst < 1.0


def test_painted_edges_lie_within_a_pixel_of_the_independent_projection(routine):
    """Across the corridor of a lane, the change of cover stands where it must, both sides."""
    (shot,) = routine.shots
    lanes = tuple(replace(lane, speed_m_s=2.0) for lane in shot.lanes)
    routine = replace(routine, shots=(replace(shot, lanes=lanes),))
    found = answer(routine)
    pose = POSES[0]
    layers = replace(PHOTO_LAYERS, **dict.fromkeys(_all_but("corridors"), False))
    drawing = photo_drawing(routine, found, camera_of(pose), layers, lanes=("C",), balls=())
    cover = overlay_pixels(drawing)[..., 3].astype(float)
    path = np.asarray(_lane(found, "C").path_mm)
    middle, way = _long_straight(path)
    side = np.array([-way[1], way[0]])
    seen = 0
    for step in np.linspace(-120.0, 120.0, 9):
        for sign in (-1.0, 1.0):
            edge = middle + step * way + sign * RADIUS_MM * side
            out = pose.sees(np.array([*(edge + 25.0 * sign * side), 0.0]))
            inner = pose.sees(np.array([*(edge - 12.0 * sign * side), 0.0]))
            along = np.linspace(0.0, 1.0, 400)[:, None]
            line = out + along * (inner - out)
            values = _between(cover, line)
            half = (values.max() + values.min()) / 2.0
            assert values[0] < 1.0 < values[-1]
            crossed = line[int(np.argmax(values > half))]
            true = pose.sees(np.array([*edge, 0.0]))
            assert np.hypot(*(crossed - true)) < 1.0
            seen += 1
    assert seen == 18


@pytest.mark.slow
def test_the_overlay_over_the_photograph_is_the_composite(answered):
    routine, found = answered
    pose = POSES[0]
    overlay = overlay_pixels(photo_drawing(routine, found, camera_of(pose)))
    assert overlay.shape == (1200, 1600, 4)
    rng = np.random.default_rng(1)
    photo = rng.integers(0, 256, (1200, 1600, 3), dtype=np.uint8)
    both = laid_over(photo, overlay)
    from_file = _read(png_of(overlay))
    assert np.array_equal(from_file, overlay)
    assert np.array_equal(laid_over(photo, from_file), _read(png_of(both)))
    clear = overlay[..., 3] == 0
    assert 0.5 < clear.mean() < 0.999
    assert np.array_equal(both[clear], photo[clear])


@pytest.mark.slow
def test_balls_hide_what_lies_behind_them_and_nothing_else(answered):
    routine, found = answered
    pose = POSES[0]
    path = np.asarray(_lane(found, "C").path_mm)
    x, y = path[len(path) // 2]
    ball = StandingBall(float(x), float(y), RADIUS_MM)
    layers = replace(PHOTO_LAYERS, letters=False, gaps=False)
    camera = camera_of(pose)
    free = overlay_pixels(photo_drawing(routine, found, camera, layers, balls=()))
    hidden = overlay_pixels(photo_drawing(routine, found, camera, layers, balls=(ball,)))
    rim = pose.outline(np.array([x, y, RADIUS_MM]))
    silhouette = shapely.Polygon(rim)
    (x0, y0), (x1, y1) = rim.min(axis=0).astype(int) - 3, rim.max(axis=0).astype(int) + 4
    yy, xx = np.mgrid[y0:y1, x0:x1]
    inside = np.zeros((1200, 1600), dtype=bool)
    inside[y0:y1, x0:x1] = shapely.contains_xy(silhouette.buffer(-1.0), xx, yy)
    outside = np.ones((1200, 1600), dtype=bool)
    outside[y0:y1, x0:x1] = ~shapely.contains_xy(silhouette.buffer(1.0), xx, yy)
    assert inside.sum() > 50
    assert free[inside][:, 3].max() > 60
    assert hidden[inside][:, 3].max() == 0
    assert np.array_equal(hidden[outside], free[outside])


def test_the_near_cushions_nose_hides_the_cloth_behind_it(routine):
    """A line run along the bottom cushion is not drawn over the rubber that hides it."""
    pose = POSES[0]
    everything = replace(PHOTO_LAYERS, marks=True)
    line = replace(routine, balls=())
    cover = overlay_pixels(photo_drawing(line, None, camera_of(pose), everything))[..., 3]
    drawing = photo_drawing(line, None, camera_of(pose), everything)
    nose = pose.sees(np.array([[400.0, 0, NOSE_MM], [889.0, 0, NOSE_MM], [1400.0, 0, NOSE_MM]]))
    assert shapely.Polygon(drawing.opening.outlines[0]).distance(shapely.points(nose)).max() < 1.5
    below = (nose + np.array([0.0, 12.0])).round().astype(int)
    assert pose.holds(below).all() and (cover[below[:, 1], below[:, 0]] == 0).all()


@pytest.mark.parametrize("name", share(Layers.__dataclass_fields__, 6))
@pytest.mark.slow
def test_every_layer_can_be_laid_over(answered, name):
    """Alone, and seen from near, where much of the table is behind the camera."""
    routine, found = answered
    layers = Layers(**{field: field == name for field in Layers.__dataclass_fields__})
    near = Pose((400, 900, 700), (1200, 2400, 0), (800, 600), 24.0)
    marks = plain_case(near)
    camera = camera_of(replace(POSES[0], size=(800, 600)))
    assert len(marks.marks) >= 4
    for one in (camera, fit_camera(TABLE, marks).camera):
        drawing = photo_drawing(routine, found, one, layers)
        patches = (*drawing.ground, *drawing.standing)
        assert all(np.isfinite(ring).all() for patch in patches for ring in patch.outlines)
        overlay = overlay_pixels(drawing)
        assert overlay.shape == (600, 800, 4)
        if name in ("table", "marks", "balls", "lanes", "corridors", "potting_line"):
            assert overlay[..., 3].max() > 20


def test_labels_stay_in_the_picture_off_balls_and_off_each_other(answered):
    routine, found = answered
    pose = POSES[0]
    drawing = photo_drawing(routine, found, camera_of(pose), replace(PHOTO_LAYERS, balls=False))
    boxes = [box_of(label) for label in drawing.labels]
    assert len(boxes) >= 3
    rims = [shapely.box(*rim.min(axis=0), *rim.max(axis=0)) for rim in drawing.hiding]
    shapes = [shapely.box(*box) for box in boxes]
    for i, one in enumerate(shapes):
        x0, y0, x1, y1 = one.bounds
        assert x0 >= 0 and y0 >= 0 and x1 <= 1600 and y1 <= 1200
        assert all(one.intersection(rim).area < 1.0 for rim in rims)
        assert all(one.intersection(other).area < 1.0 for other in shapes[:i])


@pytest.mark.slow
def test_painted_balls_cover_their_true_outlines(answered):
    routine, found = answered
    pose = POSES[2]
    drawing = photo_drawing(routine, found, camera_of(pose), replace(PHOTO_LAYERS, balls=True))
    overlay = overlay_pixels(drawing)
    for ball in routine.balls:
        rim = pose.outline(np.array([ball.x_mm, ball.y_mm, RADIUS_MM]))
        if not pose.holds(rim).all():
            continue
        x, y = rim.mean(axis=0).round().astype(int)
        assert overlay[y, x, 3] > 200
        painted = next(
            shapely.Polygon(one.outlines[0]) for one in drawing.with_roles(roles.BALL)
            if shapely.Polygon(one.outlines[0]).contains(shapely.Point(x, y))
        )  # fmt: skip
        assert shapely.hausdorff_distance(painted, shapely.Polygon(rim)) < 1.0


def _lane(found, label):
    return next(lane for lane in found.shots[0].lanes if lane.label == label)


def _all_but(*kept: str) -> list[str]:
    return [name for name in Layers.__dataclass_fields__ if name not in kept]


def _long_straight(path: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    steps = np.diff(path, axis=0)
    lengths = np.hypot(*steps.T)
    heading = np.arctan2(steps[:, 1], steps[:, 0])
    best = max(
        range(len(steps)),
        key=lambda i: lengths[(np.abs(heading - heading[i]) < 1e-3)].sum(),
    )
    same = np.flatnonzero(np.abs(heading - heading[best]) < 1e-3)
    start, end = path[same[0]], path[same[-1] + 1]
    return (start + end) / 2.0, (end - start) / np.hypot(*(end - start))


def _between(values: np.ndarray, points: np.ndarray) -> np.ndarray:
    from scipy.ndimage import map_coordinates

    return map_coordinates(values, [points[:, 1], points[:, 0]], order=1)


def _read(data: bytes) -> np.ndarray:
    import io

    from PIL import Image

    return np.asarray(Image.open(io.BytesIO(data)))
