"""What a page of a finished PDF draws, read from its operators and from nothing else.

Knows:  the operators of ISO 32000-1 that our pages use: graphics state (8.4), paths (8.5), text (9.4).
Leaves: whether what is drawn is right (readback).
Units:  points from the page's top left corner, x right and y down, as sheets have them.
Method: operator by operator; every path is brought on to the page by the matrix that holds when it is made, every
        line of words is decoded by the font's own map to characters (9.10.3).
Limits: what could hide or add something that is not followed here (clips, images, forms, shadings, curves,
        see-through paint, words that do not show) is not passed over but named, so that the caller can refuse it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from seamwright.geometry import IDENTITY, Affine, Point, after, moved

Look = tuple[float, tuple[float, ...], str]
"""How a line looks: width in points, dashes in points, colour as #rrggbb."""


@dataclass(frozen=True, slots=True)
class Line:
    """One stroked line through points; a closed one ends where it begins."""

    look: Look
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Fill:
    """One filled area of one or more rings."""

    colour: str
    rings: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Written:
    """One line of words: where its baseline begins, which way it runs (unit direction), its size and colour."""

    text: str
    at: Point
    ahead: Point
    size_pt: float
    colour: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """Everything that a page draws; `strange` names what was not followed."""

    lines: tuple[Line, ...]
    fills: tuple[Fill, ...]
    words: tuple[Written, ...]
    strange: tuple[str, ...]


def drawn_on(page: Any, height_pt: float) -> Drawn:
    """What a page (of pypdf) of that height draws."""
    resources = page.get("/Resources", {})
    fonts = {name: _characters(font.get_object()) for name, font in resources.get("/Font", {}).items()}
    strange = [
        "see-through paint"
        for state in resources.get("/ExtGState", {}).values()
        if any(float(state.get_object().get(key, 1)) != 1 for key in ("/ca", "/CA"))
        or state.get_object().get("/SMask", "/None") != "/None"
    ]
    contents = page.get_contents()
    reader = _Reader(fonts, height_pt)
    reader.follow(contents.get_data() if contents is not None else b"")
    return Drawn(
        tuple(reader.lines),
        tuple(reader.fills),
        tuple(reader.words),
        tuple(dict.fromkeys(strange + reader.strange)),
    )


@dataclass(frozen=True, slots=True)
class _State:
    """The graphics state, as far as it tells in our pages."""

    matrix: Affine = IDENTITY
    width: float = 1.0
    dashes: tuple[float, ...] = ()
    stroke: str = "#000000"
    fill: str = "#000000"
    font: str = ""
    size: float = 0.0
    hidden: bool = False


Operand = float | str | bytes
"""A number, a name with its slash, or the bytes of a string."""

