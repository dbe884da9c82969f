"""Zooming by two fingers: on a touch pad a native gesture, on a touch screen real touches."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QInputDevice, QNativeGestureEvent, QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication


@pytest.fixture
def touch_pad():
    return QPointingDevice(
        "pad",
        7,
        QInputDevice.DeviceType.TouchPad,
        QPointingDevice.PointerType.Finger,
        QInputDevice.Capability.Position,
        2,
        0,
    )


@pytest.fixture(scope="module")
def screen():
    return QTest.createTouchDevice()


def test_a_pinch_on_a_touch_pad_zooms_about_its_place(canvas, touch_pad):
    canvas.grab()
    at = QPointF(400.0, 200.0)
    under = canvas.frame.to_table(at)
    for amount in (0.3, 0.3, -0.2):
        event = QNativeGestureEvent(
            Qt.NativeGestureType.ZoomNativeGesture,
            touch_pad,
            2,
            at,
            at,
            QPointF(canvas.mapToGlobal(at.toPoint())),
            amount,
            QPointF(),
        )
        assert QApplication.sendEvent(canvas, event)
    assert canvas.frame.zoom == pytest.approx(1.3 * 1.3 * 0.8)
    assert canvas.frame.to_table(at) == pytest.approx(under)


def test_two_fingers_on_a_touch_screen_zoom_in_and_out(qtbot, canvas, screen):
    canvas.grab()
    middle = QPoint(canvas.width() // 2, canvas.height() // 2)

    def fingers(apart, do):
        sequence = QTest.touchEvent(canvas, screen)
        getattr(sequence, do)(1, middle - QPoint(apart, 0), canvas)
        getattr(sequence, do)(2, middle + QPoint(apart, 0), canvas)
        sequence.commit()
        QApplication.processEvents()

    fingers(40, "press")
    for apart in (50, 70, 90, 120, 160):
        fingers(apart, "move")
    grown = canvas.frame.zoom
    assert grown > 1.5
    for apart in (120, 80, 60):
        fingers(apart, "move")
    fingers(60, "release")
    assert 1.0 <= canvas.frame.zoom < grown
