"""A whole block sewn in rehearsal, and compared with the drawing.

Knows:  sections one after the other, joins in their order, the finished block.
Leaves: how a section is sewn (sew), pictures (pictures).
Units:  inches, front view.
Method: what shows of each section is held against its patches; then parts are laid right sides together along the
        border they share, allowances pressed away, until one is left, which must be the whole block, each place
        once. Nothing of the planner is used, and none of its stitch lines is read.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, signed_area
from seamwright.notes import Note
from seamwright.rehearsal.beforehand import look_at_parts
from seamwright.rehearsal.hands import Hands
from seamwright.rehearsal.line import ON_LINE_IN, Coords, borders, straight
from seamwright.rehearsal.looks import Setting
from seamwright.rehearsal.model import JoinToSew, Rehearsed, Sewing, SewnJoin, SewnSection
from seamwright.rehearsal.overlay import common, differing, together
from seamwright.rehearsal.paper import refuse
from seamwright.rehearsal.plain import PlainHands, sew_plain
from seamwright.rehearsal.sew import sew_section

SAME_SHARE = 1e-6
"""A patch shows as drawn if it differs by no more than this share of the block's area."""


def rehearse(
    sewing: Sewing,
    hands: Hands = Hands(),  # noqa: B008  (frozen)
    plain: PlainHands = PlainHands(),  # noqa: B008
) -> Rehearsed:
    """Sews a block with simulated cloth and compares what shows with the drawing.

    Args:
        hands, plain: on paper and without; a test may exchange a hand for a clumsy one.

    Raises:
        ProofError: with one fault, whose `code` names it: "not one line", "does not cover", "too little extra",
            "too little in the seam", "trim too deep", "trimmed into a patch", "allowance not trimmed",
            "wrong flip", "covered by a later patch", "gap in the allowance", "does not show as drawn",
            "part missing", "parts do not meet", "parts overlap", "not the whole block", "not a number"; of real
            pieces also "cannot be laid", "does not fit its outline", "does not fit its marks", "ticks do not fit",
            "off the grain"; without paper "edges not even".
    """
    _finite(sewing)
    outline = Polygon(sewing.outline)
    nothing = SAME_SHARE * outline.area
    turns = tuple(turn for join in sewing.joins for turn in join.turns)
    edges = sewing.edges
    if edges is None:
        edges = tuple(zip(sewing.outline, sewing.outline[1:] + sewing.outline[:1], strict=True))
    setting = Setting(sewing.allowance_in, sewing.extra_in, hands, nothing, turns, edges)
    sections = tuple(
        sew_plain(section, setting, plain) if section.by_ruler else sew_section(section, setting)
        for section in sewing.sections
    )
    largest = 0.0
    for section, sewn in zip(sewing.sections, sections, strict=True):
        inside = Polygon(section.outline)
        for patch, cloth in zip(section.patches, sewn.shown, strict=True):
            differs = differing(common(cloth.shape, inside), Polygon(patch.ring))
            if differs > nothing:
                what = f"{patch.name} differs from its patch by {differs:.3g} square inches"
                refuse("does not show as drawn", what, patch.ring[0])
            largest = max(largest, differs / outline.area)
        for patch, step in zip(section.patches, sewn.steps, strict=True):
            if patch.parts:
                differs = look_at_parts(patch, step, sewing.allowance_in, nothing)
                largest = max(largest, differs / outline.area)
    joins, differs = _join(sewing, outline, nothing)
    steps = sum(len(section.patches) for section in sewing.sections)
    return Rehearsed(sections, joins, steps, max(largest, differs), _notes(sections))


def _finite(sewing: Sewing) -> None:
    rings = [sewing.outline, *(section.outline for section in sewing.sections)]
    rings += [patch.ring for section in sewing.sections for patch in section.patches]
    numbers = [value for ring in rings for point in ring for value in point]
    if not all(map(math.isfinite, (*numbers, sewing.allowance_in, sewing.extra_in))):
        refuse("not a number", "a coordinate is no finite number")
    for ring in rings:
        if len(ring) < 3 or signed_area(ring) == 0:
            refuse("not one line", "a ring encloses nothing", ring[0] if ring else None)


