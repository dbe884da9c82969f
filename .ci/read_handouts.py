"""Read the written handouts back with another library and hold them against the routine files.

Each PDF must have a page, carry the routine's title, and give for every ball its distance from
the nearest side cushion and the nearest end cushion. The distances are worked out here anew
from the file's own coordinates.
"""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path

from pypdf import PdfReader

DEMOS = Path(__file__).resolve().parents[1] / "layouts_demo"
WIDTH_MM, LENGTH_MM = 1778, 3569  # Official Rules of Snooker (WPBSA), section 1


def squeezed(text: str) -> str:
    """Drop all white space: lines may break anywhere on a sheet."""
    return re.sub(r"\s+", "", text)


def distances_mm(ball: dict[str, float]) -> list[float]:
    """Return a ball centre's distances from the nearest side and end cushion faces."""
    x, y = ball["x_mm"], ball["y_mm"]
    return [min(x, WIDTH_MM - x), min(y, LENGTH_MM - y)]


def faults(routine: Path) -> list[str]:
    """Return what is wrong with the handout of one routine file."""
    pdf = DEMOS / "handouts" / f"{routine.stem}.pdf"
    if not pdf.exists():
        return ["there is no handout"]
    content = json.loads(routine.read_text(encoding="utf-8"))
    pages = PdfReader(pdf).pages
    text = " ".join(page.extract_text() for page in pages)
    found = []
    if len(pages) < 1:
        found.append("it has no page")
    if squeezed(content["title"]) not in squeezed(text):
        found.append(f"the title {content['title']!r} is not on it")
    numbers = [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]
    for ball in content["balls"]:
        for distance in distances_mm(ball):
            if not any(abs(number - distance) <= 0.5 for number in numbers):
                found.append(f"ball {ball['id']}: its {distance:.0f} mm from a cushion is missing")
    if not found:
        balls = len(content["balls"])
        print(f"{pdf.name}: {len(pages)} page(s), title and {balls} placements read back")
    return found


def main() -> int:
    """Read every handout; return 0 when all are right."""
    routines = sorted(DEMOS.glob("*.json"))
    wrong = 0 if routines else 1
    for routine in routines:
        for fault in faults(routine):
            print(f"{routine.stem}.pdf: {fault}")
            wrong += 1
    print(f"{len(routines)} handouts read back, {wrong} faults")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
