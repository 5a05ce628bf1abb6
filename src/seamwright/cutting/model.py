"""A cutting list: pieces by fabric, strips and subcuts, what is bought, what is cut without paper.

Knows:  the values only.
Leaves: how large a piece is (pieces), how strips are filled (strips), what is bought (amounts), units without paper
        (units), all of it together (make).
Units:  inches; amounts bought in inches of length along the selvedge too.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Piece, Shape
from seamwright.notes import Note
from seamwright.options import Cloth, CutOptions
from seamwright.piecing.model import Plan


@dataclass(frozen=True, slots=True)
class Row:
    """Equal pieces of one fabric, one line of a table.

    Attributes:
        patches: names of the patches of one block (or of the pieces of a quilt) that it serves, in sewing order.
        shape, width_in, height_in, share, hand: as in Piece, sizes rounded up to what a ruler shows.
        count: pieces for all blocks; cuts: rectangles or squares cut for them.
        one_way: may not be given a quarter turn: height runs along the selvedge.
    """

    patches: tuple[str, ...]
    shape: Shape
    width_in: float
    height_in: float
    share: int
    count: int
    cuts: int
    hand: str = ""
    one_way: bool = False


@dataclass(frozen=True, slots=True)
class Subcut:
    """Rectangles cut from strips of one width.

    Attributes:
        length_in: along the strip; height_in: across it (less than the strip's width where it is cut down).
        count: over all strips of this line.
        patches: whose pieces they are.
        shape, share, hand: what becomes of the rectangle.
    """

    length_in: float
    height_in: float
    count: int
    patches: tuple[str, ...]
    shape: Shape = Shape.RECTANGLE
    share: int = 1
    hand: str = ""


@dataclass(frozen=True, slots=True)
class Strip:
    """Equal strips: all are cut alike.

    Attributes:
        width_in, length_in: of each. A strip goes right across the fabric; one of a `rest` along what is left of
            the strip that it is cut from.
        count: how many.
        subcuts: of all of them together, each strip has its even share; the longest first. Equal strips of one
            kind of subcut alone are filled one after the other: only the last may hold fewer.
        left_in: length left over at the end of the last, behind the subcuts.
        rest: what is left behind the subcuts is cut along, as long as it is, into these; of all strips together.
    """

    width_in: float
    length_in: float
    count: int
    subcuts: tuple[Subcut, ...]
    left_in: float = 0.0
    rest: tuple[Strip, ...] = ()


@dataclass(frozen=True, slots=True)
class Quarter:
    """Equal fat quarters: all are cut alike.

    Attributes:
        count: how many. strips: (number of the line of strips, from 0; how many of them come from each).
        left_in: what is left of each beyond its strips.
    """

    count: int
    strips: tuple[tuple[int, int], ...]
    left_in: float


@dataclass(frozen=True, slots=True)
class FabricCut:
    """Everything of one fabric.

    Attributes:
        fabric: what is known of it; None: patches of which none was said.
        width_in: usable width that was counted with, so the length of a strip.
        rows: its pieces, the largest first.
        strips: in cutting order, the widest first.
        length_in: what the strips take along the selvedge, and the straightening cut; of fat quarters all together.
        bought_in: what to buy from the bolt, spare included, up to the next 1/8 yd or 10 cm.
        fat_quarters: how many do in its place, spare included; None: a piece is too large for one.
        instead: the same pieces cut from fat quarters, of what is cut from the bolt; None: a piece is too large.
        quarters: which strips come from which fat quarter; () where strips go across the width.
        left_over: rectangles (width, length) of a useful size that stay of what is bought, the largest first.
        too_large: rows that this width is too narrow for; no strip holds them and no amount counts them.
    """

    fabric: Fabric | None
    width_in: float
    rows: tuple[Row, ...]
    strips: tuple[Strip, ...]
    length_in: float
    bought_in: float
    fat_quarters: int | None = None
    quarters: tuple[Quarter, ...] = ()
    left_over: tuple[tuple[float, float], ...] = ()
    too_large: tuple[Row, ...] = ()
    instead: FabricCut | None = None

    @property
    def cloth(self) -> Cloth:
        """What its strips are cut from."""
        return Cloth.FAT_QUARTERS if self.quarters else Cloth.BOLT


@dataclass(frozen=True, slots=True)
class UnitCut:
    """One line of the rotary cutting of a unit.

    Attributes:
        shape: what the rectangles become; width_in, height_in: of the rectangle or square cut.
        count: rectangles or squares for all blocks; share: how many patches come from each.
        fabric: its name or None. patches: of one block.
    """

    shape: Shape
    width_in: float
    height_in: float
    count: int
    share: int
    fabric: str | None
    patches: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unit:
    """Patches that are quicker cut and pieced without paper.

    Attributes:
        kind: "rectangle", "grid", "half-square unit", "quarter-square unit", "flying geese".
        sections: names of the sections it consists of; () where only part of a section is such a unit.
        patches: their names in sewing order.
        width_in, height_in: finished; unfinished_width_in, unfinished_height_in: what to measure once it is sewn.
        count: for all blocks.
        cuts: what to cut.
        ways: quicker ways to make many of them (two, four or eight at a time), as sentences with their sizes.
        on_paper: it is sewn on paper in this plan (`--rotary never`): only advice.
    """

    kind: str
    sections: tuple[str, ...]
    patches: tuple[str, ...]
    width_in: float
    height_in: float
    unfinished_width_in: float
    unfinished_height_in: float
    count: int
    cuts: tuple[UnitCut, ...]
    ways: tuple[str, ...] = ()
    on_paper: bool = False


@dataclass(frozen=True, slots=True)
class Cutting:
    """A cutting list of one plan.

    Attributes:
        plan: what is sewn; options: for how many blocks and how.
        pieces: one for each patch of one block, in sewing order.
        fabrics: by order of appearance.
        units: what is quicker without paper.
        notes: what the sewer should know.
    """

    plan: Plan
    options: CutOptions
    pieces: tuple[Piece, ...]
    fabrics: tuple[FabricCut, ...]
    units: tuple[Unit, ...] = ()
    notes: tuple[Note, ...] = ()
