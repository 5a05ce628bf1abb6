"""SVG bytes to an element tree, within limits and without touching any other file.

Knows:  XML, gzip, what a hostile file may try, how to name an element in a message.
Leaves: what the elements mean (svg_tree).
Method: the tree builder counts elements, depth and signs while it builds, so that a bomb stops early. Internal
        entities are allowed, because drawing programs declare their namespaces with them; expat stops those that
        multiply (from version 2.4.1 on), and what they may come to is reckoned before any is put in, since it lets
        a hundredfold pass; external ones are refused.
Limits: see the constants; all counts are of the file as it stands, before `<use>` is followed.
"""

from __future__ import annotations

import re
import zlib
from collections import Counter
from typing import Any
from xml.etree.ElementTree import Element, ParseError, TreeBuilder

from seamwright.errors import DrawingError, SeamwrightError, fail

MAX_BYTES = 20_000_000
MAX_DEPTH = 200
MAX_ELEMENTS = 400_000
"""Far above any drawing of 50,000 segments, low enough to keep memory small."""
MAX_READ = 2 * MAX_BYTES
"""Signs of words and attributes once entities and values of a document type are put in; a file has fewer itself."""
MAX_NESTED = 20
"""Entities that hold others: expat goes into each within the last, and its stack has an end."""

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
INKSCAPE = "http://www.inkscape.org/namespaces/inkscape"
SODIPODI = "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"

_FOREIGN_STARTS = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"%!PS", "a PostScript file"),
    (b"PK\x03\x04", "a packed (zip) file"),
    (b"{\\rtf", "a word processor's file"),
)


def unreadable(code: str, what: str, mend: str) -> SeamwrightError:
    """The error of a drawing that cannot be read, ready to raise."""
    return fail(DrawingError, code, what, mend)


def tag_of(element: Element) -> str:
    """Local name of an SVG element; "" for one of another namespace, a comment or an instruction.

    Elements without any namespace count as SVG: files typed by hand often leave the declaration out.
    """
    tag = element.tag
    if not isinstance(tag, str):
        return ""
    if tag.startswith("{"):
        space, _, local = tag[1:].partition("}")
        return local if space == SVG else ""
    return tag


def href_of(element: Element) -> str:
    """What the element refers to; "" for nothing. SVG 2's plain `href` goes before `xlink:href`."""
    return (element.get("href") or element.get(f"{{{XLINK}}}href") or "").strip()


class Names:
    """Names of elements for messages: "path 'seam-3'", or "path number 4" for one without an id."""

    def __init__(self, root: Element) -> None:
        self._numbers: dict[Element, int] = {}
        counts: Counter[str] = Counter()
        for element in root.iter():
            tag = tag_of(element)
            counts[tag] += 1
            self._numbers[element] = counts[tag]

    def of(self, element: Element) -> str:
        """The element's name."""
        tag = tag_of(element)
        named = element.get(f"{{{INKSCAPE}}}label") or element.get("id")
        if named:
            return f"{tag} '{' '.join(named.split())[:60]}'"
        return f"{tag} number {self._numbers.get(element, 1)}"


class _Builder(TreeBuilder):
    """Builds the tree and stops at the limits."""

    def __init__(self) -> None:
        super().__init__()
        self._depth = 0
        self._elements = 0
        self._read = 0

    def start(self, tag: Any, attrs: Any, /) -> Element:
        """Open an element."""
        self._depth += 1
        self._elements += 1
        if self._depth > MAX_DEPTH:
            raise unreadable(
                "too deep",
                f"elements are nested more than {MAX_DEPTH} deep",
                "Ungroup the drawing in its editor and save it again",
            )
        if self._elements > MAX_ELEMENTS:
            raise unreadable(
                "too many",
                f"the file has more than {MAX_ELEMENTS:,} elements",
                "Save only the block's lines",
            )
        self._count(sum(len(name) + len(value) for name, value in attrs.items()))
        return super().start(tag, attrs)

    def data(self, data: str, /) -> None:
        """Words."""
        self._count(len(data))
        super().data(data)

    def _count(self, signs: int) -> None:
        self._read += signs
        if self._read > MAX_READ:
            raise _multiply()

    def end(self, tag: str, /) -> Element:
        """Close an element."""
        self._depth -= 1
        return super().end(tag)


