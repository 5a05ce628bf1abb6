"""What the sheets of one run have in common: their prints, and what each sheet says about itself.

Knows:  the furniture that a sheet of these prints needs, how a sheet's ink is put together.
Leaves: which prints share a sheet (pack), what furniture looks like (furniture, key), its words (naming), how
        prints come about (prints).
Units:  points on the sheet from its top left corner; foundations come in inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from seamwright.foundation.model import Foundation
from seamwright.foundation.purpose import on_sheet
from seamwright.foundation.tints import tinted
from seamwright.geometry import Affine, Ring, after, bounds, moved
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Ink, Words, move_ink
from seamwright.options import PrintOptions, Sets, Units
from seamwright.paper import PT_PER_IN, Paper
from seamwright.piecing.model import Plan
from seamwright.sheet import stock
from seamwright.sheet.captions import caption, is_named
from seamwright.sheet.enlarging import TRUE_STILL, enlarged_words
from seamwright.sheet.furnish import Frame, Wanted
from seamwright.sheet.furniture import (
    BEFORE_SEWING,
    CAUTIONS,
    FOOT_PT,
    NAME_WIDTH_PT,
    ONE_PRINTER,
    Item,
    foot,
    legend,
    line_for_name,
    paragraph,
)
from seamwright.sheet.gauges import FIVE_CM_PT, apart_words, check_squares, ends_over, squares_over
from seamwright.sheet.joints import HOW_TO_GLUE
from seamwright.sheet.key import Key
from seamwright.sheet.legends import legends
from seamwright.sheet.model import ForQuilt, InSet, Placed, Sheet, Tile
from seamwright.sheet.naming import block_names, option_words, ruled_words, times_of
from seamwright.sheet.pack import Filled
from seamwright.units import say_size

Job = tuple[Plan, tuple[Foundation, ...]]
KEY_SIDES_PT = (99.0, 72.0, 54.0)
LEGEND_WIDTHS_PT = (216.0, 144.0, 99.0)
FOOT_SHARES = (1.0, 0.66, 0.45, 0.3)
PIECE_WIDTHS_PT = (288.0, 216.0, 144.0, 108.0, 84.0)
STAND_IN, SET_STAND_IN = "Sheet 00 of 00", "Set 000 of 000, sheet 00 of 00"
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


@dataclass(frozen=True)
class Desk:
    """What all sheets of one run have in common.

    Attributes:
        brief: sheets on which keys and legends find no room say them in words, piece by piece.
        quilt: of which the jobs are the blocks; None: they are blocks by themselves.
    """

    jobs: Sequence[Job]
    page: Paper
    frame: Frame
    units: Units
    printing: PrintOptions = field(default_factory=PrintOptions)
    prints: tuple[Print, ...] = ()
    keys: dict[int, tuple[Key, ...]] = field(default_factory=dict)
    brief: bool = False
    quilt: ForQuilt | None = None

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What the block of each job is called."""
        return block_names([plan for plan, _ in self.jobs], self.units)

    @cached_property
    def several(self) -> bool:
        """Whether prints of different blocks must be told apart."""
        return len(set(self.names)) > 1

    @property
    def apart(self) -> bool:
        """Whether every copy is a set of sheets of its own."""
        return self.printing.sets is Sets.APART

    def wants(self, numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        """The furniture of a sheet that holds these prints; bare: squares and keys in words only."""
        prints = [self.prints[n] for n in sorted(numbers)]
        if bare:
            return self._in_words(prints, BEFORE_SEWING)
        parts = self._parts(prints)
        feet, apart = self._feet(self._head(prints), self._told(prints))
        brief = self._in_pieces(prints) if self.brief else None
        return Wanted(feet, apart, (*self._shown(prints), *parts), brief=brief)

    def sheet(self, filled: Filled) -> Sheet:
        """One page, its number among others still open: `numbered` says it."""
        prints = [self.prints[laid.number] for laid in filled.laid]
        furniture = list(filled.furniture)
        ink: list[Ink] = []
        placed: list[Placed] = []
        for one, laid in zip(prints, filled.laid, strict=True):
            ink += [move_ink(mark, laid.affine, laid.angle_deg) for mark in one.ink]
            affine, block = after(one.affine, laid.affine), self.names[one.job] if self.several else ""
            placed.append(Placed(one.foundation, affine, one.copy, one.tile, block))
        if not any(item.squares for item in furniture):
            needed = bounds(
                [moved(laid.affine, p) for one, laid in zip(prints, filled.laid, strict=True) for p in one.ring]
            )
            furniture.append(squares_over([*ink, *(mark for item in furniture for mark in item.ink)], needed))
            there = {a[0] == b[0] for item in furniture for a, b in item.lines}
            for upright in (False, True):
                if upright not in there:
                    over = [*ink, *(mark for item in furniture for mark in item.ink)]
                    furniture.append(ends_over(over, needed, self.frame.rule(upright=upright), upright=upright))
        furniture += self._captions(filled, prints, [*ink, *(mark for item in furniture for mark in item.ink)])
        held: dict[str, list[str]] = {}
        for here in placed:
            held.setdefault(here.block, []).append(here.foundation.label)
        labels = [f"{block} {', '.join(dict.fromkeys(of))}".strip() for block, of in held.items()]
        return self.page_of(placed, ink, furniture, ", ".join(labels))

    def _captions(self, filled: Filled, prints: Sequence[Print], there: list[Ink]) -> list[Item]:
        """The block's name beside each print that does not say it, where blocks must be told apart."""
        captions: list[Item] = []
        for one, laid in zip(prints, filled.laid, strict=True) if self.several else ():
            plan, name = self.jobs[one.job][0], self.names[one.job]
            if not is_named(one.ink, plan.block.title):
                trim = tuple(moved(laid.affine, p) for p in one.ring)
                shorter = say_size(plan.block.width_in, plan.block.height_in, self.units)
                words = caption(trim, (name, shorter) if name.endswith(shorter) else (name,), there, self.frame)
                if words is not None:
                    there.append(words)
                    captions.append(Item(0.0, 0.0, (words,)))
        return captions

    def page_of(self, placed: Sequence[Placed], ink: Sequence[Ink], furniture: Sequence[Item], title: str) -> Sheet:
        """A page from what lies on it, its number still open."""
        return Sheet(
            number=0,
            of=0,
            paper=self.page.name,
            width_pt=self.page.width_pt,
            height_pt=self.page.height_pt,
            placed=tuple(placed),
            check_squares_pt=tuple(square for item in furniture for square in item.squares),
            check_lines_pt=tuple(line for item in furniture for line in item.lines),
            ink=(*ink, *(mark for item in furniture for mark in item.ink)),
            title=title,
            enlarged=self.printing.enlarge,
        )

    def row(self, title: str) -> Item:
        """The foot of a sheet without prints, across the sheet; it belongs to no set."""
        told = [words for words in (CAUTIONS, self.printing.footer) if words]
        return foot(f"{STAND_IN}: {title}", self._side_words, tuple(told), self.frame.width)

    # -- furniture ---------------------------------------------------------------------------------------------

    def _shown(self, prints: Sequence[Print]) -> list[tuple[Item, ...]]:
        """Keys and legends, each in several sizes."""
        jobs = dict.fromkeys(p.job for p in prints)
        keys = [self._key_items(job, set(self._served(job, prints))) for job in jobs]
        return keys + [tuple(legend(h, lines, w) for w in LEGEND_WIDTHS_PT) for h, lines in self._legends(prints)]

    def _in_pieces(self, prints: Sequence[Print]) -> Wanted | None:
        """The same where a sheet is crowded: what it is in the squares, all else in short pieces of words.

        Keys and legends are said in words where they find no room; if that is not enough, in words at once.
        """
        told = [*self._told(prints), *([self.printing.footer] if self.printing.footer else [])]
        names = [(line_for_name(self.frame.width), line_for_name(NAME_WIDTH_PT))] if self.apart else []
        warned = [_pieces(self._warning, bold=True)] if self._warning else []
        blocks = [*names, *self._parts(prints), *warned, *map(_pieces, told)]
        keys = [_pieces(self._key_words(job, prints)) for job in dict.fromkeys(p.job for p in prints)]
        said = [*keys, *map(_pieces, self._legend_words(prints))]
        shown = [(*sizes, *words) for sizes, words in zip(self._shown(prints), said, strict=True)]
        standing = SET_STAND_IN if self.apart else STAND_IN
        squares = check_squares(f"{standing}: {_fitted(standing, self._head(prints), FIVE_CM_PT)}")
        rules = _pieces(self._apart_words)
        given: Wanted | None = None
        for some in ([*blocks, *said], [*blocks, *shown]):
            # Neither order always finds room where the other does not.
            for order in (tuple(some), _largest_first(some)):
                given = Wanted((), rules, order, squares=squares, air=1, brief=given)
        return given

    def _in_words(self, prints: Sequence[Print], *before: str) -> Wanted:
        """The same said in the foot; shown too where there is room."""
        jobs = list(dict.fromkeys(p.job for p in prints))
        facts = [self._key_words(job, prints) for job in jobs]
        # One block is told in the head: a line less.
        head, told = (facts, [*before]) if len(jobs) == 1 else (self._head(prints), [*before, *facts])
        told += self._told(prints)
        feet, apart = self._feet(head, [*told, *self._legend_words(prints)])
        return Wanted(feet, apart, self._parts(prints), extras=tuple(self._shown(prints)))

    def _served(self, job: int, prints: Sequence[Print]) -> tuple[str, ...]:
        """The sections of a job that these prints are for."""
        shown = [p.foundation for p in prints if p.job == job]
        return stock.served(self.jobs[job][1], shown)

    def _key_words(self, job: int, prints: Sequence[Print]) -> str:
        """What a key would say, in words."""
        plan, foundations = self.jobs[job]
        size = say_size(plan.block.width_in, plan.block.height_in, self.units)
        sections = self._served(job, prints)
        here = (
            f"section{'s' * (len(sections) > 1)} {', '.join(sections)}" if len(sections) < len(foundations) else ""
        )
        facts = [one for one in (plan.block.title, here, f"{size} finished", f"plan {plan.id}") if one]
        often = self._often(job)
        return "; ".join(one for one in (", ".join(facts), often, self._ruled(plan)) if one)

    def _often(self, job: int) -> str:
        """How often each print of a block is needed."""
        return times_of(self.jobs[job][1], self.printing, self.quilt, job)

    def _ruled(self, plan: Plan) -> str:
        """Which sections have no print; windows are for all patches."""
        return "" if self.printing.windows else ruled_words(plan)

    def _legend_words(self, prints: Sequence[Print]) -> list[str]:
        return [f"{block}{': ' * bool(block)}{'; '.join(lines)}." for block, lines in self._legends(prints)]

    def _told(self, prints: Sequence[Print]) -> list[str]:
        """The paragraphs of the foot that every sheet has."""
        options = [option_words(self.jobs[job][0].options) for job in dict.fromkeys(p.job for p in prints)]
        # As many lines as without the warning: a line more can cost an enlarged print a part more.
        cautions = f"{TRUE_STILL} {ONE_PRINTER}" if self._warning else CAUTIONS
        told = [cautions, *on_sheet((p.foundation for p in prints), tinted=tinted(self.printing))]
        told += stock.on_sheet((p.foundation for p in prints), self.printing)
        told += [f"Options: {words}." for words in dict.fromkeys(options) if words]
        return [*told, HOW_TO_GLUE] if self._parts(prints) else told

    def _head(self, prints: Sequence[Print]) -> list[str]:
        return list(dict.fromkeys(self.names[p.job] for p in prints))

    @staticmethod
    def _parts(prints: Sequence[Print]) -> tuple[tuple[Item, ...], ...]:
        """Pictures of how parts are put together."""
        return tuple(dict.fromkeys(block for p in prints for block in p.beside))

    def _feet(self, names: Sequence[str], told: Sequence[str]) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
        """The foot in several widths, the full one first; then the same with what ticks and crosses stand for."""
        widths = [self.frame.width * share for share in FOOT_SHARES]
        if self.apart:
            widths = [widths[0], *(w for w in widths[1:] if w >= NAME_WIDTH_PT)]
        plain, apart = (
            tuple(self._foot(names, (*first, *told), width) for width in widths)
            for first in ((), (self._apart_words,))
        )
        return plain, apart

    @property
    def _apart_words(self) -> str:
        return apart_words(self.frame.rule(upright=False), self.frame.rule(upright=True))

    def _foot(self, names: Sequence[str], told: Sequence[str], width: float) -> Item:
        standing = SET_STAND_IN if self.apart else STAND_IN
        words = tuple(one for one in (*told, self.printing.footer) if one)
        head = f"{standing}: {_fitted(standing, names, width)}"
        return foot(head, self._side_words, words, width, warning=self._warning, name_line=self.apart)

    @property
    def _warning(self) -> str:
        return enlarged_words(self.printing.enlarge)

    @property
    def _side_words(self) -> str:
        lies = " landscape" if self.page.width_in > self.page.height_in else ""
        return f"{self.page.name}{lies}, print at 100 %"

    def _key_items(self, job: int, sections: set[str]) -> tuple[Item, ...]:
        """The key of a block, the size wanted most first, in two shapes each."""
        if job not in self.keys:
            plan = self.jobs[job][0]
            told = [one for one in (self._often(job), self._ruled(plan)) if one]
            self.keys[job] = tuple(Key(plan, side, self.units, "; ".join(told)) for side in KEY_SIDES_PT)
        shown = frozenset(sections)
        return tuple(key.item(shown, beside=beside) for key in self.keys[job] for beside in (False, True))

    def _legends(self, prints: Sequence[Print]) -> list[tuple[str, tuple[str, ...]]]:
        by_block: dict[str, list[Foundation]] = {}
        for one in prints:
            by_block.setdefault(self.names[one.job], []).append(one.foundation)
        return legends(by_block)


def numbered(sheet: Sheet, number: int, of: int, in_set: InSet | None = None) -> Sheet:
    """A page with its number said, and its copy that of its set."""
    called = f"Sheet {number} of {of}"
    if in_set is not None:
        called = f"Set {in_set.set} of {in_set.sets}, sheet {in_set.sheet} of {in_set.sheets}"

    def said(mark: Ink) -> Ink:
        for stand_in in (STAND_IN, SET_STAND_IN):
            if isinstance(mark, Words) and mark.text.startswith(stand_in):
                return replace(mark, text=called + mark.text.removeprefix(stand_in))
        return mark

    placed = sheet.placed if in_set is None else tuple(replace(p, copy=in_set.set) for p in sheet.placed)
    ink, title = tuple(said(mark) for mark in sheet.ink), f"{called}: {sheet.title}"
    return replace(sheet, number=number, of=of, placed=placed, ink=ink, title=title, in_set=in_set)


def _largest_first(blocks: Sequence[tuple[Item, ...]]) -> tuple[tuple[Item, ...], ...]:
    """Blocks of furniture in the order in which most find room."""
    return tuple(sorted(blocks, key=lambda sizes: -sizes[0].width * sizes[0].height))


def _pieces(words: str, *, bold: bool = False) -> tuple[Item, ...]:
    """A paragraph in several widths."""
    return tuple(paragraph(words, width, bold=bold) for width in PIECE_WIDTHS_PT)


def _fitted(standing: str, names: Sequence[str], width: float) -> str:
    """As many of the names as find room on one line."""
    for count in range(len(names), 0, -1):
        text = ", ".join(names[:count]) + (f" and {len(names) - count} more" if count < len(names) else "")
        if width_pt(f"{standing}: {text}", FOOT_PT, bold=True) <= width:
            break
    return text
