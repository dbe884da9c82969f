"""What a move to another table keeps and what it breaks."""

from __future__ import annotations

from collections.abc import Iterator

from designer.texts import mark, tr, tr_count
from designer.words.claims import claim, found
from designer.words.facts import fact
from designer.words.figures import sentence
from designer.words.wording import Wording
from engine.moving import MoveReport

_BECAME = {
    "survives": mark("survives"),
    "lost": mark("IS LOST"),
    "won": mark("is won"),
    "fails": mark("STILL FAILS"),
}


def claims_kept(report: MoveReport) -> str:
    """How many of the claims that held still hold."""
    if not report.claims:
        return tr("The routine makes no claims.")
    held = [one for one in report.claims if one.before.holds]
    return tr_count(
        "{kept} of the {count} claim that held still holds.",
        "{kept} of the {count} claims that held still hold.",
        len(held),
        kept=sum(one.after.holds for one in held),
    )


def claims_moved(wording: Wording, report: MoveReport) -> Iterator[tuple[str, str, str]]:
    """What became of each claim, the claim, and what was found of it on the other table."""
    for one, said in zip(report.claims, wording.routine.claims, strict=True):
        yield tr(_BECAME[one.became]), claim(wording, said), found(wording, one.after)


def report_lines(wording: Wording, report: MoveReport) -> Iterator[str]:
    """The report line by line; `wording` is of the moved routine."""
    yield tr("From {old} to {new}:", old=tr(report.old_table), new=tr(report.new_table))
    for note in report.notes:
        yield f"  {sentence(fact(wording, note))}"
    if report.unfit:
        yield "  " + tr("What no longer fits:")
        for problem in report.unfit:
            yield f"    {sentence(fact(wording, problem.fact))}"
    else:
        yield "  " + tr("Everything fits.")
    for became, said, why in claims_moved(wording, report):
        yield f"    {became}: {said} — {why}"
    yield f"  {claims_kept(report)}"
