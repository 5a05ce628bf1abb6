"""What is quicker cut with a ruler and pieced without paper: units, their cuts, quick ways to make many of them.

Knows:  which sections of a plan are such units, and which regions on paper would be; which units are equal.
Leaves: what makes a unit (fabric.units), sizes (fabric.rulers), words for ways (ways), fabric for all (strips).
Units:  inches.
Method: sections that are left off the paper, and plain pieces, are one unit each. Of what lies on paper every part
        is asked that is whole at some moment of sewing, the largest first; then, where the plan advises to leave
        units off the paper, those of the plan that does. Units are equal if one lies on the other, fabrics too,
        after quarter turns.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from seamwright.block.model import Block
from seamwright.cutting.model import Unit, UnitCut
from seamwright.cutting.ways import ways_over
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Shape
from seamwright.fabric.rulers import RulerCut, keeps_print, ruler_cut
from seamwright.fabric.units import RECTANGLE, Recognised, recognise
from seamwright.foundation.border import stretches
from seamwright.foundation.common import section_grain_deg
from seamwright.geometry import Point, Ring, canonical_ring
from seamwright.options import CutOptions, Rotary
from seamwright.piecing.leftoff import left_off
from seamwright.piecing.model import Plan

SHAPES = {1: Shape.RECTANGLE, 2: Shape.HALF_SQUARE, 4: Shape.QUARTER_SQUARE}
"""What becomes of what is cut, by how many pieces come of it."""
_GRID_IN = 1 / 64
"""Corners are compared on a grid: coarser than a drawing's noise, finer than a ruler."""


def units_of(plan: Plan, options: CutOptions) -> tuple[Unit, ...]:
    """What of a plan is cut with a ruler and pieced without paper, then what on paper would be quicker so.

    Equal units of equal fabrics are one, with their count for all blocks.
    """
    return units_over([Sewn(plan, options.blocks)])


@dataclass(frozen=True, slots=True)
class Sewn:
    """A plan, and how many of its blocks are sewn.

    Attributes:
        called: what stands before the names of its sections and patches, where several plans are told together.
    """

    plan: Plan
    blocks: int
    called: str = ""


def units_over(many: Sequence[Sewn]) -> tuple[Unit, ...]:
    """The same of several plans in one measure, sewn together: equal units of all of them are one."""
    kept: dict[object, list[tuple[Sewn, _Place]]] = {}
    for sewn in many:
        for place in _found(sewn.plan):
            like = place.on_paper, place.kind, _likeness(sewn.plan.block, place)
            kept.setdefault(like, []).append((sewn, place))
    return tuple(map(_unit, kept.values()))


@dataclass(frozen=True, slots=True)
class _Place:
    """One unit where it lies in the block.

    Attributes:
        kind, width_in, height_in: as in Unit.
        tilt_deg: direction of its width.
        patches: their numbers; cuts: how each is cut, in the same order.
        parts: the simple units it consists of, each as numbers of patches.
    """

    kind: str
    width_in: float
    height_in: float
    tilt_deg: float
    sections: tuple[str, ...]
    patches: tuple[int, ...]
    cuts: tuple[RulerCut, ...]
    parts: tuple[Recognised, ...] = ()
    on_paper: bool = False


def _found(plan: Plan) -> Iterator[_Place]:
    borders = stretches(plan)
    # Sections that are no unit alone: the two pairs of four triangles.
    parted: set[int] = set()
    for section in plan.sections:
        if section.method != "ruler" and section.kind != "plain":
            continue
        place = _recognised(plan, (section.name,), section.patches)
        if place is None and section.kind == "plain":
            grain_deg = section_grain_deg(plan, section, borders[section.name])
            place = _triangle(plan, section.name, section.patches[0], grain_deg)
        if place is not None:
            yield place
        elif section.method == "ruler":
            parted.update(section.patches)
    for whole in left_off(plan) if parted else ():
        for unit in whole.made.units:
            patches = tuple(whole.patches[place] for place in unit.patches)
            if parted.issuperset(patches):
                names = tuple(s.name for s in whole.sections if set(patches).issuperset(s.patches))
                place = _recognised(plan, names, patches)
                if place is not None:
                    yield place
    on_paper = {s.name: s.patches for s in plan.sections if s.method != "ruler" and s.kind != "plain"}
    free = {patch for patches in on_paper.values() for patch in patches}
    for patches in [*_wholes(plan), *_advised(plan)]:
        if not free.issuperset(patches):
            continue
        names = tuple(name for name, some in on_paper.items() if set(patches).issuperset(some))
        place = _recognised(plan, names, patches)
        if place is not None:
            free.difference_update(patches)
            yield replace(place, on_paper=True)


