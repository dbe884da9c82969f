"""Moving the routine to another table: done and told in one way, wherever it is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from designer.open_routine.editing import Editing
from designer.texts import mark, tr, tr_count
from designer.words.errors import error_told
from designer.words.facts import fact
from designer.words.figures import sentence
from designer.words.wording import Wording
from engine.errors import BaizewrightError
from engine.tables import load_table

if TYPE_CHECKING:
    from engine.moving import Moved

_HOW = {
    "cushions": mark("every ball keeps its distances from the nearest cushions."),
    "spots": mark("every ball keeps its offsets from the nearest spot."),
    "proportion": mark("every ball keeps its share of the width and the length."),
}


class MoveEdits:
    """Moves are one step of the document each; what came of one is told."""

    def __init__(self, session: Editing) -> None:
        self._session = session

    def to(self, table_id: str) -> bool:
        """Move to a known table by the way that fits; nothing happens on the present one."""
        session = self._session
        if table_id == session.routine.table:
            return False
        from engine.moving import FIT, Target, move

        title = tr(load_table(table_id).title)
        try:
            moved = move(session.routine, Target(table_id), FIT)
        except BaizewrightError as error:
            session.messages.warn(
                tr("“{step}” was not done.", step=_step(title)), error_told(error)
            )
            return False
        return self.take(moved, title)

    def take(self, moved: Moved, title: str) -> bool:
        """Put a routine that was moved in place of the present one."""
        session, was = self._session, self._session.routine
        if not session.apply(_step(title), lambda _: moved.routine):
            return False
        from engine.moving import new_problems
        from engine.problems import problems_of

        told = [tr("The routine lies on another table: {title}.", title=title)]
        if was.balls:
            told.append(tr("Moved so: {how}", how=tr(_HOW[moved.by])))
        unfit = len(new_problems(problems_of(was), problems_of(moved.routine)))
        notes = [sentence(fact(Wording(was), note)) for note in moved.notes]
        if unfit:
            notes.append(
                tr_count(
                    "{count} thing no longer fits: see the tab To do.",
                    "{count} things no longer fit: see the tab To do.",
                    unfit,
                )
            )
        tell = session.messages.warn if unfit else session.messages.note
        tell(" ".join(told), " ".join([*notes, tr("Undo takes the move back.")]))
        return True


def _step(title: str) -> str:
    return tr("Move to {title}", title=title)
