"""What the sheets of one run have in common: their prints, and what each sheet says about itself.

Knows:  the furniture that a sheet of these prints needs, how a sheet's ink is put together.
Leaves: which prints share a sheet (pack), what furniture looks like (furniture, key), how prints come about
        (prints).
Units:  points on the sheet from its top left corner; foundations come in inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import Enum

from seamwright.foundation.model import Foundation
from seamwright.geometry import Affine, Ring, after, bounds, moved
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Ink, Words, move_ink
from seamwright.options import PlanOptions, PrintOptions, Units
from seamwright.paper import PT_PER_IN, Paper
from seamwright.piecing.model import Plan
from seamwright.sheet.furnish import Frame, Wanted
from seamwright.sheet.furniture import (
    APART,
    BEFORE_SEWING,
    CAUTIONS,
    FOOT_PT,
    Item,
    ends_over,
    foot,
    legend,
    squares_over,
)
from seamwright.sheet.key import Key
from seamwright.sheet.model import Placed, Sheet, Tile
from seamwright.sheet.pack import Filled
from seamwright.sheet.tiling import HOW_TO_GLUE
from seamwright.units import say_length, say_list, say_size

Job = tuple[Plan, tuple[Foundation, ...]]
KEY_SIDES_PT = (99.0, 72.0, 54.0)
LEGEND_WIDTHS_PT = (216.0, 144.0, 99.0)
FOOT_SHARES = (1.0, 0.66, 0.45, 0.3)
STAND_IN = "00 of 00"
"""Which sheet of how many is known only when all are filled."""


@dataclass(frozen=True, slots=True)
class Print:
    """One piece of paper to be laid on a sheet: a foundation, or a part of one.

    Attributes:
        job: number of its job. copy: from 1.
        affine, turn_deg: foundation inches -> its own points.
        ring: outline of the paper it needs; ink: all that it shows, both in its own points.
        tile: which part; beside: furniture that only a part needs.
    """

    job: int
    foundation: Foundation
    affine: Affine
    turn_deg: float
    ring: Ring
    ink: tuple[Ink, ...]
    copy: int = 1
    tile: Tile | None = None
    beside: tuple[tuple[Item, ...], ...] = ()


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
class Desk:
    """What all sheets of one run have in common."""

    jobs: Sequence[Job]
    page: Paper
    frame: Frame
    units: Units
    printing: PrintOptions = field(default_factory=PrintOptions)
    prints: tuple[Print, ...] = ()
    keys: dict[int, tuple[Key, ...]] = field(default_factory=dict)

    def wants(self, numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        """The furniture of a sheet that holds these prints; bare: squares and keys in words only."""
        prints = [self.prints[n] for n in sorted(numbers)]
        names = list(dict.fromkeys(self.jobs[p.job][0].block.name for p in prints))
        legends = self._legends(prints)
        more = (CAUTIONS, *self._options(prints))
        parts = tuple(dict.fromkeys(block for p in prints for block in p.beside))
        if parts:
            more = (*more, HOW_TO_GLUE)
        if bare:
            more = (BEFORE_SEWING, *more, *("; ".join(lines) for _, lines in legends))
            names = [self._in_words(prints[0])]
        row = self._foot(names, more, 1.0)
        feet = tuple(self._foot(names, (APART, *more), share) for share in FOOT_SHARES)
        keys: list[tuple[Item, ...]] = []
        for job in dict.fromkeys(p.job for p in prints):
            sections = {p.foundation.section for p in prints if p.job == job}
            keys.append(self._key_items(job, sections))
        told = [tuple(legend(head, lines, w) for w in LEGEND_WIDTHS_PT) for head, lines in legends]
        return Wanted(row, feet, parts, tuple(keys)) if bare else Wanted(row, feet, (*keys, *told, *parts))

    def sheet(self, filled: Filled, number: int, of: int) -> Sheet:
        """The finished value of one page."""
        prints = [self.prints[laid.number] for laid in filled.laid]
        furniture = list(filled.furniture)
        ink: list[Ink] = []
        placed: list[Placed] = []
        for one, laid in zip(prints, filled.laid, strict=True):
            ink += [move_ink(mark, laid.affine, laid.angle_deg) for mark in one.ink]
            placed.append(Placed(one.foundation, after(one.affine, laid.affine), one.copy, one.tile))
        if not any(item.squares for item in furniture):
            needed = bounds(
                [moved(laid.affine, p) for one, laid in zip(prints, filled.laid, strict=True) for p in one.ring]
            )
            furniture.append(squares_over(ink, needed))
            there = {a[0] == b[0] for item in furniture for a, b in item.lines}
            for upright in (False, True):
                if upright not in there:
                    over = [*ink, *(mark for item in furniture for mark in item.ink)]
                    furniture.append(ends_over(over, needed, upright=upright))
        for mark in (mark for item in furniture for mark in item.ink):
            if isinstance(mark, Words):
                mark = replace(mark, text=mark.text.replace(STAND_IN, f"{number} of {of}"))
            ink.append(mark)
        squares = tuple(square for item in furniture for square in item.squares)
        lines = tuple(line for item in furniture for line in item.lines)
        labels = list(dict.fromkeys(p.foundation.label for p in prints))
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
            title=f"Sheet {number} of {of}: {', '.join(labels)}",
        )

    def _in_words(self, one: Print) -> str:
        """What the key would say."""
        plan = self.jobs[one.job][0]
        size = say_size(plan.block.width_in, plan.block.height_in, self.units)
        return f"{plan.block.name}, section {one.foundation.section}, {size} finished, plan {plan.id}"

    def _foot(self, names: Sequence[str], more: tuple[str, ...], share: float) -> Item:
        """The foot in a share of the sheet's width."""
        width = self.frame.width * share
        head = f"Sheet {STAND_IN}: {self._fitted(names, width)}"
        return foot(head, f"{self.page.name}, print at 100 %", more, width)

    def _key_items(self, job: int, sections: set[str]) -> tuple[Item, ...]:
        """The key of a block, the size wanted most first, in two shapes each."""
        if job not in self.keys:
            plan = self.jobs[job][0]
            self.keys[job] = tuple(Key(plan, side, self.units) for side in KEY_SIDES_PT)
        shown = frozenset(sections)
        return tuple(key.item(shown, beside=beside) for key in self.keys[job] for beside in (False, True))

    @staticmethod
    def _legends(prints: Sequence[Print]) -> list[tuple[str, tuple[str, ...]]]:
        """Words that found no room on the prints: each line once, block by block under its name.

        What holds for several prints is one line: "A and B: stop at the dot ...".
        """
        told: dict[str, dict[str, None]] = {}
        for block in dict.fromkeys(p.foundation.block for p in prints):
            of_block = [p.foundation for p in prints if p.foundation.block == block]
            labels = {foundation.label for foundation in of_block}
            lines: dict[str, list[str]] = {}
            for line in dict.fromkeys(line for foundation in of_block for line in foundation.legend):
                label, colon, text = line.partition(": ")
                of_prints = bool(colon) and label in labels
                lines.setdefault(text if of_prints else line, []).extend([label] if of_prints else [])
            told[block] = dict.fromkeys(f"{say_list(on)}: {text}" if on else text for text, on in lines.items())
        return [(block if len(told) > 1 else "", tuple(lines)) for block, lines in told.items() if lines]

    def _options(self, prints: Sequence[Print]) -> list[str]:
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
        words = name.replace("_", "-")
        if isinstance(value, bool):
            told.append(words if value else f"no {words}")
        elif name.endswith("_in"):
            told.append(f"{words.removesuffix('-in')} {say_length(value, options.units)}")
        else:
            told.append(f"{words} {value.value if isinstance(value, Enum) else value}")
    return ", ".join(told)
