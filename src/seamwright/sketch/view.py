"""What the page shows of a drawing: its lines as stated, in inches, nothing tidied.

Knows:  which facts of a text the page draws and lists, which places can be grabbed, which pieces can be picked.
Leaves: what is done to them (change), where seams meet (network), tidying and patches (block).
Units:  inches of the finished block, front view.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from seamwright.fabric.model import Colourway, Fabric
from seamwright.geometry import Point, Ring
from seamwright.sketch.draft import draft_of
from seamwright.sketch.network import Network
from seamwright.sketch.reshaped import at_share


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
class Part:
    """A piece of one seam between two places where something meets, which can be picked and erased.

    Attributes:
        points: two of a straight piece; those of a curve flattened. They name the piece in edits.
        line: number of its seam's line in the text. curved: whether it is part of a curve.
    """

    points: tuple[Point, ...]
    line: int
    curved: bool


@dataclass(frozen=True, slots=True)
class View:
    """A drawing as the page shows it.

    Attributes:
        name: of the block. width, height: finished, inches; size: as typed.
        units: "inch" or "metric", by the unit of the size.
        grid: squares across and down; None for no grid.
        outline: its corners, curved sides flattened. strokes: in the order of the text.
        points: what can be grabbed and snapped to: corners of the outline, ends and bends of seams, places where
            seams meet or cross. handles: points that pull a curve without lying on it; they can be moved, too.
        mids: the middles of pieces, of whole seams from bend to bend and of the outline's sides.
        pieces: the seams, parted at `points`.
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
    points: tuple[Point, ...]
    handles: tuple[Point, ...]
    mids: tuple[Point, ...]
    pieces: tuple[Part, ...]
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
    draft = draft_of(text, name)
    facts, measured = draft.facts, draft.measured
    network = draft.network
    lines = [run.places[0].line for run in facts.runs]
    strokes = tuple(
        Stroke("straight" if strand.straight else "curve", flat, line)
        for strand, flat, line in zip(draft.strands, network.flats, lines, strict=True)
    )
    pieces = tuple(
        Part(points, line, not straight)
        for k, (line, straight) in enumerate(zip(lines, network.straight, strict=True))
        for points in network.parts(k)
    )
    lays = tuple((measured.point(place), fabric) for fabric, place, _ in facts.laid)
    metric = draft.unit in ("mm", "cm", "m")
    grid = facts.grid and (facts.grid[0], facts.grid[1] or round(facts.grid[0] * measured.height / measured.width))
    return View(
        name=facts.name or name,
        width=measured.width,
        height=measured.height,
        size=_size_words(text),
        units="metric" if metric else "inch",
        grid=grid,
        outline=draft.outline,
        strokes=strokes,
        points=network.nodes,
        handles=tuple(p for strand in draft.strands if strand.kind == "bending" for p in strand.points[1:-1]),
        mids=_mids(network, pieces),
        pieces=pieces,
        lays=lays,
        fabrics=tuple(facts.fabrics.values()),
        colourways=tuple(Colourway(way, tuple(to)) for way, to in facts.colourways.items()),
        options=tuple(facts.options.items()),
    )


def _mids(network: Network, pieces: Sequence[Part]) -> tuple[Point, ...]:
    """The middles of all that has one, each once."""
    runs = [piece.points for piece in pieces]
    for flat, straight in zip(network.flats, network.straight, strict=True):
        runs += pairwise(flat) if straight else [flat]
    for number, side in enumerate(network.side_flats):
        runs += [side, *network.side_parts(number)]
    return tuple(dict.fromkeys(at_share(run, 0.5) for run in runs if run[0] != run[-1] or len(run) > 2))


def _size_words(text: str) -> str:
    """The size as typed."""
    for line in text.splitlines():
        word, _, rest = line.strip().partition(" ")
        if word.lower() == "size":
            return rest.split("#")[0].strip()
    return ""
