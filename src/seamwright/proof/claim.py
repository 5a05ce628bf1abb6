"""What a plan claims, in bare coordinates: all that the independent checker is told.

Knows:  the drawn lines, the outline, what is laid on in which order along which line, what is joined.
Leaves: how the claim came about. No point, seam or patch has a number here, so nothing that the
        planner believes about them can leak into the proof.
Units:  inches, front view, x right and y down.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.geometry import Point, Ring

Polyline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class ClaimedStep:
    """One patch laid on.

    Attributes:
        ring: round the patch, clockwise.
        holes: round what floats inside it.
        stitch: along its stitch line from end to end; () for the first patch of a section.
    """

    ring: Ring
    holes: tuple[Ring, ...] = ()
    stitch: Polyline = ()


@dataclass(frozen=True, slots=True)
class ClaimedSection:
    """Patches in sewing order, the ring round all of them, clockwise; `by_ruler`: cut and sewn without paper."""

    name: str
    steps: tuple[ClaimedStep, ...]
    ring: Ring
    by_ruler: bool = False


@dataclass(frozen=True, slots=True)
class ClaimedJoin:
    """Two finished parts sewn together along `seam`.

    Attributes:
        kind: "straight", "curved", "set-in" or "partial".
        turns: points of the seam where it turns a corner or is begun anew; () for the other kinds.
    """

    first: str
    second: str
    makes: str
    seam: Polyline
    kind: str = "straight"
    turns: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Claim:
    """A whole plan.

    Attributes:
        lines: the tidied seams, each from end to end; curves as polylines.
        outline: round the block, clockwise.
        sections: in any order; joins: in sewing order.
        metric: rulers have marks of a millimetre, not of an eighth of an inch.
    """

    lines: tuple[Polyline, ...]
    outline: Ring
    sections: tuple[ClaimedSection, ...]
    joins: tuple[ClaimedJoin, ...]
    metric: bool = False
