"""Mends done in an SVG drawing: its objects, layers, styles and words stay; only what is touched changes.

Knows:  which shapes draw which seams and patches; points of shapes moved, lines shortened and added, filled shapes
        divided and united, words put where their patches are.
Leaves: the bytes (svgsource), where things go (shift, fabric), whether it reads back right (write).
Units:  inches of the finished block between; each element's own user units in the file.
Method: every shape's corners and control points are taken to the block, moved there, and taken back. A shape whose
        points stay is not touched. A new seam is drawn in the style of the nearest one, in its group; in a drawing
        of filled shapes only, the shapes that it crosses are divided instead.
Limits: what is shown by clones, or drawn with curves where seams are taken away, is not changed (CannotEdit).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from xml.etree.ElementTree import Element

import shapely

from seamwright.block.model import Block
from seamwright.drawing.svg_paths import Trace
from seamwright.drawing.svg_shapes import shape_traces
from seamwright.drawing.svg_transform import times
from seamwright.drawing.svg_tree import Seen, walk
from seamwright.drawing.svg_xml import parse_svg, tag_of, unpacked
from seamwright.geometry import Affine, Point, Ring, Segment, canonical_ring, moved
from seamwright.mend.apply import came_from
from seamwright.mend.change import GRID_IN, CannotEdit, dropped_by, left_of, on_top_area
from seamwright.mend.fabric import Laid, laid_out
from seamwright.mend.shift import Shift
from seamwright.mend.svgfigures import figure, line_ends, path_data, point_list
from seamwright.mend.svgsource import Source
from seamwright.piecing.model import Mend

FINEST_IN = 1e-8
"""Coordinates are written to this, in inches."""
MATCH_IN = 0.02
"""A filled shape is a patch if its border keeps this near the patch's on average."""


def edit_svg(
    data: bytes, block: Block, wanted: Block, mends: Sequence[Mend], within: float, remarks: Sequence[str]
) -> bytes:
    """An SVG drawing with mends done.

    Args:
        data: the drawing's bytes.
        block: what it gives; wanted: what it should give with the mends done.
        within: how far a place in the drawing may lie from the block's.
        remarks: to be kept in the file, as remarks.

    Raises:
        CannotEdit: something that must change cannot be changed where it stands.
    """
    return _Editor(data, block, wanted, mends, within).done(tuple(remarks))


