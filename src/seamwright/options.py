"""Options: what a plan depends on, the same for all commands so that letters agree, and how it is printed."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import Enum
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # sizes of paper are read as lengths, and these name the units that stand here
    from seamwright.paper import Margins


class Units(Enum):
    """Which measures the print and the words use."""

    INCH = "inch"
    METRIC = "metric"

    @property
    def sign(self) -> str:
        """What stands behind a figure: "in" or "cm"."""
        return "in" if self is Units.INCH else "cm"


class Fit(Enum):
    """What sections must fit."""

    SHEET = "sheet"
    NONE = "none"


class Rotary(Enum):
    """What is left off the paper and cut with a ruler and a rotary cutter."""

    NEVER = "never"
    AUTO = "auto"


class Priority(Enum):
    """What makes one plan better than another."""

    FEWEST = "fewest"
    REPEATS = "repeats"


@dataclass(frozen=True, slots=True)
class Size:
    """A finished size asked for; None for the height means that it follows from the drawing's shape."""

    width_in: float
    height_in: float | None = None


DEFAULT_TOLERANCE_IN = 1 / 16
DEFAULT_ALLOWANCE_IN = 1 / 4
DEFAULT_ALLOWANCE_CM = 0.75


@dataclass(frozen=True, slots=True)
class PlanOptions:
    """What the plan of a block depends on besides the drawing.

    Attributes:
        size: finished size asked for; None: the drawing's own physical size.
        stretch: let `size` change the aspect of the drawing.
        tolerance_in: the largest gap, overshoot or wobble tidied away, inches in the finished block.
        allowance_in: seam allowance; None: the usual one of `units`.
        units: inch or metric words and measures.
        paper: name of the paper, see `seamwright.paper`.
        margins: what the printer cannot reach of the paper; None: that of home printers.
        fit: SHEET: every section fits the paper (Letter and A4 alike if that is the default one) where any plan
            allows it; NONE: sections may be larger than a sheet.
        max_patches: no section has more patches than this; None: as many as it likes.
        start: where sewing starts, as the user wrote it: names of patches laid on first, parted by commas; "".
        priority: FEWEST sections first, or REPEATS of one print first.
        fold_clear: only steps whose fold line is clear of all that is sewn before.
        set_in: sew what is stuck with set-in and partial seams.
        palette: path of the palette file that recolours the block, ""; what comes of it is part of the block.
        colourway: name of the set of fabrics, "" for that of the drawing.
        rotary: AUTO: what a ruler cuts quicker is left off the paper.
        reversed: the mirror image of the block: planned as drawn, then left and right change places.
        pre_pieced: pairs of patches sewn beforehand and laid on as one, as the user wrote it: "A2+A3,B1+B2"; "".
        steps: regions the search for fewest sections may look at before it stops with a bound.
        seconds: wall-clock limit of that search; None: none (the answer then never depends on the machine).
    """

    size: Size | None = None
    stretch: bool = False
    tolerance_in: float = DEFAULT_TOLERANCE_IN
    allowance_in: float | None = None
    units: Units = Units.INCH
    paper: str = "letter"
    margins: Margins | None = None
    fit: Fit = Fit.SHEET
    max_patches: int | None = None
    start: str = ""
    priority: Priority = Priority.FEWEST
    fold_clear: bool = False
    set_in: bool = False
    palette: str = ""
    colourway: str = ""
    rotary: Rotary = Rotary.NEVER
    pre_pieced: str = ""
    reversed: bool = False
    steps: int = 2_000_000
    seconds: float | None = None

    @property
    def seam_allowance_in(self) -> float:
        """The allowance that holds: the one asked for, or the usual one of the units."""
        if self.allowance_in is not None:
            return self.allowance_in
        return DEFAULT_ALLOWANCE_IN if self.units is Units.INCH else DEFAULT_ALLOWANCE_CM / 2.54

    def changed(self) -> dict[str, Any]:
        """The options that are not at their default, by name."""
        return _changed(self)