class _Entities:
    """The entities that a document declares, and what they may come to."""

    def __init__(self, plain: bytes) -> None:
        self._plain = plain
        self._values: dict[str, str] = {}
        self._nested = 0

    def declare(self, name: str, parameter: bool, value: str | None, *_: object) -> None:
        """One more; the first of a name holds, and parameter entities are not put in anywhere."""
        if value is None or parameter:
            return
        self._values.setdefault(name, value)
        self._nested += "&" in value
        if self._nested > MAX_NESTED:
            raise _multiply()

    def reckon(self) -> None:
        """Refuse those that might come to more than a file may hold."""
        known: dict[str, int] = {}

        def grown(name: str, within: tuple[str, ...]) -> int:
            if name in within or name not in self._values:
                return 0  # expat refuses a loop in its own words
            if name not in known:
                value = self._values[name]
                inner = Counter(re.findall(r"&([^#&;][^&;]*+);", value)) if "&" in value else Counter[str]()
                known[name] = len(value) + sum(n * grown(one, (*within, name)) for one, n in inner.items())
            return known[name]

        longest = max((grown(name, ()) for name in self._values), default=0)
        if longest * self._plain.count(b"&") <= MAX_READ:
            return
        whole = 0
        # Signs that mean anything in XML are ASCII in every encoding that expat takes, beside zeros in UTF-16.
        for found in re.finditer(rb"&([^#&;\s][^&;\s]*+);", self._plain.replace(b"\0", b"")):
            whole += known.get(found[1].decode(), 0) if found[1].isascii() else longest
            if whole > MAX_READ:
                raise _multiply()


def _multiply() -> SeamwrightError:
    return unreadable("entities", "the drawing's entities multiply without end", "Save it as plain SVG")


def unpacked(data: bytes) -> bytes:
    """The bytes of an SVG, unpacked if they are gzip (.svgz), never more than the limit."""
    if len(data) > MAX_BYTES:
        raise too_large()
    if data[:2] != b"\x1f\x8b":
        return data
    stream = zlib.decompressobj(wbits=zlib.MAX_WBITS | 16)
    try:
        plain = stream.decompress(data, MAX_BYTES + 1)
    except zlib.error:
        raise _damaged() from None
    if len(plain) > MAX_BYTES:
        raise too_large()
    if not stream.eof:
        raise _damaged()
    return plain


def _damaged() -> SeamwrightError:
    return unreadable("unreadable", "the packed drawing (.svgz) is damaged", "Save it as plain SVG")


def too_large() -> SeamwrightError:
    """The error of a file above the size limit."""
    return unreadable(
        "too large",
        f"the drawing is larger than {MAX_BYTES // 1_000_000} MB",
        "Save only the block's lines, without pictures, as plain SVG",
    )


def parse_svg(data: bytes) -> Element:
    """The root `<svg>` element.

    Args:
        data: the file's bytes, plain or gzip.

    Raises:
        DrawingError: empty, too large, not XML, not SVG, nested too deep, or hostile.
    """
    plain = unpacked(data)
    if not plain.strip(b" \t\r\n\0\xef\xbb\xbf"):
        raise unreadable("empty", "the drawing file is empty", "Save the drawing again as plain SVG")
    for start, kind in _FOREIGN_STARTS:
        if plain.startswith(start):
            raise unreadable(
                "not svg", f"the file is {kind}, not an SVG drawing", "Export the drawing as plain SVG"
            )
    root = _tree(plain)
    if tag_of(root) != "svg":
        shown = root.tag.rpartition("}")[2] if isinstance(root.tag, str) else "?"
        raise unreadable(
            "not svg",
            f"the file is XML, but its first element is <{shown[:40]}>, not <svg>",
            "Export the drawing as plain SVG",
        )
    return root


def _tree(plain: bytes) -> Element:
    """The root element of XML bytes."""
    # Imported here: both cost start-up time that `--help` must not pay.
    import pyexpat

    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import DefusedXMLParser

    entity_safe = pyexpat.version_info >= (2, 4, 1)
    parser = DefusedXMLParser(
        target=_Builder(), forbid_dtd=False, forbid_entities=not entity_safe, forbid_external=True
    )
    entities = _Entities(plain)
    parser.parser.EntityDeclHandler = entities.declare if entity_safe else parser.parser.EntityDeclHandler
    parser.parser.EndDoctypeDeclHandler = entities.reckon
    try:
        parser.feed(plain)
        root: Element = parser.close()
    except DefusedXmlException:
        raise unreadable(
            "entities",
            "the drawing declares entities that point outside the file",
            "Save it as plain SVG; nothing outside the drawing is ever read",
        ) from None
    except ParseError as error:
        if "amplification" in str(error):
            raise _multiply() from None
        line, column = error.position
        raise fail(
            DrawingError,
            "not xml",
            f"the file is not well-formed XML ({str(error).split(':')[0]})",
            "Save the drawing again as plain SVG, or mend the file there",
            line=line,
            column=column + 1,
        ) from None
    except (ValueError, LookupError):
        # An encoding that does not exist, or bytes that are none of it.
        raise unreadable(
            "not xml", "the file's text encoding cannot be read", "Save the drawing as plain SVG in UTF-8"
        ) from None
    return root
