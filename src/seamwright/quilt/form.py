"""The file of a quilt: blocks, rows of them, and all that lies round them, as a person can type it.

Knows:  which facts a quilt needs, and what its lines must satisfy together.
Leaves: one line each (formlines, formrows), how it is typed (formhelp), writing (formwrite), drawings of its blocks
        (looks), how large things come out (layout, borders).
Units:  widths of strips as written, in inches where no unit is; a strip's width is finished, the binding's as cut.
Method: as the text form of a block: one fault a line, all of a file told at once, each with line, column and mend.
Limits: 60 blocks, 200 rows of 200, 10,000 places in all.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from seamwright.drawing.faults import nearest, shown
from seamwright.drawing.header import after_header
from seamwright.drawing.read import decoded, file_bytes, stem_of
from seamwright.drawing.textform import gather
from seamwright.drawing.tokens import lines_of
from seamwright.errors import DrawingError, Fault, fail
from seamwright.fabric.model import Colourway, folded
from seamwright.notes import Note
from seamwright.quilt.formlines import QUILT_LINES, Stated, Stroke
from seamwright.quilt.formrows import Entry
from seamwright.quilt.model import MOST_PLACES, Border, Cell, Edging, Set, Setting, Source
from seamwright.units import say_count

MOST_TRIED = 100
"""Fabrics without a line for which one of nearly their name is looked for."""


def read_setting(path: Path) -> Setting:
    """The quilt that a file states; the drawings of its blocks are found from where it lies.

    Raises:
        FileError: there is no such file, or it cannot be opened.
        DrawingError: with every fault of the file, one a line, each with line, column and mend; a block of which
            there is no drawing is one.
    """
    stated, lines = stated_in(file_bytes(path, "quilt file"), str(path))
    for where, line, column in stated.files.values():
        if not os.path.exists(path.parent / where):
            stated.faults.add(Fault("file", *_no_drawing(path.parent / where), line=line, column=column))
    return setting_of(stated, str(path), lines)


def stated_in(data: bytes, file: str) -> tuple[Stated, int]:
    """What the lines of a quilt's file state, and how many there are; faults in them are gathered.

    Raises:
        DrawingError: it is no text, or that of something else.
    """
    mend = "Give the file of a quilt, a text that begins: seamwright quilt 1"
    if b"\0" in data and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise fail(DrawingError, "unreadable", "this is no text, so no quilt file", mend, drawing=file)
    text = decoded(data, "quilt file", file)
    if text.lstrip("\ufeff \t\r\n").startswith("<"):
        raise fail(DrawingError, "unreadable", "this is a drawing (SVG), not a quilt", mend, drawing=file)
    lines, stated = lines_of(text, file), Stated(stem_of(Path(file)))
    gather(stated, lines, after_header(lines, file, "quilt"), QUILT_LINES)
    return stated, len(lines)


def setting_of(stated: Stated, file: str, lines: int) -> Setting:
    """The quilt that lines state, if they agree.

    Args:
        file: its path. lines: how many it has.

    Raises:
        DrawingError: faults of the lines, and of all of them together.
    """
    unread = len(stated.faults) > 0
    for fault in _together(stated, lines, unread):
        stated.faults.add(fault)
        if stated.faults.full:
            break
    stated.faults.stop_if_any(file)
    folder = Path(file).parent
    return Setting(
        name=stated.name,
        file=file,
        sources=tuple(
            Source(source.name, str(folder / source.path), source.size, source.line)
            for source in stated.sources.values()
        ),
        rows=tuple(tuple(_cell(stated, entry) for entry in row) for row in stated.rows),
        repeat=stated.repeat,
        set=stated.set,
        triangles=stated.triangles,
        sashing=stated.sashing,
        borders=tuple(_border(stated, stroke) for stroke in stated.borders),
        binding=stated.binding,
        backing=stated.backing,
        batting=stated.batting,
        wanted=stated.wanted and replace(stated.wanted, repeats="repeat" not in stated.places),
        fabrics=tuple(stated.fabrics.values()),
        colourways=tuple(Colourway(name, tuple(changes)) for name, changes in stated.colourways.items()),
        options=tuple(stated.options.items()),
        notes=tuple(_notes(stated)),
    )


# -- what comes of entries -----------------------------------------------------------------------------------


def _cell(stated: Stated, entry: Entry) -> Cell:
    name = stated.sources[folded(entry.name)].name if entry.name else ""
    return Cell(name, entry.turn, entry.colourway, entry.fabric, entry.line, entry.column)


def _border(stated: Stated, stroke: Stroke) -> Border:
    cell = None if stroke.entry is None else _cell(stated, stroke.entry)
    corners, corner = "", None
    if stroke.corner is not None:
        if folded(stroke.corner.name) in stated.sources:
            corner = _cell(stated, stroke.corner)
        else:
            corners = stroke.corner.fabric or stroke.corner.name
    return Border(stroke.edging, stroke.width_in, stroke.fabric, corners, cell, corner, stroke.line)


# -- what lines must satisfy together ------------------------------------------------------------------------


def _together(stated: Stated, lines: int, unread: bool) -> Iterator[Fault]:
    """Faults of all lines together.

    Args:
        unread: lines had faults of their own, so that what is missing may be in one of them.
    """
    if not unread:
        if not stated.sources:
            mend = "Add a line such as: block kite kite.svg size 8 in"
            yield Fault("missing", "the quilt names no block", mend, line=lines, column=1)
        if not stated.rows:
            mend = "Add a line such as: row kite, kite 90"
            yield Fault("missing", "the quilt has no rows", mend, line=lines, column=1)
        yield from _shape(stated)
        yield from _triangles(stated)
    yield from _unknown_blocks(stated)
    yield from _coping(stated)


def _shape(stated: Stated) -> Iterator[Fault]:
    """Rows of wrong lengths, and too many of them."""
    if not stated.rows:
        return
    lengths = [len(row) for row in stated.rows]
    repeated = "repeat" in stated.places or "fit" in stated.places
    first, first_line = lengths[0], stated.row_places[0][0]
    if stated.set is Set.ON_POINT and not (repeated and len(set(lengths)) == 1):
        due = [first - number % 2 for number in range(len(lengths))]
        mend = f"On point rows of {first} and {first - 1} take turns; the first and the last have {first}"
        if "repeat" in stated.places and len(lengths) > 1:
            due = [first] * len(lengths)
            mend = "On point rows that are repeated are all stated with the same number of blocks"
        elif first == 1:
            due = [1] * len(lengths)
            mend = "On point a quilt that begins with a row of one block is a column, one block in each row"
        elif len(lengths) % 2 == 0 and lengths == due:
            line, column = stated.row_places[-1]
            what = f"the last row lies between rows of {first}, and there is none below it"
            yield Fault("rows", what, f"Add a row of {first}, or leave this one out", None, line, column)
    else:
        due = [first] * len(lengths)
        mend = f"Rows of a straight set have as many blocks each: the first, in line {first_line}, has {first}"
    wrong = [number for number, (length, right) in enumerate(zip(lengths, due, strict=True)) if length != right]
    for number in wrong:
        line, column = stated.row_places[number]
        what = f"this row has {say_count(lengths[number], 'block')}, and it should have {due[number]}"
        yield Fault("rows", what, mend, None, line, column)
    across, down = stated.repeat
    if first * across * len(lengths) * down > MOST_PLACES:
        line, column = stated.places.get("repeat") or stated.row_places[0]
        what = f"these are {first * across} x {len(lengths) * down} blocks"
        yield Fault("too many", what, f"A quilt has up to {MOST_PLACES:,}", None, line, column)


def _triangles(stated: Stated) -> Iterator[Fault]:
    if stated.set is Set.ON_POINT and not stated.triangles:
        line, column = stated.places["set"]
        what = "a quilt on point has triangles along its sides and in its corners, and no line says of which fabric"
        yield Fault("missing", what, "Add a line such as: triangles sea", None, line, column)
    if stated.set is Set.STRAIGHT and stated.triangles:
        line, column = stated.places["triangles"]
        what = "a straight set has no setting triangles"
        yield Fault("grammar", what, "Leave this line out, or add: set on point", None, line, column)


def _unknown_blocks(stated: Stated) -> Iterator[Fault]:
    """Blocks that are named and not known; each once a line, for one mend makes all of them good."""
    known = [source.name for source in stated.sources.values()]
    entries = [entry for row in stated.rows for entry in row]
    for stroke in stated.borders:
        entries += [stroke.entry] if stroke.entry else []
        if stroke.corner and (stroke.edging is Edging.PIECED or stroke.corner.turned):
            entries.append(stroke.corner)
    told: set[tuple[str, int]] = set()
    for entry in entries:
        name = folded(entry.name)
        if not name or name in stated.sources or (name, entry.line) in told:
            continue
        told.add((name, entry.line))
        what = f"no block is called {shown(entry.name)}"
        mend = nearest(entry.name, known) if known else "Name its drawing first: block kite kite.svg"
        if entry.name in stated.fabrics:
            mend = f"A plain block of that fabric is written: plain {entry.name}"
        yield Fault("block", what, mend, None, entry.line, entry.column)


def _coping(stated: Stated) -> Iterator[Fault]:
    """A coping strip serves the next pieced border outside it, and each border has one at the most."""
    waiting: Stroke | None = None
    for stroke in stated.borders:
        if stroke.edging is Edging.PIECED:
            waiting = None
        elif stroke.edging is Edging.COPING:
            if waiting is not None:
                what = f"this coping strip and that of line {waiting.line} are for the same pieced border"
                mend = "Keep one; a plain border has a width of its own: border 1 in sea"
                yield Fault("border", what, mend, None, stroke.line, stroke.column)
            waiting = stroke
    if waiting is not None:
        what = "a coping strip makes the next pieced border come out, and there is none outside it"
        mend = "Add one behind it, such as: border of wave; or give it a width: border 1 in sea"
        yield Fault("border", what, mend, None, waiting.line, waiting.column)


# -- files and notes -----------------------------------------------------------------------------------------


def _no_drawing(path: Path) -> tuple[str, str]:
    """What is wrong where there is no drawing, and its mend, with the nearest name in the folder."""
    what = f"there is no drawing {path}"
    try:
        names = sorted(p.name for p in path.parent.iterdir() if p.suffix.lower() in (".svg", ".seams"))
    except OSError:
        return what, "Check the folder; it is found from where this file lies"
    import difflib  # only a slip needs it

    near = difflib.get_close_matches(path.name, names, n=1, cutoff=0.6)
    return what, f"Perhaps {near[0]} is meant" if near else "Check the name; it is found from where this file lies"


def _notes(stated: Stated) -> Iterator[Note]:
    used = {folded(entry.name) for row in stated.rows for entry in row}
    for stroke in stated.borders:
        used |= {folded(entry.name) for entry in (stroke.entry, stroke.corner) if entry}
    for name, source in stated.sources.items():
        if name not in used:
            yield Note("unused", f"block {source.name} (line {source.line}) lies nowhere in the quilt")
    yield from _strange_fabrics(stated)


def _strange_fabrics(stated: Stated) -> Iterator[Note]:
    """Fabrics of plain pieces that have no line though one of nearly their name has."""
    import difflib

    lines = {folded(name): name for name in stated.fabrics}
    tried: set[str] = set()
    for name, line, _ in stated.named:
        if folded(name) in lines or name in tried or len(tried) == MOST_TRIED:
            continue
        tried.add(name)
        near = difflib.get_close_matches(folded(name), list(lines), n=1, cutoff=0.75)
        if near:
            yield Note("fabric", f"{name} (line {line}) has no fabric line; perhaps {lines[near[0]]} is meant")
