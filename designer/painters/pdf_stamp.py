"""Set the time a PDF says it was made, so that the same input can give the same bytes."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from hashlib import md5

from reportlab.pdfgen.canvas import Canvas


def set_stamp(page: Canvas, made_at: datetime | None) -> None:
    """Fix the document's creation time; None leaves the clock's. A time without zone is UTC."""
    if made_at is None:
        return
    known = made_at if made_at.tzinfo is not None else made_at.replace(tzinfo=UTC)
    away = known.utcoffset() or timedelta()
    minutes = int(away.total_seconds() // 60)
    hours, rest = divmod(abs(minutes), 60)
    # The file's identity is drawn from this time, whatever clock or environment it is made in.
    page._doc.signature = md5(known.isoformat().encode(), usedforsecurity=False)
    page._doc.setDateFormatter(
        lambda *_: f"D:{known:%Y%m%d%H%M%S}{'-' if minutes < 0 else '+'}{hours:02d}'{rest:02d}'"
    )
