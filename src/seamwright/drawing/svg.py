"""An SVG drawing as a Drawing: lines, curves, areas, words, and what was left out.

Knows:  the order of the steps, which paint is no part of a block (page background, dots).
Leaves: XML (svg_xml), the tree (svg_tree), what shows (visible), ink (ink_outlines); outline, furniture and
        tidying (block).
Units:  inches of the drawing, x right, y down, (0, 0) the page's top left corner.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.drawing.model import Curve, Drawing, Fill, Line
from seamwright.drawing.painted import Painted
from seamwright.drawing.pieces import extent
from seamwright.drawing.svg_tree import Found, Page, walk
from seamwright.drawing.svg_xml import parse_svg
from seamwright.errors import DrawingError
from seamwright.fabric.model import Fabric
from seamwright.notes import Note

DOT_IN = 1 / 8
"""Round marks smaller than this are dots at the ends of lines, no patches."""
BACKGROUND_SLACK = 0.02
"""A background may miss the page's edge by this share of the page."""

_REASONS = {
    "hidden layer": ("hidden layer ignored", "hidden layers ignored"),
    "hidden object": ("hidden object ignored", "hidden objects ignored"),
    "picture": ("picture ignored: only drawn lines count", "pictures ignored: only drawn lines count"),
    "guide": ("guide line ignored", "guide lines ignored"),
    "foreign object": ("embedded object ignored", "embedded objects ignored"),
    "clone of another file": (
        "clone of another file ignored: nothing outside the drawing is read",
        "clones of other files ignored: nothing outside the drawing is read",
    ),
    "clone of nothing": ("clone of an object that is not there ignored", "clones of missing objects ignored"),
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
    items = list(found.painted)
    items, background = _without_background(items, page)
    notes += background
    items, dots = _without_dots(items)
    notes += dots
    lines, curves, fills, hidden = _shown(items)
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


def _shown(items: Sequence[Painted]) -> tuple[list[Line], list[Curve], list[Fill], int]:
    """What shows; without any fill that is all of it, and shapely is not needed."""
    if any(item.fill for item in items):
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


def _without_background(items: list[Painted], page: Page) -> tuple[list[Painted], list[Note]]:
    """Leave out a white sheet of the page's size painted under everything."""
    if page.artboard is None:
        return items, []
    first = next((n for n, item in enumerate(items) if item.fill is not None), None)
    if first is None:
        return items, []
    item = items[first]
    _, _, right, bottom = 0.0, 0.0, *page.artboard[2]
    x0, y0, x1, y1 = extent(item.runs)
    slack_x, slack_y = right * BACKGROUND_SLACK, bottom * BACKGROUND_SLACK
    covers = x0 <= slack_x and y0 <= slack_y and x1 >= right - slack_x and y1 >= bottom - slack_y
    plain = len(item.runs) == 1 and len(item.runs[0].pieces) == 4 and not item.stroked
    if not (covers and plain and _white(item.colour)):
        return items, []
    note = Note("ignored", f"white background of the page ignored ({item.source})")
    return items[:first] + items[first + 1 :], [note]


def _white(colour: str | None) -> bool:
    return colour is not None and min(int(colour[k : k + 2], 16) for k in (1, 3, 5)) >= 0xFA


def _without_dots(items: list[Painted]) -> tuple[list[Painted], list[Note]]:
    """Leave out round marks too small for a patch."""
    kept: list[Painted] = []
    places = []
    for item in items:
        x0, y0, x1, y1 = extent(item.runs)
        all_round = all(len(piece) > 2 for run in item.runs for piece in run.pieces)
        closed = all(run.closed or run.points()[0] == run.points()[-1] for run in item.runs)
        if (item.round or (all_round and closed)) and max(x1 - x0, y1 - y0) < DOT_IN:
            places.append(((x0 + x1) / 2, (y0 + y1) / 2))
        else:
            kept.append(item)
    if not places:
        return items, []
    text = f"{len(places)} dot{'s' if len(places) > 1 else ''} smaller than 1/8 in ignored"
    return kept, [Note("ignored", text, len(places), places_in=tuple(places))]


def _ignored(found: Found) -> list[Note]:
    return [
        Note("ignored", f"{count} {_REASONS[what][count > 1]}", count)
        for what, count in sorted(found.ignored.items())
    ]
