"""Errors nobody foresaw, wherever they come up: one way to whoever tells the coach of them."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Callable

Listener = Callable[[BaseException], None]
_listener: Listener | None = None


def listen(listener: Listener | None) -> None:
    """Hear of every such error from now on; None ends it."""
    global _listener
    _listener = listener


def unforeseen(error: BaseException) -> None:
    """Note an error nobody foresaw: on the error stream, and to whoever listens."""
    traceback.print_exception(error, file=sys.stderr)
    if _listener is not None:
        _listener(error)
