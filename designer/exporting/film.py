"""A replay as an animated image: GIF for anywhere, animated PNG where colours matter.

Pillow writes the file; it is loaded when the first film is made.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QShortcut
from PySide6.QtWidgets import QApplication, QProgressDialog, QPushButton, QWidget

from designer.files.asker import FILMS
from designer.files.asking import rules_to_write
from designer.open_routine import OpenRoutine
from designer.table_view.film import film_pictures, film_times
from designer.texts import tr
from engine.errors import BaizewrightError, OutOfRangeError
from engine.storage import write_file
from engine.storage.file_kinds import KIND_OF_ENDING

if TYPE_CHECKING:
    from PIL import Image

WIDTH_PX = 960
PER_SECOND = 20.0
#: A GIF counts its times in hundredths of a second.
GIF_TICK_MS = 10
#: Colours of a GIF: one set for all its pictures, so that nothing flickers.
GIF_COLOURS = 200


def write_film(
    session: OpenRoutine, path: Path, parent: QWidget | None = None, width_px: int = WIDTH_PX
) -> bool:
    """Write the selected lane, played at the player's speed; told how it went.

    With a parent the progress is shown and may be cancelled; nothing is written then.
    """
    player = session.player
    if player.replay is None and not player.open():
        return False
    kind = KIND_OF_ENDING.get(path.suffix.lower(), "")
    rules = rules_to_write(parent, path, kind, [session.document.path])
    if rules is None:
        return False
    progress = _Progress(parent)
    try:
        data = film_bytes(session, path.suffix.lower(), width_px, progress.step)
        if data is None:
            session.messages.note(tr("No film was written: it was cancelled."))
            return False
        write_file(path, data, kind, rules)
    except BaizewrightError as error:
        session.messages.fail(tr("The film was not written."), tr("Choose another place."), error)
        return False
    finally:
        progress.close()
    session.messages.note(tr("The film is in {path}.", path=path), file=path)
    return True


def film_bytes(
    session: OpenRoutine,
    ending: str,
    width_px: int = WIDTH_PX,
    step: Callable[[int, int], bool] = lambda done, of: True,
) -> bytes | None:
    """The film of the replay on show as a file with that ending (.gif or .png).

    `step(done, of)` hears of every picture; None as soon as it answers False.
    `OutOfRangeError` for another ending.
    """
    if ending not in FILMS:
        raise OutOfRangeError("ending of the film’s file", repr(ending), ", ".join(FILMS))
    player = session.player
    replay = player.replay
    assert replay is not None, "open a replay first"
    shown = film_times(replay, PER_SECOND, player.speed)
    pictures = []
    for image in film_pictures(session, replay, (t for t, _ in shown), width_px):
        pictures.append(_picture(image))
        if not step(len(pictures), len(shown)):
            return None
    out = io.BytesIO()
    lengths = _ticks([length for _, length in shown])
    if ending == ".gif":
        first, *rest = _in_one_palette(pictures)
        first.save(
            out, "GIF", save_all=True, append_images=list(rest), duration=lengths, loop=0,
            optimize=False, disposal=1,
        )  # fmt: skip
    else:
        first, *others = pictures
        first.save(
            out, "PNG", save_all=True, append_images=others, duration=lengths, loop=0,
        )  # fmt: skip
    return out.getvalue()


def _ticks(lengths_s: list[float]) -> list[int]:
    """Lengths in whole ticks (ms), rounded so that the errors do not add up."""
    told, shown = 0.0, 0
    ticks = []
    for length in lengths_s:
        told += 1000.0 * length
        tick = max(round((told - shown) / GIF_TICK_MS), 2) * GIF_TICK_MS
        ticks.append(tick)
        shown += tick
    return ticks


def _in_one_palette(pictures: list[Image.Image]) -> Iterator[Image.Image]:
    from PIL import Image

    palette = pictures[0].quantize(GIF_COLOURS, method=Image.Quantize.MEDIANCUT)
    for picture in pictures:
        yield picture.quantize(palette=palette, dither=Image.Dither.NONE)


def _picture(image: QImage) -> Image.Image:
    from PIL import Image

    rgb = image.convertToFormat(QImage.Format.Format_RGB888)
    size = (rgb.width(), rgb.height())
    return Image.frombuffer("RGB", size, bytes(rgb.constBits()), "raw", "RGB", rgb.bytesPerLine())


class FilmProgress(QProgressDialog):
    """How far a film is. Its button alone cancels: a stray Escape drops no film."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setLabelText(tr("Making the film …"))
        self.cancel_button = QPushButton(tr("Cancel"))
        self.setCancelButton(self.cancel_button)
        for key in self.findChildren(QShortcut):
            key.setEnabled(False)

    def reject(self) -> None:
        """Escape comes here; what is made goes on."""


class _Progress:
    """A dialog with a bar, or nothing at all without a parent."""

    def __init__(self, parent: QWidget | None) -> None:
        self._dialog: FilmProgress | None = None
        if parent is not None:
            self._dialog = FilmProgress(parent)
            self._dialog.setWindowModality(Qt.WindowModality.WindowModal)
            self._dialog.setMinimumDuration(400)

    def step(self, done: int, of: int) -> bool:
        """Show how far it is; False once cancelled."""
        if self._dialog is None:
            return True
        self._dialog.setMaximum(of + 1)
        self._dialog.setValue(done)
        QApplication.processEvents()
        return not self._dialog.wasCanceled()

    def close(self) -> None:
        """Put the dialog away."""
        if self._dialog is not None:
            self._dialog.hide()
            self._dialog.deleteLater()
