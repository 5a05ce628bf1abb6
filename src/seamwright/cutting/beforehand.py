"""Fabric for a patch that is pieced beforehand: what is cut for its parts, and how large they are sewn together.

Knows:  rectangles for the parts whose seams come to lie at their places, the rectangle that they make.
Leaves: what has to be covered (needs, fits), which patches can be pieced so (block.prepieced), the proof
        (rehearsal).
Units:  inches, front view.
Method: the smallest rectangle along the first seam that covers what the patch needs is parted by the seams. A part
        reaches one allowance beyond each of its seams; what rounding adds lies at its outer sides. So all of it is
        laid by an outline, and then the seams lie on their lines.
Limits: seams run along the first one or square to it (block.prepieced refuses others).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from seamwright.block.model import Block, Part
from seamwright.block.prepieced import Limits, limits_of
from seamwright.cutting.fits import Frame, along_line, up
from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.fabric.rulers import off_grain
from seamwright.fabric.shade import lightness
from seamwright.foundation.border import edge_grain_deg
from seamwright.geometry import Point, Ring, Segment, bounds
from seamwright.notes import Note
from seamwright.piecing.model import Plan
from seamwright.units import say_length, say_list, say_size

OFF_GRAIN_DEG = 1.0
"""Fabric lies along a thread if it is off by less: 1 in 57."""


def made_up(
    block: Block,
    patch: int,
    name: str,
    cover: Callable[[Frame], Sequence[Point]],
    allowance_in: float,
    step_in: float,
    *,
    fold: Frame | None = None,
    lay: Lay = Lay.ANGLED,
) -> Piece:
    """The piece of a patch that is pieced beforehand, as it is laid on, with its parts as they are cut.

    Args:
        name: of the patch; its parts are called A3a, A3b and so on.
        cover: corners of what has to be covered, seen in a frame.
        step_in: sizes are rounded up to it.
        fold: along the stitch line over which it is flipped; None: it lies right side up.
    """
    made = next(one for one in block.pre_pieced if one.patch == patch)
    frame, limits = along_line(made.seams[0]), limits_of(made)
    outer = _on_marks(bounds(cover(frame)), limits, allowance_in, step_in)
    cut = tuple(
        _part(part, f"{name}{chr(ord('a') + k)}", patch, frame, between, outer, allowance_in, step_in)
        for k, (part, between) in enumerate(zip(made.parts, limits, strict=True))
    )
    ring = _ring(frame, outer)
    laid = ring if fold is None else fold.placed([(u, -v) for u, v in fold.seen(ring)])
    return Piece(
        patch,
        name,
        block.patches[patch].fabric,
        Shape.TEMPLATE if lay is Lay.PLAIN else Shape.RECTANGLE,
        outer[2] - outer[0],
        outer[3] - outer[1],
        share=1,
        outline=ring,
        laid=() if lay is Lay.PLAIN else laid,
        lay=lay,
        grain_deg=math.degrees(math.atan2(frame.ahead[1], frame.ahead[0])) % 180,
        parts=cut,
    )


def sewn_notes(plan: Plan, pieces: Sequence[Piece]) -> tuple[Note, ...]:
    """What is sewn before anything is laid on, for each piece of several parts; equal ones with the first."""
    places: dict[tuple[object, ...], list[Piece]] = {}
    for piece in pieces:
        if piece.parts:
            size = tuple((part.fabric, round(part.width_in, 4), round(part.height_in, 4)) for part in piece.parts)
            places.setdefault((len(piece.parts), *size), []).append(piece)
    notes = []
    for same in places.values():
        first = same[0]
        said = sewn_words(plan, first)
        edge = edge_grain_deg(plan.block, first.patch)
        if edge is not None and off_grain(*plan.block.seams_in(first.patch)[0], edge) > OFF_GRAIN_DEG:
            said += ". Its edge of the block is then on the bias: do not pull it"
        others = f"; likewise for {say_list([piece.name for piece in same[1:]], most=6)}" if same[1:] else ""
        notes.append(Note("pre-pieced", f"for {first.name} {said}{others}", len(same)))
    return tuple(notes)


def sewn_words(plan: Plan, piece: Piece) -> str:
    """How the parts of such a piece of a plan are sewn together, and what to measure then."""
    units, seams, parts = plan.options.units, plan.block.seams_in(piece.patch), piece.parts
    allowance = say_length(plan.options.seam_allowance_in, units)

    def called(part: Piece) -> str:
        size = say_size(part.width_in, part.height_in, units)
        return f"{part.name} ({part.fabric}, {size})" if part.fabric else f"{part.name} ({size})"

    def side(part: Piece, seam: Segment) -> str:
        along = part.width_in if _is_along(seams[0], seam) else part.height_in
        return say_length(along, units)

    told = f"sew {called(parts[0])} and {called(parts[1])} together along their {side(parts[1], seams[0])} sides"
    told += "".join(
        f", then {called(part)} along its {side(part, seam)} side"
        for part, seam in zip(parts[2:], seams[1:], strict=True)
    )
    many, size = "s" * (len(parts) > 2), say_size(piece.width_in, piece.height_in, units)
    told += f", {allowance} from the edge, and press{_darker(plan.block, parts)}; it measures {size}"
    return f"{told}. Its seam{many} must come to lie on the broken line{many}"


def _darker(block: Block, parts: Sequence[Piece]) -> str:
    """To which side the seam of two parts is pressed, where it is known (common practice: to the darker fabric)."""
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    known = [fabrics[part.fabric] for part in parts if part.fabric in fabrics]
    light = [lightness(fabric) for fabric in known]
    if len(known) != 2 or None in light or light[0] == light[1]:
        return ""
    return f" towards {min(known, key=lambda fabric: lightness(fabric) or 0.0).name}, the darker one"


def _is_along(one: Segment, two: Segment) -> bool:
    """Whether two lines run side by side, not square to each other."""
    (ux, uy), (vx, vy) = ((b[0] - a[0], b[1] - a[1]) for a, b in (one, two))
    return abs(ux * vy - uy * vx) < abs(ux * vx + uy * vy)


def _on_marks(
    box: Sequence[float], limits: Sequence[Limits], allowance_in: float, step_in: float
) -> tuple[float, float, float, float]:
    """The outer sides, moved out so that the parts beside them are cut to marks."""
    sides = list(box)
    for axis in (0, 1):
        across = [at for limit in limits for at in limit[axis::2] if at is not None]
        low, high = sides[axis], sides[axis + 2]
        if across:
            sides[axis] = min(across) + allowance_in - up(min(across) + allowance_in - low, step_in)
            sides[axis + 2] = max(across) - allowance_in + up(high - max(across) + allowance_in, step_in)
        else:
            more = (up(high - low, step_in) - (high - low)) / 2
            sides[axis], sides[axis + 2] = low - more, high + more
    return (sides[0], sides[1], sides[2], sides[3])


def _part(
    part: Part,
    name: str,
    patch: int,
    frame: Frame,
    between: Limits,
    outer: Sequence[float],
    allowance_in: float,
    step_in: float,
) -> Piece:
    """One part as it is cut."""
    sides, size = list(outer), []
    for axis in (0, 1):
        low, high = between[axis], between[axis + 2]
        sides[axis] = outer[axis] if low is None else low - allowance_in
        sides[axis + 2] = outer[axis + 2] if high is None else high + allowance_in
        length = sides[axis + 2] - sides[axis]
        if low is None or high is None:
            # An outer side may reach further; between two seams a part is cut exactly.
            more = up(length, step_in) - length
            length += more
            sides[axis if low is None else axis + 2] += -more if low is None else more
        size.append(length)
    return Piece(
        patch, name, part.fabric, Shape.RECTANGLE, size[0], size[1], 1, _ring(frame, sides), lay=Lay.PLAIN
    )  # fmt: skip


def _ring(frame: Frame, sides: Sequence[float]) -> Ring:
    u0, v0, u1, v1 = sides
    return frame.placed(((u0, v0), (u1, v0), (u1, v1), (u0, v1)))
