"""A cutting list in sentences on one screen: what to buy, strips and subcuts, what needs no paper.

Knows:  which facts are told, in which order, and how many fit one screen.
Leaves: every fact itself (cutting), the same facts as data (report.cuts), as a table (report.table) and as pages
        (booklet.tables).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from seamwright.booklet.tables import BLADE
from seamwright.cutting import amounts
from seamwright.cutting.model import Cutting, FabricCut, Strip, Subcut, Unit
from seamwright.cutting.shopping import Bought, shopping
from seamwright.cutting.stacks import stacks
from seamwright.fabric.pieces import Shape
from seamwright.fabric.words import becomes, fabric_called, value_word
from seamwright.notes import fabric_notes
from seamwright.options import Cloth, Units
from seamwright.units import say_bought, say_count, say_length, say_list, say_once, say_size
from seamwright.words.checks import note_words

SCREEN = 30
"""Lines of strips told of all fabrics together; at the least LEAST of each."""
LEAST = 4
HOLDS_ALL = "-o cutting.pdf or cutting.csv holds all of them"
NAMES = 6
"""Patches named of one cut."""


def cutting_words(cuttings: Sequence[Cutting]) -> list[str]:
    """Lines for a person: what to buy, how to cut it, and the usual caution."""
    lines = [_shopping(cuttings)] if len(cuttings) > 1 else []
    for cutting in cuttings:
        lines += _cutting(cutting)
    used = {(cutting.plan.options.units, cut.cloth): None for cutting in cuttings for cut in cutting.fabrics}
    lines += [f"  {line}" for units, cloth in used for line in counted_words(cloth, units)]
    return [*lines, f"  {proven_words(cuttings)}", f"  {BLADE}"]


def proven_words(cuttings: Sequence[Cutting]) -> str:
    """What is proven of cutting lists."""
    blocks = {cutting.options.blocks for cutting in cuttings}
    many = say_count(blocks.pop(), "block") if len(blocks) == 1 else "all blocks"
    told = " but those told of as too large" if any(narrow(cutting.fabrics) for cutting in cuttings) else ""
    return (
        f"Proven: every patch of {many}{told} has its piece, each piece lies in its strip, what is bought holds "
        "all strips and the spare; and sewn in the rehearsal, the pieces cover their patches."
    )


def counted_words(cloth: Cloth, units: Units) -> Iterator[str]:
    """What of a cloth is counted, and what is lost at its edges."""
    if cloth is Cloth.FAT_QUARTERS:
        counted, bought = (
            say_size(*sides[units], units) for sides in (amounts.QUARTER_USABLE_IN, amounts.QUARTER_IN)
        )
        yield f"Counted of a fat quarter of {bought}: {counted}, without its selvedge and with straight edges."
        return
    usable, bought = (say_length(w[units], units) for w in (amounts.USABLE_IN, amounts.BOUGHT_WIDTH_IN))
    edge = say_length(amounts.STRAIGHTEN_IN[units], units)
    width = f"{usable} of {bought} of its width, without selvedges, unless its line says how wide it is"
    yield f"Counted of a fabric: {width}; {edge} of its length is to straighten the cut edge."


def _shopping(cuttings: Sequence[Cutting]) -> str:
    bought = shopping(cuttings)
    names = say_list([_titled(cutting) for cutting in cuttings])
    if not bought:
        return f"{names}: some measure in inches, others in centimetres, so what to buy stands with each of them."
    like = cuttings[0]
    return f"{names}, all together: buy {buy_words(bought, like.options.spare, like.plan.options.units)}."


def _titled(cutting: Cutting) -> str:
    block = cutting.plan.block
    size = say_size(block.width_in, block.height_in, cutting.plan.options.units)
    return f"{block.title}, {say_count(cutting.options.blocks, 'block')} of {size}"


def buy_words(bought: Sequence[Bought], spare: float, units: Units) -> str:
    """What to buy of each fabric, and what is to spare in it."""
    fabrics: dict[str, list[str]] = {}
    for each in bought:
        ways = [say_bought(each.length_in, units)] if each.length_in else []
        ways += [say_count(each.fat_quarters, "fat quarter")] if each.fat_quarters else []
        if ways:
            fabrics.setdefault(" and ".join(ways), []).append(fabric_called(each.fabric))
    if not fabrics:
        return "nothing, for no piece fits its fabric"
    told = [f"{way}{' each' * (len(names) > 1)} of {say_list(names)}" for way, names in fabrics.items()]
    held = f"{spare * 100:g} % more than is cut is in it, for shrinkage and mistakes"
    return f"{'; '.join(told)}. {held if spare else 'Nothing is in it for shrinkage and mistakes'}"


def _cutting(cutting: Cutting) -> list[str]:
    units = cutting.plan.options.units
    bought = buy_words(shopping([cutting]), cutting.options.spare, units)
    lines = [f"{_titled(cutting)}, plan {cutting.plan.id}: buy {bought}."]
    if too_narrow := narrow(cutting.fabrics):
        be = "is" if len(too_narrow) == 1 else "are"
        lines.append(
            f"  Not all is counted: {say_list(too_narrow)} {be} too narrow for some pieces, see the notes below."
        )
    least = max(LEAST, SCREEN // max(1, len(cutting.fabrics)))
    for cut in cutting.fabrics:
        lines += [f"  {line}" for line in fabric_words(cut, cutting.options.spare, units, least)]
    if cutting.options.stack:
        lines += [f"  {line}" for line in _stacks(cutting)]
    lines += [f"  {line}" for line in units_words(cutting.units, units)]
    lines += [f"  {note_words(note)}" for note in (*fabric_notes(cutting.plan), *cutting.notes)]
    return lines


def narrow(cuts: Sequence[FabricCut]) -> list[str]:
    """Fabrics too narrow for some of their pieces."""
    return [fabric_called(cut.fabric) for cut in cuts if cut.too_large]


Called = Callable[[Sequence[str]], str]
"""How names of patches are told."""


def some_patches(names: Sequence[str]) -> str:
    """Names of patches, the first few of many."""
    return say_list(names, most=NAMES)


def fabric_words(
    cut: FabricCut, spare: float, units: Units, most: int, called: Called = some_patches
) -> Iterator[str]:
    """What to buy of one fabric, its strips and what is cut of them, what is left over.

    Args:
        spare: share that is bought beyond what is cut. most: lines of strips. called: how patches are named.
    """
    value = value_word(cut.fabric)
    name = f"{fabric_called(cut.fabric)}{f' ({value})' if value else ''}"
    yield f"{name}: {_source(cut, units)}"
    lines = [
        line for number, strip in enumerate(cut.strips, 1) for line in _strip(strip, cut, number, units, called)
    ]
    if len(lines) > most:
        left = len(lines) - most + 1
        lines = [*lines[: most - 1], f"And {left} more lines: {HOLDS_ALL}."]
    yield from (f"  {line}" for line in lines)
    for quarter in cut.quarters[:LEAST]:
        strips = [f"{count} of line {line + 1}" for line, count in quarter.strips]
        each = "each" if quarter.count > 1 else "it"
        yield f"  {say_count(quarter.count, 'fat quarter')}, from {each}: {say_list(strips)}."
    if more := sum(quarter.count for quarter in cut.quarters[LEAST:]):
        yield f"  And {say_count(more, 'fat quarter')} more: {HOLDS_ALL}."
    if cut.left_over:
        over = say_once([say_size(*size, units) for size in cut.left_over])
        yield f"  Left over{', with all of the spare' if spare else ''}: {say_list(over)}."


def _source(cut: FabricCut, units: Units) -> str:
    width = say_length(cut.width_in, units)
    if cut.cloth is Cloth.FAT_QUARTERS:
        side = amounts.quarter_side(cut.width_in, units)
        return f"{say_count(cut.fat_quarters or 0, 'fat quarter')}; strips {width} long, along the {side} side."
    instead = f", or {say_count(cut.fat_quarters, 'fat quarter')}" if cut.fat_quarters else ""
    bought = say_bought(cut.bought_in, units) if cut.strips else "too narrow for all its pieces"
    return f"{bought}{instead}; strips across {width}."


def _strip(strip: Strip, cut: FabricCut, number: int, units: Units, called: Called) -> Iterator[str]:
    begin = f"{number}. " if cut.quarters else ""
    what = f": {_subcuts(strip, units, called)}" if strip.subcuts else ""
    yield f"{begin}{_wide(strip, units)}{what}."
    for inner in strip.rest:
        of = "the rest of it" if strip.count == 1 else "the rest of each"
        each = inner.count // strip.count
        wide = f"{say_count(each, 'strip')} {say_length(inner.width_in, units)} wide"
        all_ = "" if strip.count == 1 else " in all"
        yield f"  {of}, cut along into {wide}: {_subcuts(inner, units, called)}{all_}."


def _wide(strip: Strip, units: Units) -> str:
    return f"{say_count(strip.count, 'strip')} {say_length(strip.width_in, units)} wide"


def _subcuts(strip: Strip, units: Units, called: Called) -> str:
    return ", ".join(_subcut(sub, strip, units, called) for sub in strip.subcuts)


def _subcut(sub: Subcut, strip: Strip, units: Units, called: Called) -> str:
    size = say_size(sub.length_in, sub.height_in, units)
    down = " cut down" if sub.height_in < strip.width_in - 1e-9 else ""
    return f"{sub.count} at {size}{down}{_then(sub.shape, sub.share, sub.hand)} ({called(sub.patches)})"


def _stacks(cutting: Cutting) -> Iterator[str]:
    """What lies in the stack of each section, in sewing order."""
    units = cutting.plan.options.units
    yield "Stacks, in sewing order:"
    for stack in stacks(cutting):
        told = [
            f"{p.name} {fabric_called(p.fabric, code=False)} {say_size(p.width_in, p.height_in, units)}"
            for p in stack.pieces
        ]
        yield f"  {say_list(stack.sections, most=NAMES)}, {stack.count} of each: {'; '.join(told)}."


def units_words(found: Sequence[Unit], units: Units, called: Called = some_patches) -> Iterator[str]:
    """What needs no paper, and how to make it."""
    for unit in found:
        size = say_size(unit.width_in, unit.height_in, units)
        whole = say_size(unit.unfinished_width_in, unit.unfinished_height_in, units)
        how = "sewn on paper here, quicker without (--rotary auto)" if unit.on_paper else "without paper"
        cuts = [
            f"{cut.count} at {say_size(cut.width_in, cut.height_in, units)} of {fabric_called(cut.fabric)}"
            f"{_then(cut.shape, cut.share)}"
            for cut in unit.cuts
        ]
        many = say_count(unit.count, unit.kind, _plural(unit.kind))
        yield (f"{many} ({called(unit.patches)}), {how}, {size} finished, {whole} once sewn: {'; '.join(cuts)}.")
        yield from (f"  {way}" for way in unit.ways)


def _then(shape: Shape, share: int, hand: str = "") -> str:
    """What is done with a rectangle once it is cut, "" for nothing."""
    _, comma, then = becomes(shape, share, square=True, hand=hand).partition(", ")
    return comma + then


def _plural(kind: str) -> str:
    return kind if kind.endswith("geese") else f"{kind}s"


def written(cuttings: Sequence[Cutting], form: str) -> str:
    """What a file holds, such as "cutting list of kite as pages"."""
    names = say_list(list(dict.fromkeys(cutting.plan.block.title for cutting in cuttings)))
    how = "a table for spreadsheets" if form == ".csv" else "pages to print"
    return f"cutting list of {names} as {how}"
