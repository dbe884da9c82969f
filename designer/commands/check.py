"""`check`: answer routines and say whether their claims hold."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from typing import Any

from designer.commands.exit_codes import BAD_INPUT, FAILS, HOLDS
from designer.commands.files import read_routine, tell
from designer.commands.progress import Told
from engine.errors import BaizewrightError
from engine.routine.values import Routine


def check(
    files: Sequence[str], as_json: bool = False, tolerance: bool = False, bands: bool = False
) -> int:
    """Check each file and print what was found; the worst code of all.

    0: every claim holds; 1: some claim fails; 2: some file cannot be read or answered, the
    others are checked all the same. JSON: one object for one file, for several an object
    whose `files` lists them. With `tolerance`, also how far each ball may be misplaced; with
    `bands`, how far what is not known of the table may move each lane.
    """
    found, worst = [], HOLDS
    for file in files:
        code, result = _checked(file, as_json, tolerance, bands)
        worst = max(worst, code)
        if result is not None:
            found.append(result)
    if as_json:
        _print_json(found, len(files), worst)
    else:
        print("\n\n".join(found))
    return worst


def _checked(file: str, as_json: bool, tolerance: bool, bands: bool) -> tuple[int, Any]:
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT, None
    from designer.words.telling import words_of
    from designer.words.wording import Wording
    from engine.answers import answer, set_up_tolerance, to_json, with_bands

    try:
        answered = answer(routine, chances=as_json)  # the text tells no chances
        if bands:
            answered = with_bands(routine, answered)
        found = set_up_tolerance(routine, _told(routine)) if tolerance else None
    except BaizewrightError as error:
        tell(file, error)
        return BAD_INPUT, None
    code = HOLDS if answered.all_claims_hold else FAILS
    if as_json:
        words = words_of(Wording(routine))
        return code, {"file": file, **to_json(answered, routine, found, words=words)}
    from designer.commands.report import report

    return code, report(file, routine, answered, found)


def _told(routine: Routine) -> Callable[[float], bool]:
    count = len(routine.balls)
    told = Told("Moving every ball about", "balls")
    return lambda share: told(min(round(share * count), count), count)


def _print_json(found: list[dict[str, Any]], asked: int, worst: int) -> None:
    if asked == 1:
        if found:
            print(json_text(found[0]))
        return
    whole = {
        "format": "baizewright-check-list",
        "version": 1,
        "all_claims_hold": worst == HOLDS,
        "files_read": len(found),
        "files_asked": asked,
        "files": found,
    }
    print(json_text(whole))


def json_text(value: Any) -> str:
    """JSON text: readable, no NaN or infinity."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False, indent=1)
