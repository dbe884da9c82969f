"""Find out whether a window can be shown here, and by which of Linux's two ways."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

OVERRIDE = "BAIZEWRIGHT_SCREEN"
"""Set to ``no`` to do without a screen although there is one, to ``yes`` to insist on one."""


@dataclass(frozen=True, slots=True)
class Screen:
    """Whether there is a screen, why, and how windows reach it."""

    present: bool
    reason: str
    way: Literal["x11", "wayland", "system"] = "system"


def x11_answers() -> bool:
    """Say whether the X display named by DISPLAY takes a connection.

    True as well when the library to ask with is not there: its absence is reported apart.
    """
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(None, None)
    refused = bool(xcb.xcb_connection_has_error(connection))
    xcb.xcb_disconnect(connection)
    return not refused


def find_screen(
    env: Mapping[str, str] = os.environ,
    platform: str = sys.platform,
    answers: Callable[[], bool] = x11_answers,
) -> Screen:
    """Say whether a window can be shown, judging by the system and its variables."""
    wish = env.get(OVERRIDE, "").strip().lower()
    if wish in ("no", "0", "off"):
        return Screen(False, f"{OVERRIDE} says no")
    if platform in ("win32", "darwin", "cygwin"):
        return Screen(True, "this system always has one")
    way: Literal["x11", "wayland"] = "x11" if env.get("DISPLAY") else "wayland"
    if wish in ("yes", "1", "on"):
        return Screen(True, f"{OVERRIDE} says yes", way)
    if env.get("DISPLAY"):
        if answers():
            return Screen(True, "DISPLAY is set", "x11")
        if not env.get("WAYLAND_DISPLAY"):
            return Screen(False, f"DISPLAY is {env['DISPLAY']}, but nothing answers there")
    if env.get("WAYLAND_DISPLAY"):
        return Screen(True, "WAYLAND_DISPLAY is set", "wayland")
    return Screen(False, "neither DISPLAY nor WAYLAND_DISPLAY is set")
