"""Words of PDF pages: real text in the bundled type, the same on every machine, searchable in its place.

Knows:  how the type's outlines become fonts inside the file, and lines of words the operators that show them.
Leaves: the outlines themselves (ink.lettering), lines and areas (ink.svg), the rest of the file (pdf).
Units:  points; sheets run down from the top left corner, PDF up from the bottom left one. Glyphs: size / 1000.
Method: Type 3 fonts (ISO 32000-1, 9.6.5) hold each letter used once per file, however many sheets show it, and a
        map back to characters (9.10.3). Drawing all words as paths instead made files ten times as large.
Limits: a character that the type lacks shows as a box, and is found by searching all the same.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
)

from seamwright.geometry import Point
from seamwright.ink.lettering import anchor_shift_pt, drawable, path_data, width_pt
from seamwright.ink.model import Words

EM = 1000
_FIRST_CODE, _LAST_CODE = 33, 255
_COMMAND = re.compile(r"([MLQZ])([^MLQZ]*)")
_NUMBER = re.compile(r"-?[\d.]+")
_MARKS = {"⁄": "/", "−": "-", "′": "'", "″": '"', "\u00a0": " "}

Letter = tuple[str, bool, int]
"""A character as written, whether it is bold, and by how much its width is less than usual, thousandths, 0 or
below: where the next one is set far back under it, as in To and F.2, the width says so. Readers that gather words
from places take a step back for the beginning of another word (poppler: a tenth of the size)."""
BACK = -90


class Type:
    """The fonts of one file.

    Args:
        words: all lines of words in it.
    """

    def __init__(self, words: Iterable[Words]) -> None:
        letters = {letter for line in words for letter, _ in _letters(line)}
        self._codes: dict[Letter, tuple[str, int]] = {}
        room = _LAST_CODE - _FIRST_CODE + 1
        for bold in (False, True):
            used = sorted(letter for letter in letters if letter[1] is bold)
            for number, letter in enumerate(used):
                name = f"/{'Bold' if bold else 'Plain'}{number // room}"
                self._codes[letter] = (name, _FIRST_CODE + number % room)

    def show(self, lines: Iterable[Words], height_pt: float) -> bytes:
        """Operators that show lines of words on a page of that height; they leave the graphics state as it was."""
        shown = [self._line(line, height_pt) for line in lines if drawable(line.text).strip()]
        return "\n".join(["q", *shown, "Q"]).encode("ascii")

    def fonts(self, writer: PdfWriter) -> DictionaryObject:
        """The fonts as objects of the file, by name, for the resources of its pages."""
        by_font: dict[str, list[tuple[int, Letter]]] = {}
        for letter, (name, code) in self._codes.items():
            by_font.setdefault(name, []).append((code, letter))
        return DictionaryObject(
            {NameObject(name): _font(writer, sorted(letters)) for name, letters in sorted(by_font.items())}
        )

    def _line(self, line: Words, height_pt: float) -> str:
        """One line: colour, place with direction, runs of one font with their kerning, the underline."""
        angle = math.radians(line.angle_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        back = anchor_shift_pt(line)
        x, y = line.at[0] - cos * back, height_pt - (line.at[1] - sin * back)
        place = " ".join(_said(n, 4) for n in (cos, -sin, sin, cos, x, y))
        colour = " ".join(_said(int(line.colour[k : k + 2], 16) / 255, 4) for k in (1, 3, 5))
        parts = [f"{colour} rg"]
        if line.underline:
            plain = path_data(line.text, line.size_pt, line.bold)
            rule = path_data(line.text, line.size_pt, line.bold, underline=True).removeprefix(plain)
            parts.append(f"q {place} cm {_outline(rule, 2)} Q")
        # Readers that take text from a page look for its place in Tm.
        parts.append(f"BT {place} Tm")
        font, run = "", ""
        size = _said(line.size_pt, 4)
        for letter, kern in _letters(line):
            name, code = self._codes[letter]
            if name != font:
                parts.append(f"{run}>] TJ {name} {size} Tf" if run else f"{name} {size} Tf")
                run, font = f"[{-kern}<" if kern else "[<", name
            elif kern:
                run += f">{-kern}<"
            run += f"{code:02x}"
        parts.append(f"{run}>] TJ ET")
        return " ".join(parts)


def searchable(character: str) -> str:
    """What a person would type to find a character: figures for a fraction, plain primes.

    >>> searchable("⅞")
    ' 7/8'
    """
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKD", character).replace("⁄", "/")
    return _MARKS.get(character, character)


@lru_cache(maxsize=4096)
def text_of(text: str) -> str:
    """What a search finds of a line of words."""
    return "".join(searchable(c) for c in _characters(text))


def _characters(text: str) -> list[str]:
    """The characters of a text that show, as written."""
    return [c for c in unicodedata.normalize("NFC", text) if drawable(c)]


def _letters(line: Words) -> list[tuple[Letter, int]]:
    """The letters of a line, each with how much farther from the one before than their widths say it stands."""
    characters = _characters(line.text)
    kerns = [round(_kern(a, b, line.bold)) for a, b in pairwise(characters)]
    backs = [kern if kern <= BACK else 0 for kern in kerns]
    found = zip(characters, [*backs, 0], [0, *kerns], [0, *backs], strict=False)
    return [((character, line.bold, back), kern - told) for character, back, kern, told in found]


def _kern(before: str, after: str, bold: bool) -> float:
    """How much farther apart than their widths two letters stand, thousandths."""
    return width_pt(before + after, EM, bold) - width_pt(before, EM, bold) - width_pt(after, EM, bold)


def _font(writer: PdfWriter, letters: Sequence[tuple[int, Letter]]) -> IndirectObject:
    """One Type 3 font of some letters with their codes, in order of code."""
    procs, names, widths = DictionaryObject(), ArrayObject(), ArrayObject()
    for code, letter in letters:
        name = NameObject(f"/c{code}")
        procs[name] = add_stream(writer, _glyph(letter))
        names.append(name)
        widths.append(NumberObject(_width(letter)))
    first = letters[0][0]
    encoding = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Encoding"),
            NameObject("/Differences"): ArrayObject([NumberObject(first), *names]),
        }
    )
    scale = FloatObject(1 / EM)
    zero = NumberObject(0)
    font = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Font"),
            NameObject("/Subtype"): NameObject("/Type3"),
            # All zeros: the reader makes no assumption about how far glyphs reach (ISO 32000-1, table 112).
            NameObject("/FontBBox"): ArrayObject([zero] * 4),
            NameObject("/FontMatrix"): ArrayObject([scale, zero, zero, scale, zero, zero]),
            NameObject("/CharProcs"): procs,
            NameObject("/Encoding"): encoding,
            NameObject("/FirstChar"): NumberObject(first),
            NameObject("/LastChar"): NumberObject(letters[-1][0]),
            NameObject("/Widths"): widths,
            NameObject("/Resources"): DictionaryObject(),
            NameObject("/ToUnicode"): add_stream(writer, _to_unicode(letters)),
        }
    )
    return writer._add_object(font)


def _width(letter: Letter) -> int:
    character, bold, back = letter
    return round(width_pt(character, EM, bold)) + back


def _glyph(letter: Letter) -> bytes:
    """The operators of one letter: its width, its box, its outline filled."""
    character, bold, _ = letter
    data = path_data(character, EM, bold)
    numbers = [float(n) for _, text in _COMMAND.findall(data) for n in _NUMBER.findall(text)]
    xs, ys = numbers[::2] or [0.0], [-y for y in numbers[1::2]] or [0.0]
    box = (math.floor(min(xs)), math.floor(min(ys)), math.ceil(max(xs)), math.ceil(max(ys)))
    return f"{_width(letter)} 0 {' '.join(map(str, box))} d1 {_outline(data, 0)}".encode("ascii")


def _outline(data: str, digits: int) -> str:
    """Path data (M, L, Q, Z, y down) as PDF operators (y up), filled; quadratic curves raised to cubic ones."""
    parts: list[str] = []
    here: Point = (0.0, 0.0)

    def said(*points: Point) -> str:
        return " ".join(f"{_said(x, digits)} {_said(y, digits)}" for x, y in points)

    for command, text in _COMMAND.findall(data):
        numbers = [float(n) for n in _NUMBER.findall(text)]
        points = [(x, -y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        if command == "Z":
            parts.append("h")
            continue
        for count in range(0, len(points), 2 if command == "Q" else 1):
            if command == "Q":
                bend, end = points[count], points[count + 1]
                one, two = ((p[0] + 2 / 3 * (bend[0] - p[0]), p[1] + 2 / 3 * (bend[1] - p[1])) for p in (here, end))
                parts.append(f"{said(one, two, end)} c")
                here = end
            else:
                here = points[count]
                parts.append(f"{said(here)} {'m' if command == 'M' and count == 0 else 'l'}")
    return " ".join([*parts, "f"]) if parts else ""


def _to_unicode(letters: Sequence[tuple[int, Letter]]) -> bytes:
    """The map from codes back to characters (ISO 32000-1, 9.10.3)."""
    lines = [
        f"<{code:02x}> <{searchable(character).encode('utf-16-be').hex()}>" for code, (character, _, _) in letters
    ]
    # At most a hundred lines to a block, as the format of such maps demands.
    blocks = [lines[n : n + 100] for n in range(0, len(lines), 100)]
    return "\n".join(
        [
            "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
            "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
            "/CMapName /Adobe-Identity-UCS def /CMapType 2 def",
            "1 begincodespacerange <00> <ff> endcodespacerange",
            *(f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks),
            "endcmap CMapName currentdict /CMap defineresource pop end end",
        ]
    ).encode("ascii")


def add_stream(writer: PdfWriter, data: bytes) -> IndirectObject:
    """A compressed stream as an object of the file."""
    stream = StreamObject()
    stream.set_data(data)
    return writer._add_object(stream.flate_encode())


def _said(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if digits else text
    return "0" if text in ("-0", "") else text
