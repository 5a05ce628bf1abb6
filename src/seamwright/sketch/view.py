"""What the page shows of a drawing: its lines as stated, in inches, nothing tidied.

Knows:  which facts of a text the page draws and lists.
Leaves: what is done to them (change), tidying and patches (block).
Units:  inches of the finished block, front view.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.drawing.measured import Measured
from seamwright.drawing.textform import stated
from seamwright.fabric.model import Colourway, Fabric
from seamwright.geometry import Point, Ring


@dataclass(frozen=True, slots=True)
class Stroke:
    """One seam as stated.

    Attributes:
        kind: "straight" or "curve".
        points: corners of a straight one in order; a curve flattened.
        line: number of its line in the text.
    """

    kind: str
    points: tuple[Point, ...]
    line: int


@dataclass(frozen=True, slots=True)
class View:
    """A drawing as the page shows it.

    Attributes:
        name: of the block. width, height: finished, inches; size: as typed.
        units: "inch" or "metric", by the unit of the size.
        grid: squares across and down; None for no grid.
        outline: its corners, curved sides flattened. strokes: in the order of the text.
        lays: (point, fabric). fabrics, colourways, options: as stated.
    """

    name: str
    width: float
    height: float
    size: str
    units: str
    grid: tuple[int, int] | None
    outline: Ring
    strokes: tuple[Stroke, ...]
    lays: tuple[tuple[Point, str], ...]
    fabrics: tuple[Fabric, ...]
    colourways: tuple[Colourway, ...]
    options: tuple[tuple[str, str], ...]


def view_of(text: str, name: str = "") -> View:
    """What the page shows of a text.

    Args:
        name: of the block, if the text gives none.

    Raises:
        DrawingError: the text is none of a block, or a line of it cannot be read. A block without a seam is none.
    """
    facts, file, count = stated(text, name=name, file=name)
    measured = Measured(facts, file, count)
    strokes = tuple(
        Stroke("straight" if run.kind == "seam" else "curve", tuple(measured.flat(run)), run.places[0].line)
        for run in facts.runs
    )
    lays = tuple((measured.point(place), fabric) for fabric, place, _ in facts.laid)
    facts.faults.stop_if_any(file)
    assert facts.size is not None
    unit = facts.size[0].unit or "in"
    metric = unit in ("mm", "cm", "m")
    corners = ((0.0, 0.0), (measured.width, 0.0), (measured.width, measured.height), (0.0, measured.height))
    grid = facts.grid and (facts.grid[0], facts.grid[1] or round(facts.grid[0] * measured.height / measured.width))
    return View(
        name=facts.name,
        width=measured.width,
        height=measured.height,
        size=_size_words(text),
        units="metric" if metric else "inch",
        grid=grid,
        outline=measured.outline or corners,
        strokes=strokes,
        lays=lays,
        fabrics=tuple(facts.fabrics.values()),
        colourways=tuple(Colourway(way, tuple(to)) for way, to in facts.colourways.items()),
        options=tuple(facts.options.items()),
    )


def _size_words(text: str) -> str:
    """The size as typed."""
    for line in text.splitlines():
        word, _, rest = line.strip().partition(" ")
        if word.lower() == "size":
            return rest.split("#")[0].strip()
    return ""
