"""The text of an SVG file, changed element by element; all else stays byte for byte.

Knows:  where each element stands in the bytes; attributes set, elements put in, taken out, or copied.
Leaves: which and why (svgedit).
Method: expat says at which byte each element begins and ends; the changes are put in from the end backwards.
Limits: text in an encoding that keeps ASCII; an element that comes out of an entity cannot be changed.
"""

from __future__ import annotations

import pyexpat
import re
from dataclasses import dataclass
from xml.etree.ElementTree import Element
from xml.sax.saxutils import escape

from seamwright.mend.change import CannotEdit

OF_A_SHAPE = frozenset(
    (
        *("id", "d", "points", "x", "y", "x1", "y1", "x2", "y2", "width", "height", "rx", "ry", "cx", "cy", "r"),
        *("pathLength", "xml:id"),
    )
)
"""Attributes that say where one shape is, or which it is; a copy has its own or none."""
_ATTRIBUTE = re.compile(rb"""\s+([^\s=<>"'/]+)\s*=\s*("[^"]*"|'[^']*')""")
_ID = re.compile(rb"""\s+(?:xml:)?id\s*=\s*("[^"]*"|'[^']*')""")
_MARK = re.compile(rb"<!--\s*made by seamwright from \[[^\]]*\]\s*-->\s*")


@dataclass(frozen=True, slots=True)
class Span:
    """Where an element stands: its first byte, the end of its start tag, its end."""

    start: int
    head: int
    end: int


class Source:
    """An SVG file in the making.

    Args:
        data: the bytes, unpacked.
        root: the tree read from them.
    """

    def __init__(self, data: bytes, root: Element) -> None:
        if b"\0" in data:
            raise CannotEdit("its encoding does not keep plain letters")
        self.data = data
        spans = _spans(data)
        elements = list(root.iter())
        if len(spans) != len(elements):
            raise CannotEdit("its elements cannot be told apart in the text")
        self._span = dict(zip(elements, spans, strict=True))
        self._heads: dict[Element, bytes] = {}
        self._gone: set[Element] = set()
        self._after: dict[Element, list[bytes]] = {}
        self._renamed: dict[Element, bytes] = {}
        self._wrapped: dict[Element, tuple[bytes, bytes]] = {}

    # -- one element ------------------------------------------------------------------------------------

    def head(self, element: Element) -> bytes:
        """The start tag of an element as it is by now."""
        span = self._span[element]
        return self._heads.get(element, self.data[span.start : span.head])

    def set(self, element: Element, values: dict[str, str], without: tuple[str, ...] = (), tag: str = "") -> None:
        """Set attributes of an element, take some away, give it another tag."""
        head = self.head(element)
        for name in without:
            head = _without(head, name)
        for name, value in values.items():
            head = _with(head, name, value)
        if tag:
            old = _tag(head)
            prefix = old[: old.rfind(b":") + 1]
            head = head.replace(b"<" + old, b"<" + prefix + tag.encode(), 1)
            self._renamed[element] = prefix + tag.encode()
        self._heads[element] = head

    def drop(self, element: Element) -> None:
        """Take an element out."""
        self._gone.add(element)

    def add_after(self, element: Element, text: bytes) -> None:
        """Put text behind an element, on a line of its own if the element stands on one."""
        start = self._span[element].start
        blank = re.search(rb"(\r?\n[ \t]*)\Z", self.data[max(0, start - 200) : start])
        self._after.setdefault(element, []).append((blank[1] if blank else b"") + text)

    def wrap(self, element: Element, before: str, behind: str) -> None:
        """Put an element between two pieces of text."""
        self._wrapped[element] = (before.encode(), behind.encode())

    def copied(self, element: Element, values: dict[str, str], tag: str = "") -> bytes:
        """A start tag of the element's style, closed at once, with other attributes for where it is."""
        head = self.head(element)
        for name, _ in _ATTRIBUTE.findall(head):
            plain = name.decode("utf-8", "replace")
            if plain in OF_A_SHAPE or plain.startswith(("inkscape:", "sodipodi:", "data-", "aria-")):
                head = _without(head, plain)
        if tag:
            old = _tag(head)
            head = head.replace(b"<" + old, b"<" + old[: old.rfind(b":") + 1] + tag.encode(), 1)
        for key, value in values.items():
            head = _with(head, key, value)
        return head.rstrip(b">").rstrip().rstrip(b"/").rstrip() + b"/>"

    def whole(self, element: Element) -> bytes:
        """An element with all it holds, without any id: for a copy."""
        span = self._span[element]
        return _ID.sub(b"", self.data[span.start : span.end])

    def prefix(self, element: Element) -> str:
        """The prefix of an element's tag, with its colon; "" for none."""
        tag = _tag(self.head(element))
        return tag[: tag.rfind(b":") + 1].decode("ascii", "replace")

    # -- the whole --------------------------------------------------------------------------------------

    def text(self, remarks: tuple[str, ...]) -> bytes:
        """The file with all changes, and remarks behind its root."""
        pieces: list[tuple[int, int, bytes]] = []
        for element, span in self._span.items():
            added = b"".join(self._after.get(element, ()))
            if element in self._gone:
                pieces.append((self._line_start(span), span.end, added))
                continue
            before, behind = self._wrapped.get(element, (b"", b""))
            if element in self._heads or before:
                pieces.append((span.start, span.head, before + self.head(element)))
            if element in self._renamed and span.end > span.head:
                close = self.data.rindex(b"<", span.head, span.end)
                pieces.append((close, span.end, b"</" + self._renamed[element] + b">" + behind + added))
            elif added or behind:
                pieces.append((span.end, span.end, behind + added))
        text = self.data
        for start, end, new in sorted(pieces, key=lambda piece: (piece[0], piece[1]), reverse=True):
            text = text[:start] + new + text[end:]
        text = _MARK.sub(b"", text).rstrip()
        return text + b"".join(f"\n<!-- {_safe(remark)} -->".encode() for remark in remarks) + b"\n"

    def _line_start(self, span: Span) -> int:
        """The element's start, or that of its line if it stands alone on one."""
        start = span.start
        while start > 0 and self.data[start - 1 : start] in (b" ", b"\t"):
            start -= 1
        alone = self.data[start - 1 : start] == b"\n" and self.data[span.end : span.end + 1] in (b"\n", b"\r")
        return start - 1 if alone else span.start


