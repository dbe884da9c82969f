"""Start the window, or take its picture."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import (
    QEventLoop,
    QLibraryInfo,
    QLocale,
    QSize,
    QTimer,
    QTranslator,
)
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from designer.open_routine import Settings
from designer.painters.png import bytes_of
from designer.places import settle_home
from designer.texts import use_languages
from designer.window.application import Application
from designer.window.garbage import GarbageSearch
from designer.window.look import dress, put_on
from engine.errors import BaizewrightError
from engine.storage import WriteRules, write_file
from engine.version import VERSION

PICTURE, SIZE = "--picture", "--size"
PICTURE_SIZE = QSize(1500, 940)
#: How long a picture may wait for the engine, ms (its first compilation takes a while).
PATIENCE_MS = 180_000


def main(args: Sequence[str] | None = None) -> int:
    """Open the designer with the files named, one window each; the exit code.

    `--picture OUT.png [FILE] [--size WxH]` takes a picture of the window instead and closes it.
    """
    given = list(sys.argv[1:] if args is None else args)
    try:
        settle_home()
    except BaizewrightError as error:
        print(error, file=sys.stderr)
        return 2
    if PICTURE in given:
        return _picture_by_arguments(given)
    app = application()
    settings = Settings()
    put_on(app, settings.look)
    desk = Application(settings)
    desk.watch_for_errors()
    for name in given or [""]:
        desk.open_window(Path(name) if name else None)
    # After the first paint: looking for left work must not hold the window up.
    QTimer.singleShot(250, desk, desk.offer_left_work)
    return app.exec()


def application() -> QApplication:
    """The application with its names, look and icon."""
    running = QApplication.instance()
    if isinstance(running, QApplication):
        return running
    app = QApplication(sys.argv[:1] or ["baizewright"])
    app.setApplicationName("baizewright")
    app.setApplicationDisplayName("")
    app.setApplicationVersion(VERSION)
    app.setOrganizationName("Baizewright")
    QGuiApplication.setDesktopFileName("baizewright")
    speak_as_the_system(app)
    dress(app)
    GarbageSearch(app)
    return app


def speak_as_the_system(app: QApplication) -> str:
    """Take the first of the person's languages there is a translation for; "" for English."""
    language = use_languages(QLocale.system().uiLanguages())
    if language:
        # Qt's own buttons and file dialogs, in the same language or not at all.
        translator = QTranslator(app)
        folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
        if translator.load(f"qtbase_{language}", folder):
            app.installTranslator(translator)
    return language


def picture(file: Path | None, out: Path, size: QSize = PICTURE_SIZE) -> bool:
    """Open the window with a file, wait for every answer, save its picture; True if all went.

    The settings of the person at the computer are neither read nor changed.
    """
    application()
    with tempfile.TemporaryDirectory() as folder:
        desk = Application(Settings(Path(folder) / "settings.ini"))
        window = desk.open_window()
        window.resize(size)
        window.share_room()
        opened = file is None or window.files.open(file)
        session = window.session
        _wait_until(lambda: session.predictions.is_ready)
        if session.routine.shots:
            session.predictions.ask_now(session.routine)
            _wait_until(lambda: session.answer_is_full)
        window.show_panel("Shot" if session.routine.shots else "Balls")
        _wait(250)
        shown = bytes_of(window.grab().toImage())
        window.close()
        _wait(0)
    try:
        inputs = [] if file is None else [file]
        write_file(out, shown, "png", WriteRules(inputs, may_replace="made"))
    except BaizewrightError as error:
        print(error, file=sys.stderr)
        return False
    return opened


def _picture_by_arguments(given: list[str]) -> int:
    size = PICTURE_SIZE
    if SIZE in given:
        at = given.index(SIZE)
        try:
            wide, high = (int(part) for part in given[at + 1].lower().split("x"))
            size = QSize(wide, high)
        except (IndexError, ValueError):
            print(f"{SIZE} needs a size such as 1500x940.", file=sys.stderr)
            return 2
        del given[at : at + 2]
    at = given.index(PICTURE)
    names = given[:at] + given[at + 1 :]
    if not 1 <= len(names) <= 2:
        print(f"{PICTURE} needs the picture’s file, and a routine’s if you like.", file=sys.stderr)
        return 2
    file = Path(names[1]) if len(names) == 2 else None
    return 0 if picture(file, Path(names[0]), size) else 2


def _wait_until(done: Callable[[], bool]) -> None:
    loop = QEventLoop()
    patience = QTimer()
    patience.setSingleShot(True)
    patience.timeout.connect(loop.quit)
    patience.start(PATIENCE_MS)
    look = QTimer()
    look.timeout.connect(lambda: loop.quit() if done() else None)
    look.start(20)
    if not done():
        loop.exec()


def _wait(ms: int) -> None:
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()
