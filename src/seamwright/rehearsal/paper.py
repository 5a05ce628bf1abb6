"""What a foundation's lines say, found from the patches alone: where to stitch, and what each fabric must cover.

Knows:  the line of every step, the trim line, each patch's place on the paper.
Leaves: cloth (sew), hands (hands).
Units:  inches, front view.
Method: the line of a step is the border of its patch with all patches before it. The trim line is the one that is
        printed, or else the outline grown by the allowance; read from the last step back, each line parts it into
        the places that the fabrics have to cover. So at a sharp tip, where a line runs through the allowance at a
        slant, a place reaches as far as the allowance does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NoReturn

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.errors import Fault, ProofError
from seamwright.geometry import Point, signed_area
from seamwright.rehearsal.line import ON_LINE_IN, Coords, StitchLine, borders, straight
from seamwright.rehearsal.model import PatchToSew, SectionToSew
from seamwright.rehearsal.overlay import common, less, together

TIP_LIMIT = 2.7
"""A mitre of the trim line longer than this many allowances is cut off: a 45 degree tip (2.61) stays whole."""
JUST_BEYOND_IN = 1e-3
"""How far ahead of a seam's end it is looked whether sewing may go on."""


def refuse(name: str, what: str, at_in: Point | None = None) -> NoReturn:
    """Raises a rehearsal's ProofError of that name."""
    mend = "Nothing is printed from it; please report this drawing"
    raise ProofError("rehearsal", (Fault(name, f"the plan failed its rehearsal ({name}): {what}", mend, at_in),))


@dataclass(frozen=True, slots=True)
class Seam:
    """The line of one step.

    Attributes:
        sewn: all patches before this one, as one area.
        free_start, free_end: sewing may go on beyond that end, into the allowance.
        clear: what is sewn before lies on one side of the line.
        crosses: the new patch reaches over the line or runs on along it, beyond its start, beyond its end.
    """

    line: StitchLine
    sewn: BaseGeometry
    free_start: bool
    free_end: bool
    clear: bool
    crosses: tuple[bool, bool]


@dataclass(frozen=True, slots=True)
class Paper:
    """A foundation.

    Attributes:
        patches: inside of each patch, in sewing order; seams: one for each patch but the first.
        trim: inside of the trim line.
        places: for each patch the part of that which its fabric must cover.
        keeps: for each seam where no blade may come, what is sewn there with its allowance; None where nothing
            sewn before lies on the new patch's side of the line.
        far: further than anything on the table.
    """

    patches: tuple[Polygon, ...]
    seams: tuple[Seam, ...]
    trim: BaseGeometry
    places: tuple[BaseGeometry, ...]
    keeps: tuple[BaseGeometry | None, ...]
    far: float


def read_paper(section: SectionToSew, allowance: float) -> Paper:
    """The lines of a section's foundation.

    Raises:
        ProofError: "not one line".
    """
    patches = [_area(section, patch) for patch in section.patches]
    seams: list[Seam] = []
    sewn: BaseGeometry = patches[0]
    for patch, area in zip(section.patches[1:], patches[1:], strict=True):
        around = together((sewn, area))
        seams.append(_seam(patch.name, shapely.get_coordinates(area)[:-1], sewn, around))
        sewn = around
    trim = Polygon(section.trim) if section.trim else grown(Polygon(section.outline), allowance)
    left, top, right, bottom = trim.bounds
    far = 4 * (right - left + bottom - top)
    places, keeps = _places(trim, patches, seams, allowance, far)
    return Paper(tuple(patches), tuple(seams), trim, places, keeps, far)


def grown(area: BaseGeometry, allowance: float) -> BaseGeometry:
    """An area with its allowance, corners mitred."""
    return area.buffer(allowance, join_style="mitre", mitre_limit=TIP_LIMIT)


def _area(section: SectionToSew, patch: PatchToSew) -> Polygon:
    ring = patch.ring if signed_area(patch.ring) > 0 else patch.ring[::-1]
    area = Polygon(ring)
    if not area.is_valid:
        refuse("not one line", f"the border of {patch.name} in section {section.name} crosses itself", ring[0])
    return area


def _seam(name: str, ring: Coords, sewn: BaseGeometry, around: BaseGeometry) -> Seam:
    runs = borders(ring, sewn)
    if not runs:
        refuse("not one line", f"{name} does not border on anything sewn before it", _point(ring[0]))
    if len(runs) > 1:
        refuse("not one line", f"{name} borders on what is sewn in {len(runs)} places", _point(runs[1][0]))
    run = runs[0]
    if not straight(run):
        what = f"{name} borders on what is sewn along more than one line"
        refuse("not one line", what, _point(run[len(run) // 2]))
    line = StitchLine(_point(run[0]), _point(run[-1]))
    mine, before = line.measured(ring), line.measured(shapely.get_coordinates(sewn))
    over = mine[mine[:, 1] <= ON_LINE_IN, 0]
    beyond = [shapely.Point(line.place(u, 0)) for u in (-JUST_BEYOND_IN, line.length + JUST_BEYOND_IN)]
    goes_on = shapely.dwithin(beyond, around, ON_LINE_IN)
    return Seam(
        line,
        sewn,
        free_start=not goes_on[0],
        free_end=not goes_on[1],
        clear=bool(before[:, 1].max() <= ON_LINE_IN),
        crosses=(bool(np.any(over < -ON_LINE_IN)), bool(np.any(over > line.length + ON_LINE_IN))),
    )


def _places(
    trim: BaseGeometry, patches: Sequence[Polygon], seams: Sequence[Seam], allowance: float, far: float
) -> tuple[tuple[BaseGeometry, ...], tuple[BaseGeometry | None, ...]]:
    """Places and keeps of a `Paper`."""
    places: list[BaseGeometry] = []
    keeps: list[BaseGeometry | None] = []
    left = trim
    for seam, patch in zip(reversed(seams), patches[:0:-1], strict=True):
        place: BaseGeometry
        if seam.clear and not any(seam.crosses):
            beyond = common(left, seam.line.rectangle(-far, far, 0.0, far))
            parts = [part for part in shapely.get_parts(beyond) if isinstance(part, Polygon)]
            mine = parts if len(parts) == 1 else [p for p in parts if common(p, patch).area > 0]
            place = MultiPolygon(mine)
            left = less(left, place)
            keeps.append(left if len(mine) < len(parts) else None)
        else:
            # Round an inside corner no one line parts the paper. Of what lies beyond the line or too far from all
            # that was sewn before, this patch has what is nearer to it than to the arms it does not touch.
            before = grown(seam.sewn, allowance)
            if any(seam.crosses):
                rest, arms = less(left, before), seam.sewn
            else:
                beyond = seam.line.rectangle(-far, far, 0.0, far)
                arms = common(seam.sewn, beyond)
                rest = less(common(left, beyond), grown(arms, allowance))
            parts = [part for part in shapely.get_parts(rest) if isinstance(part, Polygon)]
            mine = [part for part in parts if arms.is_empty or part.distance(patch) <= part.distance(arms)]
            place = together((common(patch.buffer(allowance), left), *mine))
            left = less(left, together(mine)) if mine else left
            keeps.append(common(left, before))
        places.append(place)
    return (left, *reversed(places)), tuple(reversed(keeps))


def _point(at: Coords) -> Point:
    return (float(at[0]), float(at[1]))
