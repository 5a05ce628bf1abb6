"""Makes the bundled glyph table from the type it is taken from; run by a maintainer, never at run time.

Knows:  which characters the print may need, how to read a TrueType font, the shape of glyphs.json.
Leaves: using the table (lettering).
Units:  font units, 2048 to the type size, y down as on paper.
Needs:  fontTools, and the fonts of Debian's package fonts-dejavu-extra. Run:

            python -m seamwright.ink.make_glyphs /usr/share/fonts/truetype/dejavu

The glyph outlines are those of DejaVu Sans Condensed, unchanged but for the direction of y. Its licence is copied
from the font itself into LICENSE-glyphs.txt beside the table.
"""

from __future__ import annotations

import json
import sys
from itertools import chain, pairwise
from pathlib import Path
from typing import Any

FACES = {"regular": "DejaVuSansCondensed.ttf", "bold": "DejaVuSansCondensed-Bold.ttf"}
HERE = Path(__file__).parent

CHARACTERS = "".join(
    map(
        chr,
        chain(
            range(0x20, 0x7F),  # ASCII
            (c for c in range(0xA0, 0x180) if c != 0xAD),  # Latin-1 and Latin Extended-A, the soft hyphen left out
            range(0x2010, 0x2016),  # hyphens and dashes
            (0x2018, 0x2019, 0x201A, 0x201C, 0x201D, 0x201E),  # quotation marks
            (
                0x2020,
                0x2022,
                0x2026,
                0x2032,
                0x2033,
                0x2039,
                0x203A,
                0x2044,
            ),  # dagger to fraction slash, with primes
            (0x2070, *range(0x2074, 0x207A), *range(0x2080, 0x208A)),  # raised and lowered figures: 5/16
            (0x20AC, 0x2116, 0x2122),
            (*range(0x2153, 0x215F), *range(0x2190, 0x219A)),  # thirds to eighths; arrows
            (0x2212, 0x2248, 0x2260, 0x2264, 0x2265),  # minus sign to comparisons
        ),
    )
)


def main(fonts: Path) -> None:
    """Write glyphs.json and LICENSE-glyphs.txt beside this file from the fonts in a folder."""
    from fontTools.ttLib import TTFont

    table: dict[str, Any] = {"units_per_em": 2048}
    for face, file in FACES.items():
        font = TTFont(fonts / file)
        if font["head"].unitsPerEm != table["units_per_em"]:
            raise SystemExit(f"{file}: {font['head'].unitsPerEm} units to the type size; 2048 expected")
        table[face] = _face(font)
        if face == "regular":
            notice = f"The glyphs in glyphs.json are taken from {font['name'].getDebugName(4)}, \
{font['name'].getDebugName(5)}; this is its licence.\n\n"
            licence = "\n".join(line.rstrip() for line in font["name"].getDebugName(13).splitlines())
            (HERE / "LICENSE-glyphs.txt").write_text(notice + licence + "\n", encoding="utf-8")
    (HERE / "glyphs.json").write_text(_as_json(table) + "\n", encoding="utf-8")


def _as_json(value: Any, depth: int = 0) -> str:
    """Compact JSON with one glyph a line, so that a change of one is seen as a change of one."""
    if isinstance(value, dict) and depth < 3 and not all(isinstance(v, int) for v in value.values()):
        rows = (f"{json.dumps(k, ensure_ascii=False)}:{_as_json(v, depth + 1)}" for k, v in value.items())
        return "{\n" + ",\n".join(rows) + "}"
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _face(font: Any) -> dict[str, Any]:
    """Glyphs as character -> [advance, path], kerning as pair of characters -> change of advance."""
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    names = font.getBestCmap()
    glyph_set = font.getGlyphSet()
    glyphs: dict[str, list[Any]] = {}
    for character in CHARACTERS:
        name = names[ord(character)]
        pen = DecomposingRecordingPen(glyph_set)
        glyph_set[name].draw(pen)
        glyphs[character] = [glyph_set[name].width, _path(pen.value)]
    characters = {names[ord(c)]: c for c in reversed(CHARACTERS)}
    pairs = font["kern"].kernTables[0].kernTable
    kerning = {
        characters[a] + characters[b]: change
        for (a, b), change in sorted(pairs.items())
        if a in characters and b in characters
    }
    return {"glyphs": glyphs, "kerning": kerning}


def _path(recorded: list[tuple[str, tuple[Any, ...]]]) -> str:
    """SVG path data, absolute, quadratic curves, y down."""
    parts: list[str] = []

    def add(letter: str, *points: tuple[float, float]) -> None:
        parts.append(letter + " ".join(f"{x:g} {-y:g}" for x, y in points))

    for verb, points in recorded:
        if verb == "moveTo":
            add("M", points[0])
        elif verb == "lineTo":
            add("L", points[0])
        elif verb == "qCurveTo":
            *controls, end = points
            if end is None:  # a contour with no point on the curve: begin midway between its last and first
                end = _midway(controls[-1], controls[0])
                add("M", end)
            # TrueType leaves out the points on the curve midway between two controls.
            for one, two in pairwise(controls):
                add("Q", one, _midway(one, two))
            add("Q", controls[-1], end)
        elif verb == "closePath":
            parts.append("Z")
        else:
            raise SystemExit(f"{verb} in a TrueType glyph")
    return "".join(parts)


def _midway(one: tuple[float, float], two: tuple[float, float]) -> tuple[float, float]:
    return ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
