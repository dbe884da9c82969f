"""What the engine refuses, in the coach's language: by its kind and data where they say it all."""

from __future__ import annotations

from designer.texts import tr
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError, listed, short


def error_told(error: BaizewrightError) -> str:
    """Why something cannot be asked or read: what was given, what is wanted, what to do.

    >>> error_told(OutOfRangeError("pace", 12, "1 to 10"))
    'pace is 12; wanted 1 to 10.'
    """
    if type(error) is OutOfRangeError:
        told = tr(
            "{what} is {got}; wanted {wanted}.",
            what=tr(error.what),
            got=error.got,
            wanted=tr(error.wanted),
        )
        return f"{told} {tr(error.advice)}" if error.advice else told
    if type(error) is UnknownNameError:
        return tr(
            "there is no {what} called {got}; known here: {known}.",
            what=tr(error.what),
            got=short(repr(error.got)),
            known=listed(error.known, tr("none")),
        )
    return tr(str(error))