def _join(sewing: Sewing, outline: Polygon, nothing: float) -> tuple[tuple[SewnJoin, ...], float]:
    """Sews the joins; returns them, and by what share of its area the whole differs from the outline."""
    joins: list[SewnJoin] = []
    parts: dict[str, BaseGeometry] = {section.name: Polygon(section.outline) for section in sewing.sections}
    if len(parts) < len(sewing.sections):
        refuse("part missing", "two sections have one name")
    for join in sewing.joins:
        for name in (join.first, join.second):
            if name not in parts:
                refuse("part missing", f"there is no part {name} to be joined")
        if join.first == join.second:
            refuse("part missing", f"{join.first} cannot be joined to itself")
        first, second = parts.pop(join.first), parts.pop(join.second)
        joins.append(_meeting(join, first, second, nothing))
        parts[join.makes] = together((first, second))
    if len(parts) != 1:
        refuse("part missing", f"the joins end in {len(parts)} parts ({', '.join(parts)}), not in one block")
    (whole,) = parts.values()
    differs = differing(whole, outline)
    if differs > nothing:
        refuse("not the whole block", f"the finished block differs by {differs:.3g} square inches from the drawing")
    return tuple(joins), float(differs / outline.area)


def _meeting(join: JoinToSew, first: BaseGeometry, second: BaseGeometry, nothing: float) -> SewnJoin:
    """Where two parts meet, laid right sides together along their common border."""
    where = f"{join.first} and {join.second}"
    if common(first, second).area > nothing:
        refuse("parts overlap", f"{where} lie on each other")
    runs = [run for ring in _rings(second) for run in borders(ring, first)]
    if not runs:
        refuse("parts do not meet", f"{where} have no border in common")
    if join.kind in ("straight", "curved") and len(runs) > 1:
        refuse("not one line", f"{where} meet in {len(runs)} places", _points(runs[1])[0])
    if join.kind == "straight" and not straight(runs[0]):
        refuse("not one line", f"{where} meet along more than one line", _points(runs[0])[0])
    met = MultiLineString(runs)
    for turn in join.turns:
        if met.distance(shapely.Point(turn)) > ON_LINE_IN:
            refuse("parts do not meet", f"{where} do not meet where their seam turns", turn)
    return SewnJoin(join.first, join.second, join.makes, join.kind, tuple(map(_points, runs)))


def _points(run: Coords) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in run)


def _rings(part: BaseGeometry) -> list[Coords]:
    polygons = [p for p in shapely.get_parts(part) if isinstance(p, Polygon)]
    return [shapely.get_coordinates(ring)[:-1] for p in polygons for ring in (p.exterior, *p.interiors)]


def _notes(sections: Sequence[SewnSection]) -> tuple[Note, ...]:
    """Steps at which the sewer has to take care beyond the usual."""
    over, clipped = [], []
    for step in (step for section in sections for step in section.steps):
        if step.cleared is not None:
            over.append((step.patch, step.cleared.representative_point()))
        if step.seam is not None and step.seam.clipped:
            clipped.append((step.patch, step.seam))
    notes = []
    if over:
        names = ", ".join(name for name, _ in over)
        text = f"the flipped fabric of {names} lies on another arm of its section: cut it off there at once"
        notes.append(Note("notch", text, len(over), places_in=tuple((p.x, p.y) for _, p in over)))
    if clipped:
        names = ", ".join(name for name, _ in clipped)
        text = f"{names} goes round the end of its seam: clip the fabric to that end before it is flipped"
        places = tuple((seam.stops or (seam.end,))[0] for _, seam in clipped)
        notes.append(Note("clip", text, len(clipped), places_in=places))
    return tuple(notes)