class Cloth(Enum):
    """What fabric is bought as."""

    BOLT = "bolt"
    FAT_QUARTERS = "fat-quarters"


@dataclass(frozen=True, slots=True)
class CutOptions:
    """How fabric is cut; nothing here changes the plan.

    Attributes:
        blocks: how many blocks are made.
        spare: what is bought beyond what is cut, as a share of it, for shrinkage and mistakes.
        cloth: BOLT: strips across the width; FAT_QUARTERS: the quarters of a yard or of 50 cm that shops sell.
        stack: pieces are listed section by section, to be stacked and labelled, not fabric by fabric.
    """

    blocks: int = 1
    spare: float = 0.10
    cloth: Cloth = Cloth.BOLT
    stack: bool = False

    def changed(self) -> dict[str, Any]:
        """The options that are not at their default, by name."""
        return _changed(self)


@dataclass(frozen=True, slots=True)
class BookOptions:
    """How a booklet is made; nothing here changes plan, print or cutting.

    Attributes:
        students: a kit list for a class of so many; 1: none.
        level: for whom it is, in the user's words; "": worked out from the plan.
        hours: how long one block takes; None: worked out from the plan.
        large_type: all words a third larger.
        left_handed: pictures for the left hand.
    """

    students: int = 1
    level: str = ""
    hours: float | None = None
    large_type: bool = False
    left_handed: bool = False

    def changed(self) -> dict[str, Any]:
        """The options that are not at their default, by name."""
        return _changed(self)


class Sets(Enum):
    """How several copies lie on sheets."""

    PACKED = "packed"
    APART = "apart"


class Stock(Enum):
    """What is printed on: the words at the needle differ, and how often a print serves; its lines do not."""

    PAPER = "paper"
    FREEZER = "freezer"


DEFAULT_EFFORT = 250


@dataclass(frozen=True, slots=True)
class PrintOptions:
    """How the foundations of a plan are printed; nothing here changes the plan.

    Attributes:
        copies: of every foundation; of a template only where sets are APART.
        sets: PACKED: copies share sheets wherever that saves one; APART: every copy has the same complete sheets
            with a line for a name, and no sheet holds parts of two.
        upright: prints keep the direction of the block: no rotation to save paper.
        effort: how often each print is tried on a sheet while looking for a way that needs fewer of them.
        landscape: sheets lie on their long side.
        stock: PAPER, or FREEZER paper: words about ironing on, folding and using a print again, and fewer prints of
            what comes often, since one serves several times.
        unmirrored: front views of all sections, to cut by, to look at or to choose a motif with; not to sew on.
        windows: front views of the patches as frames to lay on fabric, in place of the foundations.
        tints: patches tinted by the value of their fabric, at most 15 % grey.
        ink_saver: thin lines, no tints, no bold words.
        trial_page: a first page with the check squares and long lines only, to be printed alone and measured.
        enlarge: how many times true size, for the wall of a classroom; then not to be sewn on.
        footer: the designer's own words on every sheet: name, copying permission, edition, date.
    """

    copies: int = 1
    sets: Sets = Sets.PACKED
    upright: bool = False
    effort: int = DEFAULT_EFFORT
    landscape: bool = False
    stock: Stock = Stock.PAPER
    unmirrored: bool = False
    windows: bool = False
    tints: bool = False
    ink_saver: bool = False
    trial_page: bool = False
    enlarge: float = 1.0
    footer: str = ""

    def changed(self) -> dict[str, Any]:
        """The options that are not at their default, by name."""
        return _changed(self)


AnyOptions = PlanOptions | PrintOptions | CutOptions | BookOptions
"""A set of options of any kind."""


def _changed(options: AnyOptions) -> dict[str, Any]:
    return {f.name: getattr(options, f.name) for f in fields(options) if getattr(options, f.name) != f.default}
