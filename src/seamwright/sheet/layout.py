"""From foundations to sheets: as few as can be, furniture and all.

Knows:  how many prints of what, what each sheet says about itself, how a sheet's ink is put together.
Leaves: which prints share a sheet (pack), tiles (tiling), what furniture looks like (furniture, key).
Units:  points on the sheet from its top left corner; foundations come in inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from seamwright.foundation.model import Foundation
from seamwright.geometry import Affine, Ring, bounds, moved
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Ink, Words, move_ink
from seamwright.options import PlanOptions, Units
from seamwright.piecing.model import Plan
from seamwright.sheet.furnish import Frame, Wanted
from seamwright.sheet.furniture import (
    APART,
    BEFORE_SEWING,
    CAUTIONS,
    FOOT_PT,
    Item,
    foot,
    legend,
    squares_over,
)
from seamwright.sheet.key import Key
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.pack import Filled, pack
from seamwright.sheet.paper import PT_PER_IN, Paper
from seamwright.sheet.paper import paper as paper_named
from seamwright.units import say_length

Job = tuple[Plan, tuple[Foundation, ...]]
KEY_SIDES_PT = (99.0, 72.0, 54.0)
LEGEND_WIDTHS_PT = (216.0, 144.0, 99.0)
FOOT_SHARES = (1.0, 0.66, 0.45, 0.3)
STAND_IN = "00 of 00"
"""Which sheet of how many is known only when all are filled."""


@dataclass(frozen=True, slots=True)
class _Print:
    """One foundation to be printed once."""

    job: int
    foundation: Foundation
    copy: int

    def ring(self) -> Ring:
        return tuple((x * PT_PER_IN, y * PT_PER_IN) for x, y in self.foundation.trim_outline)


def lay_out(
    jobs: Sequence[Job], *, paper: str | Paper = "letter", copies: int = 1, units: Units | None = None
) -> tuple[Sheet, ...]:
    """Sheets that hold every foundation of every job `copies` times.

    Args:
        jobs: plans with their foundations; several blocks share sheets.
        paper: its name, or a paper of one's own.
        units: for the words on the sheet; None: those of the first plan.

    Raises:
        OptionError: the paper is not known.
    """
    page = paper_named(paper) if isinstance(paper, str) else paper
    shown = units or (jobs[0][0].options.units if jobs else Units.INCH)
    prints = [
        _Print(number, foundation, copy)
        for copy in range(1, copies + 1)
        for number, (_, foundations) in enumerate(jobs)
        for foundation in foundations
    ]
    frame = frame_of(page)
    desk = _Desk(jobs, prints, page, frame, shown)
    filled = pack([p.ring() for p in prints], frame, desk.wants)
    assert filled is not None
    return tuple(desk.sheet(one, number, len(filled)) for number, one in enumerate(filled, start=1))


def frame_of(page: Paper) -> Frame:
    """The printable part of a paper, points."""
    m = page.margins
    return Frame(
        m.left * PT_PER_IN,
        m.top * PT_PER_IN,
        (page.width_in - m.right) * PT_PER_IN,
        (page.height_in - m.bottom) * PT_PER_IN,
    )


@dataclass(frozen=True, slots=True)
class _Desk:
    """What all sheets of one run have in common."""

    jobs: Sequence[Job]
    prints: Sequence[_Print]
    page: Paper
    frame: Frame
    units: Units
    keys: dict[int, tuple[Key, ...]] = field(default_factory=dict)

    def wants(self, numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        """The furniture of a sheet that holds these prints; bare: squares and keys in words only."""
        prints = [self.prints[n] for n in sorted(numbers)]
        names = list(dict.fromkeys(self.jobs[p.job][0].block.name for p in prints))
        legends = self._legends(prints)
        more = (CAUTIONS, *self._options(prints))
        if bare:
            more = (BEFORE_SEWING, *more, *("; ".join(lines) for _, lines in legends))
            names = [f"{names[0]}, section {prints[0].foundation.section}"]
        row = self._foot(names, more, 1.0)
        feet = tuple(self._foot(names, (APART, *more), share) for share in FOOT_SHARES)
        blocks: list[tuple[Item, ...]] = []
        for job in dict.fromkeys(p.job for p in prints):
            sections = {p.foundation.section for p in prints if p.job == job}
            blocks.append(self._key_items(job, sections))
        blocks += [tuple(legend(head, lines, w) for w in LEGEND_WIDTHS_PT) for head, lines in legends]
        return Wanted(row, feet, () if bare else tuple(blocks))

    def sheet(self, filled: Filled, number: int, of: int) -> Sheet:
        """The finished value of one page."""
        prints = [self.prints[laid.number] for laid in filled.laid]
        furniture = list(filled.furniture)
        ink: list[Ink] = []
        placed: list[Placed] = []
        for one, laid in zip(prints, filled.laid, strict=True):
            affine = _from_inches(laid.affine)
            ink += [move_ink(mark, affine, laid.angle_deg) for mark in one.foundation.ink]
            placed.append(Placed(one.foundation, affine, one.copy))
        if not any(item.squares for item in furniture):
            furniture.append(
                squares_over(
                    ink, bounds([moved(one.affine, p) for one in placed for p in one.foundation.trim_outline])
                )
            )
        for mark in (mark for item in furniture for mark in item.ink):
            if isinstance(mark, Words):
                mark = replace(mark, text=mark.text.replace(STAND_IN, f"{number} of {of}"))
            ink.append(mark)
        squares = tuple(square for item in furniture for square in item.squares)
        lines = tuple(line for item in furniture for line in item.lines)
        sections = list(dict.fromkeys(p.foundation.section for p in prints))
        return Sheet(
            number=number,
            of=of,
            paper=self.page.name,
            width_pt=self.page.width_pt,
            height_pt=self.page.height_pt,
            placed=tuple(placed),
            check_squares_pt=squares,
            check_lines_pt=lines,
            ink=tuple(ink),
            title=f"Sheet {number} of {of}: {', '.join(sections)}",
        )

    def _foot(self, names: Sequence[str], more: tuple[str, ...], share: float) -> Item:
        """The foot in a share of the sheet's width."""
        width = self.frame.width * share
        head = f"Sheet {STAND_IN}: {self._fitted(names, width)}"
        return foot(head, f"{self.page.name}, print at 100 %", more, width)

    def _key_items(self, job: int, sections: set[str]) -> tuple[Item, ...]:
        """The key of a block, the size wanted most first, in two shapes each."""
        if job not in self.keys:
            plan = self.jobs[job][0]
            self.keys[job] = tuple(
                Key(plan, side, self.units, beside=beside) for side in KEY_SIDES_PT for beside in (False, True)
            )
        return tuple(key.item(frozenset(sections)) for key in self.keys[job])

    @staticmethod
    def _legends(prints: Sequence[_Print]) -> list[tuple[str, tuple[str, ...]]]:
        """Words that found no room on the prints: each line once, block by block under its name."""
        told: dict[str, dict[str, None]] = {}
        for p in prints:
            told.setdefault(p.foundation.block, {}).update(dict.fromkeys(p.foundation.legend))
        return [(block if len(told) > 1 else "", tuple(lines)) for block, lines in told.items() if lines]

    def _options(self, prints: Sequence[_Print]) -> list[str]:
        """The options that are not at their default, a line for each set of them."""
        told = [option_words(self.jobs[job][0].options) for job in dict.fromkeys(p.job for p in prints)]
        return [f"Options: {words}." for words in dict.fromkeys(told) if words]

    def _fitted(self, names: Sequence[str], width: float) -> str:
        """As many of the names as find room on one line."""
        for count in range(len(names), 0, -1):
            text = ", ".join(names[:count]) + (f" and {len(names) - count} more" if count < len(names) else "")
            if width_pt(f"Sheet {STAND_IN}: {text}", FOOT_PT, bold=True) <= width:
                break
        return text


def option_words(options: PlanOptions) -> str:
    """Options that are not at their default, such as "allowance 3/8 in, units metric"; "" if none.

    Left out: the paper and the finished size, which the sheet says anyway.
    """
    told = []
    for name, value in options.changed().items():
        if name in ("paper", "size"):
            continue
        stem, _, unit = name.rpartition("_")
        if unit == "in":
            told.append(f"{stem} {say_length(value, options.units)}")
        elif isinstance(value, bool):
            told.append(name if value else f"no {name}")
        else:
            told.append(f"{name} {value.value if isinstance(value, Units) else value}".replace("_", " "))
    return ", ".join(told)


def _from_inches(affine: Affine) -> Affine:
    a, b, c, d, e, f = affine
    return (a * PT_PER_IN, b * PT_PER_IN, c * PT_PER_IN, d * PT_PER_IN, e, f)
