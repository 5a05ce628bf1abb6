"""The cutting of a whole quilt: pieces of all blocks and all plain pieces by fabric, binding, backing, batting.

Knows:  the values only.
Leaves: sizes of plain pieces (plaincuts), strips joined end to end (longstrips), binding, backing and batting
        (extras), all of it together (cutting).
Units:  inches.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from seamwright.cutting.model import FabricCut, Unit
from seamwright.fabric.pieces import Piece
from seamwright.notes import Note
from seamwright.options import CutOptions, Units
from seamwright.piecing.model import Plan
from seamwright.quilt.model import Quilt


@dataclass(frozen=True, slots=True)
class Counted:
    """A piece of fabric, and how many of it the whole quilt needs.

    Attributes:
        piece: as it is cut; its name differs from those of all others of its fabric.
        count: how many.
        look: number of the look whose patch it is; None: it is no patch of a block.
        patch: name of the patch in the plan of its look, "" for none.
        cloths: numbers of the plain pieces of the quilt that it becomes.
        along: it is longer than the fabric is wide and cut along the selvedge, in one piece.
    """

    piece: Piece
    count: int
    look: int | None = None
    patch: str = ""
    cloths: tuple[int, ...] = ()
    along: bool = False


class Joint(Enum):
    """How two strips are sewn end to end."""

    DIAGONAL = "diagonal"
    """Ends laid on each other at a right angle and sewn corner to corner: it takes a strip's width of length."""
    STRAIGHT = "straight"
    """It takes two seam allowances of length, and a print that runs one way can be made to meet."""


@dataclass(frozen=True, slots=True)
class Joined:
    """Strips across the width, sewn end to end into one, and then cut to lengths.

    Attributes:
        name: what the cutting list calls the strips. fabric: of them, None: not said.
        width_in: as cut. strip_in: length of one. strips: how many.
        joint: how they meet. lost_in: length that each joint takes.
        lengths: what is cut from it, the longest first.
    """

    name: str
    fabric: str | None
    width_in: float
    strip_in: float
    strips: int
    joint: Joint
    lost_in: float
    lengths: tuple[Counted, ...]

    @property
    def joints(self) -> int:
        """How many seams join all strips."""
        return self.strips - 1

    @property
    def length_in(self) -> float:
        """Length of all strips once they are joined."""
        return self.strips * self.strip_in - self.joints * self.lost_in

    @property
    def needed_in(self) -> float:
        """Length of all that is cut from them."""
        return sum(each.piece.width_in * each.count for each in self.lengths)


@dataclass(frozen=True, slots=True)
class BindingCut:
    """Strips of the binding, joined by diagonal seams.

    Attributes:
        fabric: its name, "" for none said. width_in: as cut, folded double. strip_in: length of one strip.
        strips: how many. needed_in: perimeter, and what its corners and ends take.
        length_in: of all strips once they are joined. bought_in: what the strips alone would be bought as.
        alone: no other piece is of its fabric.
    """

    fabric: str
    width_in: float
    strip_in: float
    strips: int
    needed_in: float
    length_in: float
    bought_in: float
    alone: bool = True

    @property
    def joints(self) -> int:
        """How many seams join all strips."""
        return self.strips - 1


@dataclass(frozen=True, slots=True)
class BackingCut:
    """The back: panels side by side, or one above the other.

    Attributes:
        fabric: its name, "" for none said. usable_in: its width without selvedges.
        width_in, height_in: what it has to measure. over_in: beyond the top on each side.
        panels: how many. panel_in: length of each along the selvedge.
        upright: panels run from top to bottom, their seams too; else from side to side.
        seam_in: allowance of a seam between panels.
        length_in: of fabric, straightening included. bought_in: rounded up to what is sold.
    """

    fabric: str
    usable_in: float
    width_in: float
    height_in: float
    over_in: float
    panels: int
    panel_in: float
    upright: bool
    seam_in: float
    length_in: float
    bought_in: float


@dataclass(frozen=True, slots=True)
class BattingCut:
    """Batting in one piece; over_in: beyond the top on each side."""

    width_in: float
    height_in: float
    over_in: float


@dataclass(frozen=True, slots=True)
class QuiltCutting:
    """What to cut for a whole quilt, and what to buy.

    Attributes:
        quilt: what is made. plans: of its looks, in their order. options: `blocks` are those of the quilt.
        units, allowance_in: of all of it.
        pieces: all that is cut for the top, each as often as the quilt needs it; by fabric they are the rows of
            `fabrics`, but those that are cut from joined strips, which are rows there themselves.
        fabrics: of the top and the binding, strips shared; in order of appearance.
        joined: strips that are sewn end to end.
        made: what is quicker without paper, of all blocks together.
        binding, backing, batting: None: not asked for.
        notes: what the sewer should know.
    """

    quilt: Quilt
    plans: tuple[Plan, ...]
    options: CutOptions
    units: Units
    allowance_in: float
    pieces: tuple[Counted, ...]
    fabrics: tuple[FabricCut, ...]
    joined: tuple[Joined, ...] = ()
    made: tuple[Unit, ...] = ()
    binding: BindingCut | None = None
    backing: BackingCut | None = None
    batting: BattingCut | None = None
    notes: tuple[Note, ...] = ()

    @property
    def all_notes(self) -> tuple[Note, ...]:
        """What is to be known while cutting: of setting triangles, of borders and of the fabrics."""
        quilt = self.quilt
        built = [Note("construction", quilt.construction)] if quilt.construction else []
        borders = [note for note in quilt.notes if note.code in ("border", "measure", "eased")]
        return (*built, *borders, *self.notes)
