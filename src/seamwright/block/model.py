"""A block: patches, seams and points by identity, exact and closed.

Straightness was decided once, while tidying. From here on a seam is a list of point numbers and
nobody asks again whether three points lie on a line.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from seamwright.fabric.model import Colourway, Fabric
from seamwright.geometry import IDENTITY, Affine, Point, Ring, Segment
from seamwright.notes import Note

OUTSIDE = -1
"""Patch number of everything outside the outline."""
OUTLINE = -1
"""Seam number of an edge of the outline."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A piece of line between two neighbouring points of the map.

    Attributes:
        start, end: point numbers.
        seam: number of the seam it belongs to, or OUTLINE.
        left, right: patch numbers on the left and right hand of a walker from start to end, as seen in
            front view (y down, so right is the side of greater y when walking in +x); OUTSIDE for none.
        via: inner points of a curve between start and end; () for a straight edge.
    """

    start: int
    end: int
    seam: int
    left: int
    right: int
    via: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Seam:
    """A maximal run of edges between patches that keeps to one line (or is one curve).

    Attributes:
        points: point numbers in order along the run, both ends included.
        edges: edge numbers in the same order; one fewer than points.
        straight: False for a curve, and for a seam made of two straight ones that turns a corner.
        turns: of a seam that turns corners the positions in `points` at which it does; () for all others.
    """

    points: tuple[int, ...]
    edges: tuple[int, ...]
    straight: bool = True
    turns: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Patch:
    """One face of the drawing.

    Attributes:
        ring: point numbers round it, clockwise in front view, points where other seams end included.
        edges: edge numbers in the same order: edges[i] joins ring[i] and ring[i + 1].
        holes: rings of point numbers of what floats inside it, each counter-clockwise.
        fabric: name of its fabric, or None.
        hole_edges: for each hole the edge numbers in the same order.
    """

    ring: tuple[int, ...]
    edges: tuple[int, ...]
    holes: tuple[tuple[int, ...], ...] = ()
    fabric: str | None = None
    hole_edges: tuple[tuple[int, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a patch that is pieced beforehand.

    Attributes:
        name: what it is called in the plan of the drawing, where it is a patch of its own.
        ring: corners round it, inches, front view, clockwise, points inside its sides included.
        fabric: name of its fabric, or None.
    """

    name: str
    ring: Ring
    fabric: str | None


