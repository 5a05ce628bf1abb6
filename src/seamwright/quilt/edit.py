"""Edits done to a quilt's text: only the lines touched change, remarks and the way they are typed stay.

Knows:  what each edit does to the text, and that what comes of it reads back.
Leaves: the edits as values (edits), rows (editrows), words typed into fields (edittyped), lines (formkept), the
        grammar (form).
Units:  as `edits`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import PurePosixPath

from seamwright.drawing.fabricline import read_fabric
from seamwright.drawing.faults import LineFault
from seamwright.drawing.textwrite import fabric_line, plain_or_quoted
from seamwright.drawing.tokens import Reading
from seamwright.errors import DrawingError, OptionError, fail
from seamwright.fabric.model import Fabric, folded
from seamwright.optiontext import read_option
from seamwright.quilt import edits as do
from seamwright.quilt.editrows import Rows
from seamwright.quilt.edittyped import (
    cloth_of,
    known_block,
    name_of,
    one_line,
    refused,
    size_of,
    wanted_size,
    width_of,
)
from seamwright.quilt.form import stated_in
from seamwright.quilt.formkept import Line, Lines
from seamwright.quilt.formwrite import always_quoted, block_words


def changed(text: str, edits: Sequence[do.Edit]) -> str:
    """The text with edits done one after the other.

    Raises:
        DrawingError: the text cannot be read. OptionError: an edit cannot be done, in words.
    """
    for edit in edits:
        lines = Lines(text)
        _do(lines, edit)
        text = _read_back(lines.text)
    return text


def new_quilt(name: str, block: str, file: str, across: int, down: int) -> str:
    """The text of a quilt of one block, so many times across and down, all upright.

    Args:
        name: of the quilt. block: what rows call the block. file: of its drawing, in the same folder.

    Raises:
        OptionError: a name or a number cannot be used, in words.
    """
    words = block_words(name_of(block))
    text = f"seamwright quilt 1\nname {plain_or_quoted(name_of(name))}\n\nrow {words}\n"
    return changed(text, [do.SetBlock(block, file), do.Regrid(across, down, loose=True)])


def _read_back(text: str) -> str:
    """The text, once its lines can be read.

    Raises:
        DrawingError: one cannot.
    """
    stated, _ = stated_in(text.encode(), "")
    try:
        stated.faults.stop_if_any("")
    except DrawingError as error:
        # What was typed into a field is at fault, whichever line it has become.
        fault = error.faults[0]
        raise fail(OptionError, "quilt", fault.what, fault.mend) from None
    return text


def _do(lines: Lines, edit: do.Edit) -> None:
    match edit:
        case do.Rotate():
            Rows(lines).rotate(edit)
        case do.Reverse():
            Rows(lines).reverse(edit)
        case do.Put():
            Rows(lines).put(edit)
        case do.Pattern():
            Rows(lines).pattern(edit)
        case do.Regrid():
            Rows(lines).regrid(edit)
        case do.AddLine():
            Rows(lines).add(edit)
        case do.DropLine():
            Rows(lines).drop(edit)
        case do.SetOn():
            Rows(lines).set_on(edit)
        case do.SetSashing():
            lines.state("sashing", _sashing(lines, edit))
        case do.SetBorder():
            _border(lines, edit)
        case do.SetBinding():
            width = width_of(lines, edit.width) if edit.width.strip() else ""
            _edge(lines, "binding", edit.none, [cloth_of(edit.fabric), width])
        case do.SetBacking():
            parts = [
                f"{word} {width_of(lines, text)}"
                for word, text in (("width", edit.width), ("over", edit.over))
                if text.strip()
            ]
            _edge(lines, "backing", edit.none, [cloth_of(edit.fabric), *parts])
        case do.SetBatting():
            _edge(lines, "batting", edit.none, [f"over {width_of(lines, edit.over)}"] if edit.over.strip() else [])
        case do.Fit():
            lines.state("fit", wanted_size(lines, edit.size) if edit.size.strip() else None)
        case do.Rename():
            lines.state("name", plain_or_quoted(name_of(edit.name)))
        case do.SetOption():
            _option(lines, edit)
        case do.SetBlock():
            _block(lines, edit)
        case do.DropBlock():
            _drop_block(lines, edit)
        case do.SetColour() | do.DropFabric():
            _fabric(lines, edit)


def _sashing(lines: Lines, edit: do.SetSashing) -> str | None:
    if not edit.width.strip():
        return None
    stones = f"cornerstones {cloth_of(edit.cornerstones)}" if edit.cornerstones.strip() else ""
    parts = [width_of(lines, edit.width), cloth_of(edit.fabric, "sashing"), stones, "outside" * edit.outside]
    return " ".join(part for part in parts if part)


def _border(lines: Lines, edit: do.SetBorder) -> None:
    there = list(lines.all("border"))
    if not 1 <= edit.number <= len(there) + bool(edit.kind):
        raise refused(f"there is no border {edit.number}", f"They are numbered from the inside, 1 to {len(there)}")
    line = there[edit.number - 1] if edit.number <= len(there) else None
    if not edit.kind:
        assert line is not None
        lines.drop(line)
        return
    words = f"border {_border_words(lines, edit)}"
    if line is None:
        lines.add(words)
    else:
        lines.say(line, words)


def _border_words(lines: Lines, edit: do.SetBorder) -> str:
    plain = f"plain {cloth_of(edit.corners)}" if edit.corners.strip() else ""
    if edit.kind == "blocks":
        corner = block_words(known_block(lines, edit.corner)) if edit.corner.strip() else plain
        return f"of {block_words(known_block(lines, edit.block))}" + f" corners {corner}" * bool(corner)
    cloth = cloth_of(edit.fabric, "a border")
    if edit.kind == "coping":
        return f"coping {cloth}" + (f" at least {width_of(lines, edit.width)}" if edit.width.strip() else "")
    words = f"{width_of(lines, edit.width)} {cloth}"
    if edit.kind == "mitred":
        return f"{words} mitred"
    return f"{words} corners {plain}" if plain else words


def _edge(lines: Lines, keyword: str, none: bool, parts: Sequence[str]) -> None:
    """What encloses the top or lies behind it; nothing said is no line."""
    words = "none" if none else " ".join(part for part in parts if part)
    lines.state(keyword, words or None)


def _option(lines: Lines, edit: do.SetOption) -> None:
    name = edit.name.strip().lower()
    line = next((one for one in lines.all("option") if _second(one) == name), None)
    if not edit.value.strip():
        if line is not None:
            lines.drop(line)
        return
    value = one_line(edit.value)
    read_option(name, value)
    words = f"option {name} {value}"
    if line is None:
        lines.add(words)
    else:
        lines.say(line, words)


def _second(line: Line) -> str:
    """The word behind a line's keyword."""
    return line.text[len(line.indent) :].split()[1].lower().removeprefix("--")


