"""An SVG drawing as a Drawing: lines, curves, areas, words, and what was left out.

Knows:  the order of the steps, what to say of things left out.
Leaves: XML (svg_xml), the tree (svg_tree), marks (furniture), ink (ink_outlines), what shows (visible); the
        outline, what lies outside it and tidying (block).
Units:  inches of the drawing, x right, y down, (0, 0) the page's top left corner.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.drawing.dashes import join_dashes
from seamwright.drawing.furniture import without_background, without_dots, without_grid, without_lettering
from seamwright.drawing.model import Curve, Drawing, Fill, Line
from seamwright.drawing.painted import Painted
from seamwright.drawing.sketched import once
from seamwright.drawing.svg_page import Page
from seamwright.drawing.svg_tree import Found, walk
from seamwright.drawing.svg_xml import parse_svg
from seamwright.errors import DrawingError
from seamwright.fabric.model import Fabric
from seamwright.notes import Note

_REASONS = {
    "hidden layer": ("hidden layer ignored", "hidden layers ignored"),
    "hidden object": ("hidden object ignored", "hidden objects ignored"),
    "picture": ("picture ignored: only drawn lines count", "pictures ignored: only drawn lines count"),
    "text frame": ("box round a text ignored", "boxes round texts ignored"),
    "guide": ("guide line ignored", "guide lines ignored"),
    "foreign object": ("embedded object ignored", "embedded objects ignored"),
    "clone of another file": (
        "clone of another file ignored: nothing outside the drawing is read",
        "clones of other files ignored: nothing outside the drawing is read",
    ),
    "clone of nothing": ("clone of an object that is not there ignored", "clones of missing objects ignored"),
    "clipped object": ("object ignored: its clip path hides it", "objects ignored: their clip paths hide them"),
    "clip path": ("clip path not applied", "clip paths not applied"),
    "hidden shape": ("shape ignored: others cover it", "shapes ignored: others cover them"),
}


def read_svg(data: bytes, *, name: str, file: str) -> Drawing:
    """Read an SVG drawing.

    Args:
        data: the file's bytes, plain or gzip.
        name: name of the block.
        file: path as given, for messages.

    Raises:
        DrawingError: it cannot be read; the message says what, where and the mend.
    """
    try:
        page, found, imports = walk(parse_svg(data))
        return _drawing(page, found, imports, name, file)
    except DrawingError as error:
        raise DrawingError(error.code, error.faults, file) from None


def _drawing(page: Page, found: Found, imports: bool, name: str, file: str) -> Drawing:
    notes = [Note("scale", page.assumed)] if page.assumed else []
    items, background = without_background(list(found.painted), page.artboard)
    items, dots = without_dots(items)
    items, letters = without_lettering(items)
    items, grid = without_grid(items)
    items, ink = _ink_read(items)
    lines, curves, fills, hidden = _shown(items)
    lines, dashes = join_dashes(lines)
    curves, twice = once(lines, curves)
    notes += background + dots + letters + grid + ink + dashes + twice
    for _ in range(hidden):
        found.ignore("hidden shape")
    notes += _ignored(found)
    if imports:
        notes.append(Note("ignored", "style sheet of another file ignored: nothing outside the drawing is read"))
    colours = {item.fill: item.colour for item in items if item.fill is not None}
    names = dict.fromkeys(fill.fabric for fill in fills)
    return Drawing(
        name=name,
        file=file,
        lines=tuple(lines),
        curves=tuple(curves),
        artboard=page.artboard,
        fabrics=tuple(Fabric(fabric, colour=colours[fabric]) for fabric in names),
        labels=tuple(found.labels),
        fills=tuple(fills),
        physical=page.physical,
        notes=tuple(notes),
    )


def _ink_read(items: list[Painted]) -> tuple[list[Painted], list[Note]]:
    """Outlined strokes read as lines; without any fill there are none, and shapely is not needed."""
    if not any(item.fill for item in items):
        return items, []
    from seamwright.drawing.ink_outlines import centre_lines

    return centre_lines(items)


def _shown(items: Sequence[Painted]) -> tuple[list[Line], list[Curve], list[Fill], int]:
    """What shows; without any fill that is all of it, and shapely is not needed."""
    if any(item.fill or item.border for item in items):
        from seamwright.drawing.visible import show

        return show(items)
    lines: list[Line] = []
    curves: list[Curve] = []
    for item in items:
        for run in item.runs:
            pieces = run.pieces
            if len(pieces) == 2 and pieces[0] == pieces[1][::-1]:
                pieces = pieces[:1]  # a loop of two points is one line
            for piece in pieces:
                if len(piece) == 2:
                    lines.append(Line(piece[0], piece[1], item.source, item.layer))
                else:
                    curves.append(Curve(piece, item.source, item.layer))
    return lines, curves, [], 0


def _ignored(found: Found) -> list[Note]:
    return [
        Note("ignored", f"{count} {_REASONS[what][count > 1]}", count)
        for what, count in sorted(found.ignored.items())
    ]
