"""Write the template of all texts, `build/baizewright.pot`, or make catalogues ready for use.

`python3 .ci/texts.py` collects every text into the template; with FILE.po and LANGUAGE it
makes `designer/translations/LANGUAGE/LC_MESSAGES/baizewright.mo` of a finished translation.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

HOUSE = Path(__file__).resolve().parents[1]
DOMAIN = "baizewright"
#: What asks for a translation, and how many texts of its own each takes.
WORDS = {"tr": 1, "tr_count": 2, "mark": 1, "to_translate": 1}
TEMPLATE = HOUSE / "build" / f"{DOMAIN}.pot"


def template() -> Catalog:
    """Every text of the designer, with the places it stands at."""
    made = Catalog(project="Baizewright", charset="utf-8")
    for path in sorted((HOUSE / "designer").rglob("*.py")):
        for line, text in texts_of(path):
            made.add(text, None, [(path.relative_to(HOUSE).as_posix(), line)])
    for text in data_texts():
        made.add(text, auto_comments=["a name or a source in the data"])
    return made


def texts_of(path: Path) -> Iterator[tuple[int, str | tuple[str, str]]]:
    """Line and text of every call that asks for a translation, those within other texts too."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            asked = [one.value for one in node.args[: WORDS.get(node.func.id, 0)]
                     if isinstance(one, ast.Constant)]  # fmt: skip
            if asked and len(asked) == WORDS[node.func.id]:
                yield node.lineno, asked[0] if len(asked) == 1 else (asked[0], asked[1])


def data_texts() -> Iterator[str]:
    """Texts that tables, cloths, conditions and player levels bring along."""
    from engine.conditions import CONDITION_FACTS, preset, preset_ids
    from engine.photo.places import mark_places
    from engine.players import PLAYERS
    from engine.records import CAUTION
    from engine.tables import load_table, table_ids
    from engine.tables.measured import MEASURABLE

    yield CAUTION
    yield from (player.name for player in PLAYERS)
    yield from (words[0] for words in MEASURABLE.values())
    for name in table_ids():
        table = load_table(name)
        yield from (table.title, table.rule)
        yield from (one.title for one in (*table.pockets, *table.spots, *mark_places(table)))
        yield from (known.source for known in table.values.values())
        yield from map(_bare, table.values)
    for fact in CONDITION_FACTS.values():
        yield from filter(None, (fact.title, fact.unit, fact.source, fact.confidence))
    for name in preset_ids():
        chosen = preset(name)
        yield from filter(None, (chosen.title, chosen.note))
        for known in chosen.values.values():
            yield from (known.source, known.confidence)


def _bare(name: str) -> str:
    """A table's value in words, as `designer.words.tables` asks for it."""
    for end in ("_spot_x_mm", "_spot_y_mm", "_mm", "_kg", "_deg"):
        if name.endswith(end):
            return name.removesuffix(end).replace("_", " ")
    return name.replace("_", " ")


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
