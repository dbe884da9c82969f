"""A photograph in words: where its places are, and what was read off it."""

from __future__ import annotations

from designer.texts import mark, tr
from designer.words.notes import note_told
from engine.photo import PhotoReading
from engine.units import LengthUnit, length_text

PEOPLE = mark("People may be in the picture: ask them, or crop it, before you hand it on.")
TITLE = mark("Read from a photograph")
#: What every reading rests on.
RESTS_ON = mark(
    "Places are read with the table’s sizes as stated: measure your own table for better ones. "
    "± is the distance within which 95 of 100 balls so read stand."
)
#: Where a place is looked for, by the beginning of its id.
_WHERE = {
    "corner": mark("where the lines of the two cushion noses would meet, were they carried on"),
    "middle": mark("the middle of the pocket’s mouth, on the line of the cushion nose"),
    "spot": mark("the middle of the spot on the cloth"),
}


def where_to_look(place_id: str) -> str:
    """Where a place of the table is seen in a picture."""
    return tr(_WHERE.get(place_id.partition("-")[0], ""))


def reading_told(reading: PhotoReading, unit: LengthUnit = "mm") -> str:
    """Camera, marks and balls, one line each, then what to look at again."""
    camera = reading.fit.camera
    x, y, z = (at / 1000.0 for at in camera.at_mm)
    lines = [
        tr(
            "Camera {high:.2f} m above the cloth, {across:.2f} m across and {up:.2f} m up the "
            "table from its bottom left; a lens of {lens:.0f} mm on 35 mm film.",
            high=z, across=x, up=y, lens=camera.focal_35mm,
        ),
        tr("Marks lie {off:.1f} px off their places, as they go.", off=reading.fit.marking_px),
        "",
        tr("Marks, and how far off the camera sees their places:"),
    ]  # fmt: skip
    for one in reading.fit.checks:
        flag = f"  {tr('SET ASIDE')}" if one.bad else ""
        place = tr(one.place.title)
        lines.append(f"  {place:22} {one.distance_px:6.1f} px {one.off_mm:7.1f} mm{flag}")
    lines += ["", tr("Balls, from the left and the bottom cushion:")]
    for ball in reading.balls:
        across, up = (length_text(value, unit) for value in ball.placed_mm)
        far = f"{ball.settled_mm:.0f}"
        moved = f"  {tr('moved {far} mm to lie free', far=far)}" if ball.settled_mm > 0.5 else ""
        lines.append(
            f"  {ball.mark.id:12} {across:>12} {up:>12}   ± {ball.within_mm:.0f} mm{moved}"
        )
    if not reading.balls:
        lines.append(f"  {tr('none marked yet')}")
    lines += ["", tr(RESTS_ON), tr(PEOPLE)]
    lines += [tr("Note: {note}", note=note_told(note)) for note in reading.notes]
    return "\n".join(lines)
