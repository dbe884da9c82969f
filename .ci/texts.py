"""Write the template of all texts, `build/baizewright.pot`, or make catalogues ready for use.

`python3 .ci/texts.py` collects every text into the template; with FILE.po and LANGUAGE it
makes `designer/translations/LANGUAGE/LC_MESSAGES/baizewright.mo` of a finished translation.
"""

from __future__ import annotations

import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

HOUSE = Path(__file__).resolve().parents[1]
DOMAIN = "baizewright"
WORDS = {"tr": None, "tr_count": (1, 2), "mark": None}
TEMPLATE = HOUSE / "build" / f"{DOMAIN}.pot"


def template() -> Catalog:
    """Every text of the designer, with the places it stands at."""
    made = Catalog(project="Baizewright", charset="utf-8")
    found = extract_from_dir(HOUSE / "designer", keywords=WORDS, comment_tags=("Translators:",))
    for file, line, text, comments, context in found:
        made.add(text, None, [(f"designer/{file}", line)], auto_comments=comments, context=context)
    return made


def main(args: list[str]) -> int:
    """Write the template, or with FILE.po and LANGUAGE the catalogue."""
    if len(args) == 2:
        translation, language = Path(args[0]), args[1]
        folder = HOUSE / "designer" / "translations" / language / "LC_MESSAGES"
        folder.mkdir(parents=True, exist_ok=True)
        with translation.open("rb") as source, (folder / f"{DOMAIN}.mo").open("wb") as out:
            write_mo(out, read_po(source, locale=language))
        print(f"{language} is ready in {folder}.")
        return 0
    if args:
        print(__doc__, file=sys.stderr)
        return 2
    made = template()
    TEMPLATE.parent.mkdir(exist_ok=True)
    with TEMPLATE.open("wb") as out:
        write_po(out, made, width=100)
    print(f"{len(made)} texts in {TEMPLATE.relative_to(HOUSE)}.")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
