"""The chapters that set a quilt: blocks laid out, rows, sashing, triangles, and how all of it is pressed.

Knows:  what is told of each way to set, in which order.
Leaves: rows (quiltrows), the diagram (quiltlaying), how seams nest (quilt.pressing), borders (quiltborders).
Units:  inches in, words out. Common practice throughout.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from seamwright.booklet.model import Figure, Heading, Item, Paragraph, Pictures, Points, Story, Table
from seamwright.booklet.quiltlaying import laying_figures, letters_of, parts_needed
from seamwright.booklet.quiltrows import Entry, centre_size, rows_of
from seamwright.booklet.setting import pictures_across
from seamwright.picture.cloth import Finish, block_picture
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.model import Quilt, Role, Set, Spot
from seamwright.quilt.pressing import Nesting
from seamwright.quiltfacts import QuiltFacts
from seamwright.units import say_count, say_length, say_list, say_size

LAYING = "Laying out the quilt"
LOOK_IN = 1.05
"""The small pictures of the legend."""
LEGEND_IN = 1.75
"""A line of the legend: its height with captions."""
WORDS_IN, CAPTION_IN, LEAST_HIGH_IN = 2.0, 0.8, 2.8
"""Heights: of what stands above the legend, of the diagram's caption, of the diagram at the least below both."""
LAY_OUT = (
    "Lay the blocks out on a floor, a bed or a wall of felt, as the diagram shows. The number says which block "
    "it is, the arrow where its top points; the top is the upper side of its picture beside the number."
)
LOOK = (
    "Step back and look, best through a camera or with eyes half shut: a block that lies the wrong way round "
    "shows at once. Take a photograph, and pin the number of its row to the first piece of each row before you "
    "sew."
)
SLACK = {"in": "1/16 in", "cm": "1 mm"}


