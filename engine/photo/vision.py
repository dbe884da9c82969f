"""OpenCV, loaded when it is first needed: it takes longer to load than the rest of the engine."""

from __future__ import annotations

import os
from functools import cache
from types import ModuleType


@cache
def opencv() -> ModuleType:
    """The library, with the environment as it was: programs started later must not inherit it."""
    before = os.environ.get("LD_LIBRARY_PATH")
    import cv2

    if before is None:
        os.environ.pop("LD_LIBRARY_PATH", None)
    else:
        os.environ["LD_LIBRARY_PATH"] = before
    # Small pictures are looked at: threads cost more than they bring, and take the window's cores.
    cv2.setNumThreads(1)
    return cv2
