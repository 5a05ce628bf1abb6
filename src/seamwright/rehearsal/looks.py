"""Looking at the cloth: whether the needle caught it, whether it covers, what of it shows in the end.

Knows:  what must be covered, and the faults by name.
Leaves: sewing (sew), real pieces (real).
Units:  inches, front view.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Segment
from seamwright.rehearsal.hands import Hands
from seamwright.rehearsal.line import Coords, StitchLine
from seamwright.rehearsal.model import Cloth, SectionToSew
from seamwright.rehearsal.overlay import common, less, together
from seamwright.rehearsal.paper import Paper, Seam, refuse

RULER_IN = 0.005
"""A ruler shows no less: what it cuts may be off by as much."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for all sections: allowance, extra, hands, the area that counts as nothing, where joins turn, the
    straight edges of the block."""

    allowance: float
    extra: float
    hands: Hands
    nothing: float
    turns: tuple[Point, ...] = ()
    edges: tuple[Segment, ...] = ()

    @property
    def margin(self) -> float:
        """Fabric beyond a patch: allowance and extra."""
        return self.allowance + self.extra


def look_at_seam(setting: Setting, laid: Cloth, line: StitchLine) -> None:
    """Whether the seam catches the new piece with its whole allowance."""
    missed = less(line.rectangle(0.0, line.length, 0.0, setting.allowance), laid.shape)
    if missed.area > setting.nothing:
        what = f"the fabric of {laid.patch} is laid with less than the allowance beyond the line"
        refuse("too little in the seam", what, on(missed))


def look_at_flip(setting: Setting, flipped: Cloth, line: StitchLine, held: BaseGeometry) -> None:
    """Whether a flipped piece lies right side up on its own side of the line."""
    wrong = common(flipped.shape, line.mirrored(held))
    if not flipped.right_side_up or wrong.area > setting.nothing:
        what = f"after the flip the fabric of {flipped.patch} does not lie right side up on its own side"
        refuse("wrong flip", what, on(flipped.shape))


def look_at_cover(setting: Setting, name: str, patch: Polygon, wanted: BaseGeometry, shape: BaseGeometry) -> None:
    """Whether a piece covers its patch, and `wanted` with its extra."""
    bare = less(patch, shape)
    if bare.area > setting.nothing:
        refuse("does not cover", f"the fabric of {name} leaves part of its patch bare", on(bare))
    bare = less(wanted, shape)
    if bare.area > setting.nothing:
        refuse("too little extra", f"the fabric of {name} has too little beyond its allowance", on(bare))


def to_cover(patch: Polygon, seam: Seam, held: BaseGeometry, margin: float, far: float) -> BaseGeometry:
    """A patch with a margin as far as a flipped piece can reach: on its own side, or what is not held down."""
    wanted = patch.buffer(margin)
    if any(seam.crosses):
        return less(wanted, seam.line.mirrored(held))
    return common(wanted, seam.line.rectangle(-far, far, 0.0, far))


def around(line: StitchLine, ring: Coords, margin: float) -> Polygon:
    """The box round a patch, measured along the line, with a margin on all sides."""
    (u0, v0), (u1, v1) = ring.min(axis=0), ring.max(axis=0)
    return line.rectangle(u0 - margin, u1 + margin, v0 - margin, v1 + margin)


def own_side(line: StitchLine, ring: Coords, margin: float) -> Polygon:
    """The same on the patch's own side of its line only."""
    (u0, _), (u1, v1) = ring.min(axis=0), ring.max(axis=0)
    return line.rectangle(u0 - margin, u1 + margin, 0.0, v1 + margin)


def topmost(section: SectionToSew, paper: Paper, layers: Sequence[Cloth], setting: Setting) -> tuple[Cloth, ...]:
    """What shows of each layer of a finished section inside its trim line, the lowest first.

    Raises:
        ProofError: a place inside the trim line is bare, or shows a wrong side.
    """
    for cloth in layers:
        if not cloth.right_side_up:
            refuse("wrong flip", f"the fabric of {cloth.patch} shows its wrong side", on(cloth.shape))
    shapes, trim = [cloth.shape for cloth in layers], paper.trim
    bare = less(trim, together(shapes))
    if any(patch.piece is not None and patch.piece.lay == "plain" for patch in section.patches):
        bare = common(bare, trim.buffer(-RULER_IN, join_style="mitre"))
    if not all(seam.clear and not any(seam.crosses) for seam in paper.seams):
        # Beside an inside corner the tips of the trim line may stay bare, never what lies within the allowance.
        bare = common(bare, Polygon(section.outline).buffer(setting.allowance))
    if bare.area > setting.nothing:
        refuse("gap in the allowance", f"in section {section.name} fabric is missing", on(bare))
    shown = []
    tree = shapely.STRtree(shapes)
    for number, cloth in enumerate(layers):
        above = [shapes[k] for k in sorted(tree.query(cloth.shape).tolist()) if k > number]
        left = common(cloth.shape, trim)
        shown.append(replace(cloth, shape=less(left, together(above)) if above else left))
    return tuple(shown)


def on(area: BaseGeometry) -> Point:
    """A place on an area."""
    point = area.representative_point()
    return (point.x, point.y)
