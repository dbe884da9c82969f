"""Tagged PDF: a tree of headings, paragraphs, tables and figures with words for who cannot see.

reportlab writes no structure of its own. This canvas marks what is drawn (ISO 32000-1, 14.6 to
14.8), keeps the tree of elements, and writes it when the file is saved. What is not in the tree
(rules, page numbers, heads repeated on each page) is marked as an artifact.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFName,
    PDFObjectReference,
    PDFPage,
    PDFString,
)
from reportlab.pdfgen.canvas import Canvas

from designer.fonts.metrics import pdf_font, printable

# Pages as compressed bytes, not spelt out in letters: smaller, and a tenth faster to write.
rl_config.useA85 = 0

_ROOT = "TagRoot"


@dataclass(slots=True)
class Element:
    """One element of the tree: its kind (P, Figure, …), words for it, and what it holds.

    A leaf has the page (from 1) and the number of its marked content on it.
    """

    name: str
    kind: str
    parent: str
    alt: str = ""
    kids: list[Element] = field(default_factory=list)
    page: int = 0
    mark: int = -1


class _Page(PDFPage):
    """A page that says which list of the tree its marked content belongs to."""

    __NoDefault__ = (*PDFPage.__NoDefault__, "StructParents")


class TaggedCanvas(Canvas):
    """A canvas whose content can be told to those who cannot see it."""

    def __init__(self, *args: Any, lang: str = "en-GB", **options: Any) -> None:
        # reportlab would begin each page with a font of its own that is not in the file
        options["initialFontName"] = pdf_font(False).fontName
        super().__init__(*args, lang=lang, **options)
        self._elements: list[Element] = []
        self._tree = self._made("Document", _ROOT)
        self._inside = [self._tree]
        self._marks: list[list[Element]] = [[]]
        self._marking = False
        self._doc.addPage = self._page_added(self._doc.addPage)

    @contextmanager
    def group(self, kind: str, alt: str = "") -> Iterator[None]:
        """What is drawn inside belongs to one element (Sect, Table, TR, TD, …)."""
        element = self._made(kind, self._inside[-1].name, alt)
        self._inside[-1].kids.append(element)
        self._inside.append(element)
        try:
            yield
        finally:
            self._inside.pop()

    def begin_section(self) -> None:
        """Start a new section of the document; what is drawn from now on belongs to it."""
        del self._inside[1:]
        element = self._made("Sect", self._tree.name)
        self._tree.kids.append(element)
        self._inside.append(element)

    @contextmanager
    def tagged(self, kind: str, alt: str = "") -> Iterator[None]:
        """Mark what is drawn inside as one element; inside another mark it is part of that."""
        with self.content(self.reserve(kind, alt)):
            yield

    def reserve(self, kind: str, alt: str = "") -> Element | None:
        """A place in the tree, here and on this page, for content that is drawn later."""
        if self._marking:
            return None
        element = self._made(kind, self._inside[-1].name, alt)
        element.page, element.mark = self.getPageNumber(), len(self._marks[-1])
        self._marks[-1].append(element)
        self._inside[-1].kids.append(element)
        return element

    @contextmanager
    def content(self, element: Element | None) -> Iterator[None]:
        """Mark what is drawn inside as the content of a reserved element."""
        with self._marked("" if element is None else f"/{element.kind} <</MCID {element.mark}>>"):
            yield

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """What is drawn inside is no part of what the page says."""
        with self._marked("" if self._marking else "/Artifact"):
            yield

    @contextmanager
    def _marked(self, head: str) -> Iterator[None]:
        if not head:
            yield
            return
        self._marking = True
        self._code.append(f"{head} {'BDC' if '<<' in head else 'BMC'}")
        try:
            yield
        finally:
            self._code.append("EMC")
            self._marking = False

    def _made(self, kind: str, parent: str, alt: str = "") -> Element:
        element = Element(f"Tag{len(self._elements)}", kind, parent, printable(alt))
        self._elements.append(element)
        return element

    def _page_added(self, add: Any) -> Any:
        def added(page: PDFPage) -> None:
            page.__class__ = _Page
            page.StructParents = len(self._marks) - 1
            self._marks.append([])
            add(page)

        return added

    def save(self) -> None:
        """Write the tree, then the file."""
        if len(self._code):
            self.showPage()
        document = self._doc
        for element in self._elements:
            document.Reference(_written(element), element.name)
        lists: list[Any] = []
        for page, marks in enumerate(self._marks[: document.pageCounter - 1]):
            lists += [page, PDFArray([PDFObjectReference(e.name) for e in marks])]
        root = {
            "Type": PDFName("StructTreeRoot"),
            "K": PDFArray([PDFObjectReference(self._tree.name)]),
            "ParentTree": PDFDictionary({"Nums": PDFArray(lists)}),
            "ParentTreeNextKey": len(self._marks) - 1,
        }
        tree = PDFDictionary(root)
        document.Reference(tree, _ROOT)
        document.Catalog.StructTreeRoot = tree
        document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})
        self.setViewerPreference("DisplayDocTitle", "true")
        super().save()


def _written(element: Element) -> PDFDictionary:
    entries: dict[str, Any] = {
        "Type": PDFName("StructElem"),
        "S": PDFName(element.kind),
        "P": PDFObjectReference(element.parent),
    }
    if element.alt:
        entries["Alt"] = PDFString(element.alt)
    if element.mark >= 0:
        entries["Pg"] = PDFObjectReference(f"Page{element.page}")
        entries["K"] = element.mark
    else:
        entries["K"] = PDFArray([PDFObjectReference(kid.name) for kid in element.kids])
    return PDFDictionary(entries)
