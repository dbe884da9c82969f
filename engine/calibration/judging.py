"""Every observation against the fit, and what a reader should know before trusting it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from engine.calibration.fit import Fit
from engine.calibration.kinds import KINDS, Observation
from engine.calibration.values import Finding, Judged
from engine.conditions import CONDITION_FACTS
from engine.results import Note

#: Mean residual of a kind, in its standard errors, beyond which all of it leans one way.
LEAN = 4.0


def judged(
    rows: Sequence[Observation], bad: Mapping[int, Note | None], fit: Fit
) -> tuple[Judged, ...]:
    """Every row with its verdict; `bad` gives the reason of an impossible one by index."""
    found, k = [], 0
    for index, one in enumerate(rows):
        if bad[index] is not None:
            found.append(Judged(one, "impossible", reason=bad[index]))
            continue
        verdict = "used" if fit.used[k] else "disagrees"
        predicted = float(fit.predicted[k])
        lost = not np.isfinite(predicted)
        found.append(
            Judged(
                one,
                verdict,
                float(fit.measured[k]),
                None if lost else predicted,
                float(fit.errors[k]),
                None if lost else float(fit.off[k]),
            )
        )
        k += 1
    return tuple(found)


def fit_notes(fit: Fit, rows: Sequence[Observation]) -> list[Note]:
    """What the fit as a whole says: strikes that differ, wide scatter, kinds that lean one way."""
    notes = []
    if fit.spread:
        notes.append(Note("strikes-differ", {"percent": 100.0 * fit.spread}))
    if fit.widened > 1.0:
        notes.append(Note("wide-scatter", {"times": fit.widened}))
    if int((~fit.used).sum()) * 3 > len(rows):
        notes.append(Note("many-disagree"))
    for kind in KINDS.values():
        mine = np.array([one.kind == kind.id for one in rows])
        off = fit.off[mine]
        if len(off) >= 3 and (np.all(off > 0.0) or np.all(off < 0.0)):
            lean = float(np.mean(off)) * np.sqrt(len(off))
            if abs(lean) > LEAN:
                notes.append(
                    Note(
                        "read-too-low" if lean > 0.0 else "read-too-high", {"observations": kind.id}
                    )
                )
    return notes


def range_notes(findings: Sequence[Finding]) -> list[Note]:
    """Numbers that come out where they are hardly likely, or at the end of what is possible."""
    notes = []
    for one in findings:
        if one.likely is None:
            continue
        low, high = one.likely
        if one.decided and (one.low > high or one.high < low):
            notes.append(
                Note(
                    "hardly-likely",
                    {"number": one.name, "value": one.value, "low": low, "high": high},
                )
            )
        allowed = CONDITION_FACTS[one.name].allowed
        if min(one.value - allowed[0], allowed[1] - one.value) < 1e-6:
            notes.append(Note("at-the-end", {"number": one.name}))
    return notes
