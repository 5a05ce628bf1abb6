"""A foundation's ink sorted into layers, on a page just large enough, with a check square.

Knows:  which line belongs to which layer, what a file is called.
Leaves: how layers are written (svg, dxf), what is drawn (foundation).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.files.model import CHECK, FABRIC, HELP, MARKS, STITCH, TEXT, TINT, TRIM, Layered
from seamwright.foundation.model import Foundation, Use
from seamwright.foundation.purpose import on_sheet
from seamwright.geometry import Point, bounds
from seamwright.ink.lettering import CAP_HEIGHT
from seamwright.ink.model import Anchor, Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.wrap import wrapped
from seamwright.outfiles import plain_name
from seamwright.piecing.model import Plan
from seamwright.units import say_size

EDGE_IN = 1 / 4
"""White round the trim line, and between it and the check square."""
SQUARE_IN = 1.0
LEAST_WORDS_IN = 2.0
"""Room for words beside the check square of a narrow print."""
NOTE_PT, STEP_PT = 8.0, 10.0
_LAYER_OF_PEN = {Pen.STITCH: STITCH, Pen.TRIM: TRIM, Pen.MARK: MARKS, Pen.RULE: FABRIC, Pen.LAID: FABRIC}
_ORDER = (TINT, STITCH, TRIM, HELP, FABRIC, MARKS, TEXT, CHECK)
_ENDING = {Use.SEW: "", Use.CUT: "", Use.VIEW: "-front", Use.WINDOW: "-window"}


def layered(foundation: Foundation, name: str, head: str = "") -> Layered:
    """The foundation on a page of its own; below it a check square of 1 in, and the words that found no room on it.

    Args:
        head: what the words begin with: of which block, size and plan it is.
    """
    _, _, right, bottom = bounds(foundation.trim_outline)
    shift = (1.0, 0.0, 0.0, 1.0, EDGE_IN, EDGE_IN)
    found: dict[str, list[Ink]] = {layer: [] for layer in _ORDER}
    for mark in foundation.ink:
        found[_layer(mark)].append(move_ink(mark, shift))
    x, y = EDGE_IN, bottom + 2 * EDGE_IN
    square = ((x, y), (x + SQUARE_IN, y), (x + SQUARE_IN, y + SQUARE_IN), (x, y + SQUARE_IN))
    middle = (x + SQUARE_IN / 2, y + SQUARE_IN / 2 + CAP_HEIGHT * NOTE_PT / 72 / 2)
    found[CHECK] = [Stroke(Pen.RULE, square, closed=True), Words("1 in", middle, NOTE_PT, Anchor.MIDDLE)]
    width = max(right, SQUARE_IN + EDGE_IN + LEAST_WORDS_IN)
    told = (*on_sheet([foundation], tinted=bool(found[TINT])), *foundation.legend)
    words = _lines(head, told, (x + SQUARE_IN + EDGE_IN, y), width - SQUARE_IN - EDGE_IN)
    found[TEXT] += words
    below = max(y + SQUARE_IN, *(line.at[1] for line in words), 0.0)
    return Layered(
        name=name,
        foundation=foundation,
        affine=shift,
        width_in=width + 2 * EDGE_IN,
        height_in=below + EDGE_IN,
        check_in=(x, y, SQUARE_IN),
        layers=tuple((layer, tuple(ink)) for layer, ink in found.items() if ink),
    )


def _lines(head: str, legend: Sequence[str], at: Point, width: float) -> list[Words]:
    """Lines of words from a top left corner down, broken to a width; all in inches."""
    broken = [(line, True) for line in wrapped(head, NOTE_PT, width * 72, True) if line]
    broken += [(line, False) for words in legend for line in wrapped(words, NOTE_PT, width * 72)]
    x, y = at
    return [
        Words(line, (x, y + (n + 1) * STEP_PT / 72), NOTE_PT, bold=bold) for n, (line, bold) in enumerate(broken)
    ]


def _layer(mark: Ink) -> str:
    if isinstance(mark, Words):
        return TEXT
    if isinstance(mark, Area):
        if mark.colour != "#000000":
            return TINT
        # Black areas are the head of the grain's arrow, and dots and rings at which stitching stops.
        return FABRIC if len(mark.rings[0]) == 3 else MARKS
    return _LAYER_OF_PEN.get(mark.pen, HELP)


def drawings_of(
    jobs: Sequence[tuple[Plan, Sequence[Foundation]]], blocks: Sequence[int] = ()
) -> list[tuple[Layered, int]]:
    """Each drawing with how often its plan needs it: places that share a drawing make one.

    Args:
        blocks: how many blocks of each plan are made; (): one of each.

    Names tell apart what is asked for in one go: the block and the print, the size where a block is asked for in
    several, a number where that is not enough.
    """
    sizes: dict[str, set[str]] = {}
    for plan, _ in jobs:
        sizes.setdefault(plan.block.title, set()).add(_size(plan))
    found: list[tuple[Layered, int]] = []
    taken: set[str] = set()
    for number, (plan, foundations) in enumerate(jobs):
        block = f"{plan.block.title}-{_size(plan)}" if len(sizes[plan.block.title]) > 1 else plan.block.title
        counted: dict[object, list[Foundation]] = {}
        for foundation in foundations:
            alike = (foundation.label, foundation.use, foundation.trim_outline, foundation.ink)
            counted.setdefault(alike, []).append(foundation)
        for places in counted.values():
            stem = plain_name(f"{block}-{places[0].label}{_ENDING[places[0].use]}") or "foundation"
            name = next(n for n in (stem, *(f"{stem}-{k}" for k in range(2, 10_000))) if n.lower() not in taken)
            taken.add(name.lower())
            often = len(places) * (blocks[number] if blocks else 1)
            again = often > 1 and places[0].use is not Use.CUT
            times = f", print it {often} times" if again else ""
            head = f"{plan.block.title} {places[0].label}, {_size(plan)} finished, plan {plan.id}{times}"
            found.append((layered(places[0], name, head), often))
    return found


def _size(plan: Plan) -> str:
    return say_size(plan.block.width_in, plan.block.height_in, plan.options.units)
