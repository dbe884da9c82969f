"""A calibration as a conditions file holds it."""

from __future__ import annotations

from collections.abc import Iterable

from engine.calibration.values import Calibration
from engine.storage import OwnConditions


def own_conditions(found: Calibration, notes: Iterable[str], title: str = "") -> OwnConditions:
    """The calibration as a conditions file holds it, with what is to be known of it in words."""
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
        notes=tuple(notes),
    )
