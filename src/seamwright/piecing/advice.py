"""Advice before cutting: what can be sewn as drawn, but asks for care or for a small change of the drawing.

Knows:  sharp points, narrow patches, crowded points, seams that nearly meet, patches better off the paper, dark
        allowance beside light patches across a join, and points that vanish; with each its place and what quilters
        do about it.
Leaves: what cannot be sewn (explain), what tidying found (block.telling), the order within a section (order), how
        wide a patch is (widths), which points vanish (vanishing).
Units:  inches of the finished block, angles in degrees.
Method: one note for each kind, with all its places; the sentence names the first few patches. The thresholds are
        common practice: none is a law of the craft, so nothing here stops anything. What depends on the drawing
        alone is said of a stuck drawing too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from seamwright.block.model import OUTSIDE
from seamwright.fabric.contrast import contrast
from seamwright.fabric.shade import is_dark, is_light
from seamwright.geometry import Point
from seamwright.notes import Note
from seamwright.options import Units
from seamwright.piecing.model import Plan
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shapes import ANGLE_SLACK_DEG, corners, tips
from seamwright.piecing.vanishing import alike_pairs, vanishing
from seamwright.piecing.widths import SLACK_IN, across, narrowest
from seamwright.units import say_count, say_length, say_list, say_point

SHARP_DEG = 15.0
"""A point under this has allowances that lie over each other for more than 3/4 in at 1/4 in of allowance."""
NARROW_IN = 1 / 4
"""Under a patch narrower than the usual allowance both its allowances lie over each other and reach beyond it."""
CROWD = 8
"""Eight wedges of a star still press flat; with more patches at one point the layers make a lump."""
MISS_IN = 1 / 8
"""Seams that end this near each other on both sides of a seam look as if they were meant to meet."""
LARGE_IN = 5.0
"""A patch this wide is as large as the squares that shops sell cut for piecing without paper."""
NAMED = 4
"""Patches, places or joins named in one sentence; of more, the first few and how many in all."""


def advised(plan: Plan, seams: SeamMap) -> Plan:
    """The plan with advice behind its other notes."""
    return replace(plan, notes=(*plan.notes, *advice(plan, seams)))


def advice(plan: Plan, seams: SeamMap) -> tuple[Note, ...]:
    """What the sewer should know before she cuts, one note for each kind; () for a block that asks for no care.

    Args:
        plan: with its sections and joins if it has any; their names are used.
        seams: of the plan's block.
    """
    looked_at = _Look(plan, seams)
    found = (
        looked_at.sharp(),
        looked_at.narrow(),
        looked_at.crowded(),
        looked_at.missing(),
        looked_at.large(),
        looked_at.shadow(),
        looked_at.vanished(),
    )
    return tuple(note for note in found if note is not None)


class _Look:
    """One plan, looked at for each kind of advice."""

    def __init__(self, plan: Plan, seams: SeamMap) -> None:
        self.plan, self.seams, self.block = plan, seams, plan.block
        self.names, self.units = plan.patch_names(), plan.options.units
        planned = [patch for section in plan.sections for patch in section.patches]
        # As the sewer reads the plan: by section and step; what is in no section by its number.
        self.order = planned or list(range(len(self.block.patches)))

    def sharp(self) -> Note | None:
        """Points of patches sharper than 15 degrees."""
        points = [
            (angle, patch, point)
            for patch in self.order
            for point, angle in corners(self.block, patch)
            if angle < SHARP_DEG - ANGLE_SLACK_DEG
        ]
        if not points:
            return None
        named = say_list(list(dict.fromkeys(self.names[patch] for _, patch, _ in points)), most=NAMED)
        trimmed = "1/8 in" if self.units is Units.INCH else "3 mm"
        sharpest = f", the sharpest {_angle(min(points)[0])}" if len(points) > 1 else f" ({_angle(points[0][0])})"
        text = (
            f"{say_count(len(points), 'point')} sharper than {SHARP_DEG:g} degrees in {named}{sharpest}: "
            f"cut the fabric generously, shorten the stitch, and trim the allowances under the point to {trimmed}"
        )
        return Note("advice-sharp", text, len(points), None, tuple(self.block.points[p] for _, _, p in points))

    def narrow(self) -> Note | None:
        """Patches narrower than 1/4 in, or so narrow somewhere between their sides."""
        found = [(narrowest(self.block, patch, NARROW_IN), patch) for patch in self.order]
        places = [(spot, patch) for spot, patch in found if spot is not None]
        if not places:
            return None
        least = self._length(min(width for (width, _), _ in places))
        named = say_list([self.names[patch] for _, patch in places], most=NAMED)
        told = f"{named} is {least}" if len(places) == 1 else f"{named}, the narrowest {least}"
        text = (
            f"{say_count(len(places), 'patch')} narrower than {self._length(NARROW_IN)}, {told}: draw it wider, or "
            "lay a folded strip into the seam instead; else trim each allowance under it before the next patch"
        )
        return Note("advice-narrow", text, len(places), None, tuple(at for (_, at), _ in places))

    def crowded(self) -> Note | None:
        """Points at which more than eight patches meet."""
        points = [p for p, around in enumerate(self.seams.fans) if len(around) > CROWD]
        if not points:
            return None
        most = max(len(self.seams.fans[p]) for p in points)
        text = (
            f"{say_count(len(points), 'point')} where more than {CROWD} patches meet, at {self._places(points)}, "
            f"up to {most} at one: press the joins there open and trim their allowances in steps, or cover it"
        )
        return Note("advice-bulk", text, len(points), None, tuple(self.block.points[p] for p in points))

    def missing(self) -> Note | None:
        """Seams that end on both sides of another seam, near each other but not at one point.

        Between two such ends the seam is cut in one run that has several patches on both its sides; so it is a join
        in every plan.
        """
        places: list[tuple[float, Point]] = []
        for number, seam in enumerate(self.block.seams):
            met = [self.seams.arrivals(number, position) for position in range(1, len(seam.points) - 1)]
            for position, (one, two) in enumerate(pairwise(met), start=1):
                a, b = (self.block.points[p] for p in seam.points[position : position + 2])
                opposite = {one, two} == {(True, False), (False, True)}
                if opposite and math.dist(a, b) < MISS_IN - SLACK_IN:
                    places.append((math.dist(a, b), _middle(a, b)))
        if not places:
            return None
        places.sort(key=lambda place: (round(place[1][1], 6), place[1][0]))
        most = max(amount for amount, _ in places)
        what = "1 pair of seams misses" if len(places) == 1 else f"{len(places)} pairs of seams miss"
        text = (
            f"{what} each other by less than {self._length(MISS_IN)} across a join, at "
            f"{self._spots([at for _, at in places])}: it reads as a mistake; let them meet in one point, or move "
            "them well apart"
        )
        return Note("advice-miss", text, len(places), most, tuple(at for _, at in places))

    def large(self) -> Note | None:
        """Large plain patches: plain pieces, and patches of a foundation that could as well be joined to it."""
        places: list[tuple[float, Point, int]] = []
        for patch in self._off_the_paper():
            width, at = across(self.block, patch, LARGE_IN)
            if width > LARGE_IN + SLACK_IN:
                places.append((width, at, patch))
        if not places:
            return None
        what = "1 patch is" if len(places) == 1 else f"{len(places)} patches are"
        named = say_list([self.names[patch] for _, _, patch in places], most=NAMED)
        them = "it" if len(places) == 1 else "them"
        text = (
            f"{what} more than {self._length(LARGE_IN)} across and plain in shape: "
            f"{named}; cut {them} with ruler and cutter and "
            f"join {them} without paper"
        )
        most = max(width for width, _, _ in places)
        return Note("advice-large", text, len(places), most, tuple(at for _, at, _ in places))

    def shadow(self) -> Note | None:
        """Joins at which dark allowance would lie under a light patch if they were pressed the wrong way."""
        one_way: list[int] = []
        both_ways: list[int] = []
        places: list[Point] = []
        for number, edges in self._joins():
            dark_first = [first for first, second in edges if self._shows(first, second)]
            dark_second = [second for first, second in edges if self._shows(second, first)]
            if dark_first or dark_second:
                (both_ways if dark_first and dark_second else one_way).append(number)
                run = [self.block.points[p] for p in self.plan.joins[number - 1].seam]
                places.append(run[len(run) // 2] if len(run) > 2 else _middle(run[0], run[-1]))
        if not places:
            return None
        said = []
        if one_way:
            said.append(f"press {_joins(one_way)} to the dark side")
        if both_ways:
            said.append(f"press {_joins(both_ways)} open, for there is dark beside light on both sides")
        text = f"dark allowance would show through light patches: {'; '.join(said)}"
        return Note("advice-shadow", text, len(places), None, tuple(places))

    def vanished(self) -> Note | None:
        """Points that the eye loses because fabrics beside them read alike."""
        found = vanishing(self.block)
        if not found:
            return None
        tips = {patch for lost in found for patch in lost.patches}
        pairs = alike_pairs(found)
        said = [f"{one.name} beside {other.name}{_to_one(contrast(one, other))}" for one, other in pairs]
        places = tuple(dict.fromkeys(lost.at for lost in found))
        what = "1 point vanishes" if len(places) == 1 else f"{len(places)} points vanish"
        text = (
            f"{what}, in {say_list([self.names[p] for p in self.order if p in tips], most=NAMED)}, since fabrics "
            f"there read alike: {say_list(said, most=NAMED)}; choose a lighter or a darker one, or let them melt "
            "into each other on purpose"
        )
        return Note("advice-alike", text, len(places), None, places)

    # -- what is looked at -----------------------------------------------------------------------------------

    def _off_the_paper(self) -> Iterator[int]:
        """Patches that a ruler cuts easily and that no later patch is sewn to: their seam may as well be a join."""
        for section in self.plan.sections:
            if section.method == "ruler":
                continue
            after: set[int] = set()
            found = []
            for patch in reversed(section.patches):
                face = self.block.patches[patch]
                beside = {self.seams.across(patch, edge) for edge in face.edges}
                turned = corners(self.block, patch)
                plain = len(turned) <= 4 and all(angle < 180 for _, angle in turned) and not face.holes
                straight = not any(self.block.edges[e].via for e in face.edges)
                if plain and straight and not beside & after and not tips(self.block, patch):
                    found.append(patch)
                after.add(patch)
            yield from reversed(found)

    def _joins(self) -> Iterator[tuple[int, list[tuple[int, int]]]]:
        """Each join's number, and the (first part's patch, second part's patch) on both sides of its edges."""
        parts = {section.name: set(section.patches) for section in self.plan.sections}
        for number, join in enumerate(self.plan.joins, start=1):
            first, second = parts.pop(join.first), parts.pop(join.second)
            small = min(first, second, key=len)
            pairs = sorted(
                (patch, other)
                for patch in small
                for other in (self.seams.across(patch, e) for e in self.block.patches[patch].edges)
                if other != OUTSIDE and other not in small and (other in first or other in second)
            )
            yield number, [pair if small is first else pair[::-1] for pair in pairs]
            first |= second
            parts[join.makes] = first

    def _shows(self, under: int, over: int) -> bool:
        """Whether the allowance of one patch would be seen through another."""
        fabrics = {fabric.name: fabric for fabric in self.block.fabrics}
        dark, light = (fabrics.get(self.block.patches[patch].fabric or "") for patch in (under, over))
        return dark is not None and light is not None and is_dark(dark) and is_light(light)

    # -- words ---------------------------------------------------------------------------------------------------

    def _length(self, inches: float) -> str:
        return say_length(inches, self.units)

    def _places(self, points: Sequence[int]) -> str:
        return self._spots([self.block.points[p] for p in points])

    def _spots(self, spots: Sequence[Point]) -> str:
        return f"{say_list([say_point(spot, self.units) for spot in spots], most=NAMED)} {self.units.sign}"


def _to_one(contrast: float | None) -> str:
    """Rounded down: what stands under a bound is never said to stand on it."""
    return "" if contrast is None else f" (contrast {math.floor(contrast * 100 + 1e-9) / 100:.2f} to 1)"


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _joins(numbers: Sequence[int]) -> str:
    """ "join 3", "joins 1 to 3, 5 and 7": all of them, since each is to be pressed as told."""
    rows: list[list[int]] = []
    for number in numbers:
        if rows and rows[-1][-1] == number - 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    words = [
        f"{row[0]} to {row[-1]}" if len(row) > 2 else str(number) for row in rows for number in row[: _said(row)]
    ]
    return f"{'join' if len(numbers) == 1 else 'joins'} {say_list(words)}"


def _said(row: Sequence[int]) -> int:
    return 1 if len(row) > 2 else len(row)


def _angle(degrees: float) -> str:
    """Rounded down: what is sharper than 15 degrees is never said to have 15."""
    return f"{math.floor(degrees + ANGLE_SLACK_DEG)} degrees" if degrees >= 2 else "about 1 degree"
