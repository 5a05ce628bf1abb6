"""What a reader hands over: lines as drawn, in inches, nothing tidied yet."""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.fabric.model import Colourway, Fabric
from seamwright.geometry import Point, Ring
from seamwright.notes import Note


@dataclass(frozen=True, slots=True)
class Line:
    """One straight piece as drawn.

    Attributes:
        start, end: inches, x right and y down; different points.
        source: where it stands, for messages: "line 7" or "path 'seam-3'".
        layer: name of the layer, "" if none.
        shape: number of the closed filled shape whose border it is (the same for all of its border),
            or None for a loose stroke. Borders of two shapes that lie on one another are one seam.
    """

    start: Point
    end: Point
    source: str = ""
    layer: str = ""
    shape: int | None = None


@dataclass(frozen=True, slots=True)
class Curve:
    """A real curve: a piece that no straight line fits.

    Attributes:
        points: the curve flattened to 0.0005 in, from end to end; three points or more.
        source, layer, shape: as for Line.
    """

    points: tuple[Point, ...]
    source: str = ""
    layer: str = ""
    shape: int | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """Words lying on the drawing: in a patch they name its fabric."""

    text: str
    at: Point
    source: str = ""


@dataclass(frozen=True, slots=True)
class Fill:
    """A visible area of one colour, what covers it already taken away.

    Attributes:
        rings: outer ring first, holes after it; inches.
        fabric: name of its fabric.
    """

    rings: tuple[Ring, ...]
    fabric: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Swatch:
    """A point in a patch and the name of the fabric there (text form)."""

    at: Point
    fabric: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing as read: physical inches of the drawing, origin anywhere, nothing moved.

    Attributes:
        name: short name of the block.
        file: path as given, for messages; "" if none.
        lines, curves: in drawing order.
        outline: the block's outline if the file states it, else None (then it is worked out).
        sides: if some sides of the stated outline are curved all of them in order, each from corner to corner, two
            points or more; () if all are straight.
        artboard: corners of the page if it has a size (taken as outline when none is drawn and lines reach it).
        fabrics: what is known of fabrics, by order of appearance.
        labels, fills, swatches: what tells which patch is of which fabric.
        exact: coordinates are meant as written (text form): nothing drawn on purpose is near-meeting by accident.
        physical: the file states its size; False when it was assumed.
        options: options that the file states, as pairs (name, value) of text.
        notes: what was ignored or assumed, and why.
        colourways: other sets of fabrics that the file states.
    """

    name: str
    file: str
    lines: tuple[Line, ...]
    curves: tuple[Curve, ...] = ()
    outline: Ring | None = None
    artboard: Ring | None = None
    fabrics: tuple[Fabric, ...] = ()
    labels: tuple[Label, ...] = ()
    fills: tuple[Fill, ...] = ()
    swatches: tuple[Swatch, ...] = ()
    exact: bool = False
    physical: bool = True
    options: tuple[tuple[str, str], ...] = ()
    notes: tuple[Note, ...] = ()
    colourways: tuple[Colourway, ...] = ()
    sides: tuple[tuple[Point, ...], ...] = ()
