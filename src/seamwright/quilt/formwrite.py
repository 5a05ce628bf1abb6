"""A quilt as text that reads back to the same quilt.

Knows:  the order of the lines, how entries, widths and names are written.
Leaves: what the words mean (form).
Units:  widths in inches as quilters write them where they are exact, else in cm, else in decimals.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby
from pathlib import Path

from seamwright.drawing.textwrite import colourway_line, digits, fabric_line, plain_or_quoted, quoted
from seamwright.drawing.tokens import Reading
from seamwright.quilt.formrows import MOST_ALIKE, WORDS
from seamwright.quilt.model import Border, Cell, Edging, Set, Setting, Turn
from seamwright.units import say_fraction

ALIKE = 3
"""So many blocks alike, one after the other, are written with their number."""


def write_setting(setting: Setting) -> str:
    """The file of a quilt; reading it gives the same quilt back, but for lines, columns and notes.

    Paths of drawings are written from the folder of the quilt's own file.
    """
    return "".join(line + "\n" for line in _lines(setting))


def turn_words(turn: Turn) -> str:
    """How a block lies, as an entry says it.

    >>> turn_words(Turn(1)), turn_words(Turn(2, True)), turn_words(Turn())
    ('90', '180 reversed', '')
    """
    return " ".join(([str(90 * (turn.quarters % 4))] if turn.quarters % 4 else []) + ["reversed"] * turn.reversed)


def entry_words(cell: Cell) -> str:
    """One place in a row.

    >>> entry_words(Cell("kite", Turn(3, True), "dusk")), entry_words(Cell(fabric="storm blue"))
    ('kite 270 reversed in dusk', 'plain "storm blue"')
    """
    if not cell.source:
        return f"plain {cloth_words(cell.fabric)}"
    way = f"in {quoted(cell.colourway)}" if cell.colourway else ""
    return " ".join(part for part in (block_words(cell.source), turn_words(cell.turn), way) if part)


def row_lines(rows: tuple[tuple[Cell, ...], ...], repeat: tuple[int, int] = (1, 1)) -> tuple[str, ...]:
    """The lines of rows, and of how often they are repeated."""
    lines = []
    for row in rows:
        entries = []
        for words, alike in groupby(map(entry_words, row)):
            count = len(list(alike))
            if words.startswith('"'):  # behind a number that would be the sign for inches
                entries += [words] * count
                continue
            while count > 0:
                some = min(count, MOST_ALIKE)
                entries += [f"{some} {words}"] if some >= ALIKE else [words] * some
                count -= some
        lines.append(f"row {', '.join(entries)}")
    return (*lines, f"repeat {repeat[0]} x {repeat[1]}") if repeat != (1, 1) else tuple(lines)


def block_words(name: str) -> str:
    """A block's name as entries write it: in quotes where a row would read it as something else.

    >>> block_words("kite"), block_words("plain"), block_words("m"), block_words("two kites")
    ('kite', '"plain"', '"m"', '"two kites"')
    """
    words = cloth_words(name)
    kinds = [token.kind for token in Reading(f"3 {words} 90", 1).tokens]
    return words if kinds == ["number", "word", "number"] else always_quoted(name)


def cloth_words(name: str) -> str:
    """A fabric's name: in quotes where it is a word that means something in the file."""
    return always_quoted(name) if name.lower() in WORDS else quoted(name)


def width_words(inches: float) -> str:
    """A width that reads back to the same float.

    >>> width_words(1.5), width_words(3 / 2.54), width_words(1 / 3)
    ('1 1/2 in', '3 cm', '0.3333333333333333 in')
    """
    parts = Fraction(inches)
    if parts.denominator <= 32:
        return f"{say_fraction(parts)} in"
    cm = Fraction(round(inches * 254), 100)
    return f"{digits(float(cm))} cm" if float(cm / Fraction(254, 100)) == inches else f"{digits(inches)} in"


