"""Words as outlines: the same on every machine, also on one without fonts.

Knows:  the bundled glyph table, widths, kerning, the outline of a line of words, the box it fills.
Leaves: where words go (place), drawing them (svg), making the table (make_glyphs).
Units:  points, 72 to the inch; outlines have the baseline's start at the origin, x right and y down.
Limits: one line, left to right. A character the table lacks is drawn without its accent, or else as an open box;
        control characters are left out.
"""

from __future__ import annotations

import json
import math
import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from itertools import pairwise
from typing import Any

from seamwright.geometry import Point, Ring
from seamwright.ink.model import Anchor, Words

UNITS_PER_EM = 2048
CAP_HEIGHT = 1493 / UNITS_PER_EM
"""Height of a capital or a figure as a share of the type size."""
OVERSHOOT = 0.02
"""Round letters and figures reach less than this share of the size beyond the lines they stand between."""
UNDERLINE_TOP, UNDERLINE_BOTTOM = 0.10, 0.17
"""An underline lies this far below the baseline: clear of the figure, and 0.5 pt thick at 7 pt."""

_MISSING = "M98 0L98 -1493L902 -1493L902 0ZM205 -107L795 -107L795 -1386L205 -1386Z"
_MISSING_ADVANCE = 1000
_COMMAND = re.compile(r"([MLQZ])([^MLQZ]*)")

Command = tuple[str, tuple[Point, ...]]


@lru_cache(maxsize=16384)
def width_pt(text: str, size_pt: float, bold: bool = False) -> float:
    """How far a line of words runs, kerning included.

    >>> width_pt("A", 2048)  # the font's own advance
    1260.0
    """
    kerning, drawn = _face(bold).kerning, drawable(text)
    advances = sum(_glyph(c, bold)[0] for c in drawn) + sum(kerning.get(a + b, 0) for a, b in pairwise(drawn))
    return advances * size_pt / UNITS_PER_EM


def path_data(text: str, size_pt: float, bold: bool = False, underline: bool = False) -> str:
    """The outline of a line of words as SVG path data, to be filled (nonzero), baseline's start at the origin.

    Args:
        underline: draw a line under the figures, or under all of a text that has none.

    Returns:
        Path data to a hundredth of a point; "" if nothing shows.
    """
    kerning, scale = _face(bold).kerning, size_pt / UNITS_PER_EM
    drawn = drawable(text)
    parts: list[str] = []
    x = 0.0
    for place, character in enumerate(drawn):
        x += kerning.get(drawn[place - 1 : place + 1], 0) if place else 0
        advance, outline = _glyph(character, bold)
        for letter, points in outline:
            parts.append(letter + _numbers([((px + x) * scale, py * scale) for px, py in points]))
        x += advance
    if underline and drawn:
        left, right = _underlined(drawn, size_pt, bold)
        top, bottom = UNDERLINE_TOP * size_pt, UNDERLINE_BOTTOM * size_pt
        # The same direction round as the outer contours of glyphs, so that nothing is cut out of them.
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        parts += [f"{letter}{_numbers([corner])}" for letter, corner in zip("MLLL", corners, strict=True)] + ["Z"]
    return "".join(parts)


def drawable(text: str) -> str:
    """What is drawn of a text: composed, white space as blanks, control characters and loose accents left out.

    >>> drawable("sea\\tfoam\\x07")
    'sea foam'
    """
    known = _face(False).glyphs
    drawn: list[str] = []
    for character in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(character)
        if character in known:
            drawn.append(character)
        elif character.isspace() or kind == "Zs":
            drawn.append(" ")
        elif kind[0] == "M" or kind in ("Cc", "Cf", "Cs"):
            continue
        else:
            drawn.append(_substitute(character, known))
    return "".join(drawn)


def lacking(text: str) -> tuple[str, str]:
    """Characters of a text that the type lacks, each once: those shown as a box, those shown without their accent.

    >>> lacking("\N{HIRAGANA LETTER A} sea")
    ('\u3042', '')
    """
    boxes: dict[str, None] = {}
    plain: dict[str, None] = {}
    for character in unicodedata.normalize("NFC", text):
        drawn = drawable(character)
        if drawn == "\N{REPLACEMENT CHARACTER}":
            boxes.setdefault(character)
        elif drawn.strip() and drawn != character:
            plain.setdefault(character)
    return "".join(boxes), "".join(plain)


def looks_turned(text: str) -> bool:
    """Whether a text's figures read as other figures upside down, so that they need an underline.

    Only 0, 1, 6, 8 and 9 are figures again; no number begins with 0, and one that stays itself needs no help.

    >>> [n for n in range(1, 100) if looks_turned(str(n))]
    [6, 9, 16, 18, 19, 61, 66, 68, 81, 86, 89, 91, 98, 99]
    """
    figures = "".join(re.findall("[0-9]", text))
    if not figures or set(figures) - set("01689") or figures.endswith("0"):
        return False
    return figures != figures[::-1].translate(str.maketrans("69", "96"))