def _safe(remark: str) -> str:
    """Words that may stand in a remark of XML: without two hyphens in a row (XML 1.0, section 2.5)."""
    while "--" in remark:
        remark = remark.replace("--", "-%2D")
    return remark


def _spans(data: bytes) -> list[Span]:
    """Where each element stands, in document order."""
    parser = pyexpat.ParserCreate()
    spans: list[Span | None] = []
    waiting: list[tuple[int, int, int]] = []

    def start(name: str, _: dict[str, str]) -> None:
        at = parser.CurrentByteIndex
        if not data.startswith(b"<" + name.encode("utf-8"), at):
            raise CannotEdit("some of it stands in an entity")
        waiting.append((len(spans), at, _head_end(data, at)))
        spans.append(None)

    def end(_: str) -> None:
        number, first, head = waiting.pop()
        last = head if data[head - 2 : head] == b"/>" else data.index(b">", parser.CurrentByteIndex) + 1
        spans[number] = Span(first, head, last)

    parser.StartElementHandler, parser.EndElementHandler = start, end
    try:
        parser.Parse(data, True)
    except (pyexpat.ExpatError, ValueError) as problem:
        raise CannotEdit("its text cannot be followed") from problem
    return [span for span in spans if span is not None]


def _head_end(data: bytes, at: int) -> int:
    """The byte behind a start tag."""
    quote = b""
    for index in range(at, len(data)):
        sign = data[index : index + 1]
        if quote:
            quote = b"" if sign == quote else quote
        elif sign in (b'"', b"'"):
            quote = sign
        elif sign == b">":
            return index + 1
    raise CannotEdit("a tag does not end")


def _tag(head: bytes) -> bytes:
    found = re.match(rb"<([^\s/>]+)", head)
    assert found is not None
    return found[1]


def _without(head: bytes, name: str) -> bytes:
    pattern = rb"\s+" + re.escape(name.encode()) + rb"""\s*=\s*("[^"]*"|'[^']*')"""
    return re.sub(pattern, b"", head, count=1)


def _with(head: bytes, name: str, value: str) -> bytes:
    written = name.encode() + b'="' + escape(value, {'"': "&quot;"}).encode() + b'"'
    found = re.search(rb"(\s)" + re.escape(name.encode()) + rb"""\s*=\s*("[^"]*"|'[^']*')""", head)
    if found:
        return head[: found.start()] + found[1] + written + head[found.end() :]
    end = len(head) - (2 if head.endswith(b"/>") else 1)
    return head[:end].rstrip() + b" " + written + head[end:]