class _Editor:
    def __init__(self, data: bytes, block: Block, wanted: Block, mends: Sequence[Mend], within: float) -> None:
        self.block, self.wanted, self.mends = block, wanted, mends
        plain = unpacked(data)
        root = parse_svg(plain)
        self.source = Source(plain, root)
        self.seen = walk(root)[1].seen
        self.shift = Shift(block, mends, within)
        self.within = within
        others = [mend for mend in mends if mend.kind != "straighten a curve"]
        self.dropped = dropped_by(others)
        self.added = [segment for mend in others for segment in mend.seams]
        self.origins = came_from(block, wanted, self.shift.new)

    def done(self, remarks: tuple[str, ...]) -> bytes:
        shapes = [seen for seen in self.seen if seen.painted is not None]
        lines = [s for s in shapes if s.painted and s.painted.stroked and s.painted.fill is None]
        drawn = [s for s in lines if not self._is_outline(s)]
        patches = self._patch_shapes(shapes)
        settled: set[Element] = set()
        if self.dropped:
            settled |= self._united(patches)
            settled |= self._left_for_the_top([s for s in shapes if s.element not in settled])
        if self.added:
            left = list(self.added)
            if not drawn:
                left = self._divided(patches, settled)
            if left:
                self._drawn(left, drawn or lines or shapes)
        for seen in shapes:
            if seen.element not in settled:
                self._moved(seen)
        self._worded([seen for seen in self.seen if seen.label is not None])
        return self.source.text(remarks)

    # -- from the file to the block and back ------------------------------------------------------------

    def _to_block(self, seen: Seen) -> Affine:
        return times(self.block.lay, seen.inner)

    def _traces(self, seen: Seen) -> list[Trace]:
        return shape_traces(seen.element, seen.lengths)

    def _writer(self, affine: Affine) -> Callable[[Point], tuple[float, float]]:
        """From the block to user units, in as many figures as it takes."""
        back = _inverse(affine)
        a, b, c, d, _, _ = affine
        finest = math.sqrt(abs(a * d - b * c)) or 1.0
        places = max(0, math.ceil(math.log10(finest / FINEST_IN)))

        def write(point: Point) -> tuple[float, float]:
            x, y = moved(back, point)
            return (round(x, places) + 0.0, round(y, places) + 0.0)

        return write

    # -- points moved, lines shortened ------------------------------------------------------------------

    def _moved(self, seen: Seen) -> None:
        """One shape with its points moved and its dropped pieces taken out."""
        affine = self._to_block(seen)
        write = self._writer(affine)
        changed = False
        traces: list[Trace] = []
        for trace in self._traces(seen):
            changed = self._straightened(trace, affine) or changed
            kept = self._kept(seen, trace, affine)
            if kept is not None:
                changed = True
            for piece in [trace] if kept is None else kept:
                new = Trace(piece.start, [], piece.closed)
                places = [piece.start, *(p for step in piece.steps for p in step)]
                to = [self.shift.of(moved(affine, p)) for p in places]
                fresh = iter(p if t is None else write(t) for p, t in zip(places, to, strict=True))
                changed = changed or any(t is not None for t in to)
                new.start = next(fresh)
                new.steps = [tuple(next(fresh) for _ in step) for step in piece.steps]
                traces.append(new)
        if changed:
            self._write(seen, traces)

    def _straightened(self, trace: Trace, affine: Affine) -> bool:
        """Put one straight step in place of the curved ones from end to end of a curve; whether there were any."""
        found = False
        for chord in (m.seams[0] for m in self.mends if m.kind == "straighten a curve"):
            points = [moved(affine, p) for p in (trace.start, *(step[-1] for step in trace.steps))]
            for a, b in (chord, chord[::-1]):
                starts = [n for n, p in enumerate(points) if math.dist(p, a) <= self.within]
                for first in starts:
                    last = first
                    while (
                        last < len(trace.steps)
                        and len(trace.steps[last]) > 1
                        and math.dist(points[last], b) > self.within
                    ):
                        last += 1
                    if last > first and math.dist(points[last], b) <= self.within:
                        trace.steps[first:last] = [(trace.steps[last - 1][-1],)]
                        found = True
                        break
        return found

    def _kept(self, seen: Seen, trace: Trace, affine: Affine) -> list[Trace] | None:
        """What is left of a subpath without what is dropped; None if nothing is."""
        if not self.dropped or (seen.painted is not None and seen.painted.fill is not None):
            return None
        points = [trace.start, *(step[-1] for step in trace.steps)]
        kept = left_of([moved(affine, p) for p in points], self.dropped, self.within)
        if kept is None:
            return None
        if any(len(step) > 1 for step in trace.steps):
            raise CannotEdit("a seam to be left out is drawn as a curve")
        write = self._writer(affine)
        return [Trace(write(run[0]), [(write(p),) for p in run[1:]]) for run in kept]

    def _write(self, seen: Seen, traces: Sequence[Trace]) -> None:
        """Give a shape its new traces, in its own tag where that can hold them."""
        element, source = seen.element, self.source
        if seen.cloned or sum(other.element is element for other in self.seen) > 1:
            raise CannotEdit("it is drawn with clones")
        tag = tag_of(element)
        if not traces:
            source.drop(element)
        elif tag == "line" and len(traces) == 1 and len(traces[0].steps) == 1:
            source.set(element, line_ends(traces[0].start, traces[0].end))
        elif tag in ("polyline", "polygon") and len(traces) == 1 and traces[0].closed == (tag == "polygon"):
            source.set(element, {"points": point_list(traces[0])})
        elif tag == "path":
            source.set(element, {"d": path_data(traces)}, without=("sodipodi:nodetypes",))
        elif tag in ("line", "polyline", "polygon", "rect"):
            gone = ("x1", "y1", "x2", "y2", "points", "x", "y", "width", "height", "rx", "ry")
            source.set(element, {"d": path_data(traces)}, without=gone, tag="path")
        else:
            raise CannotEdit(f"a {tag} cannot change its form")

    # -- filled shapes that are patches -----------------------------------------------------------------

    def _patch_shapes(self, shapes: Sequence[Seen]) -> dict[int, list[Seen]]:
        """For each patch the filled shapes that show it and nothing else."""
        areas = [
            shapely.Polygon(self.block.patch_ring(n), self.block.patch_holes(n))
            for n in range(len(self.block.patches))
        ]
        tree = shapely.STRtree(areas)
        found: dict[int, list[Seen]] = {}
        for seen in shapes:
            if seen.painted is None or seen.painted.fill is None:
                continue
            rings = [[moved(self.block.lay, p) for p in run.points()] for run in seen.painted.runs]
            rings = [ring for ring in rings if len(ring) > 3]
            if not rings:
                continue
            shape = shapely.make_valid(shapely.Polygon(rings[0], rings[1:]))
            for number in sorted(int(k) for k in tree.query(shape.representative_point(), "within")):
                off = shape.symmetric_difference(areas[number], grid_size=GRID_IN)
                if off.area <= MATCH_IN * areas[number].length:
                    found.setdefault(number, []).append(seen)
        return found

    def _divided(self, patches: dict[int, list[Seen]], settled: set[Element]) -> list[Segment]:
        """Divide the shapes of patches that are cut; returns the segments that no shapes show."""
        parts: dict[int, list[int]] = {}
        for number, old in enumerate(self.origins):
            if old is not None:
                parts.setdefault(old, []).append(number)
        cut = {old: some for old, some in parts.items() if len(some) > 1}
        if not all(old in patches for old in cut):
            return list(self.added)
        for old, some in cut.items():
            for seen in patches[old]:
                self._show(seen, some[0])
                settled.add(seen.element)
                for number in some[1:]:
                    traces = self._patch_traces(seen, number)
                    tag = tag_of(seen.element)
                    if tag == "polygon" and len(traces) == 1:
                        new = self.source.copied(seen.element, {"points": point_list(traces[0])})
                    else:
                        new = self.source.copied(seen.element, {"d": path_data(traces)}, tag="path")
                    self.source.add_after(seen.element, new)
        return []

    def _united(self, patches: dict[int, list[Seen]]) -> set[Element]:
        """Show patches that became one by one shape."""
        settled: set[Element] = set()
        whole = [
            shapely.Polygon(self.wanted.patch_ring(n), self.wanted.patch_holes(n)) for n in range(len(self.origins))
        ]
        parts: dict[int, list[int]] = {}
        for old in range(len(self.block.patches)):
            place = shapely.Polygon(self.block.patch_ring(old), self.block.patch_holes(old)).representative_point()
            holder = next((n for n, area in enumerate(whole) if area.contains(place)), None)
            if holder is not None:
                parts.setdefault(holder, []).append(old)
        for holder, olds in parts.items():
            kept = self.origins[holder]
            if len(olds) < 2 or kept not in patches:
                continue
            for old in olds:
                for seen in patches.get(old, ()):
                    settled.add(seen.element)
                    if old == kept:
                        self._show(seen, holder)
                    else:
                        self.source.drop(seen.element)
        return settled

    def _left_for_the_top(self, shapes: Sequence[Seen]) -> set[Element]:
        """Take out what draws nothing but parts that are sewn on top."""
        area = on_top_area(self.block, dropped_by(self.mends))
        if area is None:
            return set()
        room, gone = area.buffer(self.within), set()
        for seen in shapes:
            runs = seen.painted.runs if seen.painted is not None else ()
            if all(room.covers(shapely.Point(moved(self.block.lay, p))) for run in runs for p in run.points()):
                self._write(seen, [])
                gone.add(seen.element)
        return gone

    def _show(self, seen: Seen, patch: int) -> None:
        """Let a shape show a patch of the mended block."""
        self._write(seen, self._patch_traces(seen, patch))

    def _patch_traces(self, seen: Seen, patch: int) -> list[Trace]:
        affine = self._to_block(seen)
        write = self._writer(affine)
        rings: list[Ring] = [self.wanted.patch_ring(patch), *self.wanted.patch_holes(patch)]
        own = [
            (moved(affine, p), p)
            for trace in self._traces(seen)
            for p in (trace.start, *(s[-1] for s in trace.steps))
        ]
        stay = [(there, p) for there, p in own if self.shift.of(there) is None]
        traces = []

        def place(corner: Point) -> Point:
            # A corner that the shape has already stays in its figures.
            near, figures = min(stay, key=lambda item: math.dist(item[0], corner), default=(corner, None))
            return write(corner) if figures is None or math.dist(near, corner) > self.within else figures

        for ring in rings:
            places = [place(p) for p in canonical_ring(ring)]
            trace = Trace(places[0], [(p,) for p in places[1:]])
            trace.close()
            traces.append(trace)
        return traces

    # -- seams added ------------------------------------------------------------------------------------

    def _is_outline(self, seen: Seen) -> bool:
        """Whether a shape draws nothing but the outline."""
        assert seen.painted is not None
        border = shapely.LinearRing(self.block.outline_ring())
        places = [moved(self.block.lay, p) for run in seen.painted.runs for p in run.points()]
        middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(places)]
        return all(border.distance(shapely.Point(p)) <= self.within for p in (*places, *middles))

    def _drawn(self, segments: Sequence[Segment], models: Sequence[Seen]) -> None:
        """Draw segments in the style of the lines nearest to where they begin."""
        models = [seen for seen in models if not seen.cloned]
        if not models:
            raise CannotEdit("no line of it can be a model for a new one")
        lines = [
            shapely.MultiLineString(
                [
                    [moved(self.block.lay, p) for p in run.points()]
                    for run in (seen.painted.runs if seen.painted else ())
                ]
            )
            for seen in models
        ]
        for a, b in segments:
            near = [min(line.distance(shapely.Point(p)) for p in (a, b)) for line in lines]
            number = min(range(len(models)), key=lambda n: (round(near[n], 4), n))
            seen = models[number]
            write = self._writer(self._to_block(seen))
            new_line = Trace(write(a), [(write(b),)])
            if tag_of(seen.element) == "line":
                new = self.source.copied(seen.element, line_ends(new_line.start, new_line.end))
            elif tag_of(seen.element) == "polyline":
                new = self.source.copied(seen.element, {"points": point_list(new_line)})
            else:
                new = self.source.copied(seen.element, {"d": path_data([new_line])}, tag="path")
            self.source.add_after(seen.element, new)

    # -- words ------------------------------------------------------------------------------------------

    def _worded(self, texts: Sequence[Seen]) -> None:
        """Put the words that name fabrics where their patches are."""
        named = [
            (seen, Laid(" ".join(seen.label.text.split()), moved(self.block.lay, seen.label.at)))
            for seen in texts
            if seen.label is not None
        ]
        fabrics = {patch.fabric for patch in self.block.patches}
        named = [(seen, laid) for seen, laid in named if laid.fabric in fabrics]
        if not named:
            return
        move, add, surplus = laid_out(self.block, self.wanted, self.shift.new, [laid for _, laid in named])
        for number in surplus:
            self.source.drop(named[number][0].element)
        for number, to in move:
            seen, laid = named[number]
            prefix = self.source.prefix(seen.element)
            self.source.wrap(seen.element, f'<{prefix}g transform="{self._push(seen, laid, to)}">', f"</{prefix}g>")
        for fabric, to in add:
            seen, laid = next((s, item) for s, item in named if item.fabric == fabric)
            prefix = self.source.prefix(seen.element)
            copy = self.source.whole(seen.element)
            head = f'<{prefix}g transform="{self._push(seen, laid, to)}">'.encode()
            self.source.add_after(seen.element, head + copy + f"</{prefix}g>".encode())

    def _push(self, seen: Seen, laid: Laid, to: Point) -> str:
        """The transform that carries a text from where it stands to another place."""
        if seen.cloned:
            raise CannotEdit("its words are clones")
        back = _inverse(times(self.block.lay, seen.outer))
        (x1, y1), (x2, y2) = moved(back, laid.at), moved(back, to)
        return f"translate({figure(round(x2 - x1, 6))} {figure(round(y2 - y1, 6))})"


def _inverse(affine: Affine) -> Affine:
    a, b, c, d, e, f = affine
    size = a * d - b * c
    if not size:
        raise CannotEdit("it is drawn flat")
    return (d / size, -b / size, -c / size, a / size, (c * f - d * e) / size, (b * e - a * f) / size)
