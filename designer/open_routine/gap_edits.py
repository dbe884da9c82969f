"""Edits of gaps and of what the routine claims, each with its step name."""

from __future__ import annotations

from dataclasses import replace

from designer.open_routine.editing import Editing
from designer.texts import tr
from designer.words.names import gap_name
from engine.routine import edits
from engine.routine.values import Claim, Gap


class GapEdits:
    """Adding, naming and removing gaps and claims."""

    def __init__(self, session: Editing) -> None:
        self._session = session

    def add_between_balls(self, first: str, second: str) -> str:
        """Add the gap between two balls; its id, "" if refused."""
        return self._add(Gap(self._free_id(), "ball-ball", balls=(first, second)))

    def add_beside_cushion(self, ball: str, cushion: str) -> str:
        """Add the gap between a ball and a cushion; its id, "" if refused."""
        return self._add(Gap(self._free_id(), "ball-cushion", balls=(ball,), cushion=cushion))

    def add_stretch(self, cushion: str, from_mm: float, to_mm: float) -> str:
        """Add a stretch of a cushion to be reached; its id, "" if refused."""
        gap = Gap(self._free_id(), "cushion-stretch", cushion=cushion, from_mm=from_mm, to_mm=to_mm)
        return self._add(gap)

    def remove(self, gap_id: str) -> None:
        """Remove a gap and the claims about it."""
        routine = self._session.routine
        name = gap_name(routine, routine.gap(gap_id))
        self._session.apply(tr("Remove gap {gap}", gap=name), lambda r: edits.remove_gap(r, gap_id))

    def rename(self, gap_id: str, title: str) -> None:
        """Give a gap another title; "" for the plain one."""
        gap = replace(self._session.routine.gap(gap_id), title=title.strip())
        self._session.apply(tr("Name of gap"), lambda r: edits.set_gap(r, gap_id, gap))

    def add_claim(self, claim: Claim) -> None:
        """Have the routine claim something, to be checked from then on."""
        self._session.apply(tr("Add claim"), lambda r: edits.add_claim(r, claim))

    def remove_claim(self, index: int) -> None:
        """Drop a claim."""
        self._session.apply(tr("Remove claim"), lambda r: edits.remove_claim(r, index))

    def _free_id(self) -> str:
        return edits.free_gap_id(self._session.routine)

    def _add(self, gap: Gap) -> str:
        name = gap_name(self._session.routine, gap)
        done = self._session.apply(tr("Add gap {gap}", gap=name), lambda r: edits.add_gap(r, gap))
        return gap.id if done else ""
