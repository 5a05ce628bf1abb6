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
from seamwright.geometry import Point, Ring, bounds


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
        grain_deg=math.degrees(math.atan2(frame.ahead[1], frame.ahead[0])) % 180 if lay is Lay.PLAIN else None,
        parts=cut,
    )


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
