"""From a coach's observations to the conditions of a table, with all doubts told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from typing import Any

import numpy as np

from engine.calibration.design import suggested
from engine.calibration.fit import Fit, fitted
from engine.calibration.judging import fit_notes, judged, range_notes
from engine.calibration.kinds import Observation
from engine.calibration.model import Bench
from engine.calibration.next_measurements import more_needed, wanted_errors
from engine.calibration.parameters import FITTED, Parameters, pace_scale, parameters
from engine.calibration.plausibility import impossible
from engine.calibration.values import Calibration, Finding, Judged, More
from engine.conditions import CONDITION_FACTS, Conditions, likely_ranges, usual_conditions
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.results import Note
from engine.tables import Table

#: The chance beyond either end of a 95 % interval.
OUTSIDE = 0.025
#: A number counts as decided by the observations once its error is this share of its doubt before,
#: the speed of a pace once it is known to a tenth.
DECIDED_SHARE = 0.5


def calibrate(
    rows: Sequence[Observation],
    table: Table,
    preset_id: str = "",
    wanted: Mapping[str, float] | None = None,
    by_speed: bool = False,
) -> Calibration:
    """Find the conditions of a table from observations.

    `preset_id` is where the search starts and what stays where nothing is known (by default the
    table's usual cloth); `wanted` states standard errors to be reached, by name. `by_speed` looks
    for the cushion's restitution of a slow ball and of a faster one apart: it takes rebounds off a
    ramp and strikes up and down the table.
    `UnknownNameError` for a preset or name there is none of, `OutOfRangeError` when there is no
    observation at all or a wanted error is not above 0.
    """
    if not rows:
        raise OutOfRangeError("the number of observations", 0, "at least one")
    base = usual_conditions(table, preset_id)
    bad = {index: impossible(one, table, base) for index, one in enumerate(rows)}
    sound = [one for index, one in enumerate(rows) if bad[index] is None]
    preset_name = preset_id or table.preset
    stated_errors = dict(wanted or {})
    if not sound:
        _check_wanted(stated_errors, FITTED)
        told = tuple(Judged(one, "impossible", reason=bad[k]) for k, one in enumerate(rows))
        none, stated = Note("none-usable"), _stated(base, table)
        return Calibration(table.id, preset_name, (), told, (), (none,), base, base, stated)
    bench = Bench.of(table)
    looked = parameters(sound, base, likely_ranges(table, preset_id), by_speed)
    _check_wanted(stated_errors, looked.names)
    fit = fitted(bench, sound, looked)
    findings = _findings(looked, fit, likely_ranges(table, preset_id))
    notes = [*fit_notes(fit, sound), *range_notes(findings)]
    after = _conditions(looked, findings, notes)
    return Calibration(
        table=table.id,
        preset=preset_name,
        findings=findings,
        judged=judged(rows, bad, fit),
        more=_more(bench, looked, fit, sound, stated_errors),
        notes=tuple(notes),
        before=base,
        after=after,
        stated=_stated(after, table),
    )


def _more(
    bench: Bench,
    looked: Parameters,
    fit: Fit,
    rows: Sequence[Observation],
    stated: Mapping[str, float],
) -> tuple[More, ...]:
    candidates = _candidates(bench.table, looked.base, rows)
    return more_needed(bench, looked, fit, candidates, wanted_errors(looked, stated))


def _check_wanted(stated: Mapping[str, float], names: Sequence[str]) -> None:
    for name, error in stated.items():
        if name not in names:
            raise UnknownNameError("number to be found", name, tuple(names))
        if not error > 0.0:
            raise OutOfRangeError(f"wanted precision of {name}", error, "more than 0")


def _findings(
    looked: Parameters, fit: Fit, likely: Mapping[str, tuple[float, float]]
) -> tuple[Finding, ...]:
    found, errors = [], np.sqrt(np.diag(fit.ridge.covariance))
    for k, name in enumerate(looked.names):
        value, error = float(fit.values[k]), float(errors[k])
        known = CONDITION_FACTS.get(name)
        span = None if known is None else likely.get(name, known.likely)
        found.append(
            Finding(
                name=name,
                value=value,
                standard_error=error,
                low=max(fit.ridge.quantile(k, OUTSIDE), float(looked.low[k])),
                high=min(fit.ridge.quantile(k, 1.0 - OUTSIDE), float(looked.high[k])),
                likely=span,
                usual=float(looked.start[k]),
                decided=error <= (DECIDED_SHARE * float(looked.doubt[k]) if known else 0.1 * value),
            )
        )
    return tuple(found)


def _conditions(looked: Parameters, findings: Sequence[Finding], notes: list[Note]) -> Conditions:
    """The conditions found, rounded to what is known of them.

    Also those hardly decided: the others were found together with them.
    """
    decided: dict[str, Any] = {
        name: _rounded(one.value, one.standard_error)
        for name, one in zip(looked.fitted, findings, strict=False)
    }
    speeds = {
        pace: _rounded(one.value, one.standard_error)
        for pace, one in zip(looked.paces, findings[len(looked.fitted) :], strict=True)
        if one.decided
    }
    found = replace(looked.base, **decided)
    if not speeds:
        return found
    scale = tuple(round(speed, 4) for speed in pace_scale(looked.base, speeds))
    try:
        return replace(found, pace_speeds_m_s=scale)
    except BaizewrightError:
        notes.append(Note("paces-do-not-rise"))
        return found


def _stated(found: Conditions, table: Table) -> dict[str, Any]:
    """What a routine on that table has to state to be played in these conditions."""
    usual = usual_conditions(table)
    stated = {}
    for field in fields(Conditions):
        value = getattr(found, field.name)
        if value != getattr(usual, field.name):
            stated[field.name] = list(value) if isinstance(value, tuple) else value
    return stated


def _rounded(value: float, error: float) -> float:
    """A value to a hundredth of its standard error, in decimal places."""
    places = max(0, 2 - int(np.floor(np.log10(error)))) if error > 0.0 else 6
    return round(value, min(places, 8))


def _candidates(
    table: Table, base: Conditions, rows: Sequence[Observation]
) -> tuple[Observation, ...]:
    """Rows whose repetition may be advised: those made, and the suggested set played in model."""
    return (*rows, *complete(suggested(table, base), table, base))


def complete(
    rows: Sequence[Observation], table: Table, conditions: Conditions
) -> tuple[Observation, ...]:
    """Planned rows with their open inputs filled in as the model has them (not the results)."""
    found = []
    for one in rows:
        cells = dict(one.cells)
        if one.kind == "roll":
            cells.setdefault("then_mm", round(0.15 * table.length_mm, -1))
        if one.kind == "lane":
            cells.setdefault("cushion", "top")
        found.append(replace(one, cells=cells))
    return tuple(found)