def _lines(setting: Setting) -> Iterator[str]:
    yield "seamwright quilt 1"
    yield f"name {plain_or_quoted(setting.name)}"
    folder = Path(setting.file).parent
    for source in setting.sources:
        size = f" size {source.size}" if source.size else ""
        yield f"block {block_words(source.name)} {_path_words(source.path, folder)}{size}"
    for name, text in setting.options:
        yield f"option {name} {text}".rstrip()
    yield ""
    yield f"set {setting.set.value}"
    yield from row_lines(setting.rows, setting.repeat)
    if setting.wanted is not None:
        wanted = setting.wanted
        asked = wanted.size
        sides = f"{width_words(asked.width_in)} x {width_words(asked.height_in or asked.width_in)}"
        yield f"fit {wanted.name or sides}"
        if not wanted.repeats and setting.repeat == (1, 1):
            yield "repeat 1 x 1"
    if setting.triangles and setting.set is Set.ON_POINT:
        yield f"triangles {cloth_words(setting.triangles)}"
    yield from _round_it(setting)
    if setting.fabrics or setting.colourways:
        yield ""
        yield from map(fabric_line, setting.fabrics)
        yield from map(colourway_line, setting.colourways)


def _round_it(setting: Setting) -> Iterator[str]:
    """What lies between and round the blocks."""
    if sashing := setting.sashing:
        stones = f" cornerstones {cloth_words(sashing.cornerstones)}" if sashing.cornerstones else ""
        outside = " outside" if sashing.outside else ""
        yield f"sashing {width_words(sashing.width_in)} {cloth_words(sashing.fabric)}{stones}{outside}"
    for border in setting.borders:
        yield f"border {' '.join(_border_words(border))}"
    for keyword, words in _round_the_top(setting):
        # What is not stated is left so: it follows from the units.
        if words is None or words:
            yield f"{keyword} {'none' if words is None else ' '.join(words)}"


def _round_the_top(setting: Setting) -> Iterator[tuple[str, list[str] | None]]:
    """What is stated of binding, backing and batting; None for a quilt that has none."""

    def said(fabric: str = "", **lengths: float | None) -> list[str]:
        stated = [(word, length) for word, length in lengths.items() if length is not None]
        widths = [f"{'' if word == 'strips' else f'{word} '}{width_words(length)}" for word, length in stated]
        return [*([cloth_words(fabric)] if fabric else []), *widths]

    binding, backing, batting = setting.binding, setting.backing, setting.batting
    yield "binding", None if binding is None else said(binding.fabric, strips=binding.width_in)
    yield "backing", None if backing is None else said(backing.fabric, width=backing.width_in, over=backing.over_in)
    yield "batting", None if batting is None else said(over=batting.over_in)


def _border_words(border: Border) -> Iterator[str]:
    if border.edging is Edging.PIECED:
        assert border.cell is not None
        yield f"of {entry_words(border.cell)}"
    elif border.edging is Edging.COPING:
        yield f"coping {cloth_words(border.fabric)} at least {width_words(border.width_in)}"
    else:
        yield f"{width_words(border.width_in)} {cloth_words(border.fabric)}"
        if border.edging is Edging.MITRED:
            yield "mitred"
    if border.corner is not None:
        yield f"corners {entry_words(border.corner)}"
    elif border.corners:
        yield f"corners plain {cloth_words(border.corners)}"


def _path_words(path: str, folder: Path) -> str:
    """A drawing's path from a folder, bare where no space, quote or sign of a remark is in it."""
    start = f"{folder}{os.sep}"
    near = path if str(folder) == "." else path.removeprefix(start)
    if near == path and str(folder) != "." and not os.path.isabs(path):
        near = os.path.relpath(path, folder)
    near = Path(near).as_posix()
    bare = near.isprintable() and not any(c.isspace() or c in "\"#'" for c in near)
    return near if bare and near else always_quoted(near)


def always_quoted(name: str) -> str:
    """A name in quotes."""
    words = quoted(name)
    return words if words.startswith('"') else f'"{words}"'