def laying_story(facts: QuiltFacts, room_in: tuple[float, float], scale: float) -> Story:
    """Which block lies where, as a diagram and in words.

    Args:
        room_in: width and height of a page's contents. scale: of words.
    """
    quilt = facts.quilt
    items: list[Item] = [Heading(LAYING), Paragraph(LAY_OUT)]
    times = blocks_of_looks(quilt)
    figures, captions = [], []
    for number, look in enumerate(quilt.looks):
        picture = block_picture(look.block, LOOK_IN, Finish.COLOUR)
        figures.append(Figure(picture.inks, picture.width_in, picture.height_in, f"{look.name}, its top above"))
        captions.append(f"{number + 1}: {look.name}, {say_count(times[number], 'block')}")
    items.append(Pictures(tuple(figures), tuple(captions)))
    letters = letters_of(quilt)
    if letters:
        plain = say_list([f"{letter} is a plain block of {name}" for name, letter in letters.items()])
        items.append(Paragraph(f"In the diagram {plain}."))
    legend = LEGEND_IN * -(-len(quilt.looks) // pictures_across(LOOK_IN, room_in[0], scale))
    below = (room_in[0], room_in[1] - legend - WORDS_IN * scale)
    # Below the legend if blocks are large enough there, else on a page of its own.
    fits = below[1] >= LEAST_HIGH_IN and parts_needed(quilt, below) == 1
    parts = laying_figures(quilt, below if fits else (room_in[0], room_in[1] - CAPTION_IN * scale))
    said = tuple(
        f"Part {n} of {len(parts)}" if len(parts) > 1 else _caption(quilt) for n in range(1, len(parts) + 1)
    )
    items.append(Pictures(parts, said))
    items.append(Paragraph(LOOK))
    items += _row_table(quilt)
    return tuple(items)


def rows_story(facts: QuiltFacts) -> Story:
    """Blocks to rows, rows to the centre of the quilt, with all that lies between and round them."""
    quilt = facts.quilt
    on_point, sashing = quilt.setting.set is Set.ON_POINT, quilt.setting.sashing
    allowance = say_length(facts.cutting.allowance_in, facts.cutting.units, glyphs=True)
    paper = ""
    if any(section.method == "paper" for plan in facts.plans for section in plan.sections):
        paper = (
            " Blocks come to the machine with the paper at their outer edges still on: sew on its printed "
            "line, then take it off."
        )
    rows = rows_of(quilt)
    if len(rows) == len(rows[0]) == 1 and sashing is None and not on_point:
        alone = "One block is the whole centre: measure it, and go on."
        return (Heading("Sewing the rows"), Paragraph(alone), *_sizes(facts))
    items: list[Item] = [
        Heading("Sewing the rows"),
        Paragraph(f"All seams are {allowance}, and a thread less is better than a thread more.{paper}"),
        Points(tuple(_steps(facts)), numbered=True),
    ]
    if on_point:
        items += _triangles(facts)
    if sashing is not None:
        items += _sashing(facts)
    items += _pressed(facts)
    items += _sizes(facts)
    return tuple(items)


def entry_said(quilt: Quilt, entry: Entry) -> str:
    """What lies at a place of a row, and how: "1 kite, 90°"."""
    if entry.spot is not None:
        turn = f", {90 * entry.spot.quarters}°" if entry.spot.quarters else ""
        return f"{entry.spot.look + 1} {quilt.looks[entry.spot.look].name}{turn}"
    assert entry.cloth is not None
    if entry.cloth.role is Role.SIDE_TRIANGLE:
        return "triangle"
    return f"{letters_of(quilt)[entry.cloth.fabric]} plain {entry.cloth.fabric}"


def _caption(quilt: Quilt) -> str:
    rows = "diagonal rows" if quilt.setting.set is Set.ON_POINT else "rows"
    return f"The quilt from the front: {rows} are numbered; arrows point to the top of each block"


def _row_table(quilt: Quilt) -> Iterator[Item]:
    """Each different row once, with the numbers of the rows that are like it."""
    on_point = quilt.setting.set is Set.ON_POINT
    alike: dict[str, list[int]] = {}
    for number, row in enumerate(rows_of(quilt), start=1):
        words = [(words, len(list(same))) for words, same in groupby(entry_said(quilt, entry) for entry in row)]
        said = "; ".join(f"{words} ({count} times)" if count > 1 else words for words, count in words)
        alike.setdefault(said, []).append(number)
    rows = tuple((_numbers(numbers), said) for said, numbers in alike.items())
    where = "From its upper left end down to the right" if on_point else "From left to right"
    yield Table(("Row", where), rows, caption="Degrees say how far a block is rotated clockwise")


def _numbers(numbers: Sequence[int]) -> str:
    """Row numbers, runs drawn together: 1, 3 to 6."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(str(number) for number in run) for run in runs
    )


def _steps(facts: QuiltFacts) -> Iterator[str]:
    quilt = facts.quilt
    rows, sashing = rows_of(quilt), quilt.setting.sashing
    on_point = quilt.setting.set is Set.ON_POINT
    if on_point:
        yield (
            f"Sew {say_count(len(rows), 'diagonal row')}, a side triangle at each end where the diagram shows "
            "one. The long side of every triangle is the outside of the quilt."
        )
        yield (
            f"Lay a triangle on the {'sash' if sashing else 'block'} at the end of its row with the square corners "
            "together, right sides facing: its sharp end reaches past the row by the allowance and more, and is "
            "trimmed level with it when the row is pressed."
        )
        if sashing is not None:
            yield "A sash lies between each piece of a row and the next, as in the diagram: sew them in as you go."
    elif sashing is not None:
        yield "Sew a sash between each block and the next, then block to sash until the row is whole."
    elif len(rows) > 1:
        yield f"Sew the blocks of each of the {len(rows)} rows, from left to right."
    else:
        yield "Sew the blocks of the row, from left to right."
    yield (
        "Pin where seams meet, straight through both seams, sew, open and look; unpick an inch rather than "
        "live with a step."
    )
    if sashing is not None and len(rows) > 1:
        strips = "The long sashes lie between rows"
        if sashing.cornerstones:
            half = any(cloth.role is Role.HALF_CORNERSTONE for cloth in quilt.cloths)
            ends = ", half a cornerstone at both of its ends" if half else ""
            strips = f"Sew sashes and cornerstones by turns into a strip for each line between rows{ends}"
        yield f"{strips}: sew each to its row, the sash on top; measure each row before it is sewn on."
    if len(rows) > 1:
        pressed = " Press each of these seams to one side, or open where it is thick." * (sashing is None)
        yield (
            "Join the rows two by two, then the pairs: so no seam is pulled about more often than it must be. "
            f"Pin at every seam and in between.{pressed}"
        )
    if on_point:
        yield "Sew on the four corner triangles last, their middles on the middles of their rows."


def _triangles(facts: QuiltFacts) -> Iterator[Item]:
    quilt = facts.quilt
    roles = Counter(cloth.role for cloth in quilt.cloths)
    yield Heading("Side and corner triangles", 2)
    yield Paragraph(
        f"{say_count(roles[Role.SIDE_TRIANGLE], 'side triangle')} and "
        f"{say_count(roles[Role.CORNER_TRIANGLE], 'corner triangle')} fill the edge. They are cut so that the "
        "straight grain lies on the outside of the quilt; their other sides are on the bias: lay them down, do "
        "not pull, and do not press them with steam until they are sewn on."
    )
    if quilt.construction:
        yield Paragraph(f"{quilt.construction[:1].upper()}{quilt.construction[1:]}".rstrip(".") + ".")
    points = ", the corners of the blocks" * (quilt.setting.sashing is None)
    yield Paragraph(
        "When the centre is sewn, lay a ruler along each side and trim it so that the allowance stays outside the "
        f"points where seams meet along it{points}; never cut these off."
    )


def _sashing(facts: QuiltFacts) -> Iterator[Item]:
    quilt, units = facts.quilt, facts.cutting.units
    sashing = quilt.setting.sashing
    assert sashing is not None
    roles = Counter(cloth.role for cloth in quilt.cloths)
    width = say_length(sashing.width_in, units, glyphs=True)
    yield Heading("Sashing", 2)
    stones = roles[Role.CORNERSTONE]
    told = f"{say_count(roles[Role.SASH], 'sash', 'sashes')} of {sashing.fabric}, finished {width} wide"
    if stones:
        told += f"; {say_count(stones, 'cornerstone')} of {sashing.cornerstones}, finished {width} square"
    if half := roles[Role.HALF_CORNERSTONE]:
        told += f"; {say_count(half, 'half cornerstone')}, triangles whose long side lies on the edge of the quilt"
    yield Paragraph(f"{told}.")
    yield Paragraph(
        "The cutting list says how they are cut. Cut all sashes of a size to one length, that of the blocks by "
        "calculation, and ease a block that is a thread off to its sash: pins at both ends and in the middle, "
        "the longer one below, against the feed."
    )


def _pressed(facts: QuiltFacts) -> Iterator[Item]:
    """How seams nest."""
    found: Nesting = facts.nesting
    yield Heading("Pressing, so that seams nest", 2)
    if found.between:
        yield Paragraph(f"Between blocks: {found.between}.")
    if found.meetings:
        rest = found.meetings - found.nested
        told = f"Seams within two blocks side by side meet at {say_count(found.meetings, 'place')} of their edges"
        if not found.nested:
            told += (
                ". On none of them can the seams nest: pin straight through both, and where it "
                "is thick press the seam between the blocks open"
            )
        elif rest:
            told += f": pressed as told here {found.nested} nest; the other {rest} are pinned straight through"
        else:
            told += ": pressed as told here, all of them nest"
        yield Paragraph(f"{told}.")
    if found.ways:
        yield Paragraph(
            "Press these joins of the blocks once more, from the back, before the rows are sewn; the others stay "
            "as they are."
        )
        rows = []
        for way in found.ways:
            name = facts.quilt.looks[way.look].name
            where = name if found.alike else f"{name} in {_places(facts.quilt, way.spots)}"
            pressed = "; ".join(f"join {press.join} towards {press.towards}" for press in way.presses)
            rows.append((where, pressed))
        yield Table(("Block", "Press"), tuple(rows))
    yield Paragraph(
        "Seams nest when they are pressed to opposite sides of the point at which they meet: push them "
        "together until they lock, and hold them with a pin just before the seam."
    )


def _places(quilt: Quilt, spots: Sequence[int]) -> str:
    """Where blocks lie, by the numbers of the diagram: "row 1: blocks 1 to 3; row 2: block 2"."""
    at: dict[Spot, tuple[int, int]] = {}
    for number, row in enumerate(rows_of(quilt), start=1):
        blocks = [entry.spot for entry in row if entry.spot is not None]
        at |= {spot: (number, place) for place, spot in enumerate(blocks, start=1)}
    found: dict[str, list[int]] = {}
    for spot in (quilt.spots[number] for number in spots):
        row_of, place = at.get(spot, (0, 0))
        found.setdefault(f"row {row_of}" if row_of else spot.part, []).append(place)
    return "; ".join(
        f"{where}: {'blocks' if len(places) > 1 else 'block'} {_numbers(sorted(places))}" if places[0] else where
        for where, places in found.items()
    )


def _sizes(facts: QuiltFacts) -> Iterator[Item]:
    quilt, units, more = facts.quilt, facts.cutting.units, 2 * facts.cutting.allowance_in
    wide, high = centre_size(quilt)
    rows = []
    kinds = {(spot.look, spot.quarters % 2) for spot in quilt.spots if spot.part == "centre"}
    for look in dict.fromkeys(look for look, _ in sorted(kinds)):
        block = quilt.looks[look].block
        size = say_size(block.width_in + more, block.height_in + more, units, glyphs=True)
        rows.append((quilt.looks[look].name, size, ""))
    if quilt.setting.set is Set.STRAIGHT and len(rows_of(quilt)) > 1:
        high_in = quilt.cell_in[1]
        rows.append(("each row of blocks", say_size(wide + more, high_in + more, units, glyphs=True), ""))
    rows.append(("the centre", say_size(wide + more, high + more, units, glyphs=True), ""))
    yield Heading("Sizes to check against", 2)
    yield Table(("Part", "Unfinished", "Yours"), tuple(rows))
    yield Paragraph(
        f"What is off by more than {SLACK[units.sign]} from seam to seam is mended now, before the next row."
    )
