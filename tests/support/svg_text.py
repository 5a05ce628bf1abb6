"""Small SVG documents for tests, and what was read of them in a form that compares."""

from __future__ import annotations

from seamwright.drawing.model import Drawing
from seamwright.drawing.svg import read_svg

STROKE = 'fill="none" stroke="black" stroke-width="0.01"'

Seg = tuple[tuple[float, float], tuple[float, float]]


def svg(body: str, attributes: str = 'width="10in" height="10in" viewBox="0 0 10 10"') -> str:
    """A document whose user unit is one inch unless `attributes` say otherwise."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        ' xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
        f" {attributes}>{body}</svg>"
    )


def read(body: str, attributes: str = 'width="10in" height="10in" viewBox="0 0 10 10"') -> Drawing:
    """The drawing of a small document."""
    return read_text(svg(body, attributes))


def read_text(text: str) -> Drawing:
    """The drawing of a whole document."""
    return read_svg(text.encode(), name="test", file="test.svg")


def segments(drawing: Drawing, digits: int = 6) -> list[Seg]:
    """Ends of all lines, in reading order, each from its lesser end, rounded."""
    found = []
    for line in drawing.lines:
        ends = [tuple(round(v, digits) + 0.0 for v in p) for p in (line.start, line.end)]
        found.append((min(ends), max(ends)))
    return found


def said(drawing: Drawing) -> str:
    """All notes as one text."""
    return "\n".join(f"{note.code}: {note.text}" for note in drawing.notes)
