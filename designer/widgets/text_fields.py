"""Text fields that hand over what was typed when it is done, and leave undo to the document."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget


class TextField(QLineEdit):
    """One line; `committed` brings the text on Enter or on leaving, if it was changed.

    Escape takes back what was typed. Undo and redo are the field's while something is being
    typed, and the document's otherwise.
    """

    committed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = ""
        self.editingFinished.connect(self._commit)

    @property
    def being_typed(self) -> bool:
        """Whether the field holds something not handed over yet."""
        return self.text() != self._shown

    def show_text(self, text: str) -> None:
        """Show a text, unless the coach is typing another one."""
        if self.hasFocus() and self.being_typed:
            self._shown = text
            return
        self._shown = text
        if self.text() != text:
            self.setText(text)
            self.setCursorPosition(0)

    def event(self, event: QEvent) -> bool:
        """Let undo and redo through to the window when nothing is being typed."""
        if _is_undo(event) and not self.being_typed:
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape takes back what was typed."""
        if event.key() == Qt.Key.Key_Escape and self.being_typed:
            self.setText(self._shown)
            return
        super().keyPressEvent(event)

    def _commit(self) -> None:
        if self.being_typed:
            text = self._shown = self.text()
            # Setting it anew ends the field's own undo: from here on the document's counts.
            self.setText(text)
            self.committed.emit(text)


class TextArea(QPlainTextEdit):
    """Several lines; `committed` brings the text on leaving the field, if it was changed."""

    committed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = ""
        self.setTabChangesFocus(True)

    @property
    def being_typed(self) -> bool:
        """Whether the field holds something not handed over yet."""
        return self.toPlainText() != self._shown

    def show_text(self, text: str) -> None:
        """Show a text, unless the coach is typing another one."""
        if self.hasFocus() and self.being_typed:
            self._shown = text
            return
        self._shown = text
        if self.toPlainText() != text:
            self.setPlainText(text)
            # What the widget makes of odd line ends counts as what was shown.
            self._shown = self.toPlainText()

    def event(self, event: QEvent) -> bool:
        """Let undo and redo through to the window when nothing is being typed."""
        if _is_undo(event) and not self.being_typed:
            event.ignore()
            return False
        return super().event(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Hand over what was typed."""
        super().focusOutEvent(event)
        self.commit()

    def commit(self) -> None:
        """Hand over what was typed, if anything was."""
        if self.being_typed:
            text = self._shown = self.toPlainText()
            self.committed.emit(text)


def commit_typing(window: QWidget) -> None:
    """Hand over whatever is being typed in a window, as before saving."""
    field: QObject | None = window.focusWidget()
    if isinstance(field, TextArea):
        field.commit()
    elif isinstance(field, TextField):
        field._commit()


def _is_undo(event: QEvent) -> bool:
    return (
        event.type() == QEvent.Type.ShortcutOverride
        and isinstance(event, QKeyEvent)
        and (
            event.matches(QKeySequence.StandardKey.Undo)
            or event.matches(QKeySequence.StandardKey.Redo)
        )
    )
