"""More than a hundred texts a coach could type, paste or be sent, and that tools stumble over."""

# ruff: noqa: E501 — signs that take no room still count as letters of the line
from __future__ import annotations

_PLAIN = (
    # markup and what ends it
    "<b>bold</b>", "<script>alert(1)</script>", "</title><script>x()</script>", "</svg>", "<!--",
    "-->", "<![CDATA[", "]]>", "<?xml version='1.0'?>", "<!DOCTYPE x [<!ENTITY a 'b'>]>", "&a;",
    "&amp;", "&lt;b&gt;", "&#0;", "&#x1F600;", "&nbsp;", "& alone", "<", ">", "\"'", "'\"><x y=\"",
    "<a href='javascript:x()'>go</a>", "<img src='file:///etc/hosts'/>", "<para>", "<br/>", "<seq/>",
    "<font size=90>", "<u>", "</para>", "<onDraw name=x/>", "<link href='http://x'>", "<super>2",
    "<use href='#a'/>", "<foreignObject>", "style=\"fill:red\"", "onload=x()",
    # what PDF, shells, tables of figures and format strings know
    "(unbalanced", "unbalanced)", "\\", "\\)", "\\101", "\\\\n", "stream", "endstream", "endobj",
    "%PDF-1.7", "%%EOF", "/JS (x)", "<< /S /Launch >>", "BT (x) Tj ET", "{0}", "{name}", "%s", "%n",
    "$(x)", "`x`", "${x}", "; rm", "| x", "=1+1", "+1", "-1", "@x", "=HYPERLINK(\"http://x\")",
    "a,b", "a;b", "a\tb", "\"quoted\"", "#remark", "null", "NaN", "Infinity", "None", "../../x",
    "C:\\x", "CON", "nan", "0x10", "1e999",
    # line ends and control characters
    "one\ntwo", "one\r\ntwo", "one\rtwo", "\x00", "a\x00b", "\x01\x02\x1b[31mred", "\x7f", "\x85",
    "\x0b\x0c", "\u2028\u2029", "\ufeffmark", "\u200bnothing\u200d", "\u00adsoft", " ", "\t", "\n" * 30,
    # writing of other directions and shapes, and what is joined on
    "עברית", "العربية", "مرحبا Blue 7", "\u202eevil\u202c", "\u2067turned\u2069", "한국어", "日本語",
    "ไทย", "हिन्दी", "e\u0301\u0301\u0301\u0301", "Z\u0351\u036b\u0343\u036a" * 20, "ﬁ ﬂ", "Ⅻ", "½ ¾",
    "ß ẞ", "İı", "😀", "👨‍👩‍👧‍👦", "🎱🏳️‍🌈", "\U0010ffff", "\ufffe", "\uffff", "\ue000", "𝔘𝔫𝔦", "\U000e0041",
    # length
    "x" * 500, "wide words " * 80, "W" * 3000, "a" * 60 + " " + "b" * 60, "<" * 400, "é" * 1000,
    "😀" * 200, "\u0301" * 300, "line\n" * 60,
)  # fmt: skip
#: Halves of pairs: no text at all, but what broken programs hand on.
_BROKEN = ("\ud800", "a\udfffb", "\udc00\ud800")
CASES: tuple[str, ...] = _PLAIN + _BROKEN
