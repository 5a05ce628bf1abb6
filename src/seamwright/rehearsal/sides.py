"""Both sides of one section's work, step by step: what any picture of it shares.

Knows:  which layers show from the printed side and from the front, which lines are stitched, where stitching stops.
Leaves: panels, cloth and names (view), what stands round the panels (pictures, the booklet).
Units:  inches on the page.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

import shapely
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring
from seamwright.ink.model import Area, Ink, Pen, Stroke
from seamwright.picture.tints import INK, QUIET
from seamwright.rehearsal.beforehand import shares
from seamwright.rehearsal.model import Cloth, SectionToSew, SewnSection, SewnStep
from seamwright.rehearsal.overlay import common, together
from seamwright.rehearsal.view import Bounds, Named, Panel, wrong_side

Parts = Mapping[str, tuple[tuple[Ring, str], ...]]
PAPER = "#FFFFFF"
ROUGH_IN = 0.25
"""Paper is cut out roughly, this much outside its trim line (common practice)."""
BESIDE_IN = 0.3
"""How much is seen beside the paper."""
DOT_IN = 0.05


class Sides:
    """A section on its paper, as its rehearsal sewed it.

    Args:
        colours: of each patch by name, "#rrggbb".
        parts: of each patch that is pieced beforehand the rings of its parts, with their colours.
    """

    def __init__(
        self,
        section: SectionToSew,
        sewn: SewnSection,
        colours: Mapping[str, str],
        parts: Parts = MappingProxyType({}),
    ) -> None:
        self.section, self.sewn, self.colours, self.parts = section, sewn, colours, parts
        self.plain = len(section.patches) == 1
        self.rough = sewn.trim.buffer(ROUGH_IN, join_style="mitre", mitre_limit=1.5)
        self._shapes: list[BaseGeometry] = [sewn.trim]
        if not self.plain:
            self._shapes = [self.rough, *(step.laid for step in sewn.steps)]
            self._shapes += [cloth.shape for step in sewn.steps for cloth in step.table]

    @property
    def bounds(self) -> Bounds:
        """Of all that lies on the table at any step, in the block."""
        left, top, right, bottom = (float(b) for b in shapely.total_bounds(self._shapes))
        return (left, top, right, bottom)

    @property
    def window(self) -> Bounds:
        """Of the paper and a little beside it: fabric that sticks out further need not be seen to its end."""
        left, top, right, bottom = self.rough.bounds
        return (left - BESIDE_IN, top - BESIDE_IN, right + BESIDE_IN, bottom + BESIDE_IN)

    @property
    def front_bounds(self) -> Bounds:
        """Of paper and fabric as they lie after each step, in the block."""
        cloths = [cloth.shape for step in self.sewn.steps for cloth in step.table]
        left, top, right, bottom = (float(b) for b in shapely.total_bounds([self.rough, *cloths]))
        return (left, top, right, bottom)

    @property
    def work(self) -> BaseGeometry:
        """All that lies on the table at any step, as one area."""
        return together([s for s in self._shapes if s.geom_type in ("Polygon", "MultiPolygon")])

    def is_whole(self, patch: str) -> bool:
        """Whether a patch is of one fabric: a name on it then lies on one colour."""
        return patch not in self.parts

    @property
    def named(self) -> list[Named]:
        """The patches with their names."""
        return [Named(p.name, str(n), p.ring) for n, p in enumerate(self.section.patches, start=1)]

    def printed(self, panel: Panel, step: SewnStep) -> list[Ink]:
        """The printed side after a step: fabric that sticks out pale, the line just stitched bold."""
        # From the printed side the paper is nearest, then the fabric laid first.
        inks: list[Ink] = []
        for cloth in reversed(step.table):
            inks += panel.filled(cloth.shape, wrong_side(self.colours[cloth.patch]), edge=QUIET)
        return [*inks, *panel.filled(self.rough, PAPER), *self.lines(panel, step.number)]

    def at_needle(self, panel: Panel, step: SewnStep, free: Sequence[Ring] = ()) -> list[Ink]:
        """The printed side while a step is sewn, as far as the window shows it.

        Its patch is tinted, and its fabric, which lies behind the paper, is dashed, but for words on the page.
        """
        patch, window = self.section.patches[step.number - 1], box(*self.window)
        inks: list[Ink] = []
        for cloth in reversed(step.table[:-1]):
            pale = wrong_side(self.colours[cloth.patch])
            inks += panel.filled(common(cloth.shape, window), pale, pen=None)
            inks += panel.edges(cloth.shape, window, Pen.RULE, QUIET)
        inks += panel.filled(self.rough, PAPER)
        inks.append(Area((panel.line(patch.ring),), wrong_side(self.colours[step.patch])))
        inks += panel.edges(step.laid, window, Pen.HELPER, INK, free)
        return [*inks, *self.lines(panel, step.number)]

    def front(self, panel: Panel, step: SewnStep) -> list[Ink]:
        """The fabric side after a step, layer upon layer in the order they were laid."""
        inks = panel.filled(self.rough, PAPER, edge=QUIET)
        inks += self._cloths(panel, step.table)
        return [*inks, *panel.outlined(step.table[-1].shape, Pen.MARK)]

    def together(self, panel: Panel, step: SewnStep) -> list[Ink]:
        """A step without paper, from the front: the new piece, wrong side up, on what is sewn; the line bold."""
        inks: list[Ink] = []
        inks += self._cloths(panel, self._before(step))
        colour = self.colours[step.patch]
        inks += panel.filled(step.laid, colour if step.seam is None else wrong_side(colour))
        if step.seam is not None:
            inks.append(Stroke(Pen.BOLD, panel.line(step.seam.needle), colour=INK))
            inks += [Area((dot(panel.point(stop)),), INK) for stop in step.seam.stops]
        return inks

    def seen_together(self, step: SewnStep) -> list[str]:
        """Names of the patches whose fabric is not hidden below the new piece; the first piece hides none."""
        before = self._before(step)
        seen = [c.patch for c in before if common(c.shape, step.laid).area <= c.shape.area / 3]
        return seen if step.seam is not None else [step.patch]

    def opened(self, panel: Panel, step: SewnStep) -> list[Ink]:
        """The same opened and pressed."""
        inks: list[Ink] = []
        inks += self._cloths(panel, step.table)
        return [*inks, *panel.outlined(step.table[-1].shape, Pen.MARK)]

    def _cloths(self, panel: Panel, cloths: Sequence[Cloth]) -> list[Ink]:
        """Fabric right side up, and what parts of it show in the patch where it was pieced beforehand."""
        inks: list[Ink] = []
        for cloth in cloths:
            inks += panel.filled(cloth.shape, self.colours[cloth.patch])
            parts = self.parts.get(cloth.patch, ())
            if parts:
                areas = shares([Polygon(ring) for ring, _ in parts], cloth.shape, cloth.patch)
                for area, (_, colour) in zip(areas, parts, strict=True):
                    inks += panel.filled(area, colour)
        return inks

    def _before(self, step: SewnStep) -> tuple[Cloth, ...]:
        return self.sewn.steps[step.number - 2].table if step.number > 1 else ()

    def lines(self, panel: Panel, done: int) -> list[Ink]:
        """Trim line, outline, lines stitched and to be stitched; the one of step `done` bold."""
        inks: list[Ink] = panel.outlined(self.sewn.trim, Pen.TRIM)
        inks.append(Stroke(Pen.STITCH, panel.line(self.section.outline), closed=True, colour=INK))
        for rings in (self.parts.get(patch.name, ()) for patch in self.section.patches):
            # The seams of what is pieced beforehand are broken lines, as on the print.
            areas = [Polygon(ring) for ring, _ in rings]
            inks += [ink for area in areas[1:] for ink in panel.edges(area, together(areas[:1]), Pen.HELPER, INK)]
        now: list[Ink] = []
        for step in self.sewn.steps[1:]:
            seam = step.seam
            assert seam is not None
            line = panel.line((seam.start, seam.end))
            inks.append(Stroke(Pen.STITCH, line, colour=INK if step.number <= done else QUIET))
            if step.number == done:
                now.append(Stroke(Pen.BOLD, panel.line(seam.needle), colour=INK))
                now += [Area((dot(panel.point(stop)),), INK) for stop in seam.stops]
        return inks + now

    def trimmed_print(self, panel: Panel) -> list[Ink]:
        """The printed side once all is trimmed."""
        return [*panel.filled(self.sewn.trim, PAPER, pen=None), *self.lines(panel, len(self.sewn.steps) + 1)]

    def trimmed_front(self, panel: Panel) -> list[Ink]:
        """The fabric side once all is trimmed."""
        inks: list[Ink] = []
        inks += self._cloths(panel, self.sewn.shown)
        return [*inks, *panel.outlined(self.sewn.trim, Pen.MARK)]


def dot(at: Point, radius: float = DOT_IN) -> Ring:
    """A round mark on the page."""
    ring = shapely.Point(at).buffer(radius, quad_segs=6).exterior.coords[:-1]
    return tuple((float(x), float(y)) for x, y in ring)
