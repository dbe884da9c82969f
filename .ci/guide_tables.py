"""Work out the tables of the guide's page on how far strokes go, and write them into it.

.venv/bin/python .ci/guide_tables.py
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from designer.guide.how_far import PAGE, page_text

if __name__ == "__main__":
    PAGE.write_text(page_text(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