_STROKES = (b"S", b"s", b"B", b"B*", b"b", b"b*")
_FILLS = (b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*")
_CLOSES = (b"s", b"b", b"b*")
_PAINTS = frozenset((*_STROKES, *_FILLS, b"n"))
_STRANGE = {
    b"W": "a clip",
    b"W*": "a clip",
    b"Do": "an image or a form",
    b"BI": "an image",
    b"sh": "a shading",
    b"c": "a curve",
    b"v": "a curve",
    b"y": "a curve",
    b"Tz": "stretched words",
    b"Ts": "words off their line",
    b"T*": "words without a place",
    b"'": "words without a place",
    b'"': "words without a place",
    b"k": "paint of a colour that is not followed",
    b"K": "paint of a colour that is not followed",
    b"sc": "paint of a colour that is not followed",
    b"scn": "paint of a colour that is not followed",
    b"SC": "paint of a colour that is not followed",
    b"SCN": "paint of a colour that is not followed",
}


@dataclass(slots=True)
class _Reader:
    """Follows the operators of one page."""

    fonts: dict[str, dict[int, str]]
    height: float
    lines: list[Line] = field(default_factory=list)
    fills: list[Fill] = field(default_factory=list)
    words: list[Written] = field(default_factory=list)
    strange: list[str] = field(default_factory=list)

    def follow(self, content: bytes) -> None:
        """Reads all operators of a content stream."""
        state, saved = _State(), list[_State]()
        path: list[list[Point]] = []
        closed: list[bool] = []
        text: Affine = IDENTITY
        for operator, operands in operations(content):
            n = [value for value in operands if isinstance(value, float)]
            if operator in (b"m", b"l"):
                point = self._on_page(state.matrix, (n[0], n[1]))
                if operator == b"m":
                    path.append([])
                    closed.append(False)
                path[-1].append(point)
            elif operator == b"h":
                closed[-1] = True
            elif operator == b"re":
                x, y, w, h = n
                corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
                path.append([self._on_page(state.matrix, p) for p in corners])
                closed.append(True)
            elif operator in _PAINTS:
                closed = [True] * len(path) if operator in _CLOSES else closed
                self._paint(operator, state, path, closed)
                path, closed = [], []
            elif operator == b"q":
                saved.append(state)
            elif operator == b"Q":
                state = saved.pop() if saved else _State()
            elif operator == b"cm":
                state = replace(state, matrix=after(_affine(n), state.matrix))
            elif operator == b"w":
                state = replace(state, width=n[0])
            elif operator == b"d":
                state = replace(state, dashes=tuple(n[:-1]))
            elif operator in (b"RG", b"G"):
                state = replace(state, stroke=_colour(n))
            elif operator in (b"rg", b"g"):
                state = replace(state, fill=_colour(n))
            elif operator == b"Tf":
                state = replace(state, font=str(operands[0]), size=n[0])
            elif operator == b"Tr":
                state = replace(state, hidden=n[0] != 0)
            elif operator == b"BT":
                text = IDENTITY
            elif operator == b"Tm":
                text = _affine(n)
            elif operator in (b"TJ", b"Tj"):
                self._write(state, text, b"".join(v for v in operands if isinstance(v, bytes)))
            elif operator == b"Td":
                text = after((1.0, 0.0, 0.0, 1.0, n[0], n[1]), text)
            elif operator in _STRANGE:
                self.strange.append(_STRANGE[operator])

    def _on_page(self, matrix: Affine, point: Point) -> Point:
        x, y = moved(matrix, point)
        return (x, self.height - y)

    def _paint(self, operator: bytes, state: _State, path: list[list[Point]], closed: list[bool]) -> None:
        if operator in _STROKES:
            a, b, c, d, _, _ = state.matrix
            scale = abs(a * d - b * c) ** 0.5
            dashes = tuple(round(length * scale, 3) for length in state.dashes)
            look = (round(state.width * scale, 3), dashes, state.stroke)
            self.lines += [
                Line(look, tuple(run + run[:1] if shut else run)) for run, shut in zip(path, closed, strict=True)
            ]
        if operator in _FILLS:
            # cairo begins a new subpath at the end of each closed ring.
            rings = tuple(tuple(run) for run in path if len(run) > 1)
            if rings:
                self.fills.append(Fill(state.fill, rings))

    def _write(self, state: _State, text: Affine, codes: bytes) -> None:
        known = self.fonts.get(state.font, {})
        shown = "".join(known.get(code, "\ufffd") for code in codes)
        if state.hidden:
            self.strange.append(f'words that do not show ("{shown}")')
            return
        a, b, c, d, e, f = after(text, state.matrix)
        scale = (a * a + b * b) ** 0.5 or 1.0
        if abs(a - d) + abs(b + c) > 1e-3 * scale:
            self.strange.append(f'words that are mirrored or stretched ("{shown}")')
        size = round(state.size * scale, 4)
        self.words.append(Written(shown, (e, self.height - f), (a / scale, -b / scale), size, state.fill))


def operations(content: bytes) -> Iterator[tuple[bytes, list[Operand]]]:
    """Each operator with its operands; those of arrays stand one after the other."""
    operands: list[Operand] = []
    for match in _TOKEN.finditer(content):
        kind, token = match.lastgroup, match[0]
        if kind == "number":
            operands.append(float(token))
        elif kind == "operator":
            yield token, operands
            operands = []
        elif kind == "name":
            operands.append(token.decode("latin-1"))
        elif kind == "hex":
            digits = b"".join(token[1:-1].split())
            operands.append(bytes.fromhex((digits + b"0" * (len(digits) % 2)).decode("ascii")))
        elif kind == "string":
            operands.append(re.sub(rb"\\(.)", rb"\1", token[1:-1]))


_TOKEN = re.compile(
    rb"(?P<number>[-+]?(?:\d+\.?\d*|\.\d+))"
    rb"|(?P<operator>[A-Za-z'\"][A-Za-z0-9]*\*?)"
    rb"|(?P<name>/[^\s<>\[\]()/%]*)"
    rb"|(?P<hex><[0-9A-Fa-f\s]*>)"
    rb"|(?P<string>\((?:\\.|[^\\()])*\))",
    re.DOTALL,
)


def _affine(numbers: Sequence[float]) -> Affine:
    a, b, c, d, e, f = numbers
    return (a, b, c, d, e, f)


def _colour(shares: Sequence[float]) -> str:
    return "#" + "".join(f"{round(255 * share):02x}" for share in (list(shares) * 3)[:3])


def _characters(font: Any) -> dict[int, str]:
    """The characters of a font's codes, by its own map."""
    if "/ToUnicode" not in font:
        return {}
    text = font["/ToUnicode"].get_object().get_data()
    found: dict[int, str] = {}
    for block in re.findall(rb"beginbfchar(.*?)endbfchar", text, re.DOTALL):
        for code, utf16 in re.findall(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]*)>", block):
            found[int(code, 16)] = bytes.fromhex(utf16.decode("ascii")).decode("utf-16-be")
    return found
