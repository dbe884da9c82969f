"""Labels of a drawing gathered: each plate with the texts and signs on it stays together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Disc, Fill, Item, Point, Stroke, Text

#: Roles that may form plates.
_PLATES = (roles.GAP, roles.BALL_LETTER, roles.MEASURE, roles.CHECK, roles.LETTER, roles.VERDICT)


@dataclass(slots=True)
class Gathered:
    """A label: its middle and its items, in table mm."""

    about_mm: Point
    box: tuple[float, float, float, float]
    items: list[Disc | Fill | Text] = field(default_factory=list)
    lead: Stroke | None = None


def gather(items: Iterable[Item]) -> tuple[list[Item], list[Gathered]]:
    """What lies on the cloth, in order, and the labels; a text without a plate is a label alone."""
    ground: list[Item] = []
    labels: list[Gathered] = []
    for item in items:
        box = _plate_box(item)
        middle = item.centre if isinstance(item, Disc) else _middle(item)
        if middle is None:
            ground.append(item)
            continue
        assert isinstance(item, Disc | Fill | Text)
        home = next((one for one in labels[-1:] if _holds(one.box, middle)), None)
        if home is None and isinstance(item, Text) and item.role == roles.BALL_LETTER:
            ground.append(item)
        elif home is not None and (box is None or item.role == roles.VERDICT):
            home.items.append(item)
        elif isinstance(item, Text):
            half = item.width_mm / 2 + item.size_mm
            x, y = item.at
            labels.append(Gathered(item.at, (x - half, y - half, x + half, y + half), [item]))
        elif box is not None:
            labels.append(Gathered(middle, box, [item], _taken_lead(ground, item.role, box)))
        else:
            ground.append(item)
    return ground, labels


def _taken_lead(
    ground: list[Item], role: str, box: tuple[float, float, float, float]
) -> Stroke | None:
    """The line just drawn from this plate to what it names, taken out of what lies on the cloth.

    A dot at its far end may stand between.
    """
    wide = (box[0] - 1, box[1] - 1, box[2] + 1, box[3] + 1)
    for back in (1, 2):
        item = ground[-back] if len(ground) >= back else None
        if isinstance(item, Stroke) and item.role == role and len(item.lines[0]) == 2:
            ends = item.lines[0]
            if _holds(wide, ends[0]) or _holds(wide, ends[1]):
                del ground[-back]
                away = ends if _holds(wide, ends[0]) else ends[::-1]
                return replace(item, lines=(away,))
        if not isinstance(item, Disc):
            return None
    return None


def _plate_box(item: Item) -> tuple[float, float, float, float] | None:
    """The box of an item that carries texts: a plain rectangle, or a disc with an edge."""
    if isinstance(item, Disc) and item.role == roles.LETTER and item.edge_mm > 0.0:
        (x, y), r = item.centre, item.radius_mm
        return (x - r, y - r, x + r, y + r)
    if isinstance(item, Fill) and item.role in _PLATES and len(item.points) == 4:
        if item.colour not in (ink.PAPER, ink.CLOTH):
            return None
        xs, ys = zip(*item.points, strict=True)
        if len(set(xs)) == 2 and len(set(ys)) == 2:
            return (min(xs), min(ys), max(xs), max(ys))
    return None


def _middle(item: Item) -> Point | None:
    """The middle of what may belong to a label."""
    if isinstance(item, Text):
        return item.at
    if isinstance(item, Fill) and (_plate_box(item) is not None or item.role == roles.VERDICT):
        xs, ys = zip(*item.points, strict=True)
        return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    return None


def _holds(box: tuple[float, float, float, float], point: Point) -> bool:
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]
