"""SVG documents built from bytes by choices: nearly always well-formed, so that a fuzzer gets beyond the XML.

Knows:  the elements, attributes and values that the reader looks at, and those that have made readers stumble.
Method: each byte is one choice; a document of any bytes is one, and near bytes give near documents.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar
from xml.sax.saxutils import escape, quoteattr

_T = TypeVar("_T")
MOST_ELEMENTS = 60

_ODD_NUMBERS = (
    *("0", "-0", "8", "0.5", "1e-9", "-1e-9", "1e3", "1e5", "-1e5", "1e9", "1e300", "1e999", "nan", "inf", ".5.5"),
    *("8in", "203.2mm", "50%", "-3", "1e-320", "9999999999999999999999", "0.1", "8.0000001", "7.9999999", "2em"),
)
_PAINTS = (
    *("none", "black", "#fff", "#a9c9dc", "url(#a)", "url(#b) red", "currentColor", "rgb(1,2,3)", "rgba(0,0,0,0)"),
    *("hsl(10 20% 30%)", "inherit", "transparent", "#12", "var(--c)", "var(--c, red)", "url(file:///etc/passwd#a)"),
)
_HREFS = ("#a", "#b", "#c", "#d", "", "#", "file:///etc/passwd#a", "x.svg#a")
_IDS = ("a", "b", "c", "d")
_TRANSFORMS = (
    *("rotate(45)", "scale(2)", "scale(0)", "scale(-1 1)", "translate(4 4)", "matrix(1 0 0 1 2 3)", "skewX(30)"),
    *(
        "rotate(90 4 4)",
        "matrix(0 0 0 0 0 0)",
        "scale(1e6)",
        "scale(1e-9)",
        "skewX(90)",
        "rotate(1e300)",
        "turn(3)",
    ),
)
_WORDS = ("sky", "A1", "sky, stripes 45", "sea\nnight", "", " ", "x" * 300, "\u202eabc", "sky, width 0 in", "ﬁ½")
_LEAVES = ("line", "polyline", "polygon", "rect", "circle", "ellipse", "path", "text", "use", "image", "flowRoot")
_GROUPS = (
    *("g", "svg", "symbol", "defs", "clipPath", "switch", "a", "mask", "pattern", "marker", "text", "tspan"),
    *("linearGradient", "foreignObject"),
)
_COMMANDS = "MLHVCSQTAZmlhvcsqtaz"
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_SELECTORS = (
    "*",
    "path",
    "#a",
    ".k",
    "g > path",
    "g:nth-child(2n)",
    ":not(g)",
    "svg line",
    "[id]",
    "g ~ path",
    "@media all",
)
_ROOTS = (
    'width="8in" height="8in" viewBox="0 0 8 8"',
    'width="8in" height="8in"',
    'viewBox="0 0 800 600"',
    "",
    'width="100%" height="100%" viewBox="-4 -4 8 8" preserveAspectRatio="none"',
    'width="8in" height="4in" viewBox="0 0 8 8" preserveAspectRatio="xMinYMax slice"',
    'width="200mm" height="200mm" viewBox="0 0 1e9 1e9"',
    'width="8" height="8" viewBox="0 0 1e-7 1e-7"',
)


class Choices:
    """Bytes as choices; past the end each is the first."""

    def __init__(self, data: bytes) -> None:
        self._data, self._at = data, 0

    def left(self) -> bool:
        """Whether bytes are left."""
        return self._at < len(self._data)

    def below(self, count: int) -> int:
        """A number below a count of up to 256."""
        self._at += 1
        return self._data[self._at - 1] % count if self._at <= len(self._data) else 0

    def of(self, things: Sequence[_T]) -> _T:
        """One of several things."""
        return things[self.below(len(things))]

    def number(self) -> str:
        """A number, mostly a place on a grid of half inches."""
        kind = self.below(16)
        if kind < 13:
            return f"{self.below(17) / 2:g}"
        return f"{self.below(256) / 25.5:.4f}" if kind < 15 else self.of(_ODD_NUMBERS)


def document(data: bytes) -> bytes:
    """The document that bytes stand for."""
    take = Choices(data)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {take.of(_ROOTS)}>'
    ]
    if take.below(4) == 3:
        parts.append(f"<style>{escape(_sheet(take))}</style>")
    if take.below(4):
        parts.append('<rect width="8" height="8" fill="none" stroke="black"/>')
    stack: list[str] = []
    for _ in range(MOST_ELEMENTS):
        if not take.left():
            break
        step = take.below(8)
        if step == 0 and stack:
            parts.append(f"</{stack.pop()}>")
        elif step == 1:
            tag = take.of(_GROUPS)
            stack.append(tag)
            parts.append(f"<{tag}{_looks(take)}>")
            if tag in ("text", "tspan"):
                parts.append(escape(take.of(_WORDS)))
        else:
            parts.append(_leaf(take))
    parts += [f"</{tag}>" for tag in reversed(stack)]
    return ("".join(parts) + "</svg>").encode()


def _leaf(take: Choices) -> str:
    tag = take.of(_LEAVES)
    given = _looks(take)
    if tag == "path":
        given += f' d="{_path(take)}"'
    elif tag in ("polyline", "polygon"):
        given += f' points="{" ".join(take.number() for _ in range(2 * take.below(8)))}"'
    elif tag == "line":
        given += "".join(f' {name}="{take.number()}"' for name in ("x1", "y1", "x2", "y2"))
    elif tag == "use":
        given += f" xlink:href={quoteattr(take.of(_HREFS))}"
    elif tag == "image":
        given += (
            f' href="{take.of(("file:///etc/passwd", "http://127.0.0.1:9/a.png", "data:image/png;base64,AAAA"))}"'
        )
    if tag in ("rect", "use", "text", "image", "circle", "ellipse"):
        names = (
            ("cx", "cy", "r", "rx", "ry") if tag in ("circle", "ellipse") else ("x", "y", "width", "height", "rx")
        )
        given += "".join(f' {name}="{take.number()}"' for name in names)
    inside = escape(take.of(_WORDS)) if tag in ("text", "flowRoot") else ""
    return f"<{tag}{given}>{inside}</{tag}>"


def _looks(take: Choices) -> str:
    """Attributes that say how an element looks; often none beside a black line."""
    kind = take.below(8)
    if kind < 4:
        return ' fill="none" stroke="black"'
    if kind == 4:
        return f' fill="{take.of(_PAINTS)}"'
    values = {
        "id": take.of(_IDS),
        "fill": take.of(_PAINTS),
        "stroke": take.of(_PAINTS),
        "stroke-width": take.number(),
        "transform": f"{take.of(_TRANSFORMS)} {take.of(_TRANSFORMS)}",
        "clip-path": f"url(#{take.of(_IDS)})",
        "style": take.of(
            ("display:none", "visibility:hidden", "--c:blue;fill:var(--c)", "opacity:0", "x:3;transform:scale(2)")
        ),
        "class": "k",
        "fill-rule": "evenodd",
        "gradientUnits": "userSpaceOnUse",
        "href": f"#{take.of(_IDS)}",
        "stroke-dasharray": "1 1",
        "viewBox": f"0 0 {take.number()} {take.number()}",
        "font-size": take.number(),
    }
    names = list(values)
    chosen = dict.fromkeys(take.of(names) for _ in range(1 + take.below(5)))
    return "".join(f" {name}={quoteattr(values[name])}" for name in chosen)


def _path(take: Choices) -> str:
    words = [f"M{take.number()} {take.number()}"]
    for _ in range(take.below(12)):
        command = take.of(_COMMANDS)
        words.append(command + " ".join(take.number() for _ in range(_COUNTS[command.upper()])))
    return " ".join(words)


def _sheet(take: Choices) -> str:
    rules = [
        f"{take.of(_SELECTORS)}{{{take.of(('fill', 'stroke', 'display', '--c', 'transform'))}:{take.of(_PAINTS)}}}"
        for _ in range(take.below(5))
    ]
    return "@import url(file:///etc/passwd);" * (take.below(2)) + "".join(rules)
