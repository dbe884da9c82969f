"""Which system libraries Qt needs on Linux, which are missing, and Debian's names for them.

The lists hold every library that Qt's own files ask the system for beyond the C and C++
run-time; a test reads those files and fails when Qt comes to ask for another. Debian's names
are those of Debian 12; newer releases still answer to them.
"""

from __future__ import annotations

import ctypes
import sys
from collections.abc import Callable, Iterable
from typing import Literal

ANY_WINDOW = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11.so.6": "libx11-6",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgthread-2.0.so.0": "libglib2.0-0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libz.so.1": "zlib1g",
    "libzstd.so.1": "libzstd1",
}
X11 = {
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb.so.1": "libxcb1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
}
WAYLAND = {
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
}
PACKAGES = ANY_WINDOW | X11 | WAYLAND
Way = Literal["x11", "wayland", "offscreen", "system"]
WAYS = {"x11": ANY_WINDOW | X11, "wayland": ANY_WINDOW | WAYLAND, "offscreen": ANY_WINDOW}


def loads(library: str) -> bool:
    """Say whether the system can load a library by its file name."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def missing_libraries(
    way: Way,
    loads: Callable[[str], bool] = loads,
    platform: str = sys.platform,
) -> tuple[str, ...]:
    """Return the file names of the libraries Qt needs for `way` and the system lacks.

    Only Linux leaves them to the system; elsewhere the answer is always empty.
    """
    if platform != "linux" or way == "system":
        return ()
    return tuple(library for library in WAYS[way] if not loads(library))


def packages_of(libraries: Iterable[str]) -> tuple[str, ...]:
    """Return Debian's packages for these libraries, each once, in order."""
    return tuple(dict.fromkeys(PACKAGES[library] for library in libraries))