def _wholes(plan: Plan) -> list[tuple[int, ...]]:
    """The patches of every part that is whole at some moment of sewing, the largest first."""
    parts = {section.name: section.patches for section in plan.sections}
    for join in plan.joins:
        parts[join.makes] = parts[join.first] + parts[join.second]
    return sorted(parts.values(), key=lambda patches: -len(patches))


def _advised(plan: Plan) -> list[tuple[int, ...]]:
    """The patches of the units that the same block has without paper, where the plan advises it."""
    if not any(note.code == "advice-rotary" for note in plan.notes):
        return []
    from seamwright.piecing.plan import plan as make_plan

    other, found = make_plan(plan.block, replace(plan.options, rotary=Rotary.AUTO, start="")), []
    for whole in left_off(other):
        # Rectangles alone are cut as one grid; with triangles among them each unit is made, and told, by itself.
        together = all(unit.kind == RECTANGLE for unit in whole.made.units)
        parts = [whole.made.patches] if together else [unit.patches for unit in whole.made.units]
        found += [tuple(whole.patches[place] for place in part) for part in parts]
    return found


def _recognised(plan: Plan, sections: tuple[str, ...], patches: tuple[int, ...]) -> _Place | None:
    block, allowance_in, units = plan.block, plan.options.seam_allowance_in, plan.options.units
    if any(block.patches[patch].holes or not _keeps_print(block, patch) for patch in patches):
        return None
    order = {patch: count for count, patch in enumerate(p for section in plan.sections for p in section.patches)}
    patches = tuple(sorted(patches, key=order.__getitem__))
    made = recognise([block.patch_ring(patch) for patch in patches], None, allowance_in, units)
    if made is None:
        return None
    cuts = [
        ruler_cut(canonical_ring(block.patch_ring(patch), _GRID_IN / 8), made.tilt_deg, allowance_in, units)
        for patch in patches
    ]
    known = tuple(cut for cut in cuts if cut is not None)
    if len(known) < len(patches):
        return None
    parts = tuple(replace(unit, patches=tuple(patches[p] for p in unit.patches)) for unit in made.units)
    return _Place(
        made.kind, made.width_in, made.height_in, made.tilt_deg, sections, patches, known, parts
    )  # fmt: skip


