"""Build the drawing of a routine and its answer: a pure function, layer by layer."""

from __future__ import annotations

from collections.abc import Container, Mapping

from designer.drawing import roles
from designer.drawing.balls import ball_items, take_balls
from designer.drawing.bands import band_items
from designer.drawing.beneath import beneath_items
from designer.drawing.checks import check_items, check_lines
from designer.drawing.cloth_marks import mark_items, mark_names
from designer.drawing.crowds import crowded_balls, crowds_of, drawn_radii, frame_items
from designer.drawing.far_end import from_far_end
from designer.drawing.gaps import drawn_gaps, gap_names
from designer.drawing.lanes import avoid_lanes, corridor_items, lane_items, ways
from designer.drawing.layers import ALL_BUT_MEASUREMENTS, Layers
from designer.drawing.letters import letter_items, rim_letter_items
from designer.drawing.look import SCREEN_LOOK, Look
from designer.drawing.measurements import Measured, measurement_items
from designer.drawing.model import Bounds, Disc, Drawing, Item, Point, Text
from designer.drawing.placing import text_box
from designer.drawing.pots import contact_items, pot_items
from designer.drawing.radii import radius_of
from designer.drawing.scene import Scene
from designer.drawing.table import cushion_names, table_bounds, table_items
from designer.texts import tr
from designer.words.figures import length
from designer.words.names import ball_names
from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.context import table_of
from engine.routine.values import Routine
from engine.units import LengthUnit


def build_drawing(
    routine: Routine,
    answer: RoutineAnswer | None,
    layers: Layers = ALL_BUT_MEASUREMENTS,
    unit: LengthUnit = "mm",
    *,
    look: Look = SCREEN_LOOK,
    shot: str | None = None,
    lanes: Container[str] | None = None,
    chosen: str = "",
    names: bool = False,
    beneath: ShotAnswer | None = None,
    held: Mapping[str, Point] | None = None,
) -> Drawing:
    """Draw a routine in table millimetres; without an answer, what stands on the table only.

    `shot` draws the lines and lanes of that shot alone, `lanes` those of that name alone,
    `chosen` bold and the others stepping back; `names` writes each cushion's on the rim;
    `beneath` is the same shot in other conditions, drawn faintly below. With the offsets of the
    drawing before as `held`, letters and names stay where they were beside what they name while
    there is room: nothing jumps about while a ball is dragged. The
    result depends on nothing but the arguments. `UnknownNameError` for a table that is not known.
    """
    cue = routine.cue_ball
    scene = Scene(
        routine,
        answer,
        _shots(answer, shot),
        table_of(routine),
        radius_of(routine, cue.id if cue is not None else ""),
        layers,
        look,
        unit,
        lanes,
        chosen,
        held=held or {},
    )
    if look.least_ball_mm:
        scene.drawn = drawn_radii(routine, look.least_ball_mm)
        scene.crowded |= set(crowded_balls(routine, look.least_ball_mm))
    items: list[Item] = [
        *table_items(scene.table, look, bed=layers.table, marks=layers.marks),
    ]
    if names and layers.marks:
        written = cushion_names(scene.table, look)
        items += written
        for name in written:
            scene.taken.take_box(text_box(name))
    bounds = table_bounds(scene.table)
    if layers.balls:
        take_balls(scene)
    found = ways(scene)
    if layers.lanes or layers.corridors:
        avoid_lanes(scene, found)
    if layers.corridors:
        items += corridor_items(scene, found)
    if layers.bands:
        items += band_items(scene, found)
    if beneath is not None:
        items += beneath_items(scene, beneath)
    items += pot_items(scene)
    if layers.lanes:
        items += lane_items(scene, found)
    items += contact_items(scene)
    if layers.cloth_marks:
        items += mark_items(scene)
    measured = Measured([], [], bounds)
    if layers.measurements:
        measured = measurement_items(scene, bounds)
    checked = check_lines(scene) if layers.measurements and layers.checks else []
    items += measured.lines
    below_balls = len(items)
    gaps = drawn_gaps(scene) if layers.gaps else []
    for gap in gaps:
        items += gap.items
    if layers.balls:
        items += ball_items(scene)
    lines, figures = check_items(scene, checked)
    items[below_balls:below_balls] = lines
    items += figures
    items += gap_names(scene, gaps)
    if layers.cloth_marks:
        items += mark_names(scene)
    if layers.letters:
        items += letter_items(scene, found)
    if layers.rim_letters:
        items += rim_letter_items(scene, found)
    items += measured.readings
    crowded = tuple(ball.id for ball in routine.balls if ball.id in scene.crowded)
    if crowded:
        texts = [text_box(item, look.line_mm) for item in items if isinstance(item, Text)]
        items += frame_items(crowds_of(routine, crowded), routine, look, texts)
    drawing = Drawing(
        tuple(items),
        _holding_texts(measured.bounds, items),
        routine.title,
        set_up_in_words(routine, unit),
        turned=look.turned,
        crowded=crowded,
        offsets=scene.offsets,
    )
    return from_far_end(drawing) if look.far else drawing


def _holding_texts(bounds: Bounds, items: list[Item]) -> Bounds:
    """The bounds grown to hold every text and lettered disc, should one stand out over the rim."""
    x0, y0, x1, y1 = bounds
    for item in items:
        if isinstance(item, Text):
            box = text_box(item)
        elif isinstance(item, Disc) and item.role == roles.LETTER:
            (x, y), r = item.centre, item.radius_mm + item.edge_mm
            box = (x - r, y - r, x + r, y + r)
        else:
            continue
        x0, y0 = min(x0, box[0]), min(y0, box[1])
        x1, y1 = max(x1, box[2]), max(y1, box[3])
    return (x0, y0, x1, y1)


def set_up_in_words(routine: Routine, unit: LengthUnit = "mm") -> str:
    """Where every ball stands, for readers who cannot see the picture."""
    if not routine.balls:
        return tr("A table without balls.")
    names = ball_names(routine)
    places = [
        tr(
            "{ball} at {across} from the left cushion face and {along} from the bottom one",
            ball=names[ball.id],
            across=length(ball.x_mm, unit),
            along=length(ball.y_mm, unit),
        )
        for ball in routine.balls
    ]
    places += [
        tr(
            "mark {number} on the cloth at {across} from the left cushion face and {along} from "
            "the bottom one",
            number=number,
            across=length(mark.x_mm, unit),
            along=length(mark.y_mm, unit),
        )
        for number, mark in enumerate(routine.cloth_marks, start=1)
    ]
    return tr("Set-up: {places}.", places="; ".join(places))


def _shots(answer: RoutineAnswer | None, wanted: str | None) -> tuple[ShotAnswer, ...]:
    if answer is None:
        return ()
    return tuple(
        shot
        for shot in answer.shots
        if not shot.cannot_be_played and (wanted is None or shot.shot == wanted)
    )