def _block(lines: Lines, edit: do.SetBlock) -> None:
    name = name_of(edit.name)
    known = lines.stated.sources.get(folded(name))
    if known is None and not edit.file.strip():
        raise refused(f"no block of the quilt is called '{name}'", "Name the file of its drawing")
    path = one_line(edit.file) if edit.file.strip() else known.path if known else ""
    if PurePosixPath(path).name != path:
        raise refused(f"'{path}' does not lie beside the quilt", "Bring the block into the folder first")
    size = ""
    if edit.size.strip():
        size = f" size {size_of(lines, edit.size)}"
    bare = not any(c.isspace() or c in "\"#'" for c in path)
    words = f"block {block_words(known.name if known else name)} {path if bare else always_quoted(path)}{size}"
    if known is None:
        lines.add(words)
    else:
        lines.say(lines.number(known.line), words)


def _drop_block(lines: Lines, edit: do.DropBlock) -> None:
    name = folded(name_of(edit.name))
    stated = lines.stated
    entries = [entry for row in stated.rows for entry in row]
    entries += [e for stroke in stated.borders for e in (stroke.entry, stroke.corner) if e is not None]
    if any(folded(entry.name) == name for entry in entries):
        raise refused(f"{edit.name} lies in the quilt", "Put something else in its places first")
    source = stated.sources.get(name)
    if source is None:
        raise refused(f"no block of the quilt is called '{edit.name}'", "Look at the list of blocks")
    lines.drop(lines.number(source.line))


def _fabric(lines: Lines, edit: do.SetColour | do.DropFabric) -> None:
    name = folded(edit.name)
    line = next((one for one in lines.all("fabric") if folded(_read_fabric(one.text).name) == name), None)
    if isinstance(edit, do.DropFabric):
        if line is not None:
            lines.drop(line)
        return
    if not re.fullmatch("#[0-9a-fA-F]{6}", edit.colour):
        raise refused(f"'{edit.colour[:20]}' is no colour", "Write it as #a9c9dc")
    known = Fabric(name_of(edit.name)) if line is None else _read_fabric(line.text)
    words = fabric_line(replace(known, colour=edit.colour.lower()))
    if line is None:
        lines.add(words)
    else:
        lines.say(line, words)


def _read_fabric(words: str) -> Fabric:
    """The fabric of a line, its keyword before it.

    Raises:
        OptionError: it is none, in words.
    """
    try:
        reading = Reading(words, 1)
        reading.skip("fabric")
        return read_fabric(reading)
    except LineFault as fault:
        raise refused(fault.fault.what, fault.fault.mend) from None
