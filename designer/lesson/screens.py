"""Which screen the pupils look at and which is left to the coach, as screens come and go."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication, QScreen
from PySide6.QtWidgets import QWidget

from designer.open_routine import Settings


class LessonScreens(QObject):
    """The pupils' screen and the coach's; `changed` when either is another one.

    The pupils' is the one chosen last time, if it is there; else the first that the coach's
    window is not on. With one screen there is none for the coach. `screens` stands in for the
    application in tests: it has its signals and tells its screens.
    """

    changed = Signal()

    def __init__(
        self, settings: Settings, at: QScreen, screens: QGuiApplication | None = None
    ) -> None:
        super().__init__()
        self._settings = settings
        self._all = screens or cast(QGuiApplication, QGuiApplication.instance())
        self._gone: QScreen | None = None
        others = [one for one in self.there if one is not at]
        self.pupils: QScreen = self._remembered() or (others or [at])[0]
        self._all.screenAdded.connect(self._on_added)
        self._all.screenRemoved.connect(self._on_removed)

    @property
    def there(self) -> list[QScreen]:
        """All screens, without one that is just going away."""
        return [one for one in self._all.screens() if one is not self._gone]

    @property
    def coach(self) -> QScreen | None:
        """A screen that pupils do not look at, the primary one if it can be; None without one."""
        primary = self._all.primaryScreen()
        left = [one for one in self.there if one is not self.pupils]
        return primary if primary in left else next(iter(left), None)

    def choose(self, screen: QScreen) -> None:
        """Show the lesson there, now and the next time."""
        self._settings.lesson_screen = name_of(screen)
        self._show_on(screen)

    def close(self) -> None:
        """Listen no longer."""
        self._all.screenAdded.disconnect(self._on_added)
        self._all.screenRemoved.disconnect(self._on_removed)

    def _remembered(self) -> QScreen | None:
        wanted = self._settings.lesson_screen
        return next((one for one in self.there if name_of(one) == wanted), None)

    def _show_on(self, screen: QScreen) -> None:
        self.pupils = screen
        self.changed.emit()

    def _on_added(self, screen: QScreen) -> None:
        """A cable is back: the lesson goes where the coach had chosen."""
        self._show_on(self._remembered() or self.pupils)

    def _on_removed(self, screen: QScreen) -> None:
        """The lesson comes back to the primary screen; the choice is kept for when it is back."""
        self._gone = screen
        left = self.there
        primary = self._all.primaryScreen()
        if self.pupils is screen and left:
            self.pupils = primary if primary in left else left[0]
        self._gone = None if screen not in self._all.screens() else screen
        if left:
            self.changed.emit()


def name_of(screen: QScreen) -> str:
    """A screen as it is told and remembered: its make and model, else where it is plugged in.

    Its number is in it, for two screens of one make.
    """
    parts = (screen.manufacturer(), screen.model(), screen.serialNumber(), screen.name())
    return " ".join(dict.fromkeys(part for part in parts if part))


def fill(screen: QScreen, window: QWidget) -> None:
    """Show a window on the whole of a screen."""
    window.showNormal()
    window.setScreen(screen)
    window.setGeometry(screen.geometry())
    window.showFullScreen()


def put_beside(screen: QScreen, window: QWidget) -> None:
    """Show a window in the middle of a screen, as large as it asks for and has room for."""
    room = screen.availableGeometry()
    window.setScreen(screen)
    size = window.sizeHint().boundedTo(room.size() * 0.95)
    window.resize(size)
    window.move(room.center() - window.rect().center())
    window.show()