def _triangle(plan: Plan, section: str, patch: int, grain_deg: float) -> _Place | None:
    """A plain piece that is half or a quarter of a square; its size is that of its legs, or of its long side."""
    ring = canonical_ring(plan.block.patch_ring(patch), _GRID_IN / 8)
    cut = ruler_cut(ring, grain_deg, plan.options.seam_allowance_in, plan.options.units)
    if cut is None or cut.pieces == 1 or plan.block.patches[patch].holes or not _keeps_print(plan.block, patch):
        return None
    sides = sorted(math.dist(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    width, height = (sides[0], sides[0]) if cut.pieces == 2 else (sides[2], sides[2] / 2)
    return _Place(SHAPES[cut.pieces].value, width, height, grain_deg, (section,), (patch,), (cut,))


def _likeness(block: Block, place: _Place) -> object:
    """What is the same for units that are equal: corners and fabrics as the unit lies in one of four turns.

    A print that runs one way may not be turned: then only units that lie alike are equal.
    """
    turns = (0, 90, 180, 270)
    fabrics = [_fabric(block, patch) for patch in place.patches]
    if any(fabric is not None and fabric.direction_deg is not None for fabric in fabrics):
        return (place.tilt_deg, _laid(block, place, 0))
    return min(_laid(block, place, turn) for turn in turns)


def _laid(block: Block, place: _Place, turn_deg: int) -> tuple[tuple[str, tuple[tuple[int, int], ...]], ...]:
    """Fabric and corners of each patch, the unit laid level and turned, from its top left corner."""
    turn = math.radians(turn_deg - place.tilt_deg)
    cos, sin = math.cos(turn), math.sin(turn)

    def laid(point: Point) -> Point:
        return (point[0] * cos - point[1] * sin, point[0] * sin + point[1] * cos)

    rings: list[Ring] = [tuple(map(laid, block.patch_ring(patch))) for patch in place.patches]
    left, top = (min(point[axis] for ring in rings for point in ring) for axis in (0, 1))
    return tuple(
        sorted(
            (
                repr(block.patches[patch].fabric),
                tuple(sorted((round((x - left) / _GRID_IN), round((y - top) / _GRID_IN)) for x, y in ring)),
            )
            for patch, ring in zip(place.patches, rings, strict=True)
        )
    )


def _unit(places: Sequence[tuple[Sewn, _Place]]) -> Unit:
    sewn, first = places[0]
    allowance, units = sewn.plan.options.seam_allowance_in, sewn.plan.options.units
    parts = [(each.plan.block, part, each.blocks) for each, place in places for part in place.parts]
    return Unit(
        kind=first.kind,
        sections=tuple(each.called + section for each, place in places for section in place.sections),
        patches=tuple(_named(each, patch) for each, place in places for patch in place.patches),
        width_in=first.width_in,
        height_in=first.height_in,
        unfinished_width_in=first.width_in + 2 * allowance,
        unfinished_height_in=first.height_in + 2 * allowance,
        count=sum(each.blocks for each, _ in places),
        cuts=_cuts(places),
        ways=ways_over(parts, allowance, units),
        on_paper=first.on_paper,
    )


def _named(sewn: Sewn, patch: int) -> str:
    return sewn.called + sewn.plan.patch_names()[patch]


def _cuts(places: Sequence[tuple[Sewn, _Place]]) -> tuple[UnitCut, ...]:
    """What to cut of each fabric, for all places together."""
    gathered: dict[tuple[str | None, RulerCut], list[tuple[Sewn, int]]] = {}
    for sewn, place in places:
        block = sewn.plan.block
        for patch, cut in zip(place.patches, place.cuts, strict=True):
            across, down = max(cut.width_in, cut.height_in), min(cut.width_in, cut.height_in)
            known = _fabric(block, patch)
            # Which way a piece of plain cloth lies makes no difference when it is cut.
            turned = cut if known is not None and known.direction_deg is not None else replace(
                cut, width_in=across, height_in=down
            )  # fmt: skip
            gathered.setdefault((block.patches[patch].fabric, turned), []).append((sewn, patch))
    return tuple(
        UnitCut(
            shape=SHAPES[cut.pieces],
            width_in=cut.width_in,
            height_in=cut.height_in,
            count=math.ceil(sum(sewn.blocks for sewn, _ in patches) / cut.pieces),
            share=cut.pieces,
            fabric=fabric,
            patches=tuple(_named(sewn, patch) for sewn, patch in patches),
        )
        for (fabric, cut), patches in gathered.items()
    )


def _keeps_print(block: Block, patch: int) -> bool:
    fabric = _fabric(block, patch)
    ring = canonical_ring(block.patch_ring(patch), _GRID_IN / 8)
    return not block.parts_of(patch) and keeps_print(ring, None if fabric is None else fabric.direction_deg)


def _fabric(block: Block, patch: int) -> Fabric | None:
    name = block.patches[patch].fabric
    return next((fabric for fabric in block.fabrics if fabric.name == name), None)