def words_box(words: Words, unit_pt: float = 72.0) -> Ring:
    """The four corners of the box that words fill, in the unit of their point: top left first, clockwise.

    The box runs from capital height, or what rises above it, down to the baseline, descenders or underline, and is
    turned with the words.

    Args:
        unit_pt: points to one unit of `words.at` (72 for inches, 1 for points).
    """
    size = words.size_pt / unit_pt
    low, high = _reach(words)
    left = -anchor_shift_pt(words) / unit_pt
    right = left + width_pt(words.text, words.size_pt, words.bold) / unit_pt
    cos, sin = math.cos(math.radians(words.angle_deg)), math.sin(math.radians(words.angle_deg))
    x, y = words.at
    corners = ((left, -high * size), (right, -high * size), (right, low * size), (left, low * size))
    return tuple((x + cos * u - sin * v, y + sin * u + cos * v) for u, v in corners)


def anchor_shift_pt(words: Words) -> float:
    """How far left of its point, along the baseline, a line of words begins."""
    share = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[words.anchor]
    return share * width_pt(words.text, words.size_pt, words.bold)


def centred(
    text: str,
    at: Point,
    size_pt: float,
    *,
    unit_pt: float = 72.0,
    angle_deg: float = 0.0,
    bold: bool = False,
    underline: bool = False,
    colour: str = "#000000",
) -> Words:
    """Words whose capitals are centred on a point (descenders and an underline hang below).

    Args:
        at: the point; unit_pt: points to one of its units (72 for inches, 1 for points).
        angle_deg: clockwise as seen.
    """
    drop = CAP_HEIGHT * size_pt / unit_pt / 2
    turn = math.radians(angle_deg)
    baseline = (at[0] - math.sin(turn) * drop, at[1] + math.cos(turn) * drop)
    return Words(text, baseline, size_pt, Anchor.MIDDLE, angle_deg, bold, underline, colour)


def _reach(words: Words) -> tuple[float, float]:
    """How far words reach below and above the baseline, as shares of the type size."""
    extents = [_extent(character, words.bold) for character in drawable(words.text)]
    low = max((low for low, _ in extents), default=0.0)
    high = max((high for _, high in extents), default=0.0)
    if words.underline:
        low = max(low, UNDERLINE_BOTTOM)
    return (low if low > OVERSHOOT else 0.0, max(CAP_HEIGHT, high))


@cache
def _extent(character: str, bold: bool) -> tuple[float, float]:
    """How far a glyph reaches below and above the baseline, as shares of the type size; at least 0."""
    ys = [y for _, points in _glyph(character, bold)[1] for _, y in points]
    return (max(0.0, max(ys, default=0.0) / UNITS_PER_EM), max(0.0, -min(ys, default=0.0) / UNITS_PER_EM))


def _underlined(drawn: str, size_pt: float, bold: bool) -> tuple[float, float]:
    """From where to where the underline runs."""
    figures = [i for i, c in enumerate(drawn) if c.isdigit()]
    first, last = (figures[0], figures[-1]) if figures else (0, len(drawn) - 1)
    return (width_pt(drawn[:first], size_pt, bold), width_pt(drawn[: last + 1], size_pt, bold))


def _substitute(character: str, known: dict[str, tuple[int, str]]) -> str:
    """The character without its accents if that can be drawn, else one that never can: the open box."""
    plain = unicodedata.normalize("NFKD", character)[0]
    return plain if plain in known else "\N{REPLACEMENT CHARACTER}"


def _numbers(points: list[Point]) -> str:
    """Coordinates to a hundredth, in the fewest characters: a minus sign parts as well as a blank does."""
    text = ""
    for number in (f"{value:.2f}".rstrip("0").rstrip(".") for point in points for value in point):
        number = "0" if number == "-0" else number
        text += number if not text or number.startswith("-") else " " + number
    return text


@cache
def _glyph(character: str, bold: bool) -> tuple[float, tuple[Command, ...]]:
    """Advance and outline in font units."""
    advance, data = _face(bold).glyphs.get(character, (_MISSING_ADVANCE, _MISSING))
    outline: list[Command] = []
    for letter, text in _COMMAND.findall(data):
        numbers = [float(n) for n in text.split()]
        outline.append((letter, tuple(zip(numbers[::2], numbers[1::2], strict=True))))
    return advance, tuple(outline)


@dataclass(frozen=True, slots=True)
class _Face:
    """Glyphs as character -> (advance, SVG path), kerning as two characters -> change of advance; font units."""

    glyphs: dict[str, tuple[int, str]]
    kerning: dict[str, int]


@cache
def _face(bold: bool) -> _Face:
    table = _table()["bold" if bold else "regular"]
    return _Face({c: (advance, path) for c, (advance, path) in table["glyphs"].items()}, table["kerning"])


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = json.loads(resources.files("seamwright.ink").joinpath("glyphs.json").read_text("utf-8"))
    return table
