"""The wheel scrolls and zooms; a field that happens to lie under it keeps its value."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QAbstractSpinBox, QApplication, QComboBox, QDial, QSlider, QWidget

#: What Qt would turn by the wheel; dates and times are spin boxes too, scroll bars are no fields.
FIELDS = (QAbstractSpinBox, QComboBox, QSlider, QDial)


class WheelPastFields(QObject):
    """Passes the wheel on from every field of an application to what lies around it.

    Scrolling through a panel would otherwise change the table or the pace under the pointer
    unseen. Nor does the wheel give a field the keys: whatever is being typed elsewhere goes on.
    """

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        app.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ignore the wheel for a field, so that its parent is offered it."""
        kind = event.type()
        if kind == QEvent.Type.Wheel:
            if isinstance(watched, FIELDS):
                event.ignore()
                return True
        elif kind == QEvent.Type.Polish and isinstance(watched, FIELDS):
            _leave_keys(watched)
        return False


def keep_wheel_off_fields(app: QApplication) -> None:
    """Have no field of the application changed by the wheel; once is enough."""
    if app.findChild(WheelPastFields) is None:
        WheelPastFields(app)


def _leave_keys(field: QWidget) -> None:
    if field.focusPolicy() == Qt.FocusPolicy.WheelFocus:
        field.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
