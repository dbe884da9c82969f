"""From a coach's observations to the conditions of a table, with all doubts told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from engine.calibration.design import suggested
from engine.calibration.fit import Fit, fitted
from engine.calibration.kinds import KINDS, Observation
from engine.calibration.model import Bench
from engine.calibration.more import More, more_needed, wanted_errors
from engine.calibration.sense import impossible
from engine.calibration.unknowns import FITTED, PACE_PREFIX, Unknowns, pace_scale, unknowns
from engine.conditions import CONDITION_FACTS, Conditions, likely_ranges, usual_conditions
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.tables import Table

#: Standard normal quantile of a two-sided 95 % interval.
QUANTILE_95 = 1.959964
#: A number counts as decided by the observations once its error is this share of its doubt, the
#: speed of a pace once it is known to a tenth.
DECIDED_SHARE = 0.5
#: Mean residual of a kind, in its standard errors, beyond which all of it leans one way.
LEAN = 4.0


@dataclass(frozen=True, slots=True)
class Finding:
    """One number found: best estimate, standard error, 95 % interval (cut off at what can be).

    `likely` is the preset's range, `usual` its value. `decided` says that the observations, not
    the preset, decide it. Names are those of `Conditions`, or `speed_at_pace_…` in m/s.
    """

    name: str
    title: str
    unit: str
    value: float
    standard_error: float
    low: float
    high: float
    likely: tuple[float, float] | None
    usual: float
    decided: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """One observation against the model: `verdict` is used, disagrees or impossible.

    `off` is the residual (predicted less measured) in standard errors; None with `predicted` and
    `measured` for an impossible one, whose `reason` tells why.
    """

    row: Observation
    verdict: str
    measured: float | None = None
    predicted: float | None = None
    error: float | None = None
    off: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Calibration:
    """Everything found: numbers, every observation judged, what more it takes, and notes.

    `before` are the preset's conditions on that table, `after` those found; `stated` is what a
    routine or a conditions file has to state for them. `after` is `before` where no observation
    could be used.
    """

    table: str
    preset: str
    findings: tuple[Finding, ...]
    judged: tuple[Judged, ...]
    more: tuple[More, ...]
    notes: tuple[str, ...]
    before: Conditions
    after: Conditions
    stated: Mapping[str, Any]

    @property
    def all_agree(self) -> bool:
        """Whether every observation could be used."""
        return all(one.verdict == "used" for one in self.judged)


def calibrate(
    rows: Sequence[Observation],
    table: Table,
    preset_id: str = "",
    wanted: Mapping[str, float] | None = None,
) -> Calibration:
    """Find the conditions of a table from observations.

    `preset_id` is where the search starts and what stays where nothing is known (by default the
    table's usual cloth); `wanted` states standard errors to be reached, by name.
    `UnknownNameError` for a preset or name there is none of, `OutOfRangeError` when there is no
    observation at all or a wanted error is not above 0.
    """
    if not rows:
        raise OutOfRangeError("the number of observations", 0, "at least one")
    base = usual_conditions(table, preset_id)
    bad = {index: impossible(one, table, base) for index, one in enumerate(rows)}
    sound = [one for index, one in enumerate(rows) if not bad[index]]
    preset_name = preset_id or table.preset
    stated_errors = dict(wanted or {})
    if not sound:
        _check_wanted(stated_errors, FITTED)
        judged = tuple(Judged(one, "impossible", reason=bad[k]) for k, one in enumerate(rows))
        note = "No observation could be used: the conditions are the preset's, unchanged."
        return Calibration(table.id, preset_name, (), judged, (), (note,), base, base, {})
    bench = Bench.of(table)
    looked = unknowns(sound, base, likely_ranges(table, preset_id))
    _check_wanted(stated_errors, looked.names)
    fit = fitted(bench, sound, looked)
    findings = _findings(looked, fit, likely_ranges(table, preset_id))
    notes = [*_fit_notes(fit, sound), *_range_notes(findings)]
    after, stated = _conditions(looked, fit, findings, notes)
    return Calibration(
        table=table.id,
        preset=preset_name,
        findings=findings,
        judged=_judged(rows, bad, fit),
        more=_more(bench, looked, fit, sound, stated_errors),
        notes=tuple(notes),
        before=base,
        after=after,
        stated=stated,
    )


def _more(
    bench: Bench,
    looked: Unknowns,
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
    looked: Unknowns, fit: Fit, likely: Mapping[str, tuple[float, float]]
) -> tuple[Finding, ...]:
    found = []
    for k, name in enumerate(looked.names):
        value, error = float(fit.values[k]), float(np.sqrt(fit.covariance[k, k]))
        title, unit, span = f"speed at pace {name.removeprefix(PACE_PREFIX)}", "m/s", None
        if name in CONDITION_FACTS:
            fact = CONDITION_FACTS[name]
            title, unit, span = fact.title, fact.unit, likely.get(name, fact.likely)
        found.append(
            Finding(
                name=name,
                title=title,
                unit=unit,
                value=value,
                standard_error=error,
                low=max(value - QUANTILE_95 * error, float(looked.low[k])),
                high=min(value + QUANTILE_95 * error, float(looked.high[k])),
                likely=span,
                usual=float(looked.start[k]),
                decided=error <= (DECIDED_SHARE * float(looked.doubt[k]) if span else 0.1 * value),
            )
        )
    return tuple(found)


def _conditions(
    looked: Unknowns, fit: Fit, findings: Sequence[Finding], notes: list[str]
) -> tuple[Conditions, dict[str, Any]]:
    """The conditions found and what has to be stated for them, rounded to what is known."""
    stated: dict[str, Any] = {
        one.name: _rounded(one.value, one.standard_error) for one in findings[: len(FITTED)]
    }
    speeds = {
        pace: _rounded(one.value, one.standard_error)
        for pace, one in zip(looked.paces, findings[len(FITTED) :], strict=True)
        if one.decided
    }
    scale = tuple(round(speed, 4) for speed in pace_scale(looked.base, speeds))
    try:
        after = replace(looked.base, **{**stated, "pace_speeds_m_s": scale})
    except BaizewrightError:
        notes.append(
            "The speeds found do not rise from pace to pace: the pace scale is left as it was. "
            "Play the paces again."
        )
        return replace(looked.base, **stated), stated
    if speeds:
        stated["pace_speeds_m_s"] = list(scale)
    return after, stated


def _rounded(value: float, error: float) -> float:
    """A value to a tenth of its standard error, in decimal places."""
    places = max(0, 1 - int(np.floor(np.log10(error)))) if error > 0.0 else 6
    return round(value, min(places, 8))


def _judged(
    rows: Sequence[Observation], bad: Mapping[int, str], fit: Fit
) -> tuple[Judged, ...]:  # fmt: skip
    found, k = [], 0
    for index, one in enumerate(rows):
        if bad[index]:
            found.append(Judged(one, "impossible", reason=bad[index]))
            continue
        verdict = "used" if fit.used[k] else "disagrees"
        predicted = float(fit.predicted[k])
        lost = not np.isfinite(predicted)
        reason = "the model does not have it happen at all" if lost else ""
        found.append(
            Judged(
                one,
                verdict,
                float(fit.measured[k]),
                None if lost else predicted,
                float(fit.errors[k]),
                None if lost else float(fit.off[k]),
                reason,
            )
        )
        k += 1
    return tuple(found)


def _fit_notes(fit: Fit, rows: Sequence[Observation]) -> list[str]:
    notes = []
    if fit.spread:
        notes.append(
            f"Strikes at one pace differ by some {100.0 * fit.spread:.0f} % in speed, more than "
            "tape and watch explain; that is counted into the errors."
        )
    if fit.widened > 1.0:
        notes.append(
            f"The observations scatter {fit.widened:.1f} times as much as the stated errors: the "
            "intervals are widened by as much."
        )
    if int((~fit.used).sum()) * 3 > len(rows):
        notes.append(
            "More than a third of the observations disagree with the rest: find out why before "
            "these conditions are trusted."
        )
    for kind in KINDS.values():
        mine = np.array([one.kind == kind.id for one in rows])
        off = fit.off[mine]
        if len(off) >= 3 and (np.all(off > 0.0) or np.all(off < 0.0)):
            lean = float(np.mean(off)) * np.sqrt(len(off))
            if abs(lean) > LEAN:
                way = "too low" if lean > 0.0 else "too high"
                notes.append(
                    f"All observations of kind {kind.id} read {way} for the model: look for a "
                    "slip common to them."
                )
    return notes


def _range_notes(findings: Sequence[Finding]) -> list[str]:
    notes = []
    for one in findings:
        if one.likely is None:
            continue
        low, high = one.likely
        if one.decided and (one.low > high or one.high < low):
            notes.append(
                f"{one.title} comes out at {one.value:.4g}, outside its likely range of {low:g} "
                f"to {high:g}: check the measurements it rests on."
            )
        allowed = CONDITION_FACTS[one.name].allowed
        if min(one.value - allowed[0], allowed[1] - one.value) < 1e-6:
            notes.append(
                f"{one.title} runs to the end of what is possible: check the measurements it "
                "rests on."
            )
    return notes


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