@dataclass(frozen=True, slots=True)
class PrePieced:
    """A patch that is sewn of several parts before it is laid on as one.

    Attributes:
        patch: its number.
        parts: in the order in which they are sewn together.
        seams: seams[k] joins parts[k + 1] to all parts before it, from end to end, inches, front view.
    """

    patch: int
    parts: tuple[Part, ...]
    seams: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """A tidied drawing: a plane map whose faces are patches.

    Attributes:
        name: short name; file: the drawing's path, "" if none.
        width_in, height_in: finished size of the outline's bounding box.
        points: inches, front view, the bounding box's top left corner at (0, 0).
        edges, seams, patches: by number.
        outline: point numbers round the block, clockwise, all points on it included.
        fabrics: those that patches are of (also in another colourway), by order of appearance.
        options: options that the drawing states, as pairs (long name, text).
        notes: what was ignored, assumed and tidied.
        colourways: other sets of fabrics that the drawing states.
        colourway: name of the set of fabrics that the patches are of; "" for the drawing's own.
        outline_edges: edge numbers in the order of `outline`: outline_edges[i] joins outline[i] and outline[i + 1].
        lay: from the drawing's inches to the block's; where it lay and at what scale is no part of what a block is.
        drawn: the same block with its fabrics as drawn, where a palette or a colourway has changed them, and its
            patches as drawn, where some are pieced beforehand; None where nothing is changed.
        pre_pieced: patches that are sewn of several beforehand, by number. Their fabric is called after those of
            their parts ("sky + sea"), and then is none of `fabrics`.
        reversed: this is the mirror image of what the drawing shows: left and right have changed places.
        mirror_of: the block that this one is the mirror image of, to the last digit; None unless `reversed`.
    """

    name: str
    file: str
    width_in: float
    height_in: float
    points: tuple[Point, ...]
    edges: tuple[Edge, ...]
    seams: tuple[Seam, ...]
    patches: tuple[Patch, ...]
    outline: tuple[int, ...]
    fabrics: tuple[Fabric, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    notes: tuple[Note, ...] = ()
    colourways: tuple[Colourway, ...] = ()
    outline_edges: tuple[int, ...] = ()
    lay: Affine = field(default=IDENTITY, compare=False, repr=False)
    colourway: str = ""
    drawn: Block | None = field(default=None, compare=False, repr=False)
    pre_pieced: tuple[PrePieced, ...] = ()
    reversed: bool = False
    mirror_of: Block | None = field(default=None, compare=False, repr=False)

    @property
    def title(self) -> str:
        """What the block is called, with its colourway: "kite", "kite in dusk", "kite reversed"."""
        way = f" in {self.colourway}" if self.colourway else ""
        return f"{self.name}{way}{' reversed' if self.reversed else ''}"

    def as_drawn(self) -> Block:
        """The block with the fabrics and patches of its drawing, whatever was laid over it or pieced beforehand.

        One that is reversed stays so.
        """
        return self if self.drawn is None else replace(self.drawn, file=self.file, options=self.options)

    def parts_of(self, patch: int) -> tuple[Part, ...]:
        """The parts of a patch that is pieced beforehand, in sewing order; () for any other patch."""
        return next((made.parts for made in self.pre_pieced if made.patch == patch), ())

    def fabrics_in(self, patch: int) -> tuple[str | None, ...]:
        """Names of the fabrics that a patch shows: its own, or those of its parts."""
        return tuple(part.fabric for part in self.parts_of(patch)) or (self.patches[patch].fabric,)

    def seams_in(self, patch: int) -> tuple[Segment, ...]:
        """The seams inside a patch that is pieced beforehand, in sewing order; () for any other patch."""
        return next((made.seams for made in self.pre_pieced if made.patch == patch), ())

    def edge_points(self, number: int) -> tuple[Point, ...]:
        """Coordinates along edge `number`, curve points included."""
        edge = self.edges[number]
        return (self.points[edge.start], *edge.via, self.points[edge.end])

    def patch_ring(self, number: int) -> Ring:
        """Coordinates round patch `number`, clockwise, curve points included, holes left out."""
        patch = self.patches[number]
        return self._ring(patch.ring, patch.edges, number)

    def patch_holes(self, number: int) -> tuple[Ring, ...]:
        """Coordinates round what floats inside patch `number`."""
        patch = self.patches[number]
        edges = patch.hole_edges or ((),) * len(patch.holes)
        return tuple(self._ring(*hole, number) for hole in zip(patch.holes, edges, strict=True))

    def outline_ring(self) -> Ring:
        """Coordinates round the block, clockwise, curve points included."""
        return self._ring(self.outline, self.outline_edges, OUTSIDE)

    def outline_sides(self) -> tuple[tuple[Point, ...], ...]:
        """Coordinates along each edge of the outline in order, clockwise; two points for a straight one."""
        sides = []
        for start, number in zip(self.outline, self.outline_edges, strict=True):
            edge, run = self.edges[number], self.edge_points(number)
            ahead = edge.left == OUTSIDE if edge.start == edge.end else edge.start == start
            sides.append(run if ahead else run[::-1])
        return tuple(sides)

    def _ring(self, points: tuple[int, ...], edges: tuple[int, ...], patch: int) -> Ring:
        """Coordinates along edges round a patch or a hole in it, patch on the right; without edges the points."""
        ring: list[Point] = []
        for k, start in enumerate(points):
            ring.append(self.points[start])
            if edges:
                edge = self.edges[edges[k]]
                # The ends of a closed curve with one point on it do not tell which way it is walked.
                beside = edge.left if patch == OUTSIDE else edge.right
                onward = beside == patch if edge.start == edge.end else edge.start == start
                ring.extend(edge.via if onward else reversed(edge.via))
        return tuple(ring)
