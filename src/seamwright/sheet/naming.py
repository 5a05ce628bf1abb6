"""Words of sheets: what the blocks of a run are called, how often each print is needed, options.

Knows:  which words tell two blocks of one run apart, how counts and options are said.
Leaves: where the words go (desk, words.prints).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from enum import Enum
from pathlib import PurePath

from seamwright.foundation.model import Foundation, Use
from seamwright.options import PlanOptions, PrintOptions, Sets, Units
from seamwright.paper import Margins
from seamwright.piecing.model import Plan
from seamwright.sheet.model import ForQuilt
from seamwright.units import say_count, say_length, say_list, say_size

SHEETS = "Foundations to print"
"""What the sheets behind the pages are called: a bookmark, a line in the list of contents."""


def block_names(
    plans: Sequence[Plan], units: Units | None = None, titles: Sequence[str] | None = None
) -> tuple[str, ...]:
    """What each plan's block is called: its name, and as much more as tells it from the others of the run.

    Such as "kite", "kite 6 x 6 in" beside one of 9 in, "kite 6 x 6 in, plan 491c1272" beside another kite of that
    size. Equal plans keep one name: their prints are equal too.

    Args:
        units: of the sizes; None: those of each plan. titles: shorter names to begin with; None: those of the
            blocks.
    """
    titles = titles or [plan.block.title for plan in plans]
    sizes = [say_size(p.block.width_in, p.block.height_in, units or p.options.units) for p in plans]
    ways = [
        titles,
        [f"{title} {size}" for title, size in zip(titles, sizes, strict=True)],
        [f"{t} {size}, plan {p.id}" for t, p, size in zip(titles, plans, sizes, strict=True)],
    ]
    names = []
    for number, plan in enumerate(plans):
        others = [n for n, other in enumerate(plans) if other.id != plan.id]
        told = (way[number] for way in ways if all(way[number] != way[n] for n in others))
        names.append(next(told, ways[-1][number]))
    return tuple(names)


def times_words(labels: Iterable[str]) -> str:
    """How often each print comes, "" if all come once.

    >>> times_words(["A", "B", "A", "B"])
    'A and B, 2 times each'
    >>> times_words(["A", "A", "B", "C", "C", "C"])
    'A, 2 times; C, 3 times; B, once'
    """
    counts = Counter(labels)
    alike: dict[int, list[str]] = {}
    for label, count in sorted(counts.items(), key=lambda one: (len(one[0].rstrip("r")), one[0])):
        alike.setdefault(count, []).append(label)
    if set(alike) <= {1}:
        return ""
    once = alike.pop(1, [])
    told = [f"{say_list(names)}, {count} times{' each' * (len(names) > 1)}" for count, names in alike.items()]
    return "; ".join([*told, *([f"{say_list(once)}, once"] if once else [])])


def times_of(
    foundations: Sequence[Foundation], printing: PrintOptions, quilt: ForQuilt | None = None, job: int = 0
) -> str:
    """How often each print of a block is needed; where copies share sheets, for all of them together.

    Such as "A and B, 4 times each", "3 copies: A, 3 times", "for evening watch: 12 blocks: A and B, 12 times each";
    "" if nothing comes more than once.

    Args:
        quilt: that the prints are for, and job: which of its blocks this one is.
    """
    uses = dict.fromkeys(one.use for one in foundations)
    # A section shown for two uses is still needed once; a print may serve several.
    by_use = [
        Counter(label for label, _ in {(f.label, name) for f in foundations if f.use is use for name in f.sections})
        for use in uses
    ]
    counts = Counter(dict.fromkeys((label for of in by_use for label in of), 0))
    for of in by_use:
        counts |= of
    copies = 1 if printing.sets is Sets.APART else printing.copies
    blocks = quilt.blocks[job] if quilt is not None and Use.SEW in uses else 1
    told = times_words(label for label, count in counts.items() for _ in range(count * copies * blocks))
    if quilt is None:
        return f"{copies} copies: {told}" if told and copies > 1 else told
    quilts = f"{copies} quilts {quilt.name}".rstrip() if copies > 1 else quilt.name or "the quilt"
    held = say_count(quilt.blocks[job] * copies, "block")
    return f"for {quilts}: {held}{': ' * bool(told)}{told}"


def ruled_words(plan: Plan) -> str:
    """Which sections of a plan have no print, "" if all have one.

    Such as "C, D and E: by ruler, see the cutting list".
    """
    prints = dict.fromkeys(s.print + "r" * s.reversed for s in plan.sections if s.method == "ruler")
    return f"{say_list([*prints])}: by ruler, see the cutting list" if prints else ""


def option_words(options: PlanOptions) -> str:
    """Options that are not at their default, such as "allowance 3/8 in, units metric"; "" if none.

    Left out: the paper, the finished size, the colourway and the hand, which the sheet says anyway.
    """
    told = []
    for name, value in options.changed().items():
        if name in ("paper", "size", "colourway", "reversed"):
            continue
        if name == "palette":
            # A print handed to a class should not tell where its owner keeps things.
            value = PurePath(value).name
        words = name.replace("_", "-")
        if name in ("pre_pieced", "start"):
            # The names of a plan without them: other patches may have these here.
            value = f"{value} (as named without it)"
        if isinstance(value, bool):
            told.append(words if value else f"no {words}")
        elif name.endswith("_in"):
            told.append(f"{words.removesuffix('-in')} {say_length(value, options.units)}")
        elif isinstance(value, Margins):
            told.append(f"{words} {_margins_words(value, options.units)}")
        else:
            told.append(f"{words} {value.value if isinstance(value, Enum) else value}")
    return ", ".join(told)


def _margins_words(margins: Margins, units: Units) -> str:
    """Such as "1/2 in all round", "1/4 in top, 1/4 in right, 1/2 in bottom, 1/4 in left"."""
    sides = {"top": margins.top, "right": margins.right, "bottom": margins.bottom, "left": margins.left}
    if len(set(sides.values())) == 1:
        return f"{say_length(margins.top, units)} all round"
    return ", ".join(f"{say_length(length, units)} {side}" for side, length in sides.items())
