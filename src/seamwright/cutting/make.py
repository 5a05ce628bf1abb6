"""A cutting list from the pieces of a plan.

Knows:  the order of the steps: pieces by fabric, rows, strips, amounts, what the sewer should know.
Leaves: each of these steps (pieces, rows, strips, amounts), units without paper (units), its proof (handouts).
Units:  inches; ticks while strips are filled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from seamwright.cutting import amounts
from seamwright.cutting.band import Band, length_of
from seamwright.cutting.beforehand import sewn_notes
from seamwright.cutting.fill import Kind
from seamwright.cutting.model import Cutting, FabricCut, Quarter, Row, Strip, Subcut, Unit
from seamwright.cutting.rows import for_more, inches, parts_of, rows_of, ticks, whole_ticks
from seamwright.cutting.strips import Cost, fits, pack_blocks, simplest
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Piece
from seamwright.fabric.words import fabric_called
from seamwright.notes import Note
from seamwright.options import Cloth, CutOptions, Units
from seamwright.piecing.model import Plan
from seamwright.units import say_length, say_list, say_size

NO_LIMIT = 10**9
"""A strip from the bolt may be as wide as you like."""


def cutting(
    plan: Plan, options: CutOptions, pieces: Sequence[Piece] | None = None, units: Sequence[Unit] | None = None
) -> Cutting:
    """What to cut for the blocks of a plan that can be sewn.

    Args:
        pieces: the fabric of each patch; None: worked out from the plan.
        units: what needs no paper; None: worked out from the plan.
    """
    if pieces is None:
        from seamwright.cutting.pieces import pieces_of

        pieces = pieces_of(plan)
    if units is None:
        from seamwright.cutting.units import units_of

        units = units_of(plan, options)
    known = {fabric.name: fabric for fabric in plan.block.fabrics}
    by_fabric: dict[str | None, list[Piece]] = {}
    for piece in parts_of(pieces):
        by_fabric.setdefault(piece.fabric, []).append(piece)
    ours = plan.options.units
    fabrics: list[FabricCut] = []
    for name in [*(n for n in known if n in by_fabric), *(n for n in by_fabric if n not in known)]:
        fabric = None if name is None else known.get(name, Fabric(name))
        counted = [(piece, options.blocks) for piece in by_fabric[name]]
        fabrics.append(fabric_cut(fabric, rows_of(counted, ours), options, ours))
    notes = (*sewn_notes(plan, pieces), *_notes(fabrics, options, ours))
    return Cutting(plan, options, tuple(pieces), tuple(fabrics), tuple(units), notes)


def fabric_cut(fabric: Fabric | None, rows: Sequence[Row], options: CutOptions, units: Units) -> FabricCut:
    """Strips and amounts of one fabric, from the bolt or, where all its pieces fit one, from fat quarters.

    Args:
        rows: its pieces, with their numbers for `options.blocks`.
    """
    bolt = _from_bolt(fabric, rows, options, units)
    quartered = _from_quarters(bolt, options, units)
    if quartered is None:
        return bolt
    if options.cloth is Cloth.FAT_QUARTERS:
        return quartered
    return replace(bolt, fat_quarters=quartered.fat_quarters, instead=quartered)


def _from_bolt(fabric: Fabric | None, rows: Sequence[Row], options: CutOptions, units: Units) -> FabricCut:
    usable_in = fabric.width_in if fabric is not None and fabric.width_in else amounts.USABLE_IN[units]
    length = whole_ticks(usable_in, units)
    held = [row for row in rows if fits(_kind(row, units), length, NO_LIMIT)]
    bands = _bands(held, options.blocks, length, NO_LIMIT, units)
    strips = _filled_up([_strip(band, held, units) for band in bands])
    length_in = inches(length_of(bands), units) + (amounts.STRAIGHTEN_IN[units] if bands else 0.0)
    bought_in = amounts.bought_in(length_in, options.spare, units)
    over = [(inches(length, units), bought_in - length_in), *_ends(strips)]
    return FabricCut(
        fabric,
        inches(length, units),
        tuple(rows),
        strips,
        length_in,
        bought_in,
        left_over=amounts.useful(over, units),
        too_large=tuple(row for row in rows if row not in held),
    )


def _from_quarters(bolt: FabricCut, options: CutOptions, units: Units) -> FabricCut | None:
    """The same pieces from fat quarters, strips along either side of them; None if a piece does not fit.

    Nor are there any of a fabric that is narrower than usual: theirs are half as wide as that.
    """
    if _is_narrow(bolt.fabric, units):
        return None
    across, along = (whole_ticks(side, units) for side in amounts.QUARTER_USABLE_IN[units])
    tried = [_quartered(bolt, across, along, options, units)]
    if not any(row.one_way for row in bolt.rows):  # a print that runs one way allows strips across the fabric alone
        tried.append(_quartered(bolt, along, across, options, units))
    found = [cut for cut in tried if cut is not None]
    return min(found, key=lambda cut: (cut.fat_quarters or 0, len(cut.strips)), default=None)


def _is_narrow(fabric: Fabric | None, units: Units) -> bool:
    return fabric is not None and fabric.width_in is not None and fabric.width_in < amounts.USABLE_IN[units]


def _quartered(bolt: FabricCut, length: int, room: int, options: CutOptions, units: Units) -> FabricCut | None:
    """Strips of this length from fat quarters with so much room for them; None if a piece does not fit."""
    if not bolt.rows or not all(fits(_kind(row, units), length, room) for row in bolt.rows):
        return None

    def cost(bands: Sequence[Band]) -> tuple[int, ...]:
        parted = amounts.share_out([(band.width, band.times) for band in bands], room)
        cut = sum(times for times, _ in parted)
        return (amounts.quarters_bought(cut, length_of(bands), room, options.spare), *simplest(bands))

    def least(used: int) -> int:
        return amounts.quarters_bought(1, used, room, options.spare)

    bands = _bands(bolt.rows, options.blocks, length, room, units, cost, least)
    strips = tuple(_strip(band, bolt.rows, units) for band in bands)
    parted = amounts.share_out([(band.width, band.times) for band in bands], room)
    quarters = tuple(
        Quarter(times, each, inches(room - sum(bands[n].width * number for n, number in each), units))
        for times, each in parted
    )
    cut = sum(quarter.count for quarter in quarters)
    number = cost(bands)[0]
    whole = (inches(length, units), inches(room, units))
    over = [(whole[0], quarter.left_in) for quarter in quarters for _ in range(min(quarter.count, amounts.TOLD))]
    over += [whole] * min(number - cut, amounts.TOLD)
    return replace(
        bolt,
        width_in=whole[0],
        strips=strips,
        length_in=inches(length_of(bands), units),
        fat_quarters=number,
        quarters=quarters,
        left_over=amounts.useful([*over, *_ends(strips)], units),
    )


def _kind(row: Row, units: Units) -> Kind:
    """A row for the packer: width along the strip, height across it."""
    return Kind(ticks(row.width_in, units), ticks(row.height_in, units), row.cuts, not row.one_way)


def _bands(
    rows: Sequence[Row],
    blocks: int,
    length: int,
    widest: int,
    units: Units,
    cost: Cost = simplest,
    least: Callable[[int], int] = lambda used: used,
) -> tuple[Band, ...]:
    if not rows:
        return ()

    def needs(number: int) -> list[Kind]:
        return [_kind(for_more(row, number, blocks), units) for row in rows]

    return pack_blocks(needs, blocks, length, widest, cost, least)


def _strip(band: Band, rows: Sequence[Row], units: Units, outer: int = 1) -> Strip:
    """Equal strips in inches.

    Args:
        outer: how many strips hold these, where they are cut from what is left of others.
    """
    count = band.times * outer
    subcuts = [
        Subcut(
            inches(way.along, units),
            inches(way.across, units),
            number * count,
            rows[way.kind].patches,
            rows[way.kind].shape,
            rows[way.kind].share,
            rows[way.kind].hand,
        )
        for way, number in band.cuts
    ]
    rest = tuple(_strip(inner, rows, units, count) for inner in band.rest)
    left = inches(band.length - band.used, units)
    return Strip(inches(band.width, units), inches(band.length, units), count, tuple(subcuts), left, rest)


def _filled_up(strips: Sequence[Strip]) -> tuple[Strip, ...]:
    """Full strips and the one that what is left of the same rectangles begins, as one line."""
    found: list[Strip] = []
    for strip in strips:
        last = found[-1] if found else None
        if last is None or not _go_on(last, strip):
            found.append(strip)
            continue
        both = last.subcuts[0].count + strip.subcuts[0].count
        found[-1] = replace(
            last,
            count=last.count + strip.count,
            subcuts=(replace(last.subcuts[0], count=both),),
            left_in=max(last.left_in, strip.left_in),
        )
    return tuple(found)


def _go_on(last: Strip, strip: Strip) -> bool:
    """Whether strips behind others hold fewer of the same rectangles and nothing else."""
    if last.rest or strip.rest or last.width_in != strip.width_in or strip.count != 1:
        return False
    one, other = last.subcuts, strip.subcuts
    return len(one) == len(other) == 1 and replace(one[0], count=other[0].count) == other[0]


def _ends(strips: Sequence[Strip]) -> list[tuple[float, float]]:
    """What is left at the ends of strips; of equal ones as many as are told of."""
    found: list[tuple[float, float]] = []
    for strip in strips:
        over = strip.width_in - sum(inner.width_in * (inner.count // strip.count) for inner in strip.rest)
        # Where strips are filled one after the other only the last has more left than the others.
        last = len(strip.subcuts) == 1 and strip.subcuts[0].length_in <= strip.left_in
        found += [(strip.left_in, over)] * (1 if last else min(strip.count, amounts.TOLD))
        found += _ends(strip.rest)
    return found


def _notes(fabrics: Sequence[FabricCut], options: CutOptions, units: Units) -> tuple[Note, ...]:
    """What the sewer should know of fabrics, each with its mend."""
    return tuple(note for cut in fabrics for note in fabric_cut_notes(cut, options, units))


def fabric_cut_notes(cut: FabricCut, options: CutOptions, units: Units) -> Iterator[Note]:
    """What the sewer should know of one fabric, each with its mend."""
    name = fabric_called(cut.fabric)
    if cut.too_large:
        row = cut.too_large[0]
        size = say_size(row.width_in, row.height_in, units)
        text = (
            f"{name} is {say_length(cut.width_in, units)} wide, too narrow for {say_list(row.patches, most=4)} "
            f"({size}), which no amount here counts. Take a wider fabric and say how wide in its line, such as "
            f"width {'108 in' if units is Units.INCH else '270 cm'}; or make the block or the border smaller"
        )
        yield Note("too-wide", text, count=len(cut.too_large), largest_in=max(row.width_in, row.height_in))
    if options.cloth is Cloth.FAT_QUARTERS and cut.cloth is not options.cloth and not cut.too_large:
        row = cut.rows[0]
        why = f"a piece of {say_size(row.width_in, row.height_in, units)} fits no fat quarter"
        if _is_narrow(cut.fabric, units):
            why = f"only {say_length(cut.width_in, units)} wide it gives no fat quarters of the usual size"
        text = f"{name} is cut from the bolt, for {why}"
        yield Note("fat-quarters", text)
    if any(row.one_way for row in cut.rows):
        text = (
            f"pieces of {name} are cut as if its stripes or its print run along the selvedge, and none is given a "
            "quarter turn; look at your fabric before you cut"
        )
        yield Note("one-way", text)
