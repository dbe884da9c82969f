"""A calibration in words, and as a conditions file."""

from __future__ import annotations

from collections.abc import Iterator

from engine.calibration.kinds import KINDS
from engine.calibration.values import Calibration, Finding, Judged, More
from engine.storage import OwnConditions


def own_conditions(found: Calibration, title: str = "") -> OwnConditions:
    """The calibration as a conditions file holds it."""
    return OwnConditions(
        conditions=found.stated,
        title=title,
        table=found.table,
        preset=found.preset,
        found={
            one.name: {
                "value": one.value,
                "standard_error": one.standard_error,
                "low_95": one.low,
                "high_95": one.high,
                "decided": one.decided,
            }
            for one in found.findings
        },
        notes=(*found.notes, *(_unused(one) for one in found.judged if one.verdict != "used")),
    )


def report_text(found: Calibration) -> str:
    """Everything found in plain sentences, lines joined, no line end after the last."""
    used = sum(one.verdict == "used" for one in found.judged)
    lines = [
        f"Table {found.table}, starting from preset {found.preset}: {used} of "
        f"{len(found.judged)} observations used.",
        "",
    ]
    lines += [_finding(one) for one in found.findings]
    lines += ["", *found.notes] if found.notes else []
    unused = [one for one in found.judged if one.verdict != "used"]
    if unused:
        lines += ["", "Not used:", *(f"  {_unused(one)}" for one in unused)]
    lines += list(_more(found))
    return "\n".join(lines)


def _finding(one: Finding) -> str:
    places = _places(one.standard_error)
    unit = f" {one.unit}" if one.unit else ""
    text = (
        f"{one.title}: {one.value:.{places}f} ± {one.standard_error:.{places}f}{unit} "
        f"(95 %: {one.low:.{places}f} to {one.high:.{places}f}; before {one.usual:g})"
    )
    if one.decided:
        return text
    kept = "" if one.unit == "m/s" else ": the preset's value is kept"
    return f"{text} — not decided by these observations{kept}"


def _places(error: float) -> int:
    places = 0
    while places < 6 and error < 10.0**-places * 2.0:
        places += 1
    return places


def _unused(one: Judged) -> str:
    if one.verdict == "impossible":
        return f"{one.row.name} is impossible: {one.reason}."
    unit = "s" if KINDS[one.row.kind].result == "time_s" else "mm"
    if one.predicted is None or one.measured is None or one.off is None:
        return f"{one.row.name} disagrees with the rest: {one.reason}."
    places = 2 if unit == "s" else 0
    return (
        f"{one.row.name} disagrees with the rest: measured {one.measured:.{places}f} {unit}, the "
        f"model has {one.predicted:.{places}f} {unit}, {abs(one.off):.1f} standard errors off."
    )


def _more(found: Calibration) -> Iterator[str]:
    lacking = [one for one in found.more if one.count != 0]
    if not found.more:
        return
    yield ""
    if not lacking:
        yield "Every number is as precise as wanted."
        return
    yield "What more precision takes:"
    titles = {one.name: one.title for one in found.findings}
    for one in lacking:
        yield f"  {titles[one.name]}: {_advice(one)}"


def _advice(one: More) -> str:
    wanted = f"± {one.wanted:.3g} is wanted, it is ± {one.standard_error:.3g}"
    if one.count is None:
        return f"{wanted}; no observation at these paces brings it soon."
    if one.row is None:
        times = "once" if one.count == 1 else f"{one.count} times"
        return f"{wanted}; playing the form's whole set {times} would do, no single row does."
    what = "observation" if one.count == 1 else "observations"
    pace = f" at pace {one.row.number('pace'):g}" if "pace" in one.row.cells else ""
    like = f"like {one.row.name}" if one.row.line else f"of kind {one.row.kind}{pace}"
    return f"{wanted}; {one.count} more {what} {like} would do."
