"""From a coach's own photograph: the camera from marks on the table, and the balls.

mark_places(table) -> tuple[MarkPlace]              # what can be marked, and at which height
fit_camera(table, photo) -> CameraFit               # camera, how sure, every mark beside it
within_mm(fit, places_mm) -> (n,)                   # ± anywhere on the table
read_photo(photo, base=None) -> PhotoReading        # a routine with the balls where they stand
suggest_middle(pixels, click, camera=...) -> Suggestion | None
"""

from engine.photo.balls import ball_place, outline, outline_middle
from engine.photo.camera import Camera
from engine.photo.doubt import within_mm
from engine.photo.fit import CameraFit, MarkCheck, fit_camera
from engine.photo.opening import picture_of
from engine.photo.outline_fit import Suggestion, suggest_middle
from engine.photo.picture import Picture, jpeg_of, laid_over, png_of
from engine.photo.places import mark_places, nose_height_mm, place_named
from engine.photo.reading import WITHIN_KEY, BallReading, PhotoReading, check_table, read_photo
from engine.photo.report import report_json
from engine.photo.values import BallMark, Mark, MarkPlace, PhotoMarks

__all__ = [
    "WITHIN_KEY",
    "BallMark",
    "BallReading",
    "Camera",
    "CameraFit",
    "Mark",
    "MarkCheck",
    "MarkPlace",
    "PhotoMarks",
    "PhotoReading",
    "Picture",
    "Suggestion",
    "ball_place",
    "check_table",
    "fit_camera",
    "jpeg_of",
    "laid_over",
    "mark_places",
    "nose_height_mm",
    "outline",
    "outline_middle",
    "picture_of",
    "place_named",
    "png_of",
    "read_photo",
    "report_json",
    "suggest_middle",
    "within_mm",
]
