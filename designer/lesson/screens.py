"""Which screen the pupils look at and which is left to the coach, as screens come and go."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication, QScreen
from PySide6.QtWidgets import QWidget

from designer.open_routine import Settings


class LessonScreens(QObject):
    """The pupils' screen and the coach's, None where there is none; `changed` when they are others.

    The pupils' is the one chosen last time, if it is there; else the first that the coach's
    window is not on. What is for the coach alone never comes onto another screen by itself: when
    a screen goes away it is put away, and one that is plugged in is for the pupils. `screens`
    stands in for the application in tests: it has its signals and tells its screens.
    """

    changed = Signal()

    def __init__(
        self, settings: Settings, at: QScreen, screens: QGuiApplication | None = None
    ) -> None:
        super().__init__()
        self._settings = settings
        self._all = screens or cast(QGuiApplication, QGuiApplication.instance())
        self._gone: QScreen | None = None
        chosen = (one for one in self.there if name_of(one) == settings.lesson_screen)
        others = (one for one in self.there if one is not at)
        self.pupils: QScreen = next(chosen, None) or next(others, at)
        self._wanted = name_of(self.pupils) if len(self.there) > 1 else ""
        self.coach: QScreen | None = None
        self.look_for_coach()
        self._all.screenAdded.connect(self._on_added)
        self._all.screenRemoved.connect(self._on_removed)

    @property
    def there(self) -> list[QScreen]:
        """All screens, without one that is just going away."""
        return [one for one in self._all.screens() if one is not self._gone]

    def look_for_coach(self) -> None:
        """A screen for the coach: one that shows nothing of the pupils', the primary if it can."""
        shown, primary = self.pupils.geometry(), self._all.primaryScreen()
        left = [one for one in self.there if not one.geometry().intersects(shown)]
        self.coach = primary if primary in left else next(iter(left), None)

    def choose(self, screen: QScreen) -> None:
        """Show the lesson there, now and the next time."""
        self._settings.lesson_screen = name_of(screen)
        self._show_on(screen)

    def close(self) -> None:
        """Listen no longer."""
        self._all.screenAdded.disconnect(self._on_added)
        self._all.screenRemoved.disconnect(self._on_removed)

    def _show_on(self, screen: QScreen) -> None:
        self.pupils, self._wanted = screen, name_of(screen)
        self.look_for_coach()
        self.changed.emit()

    def _on_added(self, screen: QScreen) -> None:
        """The pupils' screen is back, or came after the lesson was begun."""
        self._gone = None
        wanted = self._wanted or self._settings.lesson_screen or name_of(screen)
        if name_of(screen) == wanted:
            self._show_on(screen)

    def _on_removed(self, screen: QScreen) -> None:
        """The lesson comes back to the primary screen, and goes again when its own is back."""
        self._gone = screen
        left, primary = self.there, self._all.primaryScreen()
        if left and self.pupils is screen:
            self.pupils = primary if primary in left else left[0]
        self._gone = screen if screen in self._all.screens() else None
        if self.coach is screen or self.coach is self.pupils:
            self.coach = None
        if left:
            self.changed.emit()


def name_of(screen: QScreen) -> str:
    """A screen as it is told and remembered: make, model and number, and where it is plugged in."""
    parts = (screen.manufacturer(), screen.model(), screen.serialNumber(), screen.name())
    size = screen.geometry().size()
    told = " ".join(dict.fromkeys(part for part in parts if part))
    return told or f"{size.width()} × {size.height()}"


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
