"""The turnings of one or two blocks as a call: found, counted twice, ranked.

Knows:  the order of the stages, and that no count leaves here unless Burnside's lemma agrees.
Leaves: every stage itself (quilt.turnings, quilt.rules, quilt.secondary), what is written of them (choosing).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import zip_longest
from pathlib import Path

from seamwright.asked import Text, split_size, texts_of, usable_options
from seamwright.block.model import Block
from seamwright.drawing.read import stem_of
from seamwright.dressing import colourways_asked
from seamwright.errors import OptionError, ProofError, fail
from seamwright.fabric.model import folded
from seamwright.quilt.extras import BINDING_IN, OVER_IN
from seamwright.quilt.formwrite import row_lines
from seamwright.quilt.model import Backing, Batting, Binding, Cell, Setting, Source, Turn
from seamwright.quilt.rules import RULES, layouts_by_rule
from seamwright.quilt.secondary import Ranked, ranked
from seamwright.quilt.symmetry import symmetries
from seamwright.quilt.turnings import Group, Layout, all_layouts, counted, group_of, states_of
from seamwright.units import say_size

SHOWN = 48
"""How many are shown unless more, or fewer, are asked for."""
AT_A_TIME = 4
"""Layouts with equal points that stand together where not all are shown."""
MOST_BLOCKS = 2


class Repeat(Enum):
    """What repeats: the value is its side in blocks."""

    TWO = 2
    FOUR = 4


@dataclass(frozen=True, slots=True)
class Turning:
    """One layout.

    Attributes:
        number: from 1, in the order of the ranking; it holds for these blocks, `reversed_too`, `repeat` and seed.
        found: the layout, what its blocks make together, and its points of 100.
        rules: names of the rules that make it; () where all layouts are listed.
        rows: what repeats, as cells.
    """

    number: int
    found: Ranked
    rules: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """Its lines for the file of a quilt, without the repeat."""
        return row_lines(self.rows)


@dataclass(frozen=True, slots=True)
class Turnings:
    """All layouts of one or two blocks.

    Attributes:
        drawings: as asked for. blocks: the blocks, not rotated.
        base: a quilt of them without rows. ways: name of the block and colourway of each of `blocks`.
        group: under which moves layouts are taken as one.
        reversed_too: mirror images of the blocks are laid as well. repeat: of how many blocks a side. seed: of
                those made by chance.
        every: all layouts, the most telling first.
        asked: options as they were given, (long name, text).
    """

    drawings: tuple[str, ...]
    blocks: tuple[Block, ...]
    base: Setting
    ways: tuple[tuple[str, str], ...]
    group: Group
    reversed_too: bool
    repeat: Repeat
    seed: int
    every: tuple[Turning, ...]
    asked: tuple[tuple[str, str], ...] = ()

    @property
    def by_rule(self) -> bool:
        """They are made by rules: not all that there are."""
        return self.repeat is Repeat.FOUR

    @property
    def by_turns(self) -> bool:
        """Layouts with equal points do not all stand together, since not all layouts are shown at first."""
        return not self.by_rule and len(self.every) > SHOWN

    @property
    def times(self) -> int:
        """How often what repeats is repeated each way, so that a picture shows 4 x 4 blocks."""
        return Repeat.FOUR.value // self.repeat.value

    def setting(self, turning: Turning) -> Setting:
        """The quilt of one layout, 4 x 4 blocks."""
        return replace(self.base, rows=turning.rows, repeat=(self.times, self.times))


def turnings(
    *drawings: str, reversed_too: bool = False, repeat: Repeat | int = Repeat.TWO, seed: int = 1, **options: Text
) -> Turnings:
    """All repeating layouts of one or two blocks that differ, each quilt once, the most telling first.

    Args:
        drawings: paths, each with its size behind it if wanted ("kite.svg@6in"); one drawing in two colourways is
            two blocks.
        reversed_too: blocks may be reversed as well, which asks for reversed foundations.
        repeat: TWO, or 2: all layouts of 2 x 2 blocks; FOUR, or 4: layouts of 4 x 4 blocks made by rules.
        seed: of the layouts that are made by chance.
        options: those of drawings by their long names: size, palette, colourway, units and so on.

    Raises:
        SeamwrightError: a drawing or an option cannot be used, or blocks differ in size; in words.
        ValueError: nothing repeats like that.
        ProofError: the layouts are not as many as Burnside's lemma says; our fault, please report it.
    """
    repeat, asked = Repeat(repeat), texts_of(options)
    base, ways = _asked_for(drawings, asked)
    blocks = _blocks(drawings, base, ways)
    slack = usable_options(base.options).tolerance_in
    square = abs(blocks[0].width_in - blocks[0].height_in) <= slack
    own = [symmetries(block) for block in blocks]
    states = states_of(own, square=square, reversed_too=reversed_too)
    group = group_of(repeat.value, repeat.value, states, own, square=square)
    rules: dict[Layout, tuple[str, ...]] = {}
    if repeat is Repeat.TWO:
        order: Iterable[Ranked] = _by_turns(ranked(_proven(group), group, blocks))
    else:
        rules = layouts_by_rule(group, seed)
        order = _rule_by_rule(ranked(list(rules), group, blocks), rules)
    every = tuple(
        Turning(number, one, rules.get(one.layout, ()), _rows(group, one.layout, ways))
        for number, one in enumerate(order, start=1)
    )
    return Turnings(tuple(drawings), blocks, base, ways, group, reversed_too, repeat, seed, every, tuple(asked))


def names_of(found: Turnings) -> str:
    """What the blocks are called, with their colourways: "kite", "kite and kite in dusk"."""
    return " and ".join(f"{name} in {way}" if way else name for name, way in found.ways)


# -- within --------------------------------------------------------------------------------------------------


def _proven(group: Group) -> tuple[Layout, ...]:
    """Every layout, and as many as there must be."""
    layouts = all_layouts(group)
    if len(layouts) != counted(group):
        what = f"{len(layouts)} layouts were found where there must be {counted(group)}"
        raise fail(ProofError, "proof", what, "Please report it; nothing was written")
    return layouts


def _by_turns(order: Sequence[Ranked]) -> list[Ranked]:
    """Of more than are shown, of those with equal points some, then some of the next: they look much alike."""
    if len(order) <= SHOWN:
        return list(order)
    before: dict[float, int] = {}
    rounds = []
    for one in order:
        rounds.append(before.get(one.points, 0) // AT_A_TIME)
        before[one.points] = before.get(one.points, 0) + 1
    return [one for _, one in sorted(zip(rounds, order, strict=True), key=lambda pair: pair[0])]


def _rule_by_rule(order: Sequence[Ranked], rules: dict[Layout, tuple[str, ...]]) -> list[Ranked]:
    """The best of each rule, then the next of each and so on: ranked alone, one rule would fill the first page."""
    by_rule: dict[str, list[Ranked]] = {rule: [] for rule in RULES}
    for one in order:
        by_rule[rules[one.layout][0]].append(one)
    return [one for row in zip_longest(*by_rule.values()) for one in row if one is not None]


def _rows(group: Group, layout: Layout, ways: Sequence[tuple[str, str]]) -> tuple[tuple[Cell, ...], ...]:
    cells = [
        Cell(ways[state.block][0], state.turn, ways[state.block][1])
        for state in (group.states[number] for number in layout)
    ]
    return tuple(tuple(cells[k : k + group.columns]) for k in range(0, len(cells), group.columns))


def _asked_for(
    drawings: Sequence[str], given: Sequence[tuple[str, str]]
) -> tuple[Setting, tuple[tuple[str, str], ...]]:
    """A quilt without rows, and (name, colourway) of each block asked for."""
    options = dict(given)
    if options.pop("reversed", "no") != "no":
        what = "turnings lay the block as drawn, and its mirror image beside it"
        raise fail(OptionError, "option", what, "Ask for reversed blocks too with --with-reversed")
    # These are said of each block; a palette's lines become the quilt's own.
    size, palette, _ = (options.pop(name, "") for name in ("size", "palette", "colourway"))
    sources: list[Source] = []
    ways: list[tuple[str, str]] = []
    for drawing in drawings:
        path, own = split_size(drawing)
        stem = stem_of(Path(path)) or "block"
        taken = {folded(source.name) for source in sources}
        name = next(n for n in (stem, *(f"{stem} {k}" for k in range(2, 99))) if folded(n) not in taken)
        if any(Path(source.path) == Path(path) for source in sources):
            what = f"{path} is named twice"
            raise fail(
                OptionError, "option", what, "Name it once: its turnings are all there; or name another block"
            )
        sources.append(Source(name, path, own or size))
        ways += [(name, way) for way in colourways_asked(drawing, given)]
    if not 1 <= len(ways) <= MOST_BLOCKS:
        what = f"{len(ways)} blocks are asked for" + (
            ", each colourway counted" if len(ways) > len(drawings) else ""
        )
        raise fail(OptionError, "option", what, "Name one block, or two; one drawing in two colourways is two")
    units = usable_options(options.items()).units
    base = Setting(
        name=" and ".join(source.name for source in sources),
        file="",
        sources=tuple(sources),
        rows=(),
        binding=Binding(width_in=BINDING_IN[units]),
        backing=Backing(over_in=OVER_IN[units]),
        batting=Batting(OVER_IN[units]),
        options=tuple(options.items()),
    )
    if palette:
        from seamwright.drawing.palette import read_palette

        laid_over = read_palette(Path(palette))
        base = replace(base, fabrics=laid_over.fabrics, colourways=laid_over.colourways)
    return base, tuple(ways)


def _blocks(drawings: Sequence[str], base: Setting, ways: Sequence[tuple[str, str]]) -> tuple[Block, ...]:
    """The blocks, of one size."""
    from seamwright.block.make import ASPECT
    from seamwright.quilt.looks import read_looks

    cells = tuple(Cell(name, Turn(), way) for name, way in ways)
    book = read_looks(replace(base, rows=(cells,)))
    blocks = tuple(book.block(cell) for cell in cells)
    first, units = blocks[0], base.units
    for block, (name, _) in zip(blocks, ways, strict=True):
        off = max(abs(block.width_in - first.width_in), abs(block.height_in - first.height_in))
        if off > book.tolerance_in:
            own, wanted = (say_size(one.width_in, one.height_in, units) for one in (block, first))
            what = f"{name} is {own} and {ways[0][0]} is {wanted}, and blocks of a layout are of one size"
            paths = " ".join(f"{split_size(drawing)[0]}@8in" for drawing in drawings)
            mend = f"Give both one size, such as: {paths}"
            if abs(block.height_in * first.width_in / (block.width_in * first.height_in) - 1) > ASPECT:
                mend = "They differ in shape, so no size makes them one: choose two blocks of one shape"
            raise fail(OptionError, "size", what, mend)
    return blocks
