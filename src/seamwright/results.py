"""What became of a drawing and of a print: facts that calls hand back and reports put into words.

Knows:  nothing but the values it holds.
Leaves: how they come about (api), how they are said (report, words).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamwright.errors import SeamwrightError
from seamwright.options import BookOptions, PrintOptions
from seamwright.piecing.model import Mend, Plan

if TYPE_CHECKING:  # only printing and rehearsing need these; check starts faster without
    from seamwright.cutting.model import Cutting
    from seamwright.ink.page import Page
    from seamwright.rehearsal.model import Rehearsed
    from seamwright.sheet.model import ForQuilt, Sheet
    from seamwright.sheet.readback import Measured


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one drawing: a proven plan (which may say that it cannot be sewn), or an error.

    Attributes:
        mends: small changes of the drawing that free what is stuck, if they were asked for.
    """

    drawing: str
    plan: Plan | None = None
    error: SeamwrightError | None = None
    mends: tuple[Mend, ...] = ()

    @property
    def stopped(self) -> bool:
        """Whether Ctrl-C ended the search for the plan, which is the best found until then."""
        return self.plan is not None and self.plan.fewest is not None and self.plan.fewest.ended == "stopped"

    @property
    def exit_code(self) -> int:
        """0 can be sewn as asked; 1 cannot; 2 or 3: the error's.

        Asked is for straight full seams, and with the option set_in for set-in and partial ones as well.
        """
        if self.error is not None:
            return self.error.exit_code
        if self.plan is None:
            return 1
        return 0 if self.plan.pieceable or (self.plan.options.set_in and self.plan.sewable == "set-in") else 1


@dataclass(frozen=True, slots=True)
class Printed:
    """What was written: facts for a report."""

    file: str
    paper: str
    printing: PrintOptions
    plans: tuple[Plan, ...]
    sheets: tuple[Sheet, ...]
    measured: Measured
    quilt: ForQuilt | None = None


@dataclass(frozen=True, slots=True)
class Booked:
    """A booklet that was written.

    Attributes:
        printed: the sheets behind its pages, and what was measured in the whole file.
        book: what was asked of it.
        pages: before the sheets.
        cuttings: for one student, a plan each.
    """

    printed: Printed
    book: BookOptions
    pages: tuple[Page, ...]
    cuttings: tuple[Cutting, ...]


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """A rehearsal and its pictures.

    Attributes:
        folder: where they are; files: their names in sewing order.
        older: names of pictures of earlier rehearsals of the same drawing that are still in the folder.
    """

    rehearsed: Rehearsed
    folder: str
    files: tuple[str, ...]
    older: tuple[str, ...] = ()
