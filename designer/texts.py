"""The one way every text of the windows takes, so that a translation can stand in for it.

Texts are written in English where they are used. Figures and names go into placeholders by name,
never joined on: word order differs between languages. A catalogue is a gettext `.mo` file,
`translations/LANGUAGE/LC_MESSAGES/baizewright.mo`; without one the English stands.
"""

from __future__ import annotations

import gettext
from collections.abc import Iterable, Sequence
from pathlib import Path

DOMAIN = "baizewright"
#: Before a text that means a strike where the same word means something else: "top".
STRIKE = "strike|"
FOLDER = Path(__file__).resolve().parent / "translations"

_catalogue: gettext.NullTranslations = gettext.NullTranslations()
_language = ""


def catalogue() -> gettext.NullTranslations:
    """The catalogue in use."""
    return _catalogue


def use_catalogue(catalogue: gettext.NullTranslations) -> None:
    """Translate by this catalogue from now on; texts already on show stay as they are."""
    global _catalogue
    _catalogue = catalogue


def use_languages(languages: Iterable[str], folder: Path = FOLDER) -> str:
    """Use the first of these languages ("de-AT", "de") that is there; its name, "" for English.

    English texts need no catalogue, so English ahead of the others ends the search.
    """
    global _language
    for wanted in languages:
        name = wanted.replace("-", "_")
        if name.split("_")[0] in ("en", "C"):
            break
        if gettext.find(DOMAIN, str(folder), [name]) is not None:
            use_catalogue(gettext.translation(DOMAIN, str(folder), [name]))
            _language = name
            return name
    use_catalogue(gettext.NullTranslations())
    _language = ""
    return ""


def language() -> str:
    """Name of the language in use ("de"), "" for English."""
    return _language


def tr(text: str, /, **values: object) -> str:
    """The text in the coach's language, its placeholders filled in.

    >>> tr("Pace {pace:g}", pace=4.0)
    'Pace 4'
    """
    if not text:
        return ""
    told = _catalogue.gettext(text)
    return _filled(told if told != text else text.removeprefix(STRIKE), text, values)


def tr_count(one: str, many: str, count: int, /, **values: object) -> str:
    """The text for one or for many things; `{count}` is their number.

    >>> tr_count("{count} ball", "{count} balls", 3)
    '3 balls'
    """
    values["count"] = count
    english = one if count == 1 else many
    return _filled(_catalogue.ngettext(one, many, count), english, values)


def listed(words: Sequence[str]) -> str:
    """Words as a list to be read: "A", "A and B", "A, B and C".

    >>> listed(["A"]), listed(["A", "B", "C"])
    ('A', 'A, B and C')
    """
    *before, last = words or ("",)
    return tr("{first} and {last}", first=", ".join(before), last=last) if before else last


def mark(text: str) -> str:
    """A text named where no translation can be asked for yet (a constant): `tr` it when shown."""
    return text


def _filled(text: str, english: str, values: dict[str, object]) -> str:
    if not values:
        return text
    try:
        return text.format(**values)
    except (KeyError, IndexError, ValueError):
        # A slip in a translation must not cost the coach the text.
        return english.format(**values)
