"""Borders round the centre of a quilt, one after the other from the inside.

Knows:  where strips, blocks and corners of borders lie, and how large they are.
Leaves: widths and whether blocks come out (coping), the centre (layout), what is said of borders (bordernotes), the
        proof (proof.quilt), cutting (cutting).
Units:  inches, finished; front view, x to the right, y down.
Method: a border goes round the rectangle that is there. Butted: strips as long as the sides are, measured through
        the middle; then strips over the top and bottom of all of it (common practice). With corner squares all four
        strips are as long as the sides. Mitred: every strip ends at 45 degrees in the corners. Pieced: one block
        after the other, its top to the outside, so that it is rotated with the side; what lies in the corners is
        rotated with them, as drawn in the top left one.
Limits: the same on all four sides, but for coping strips.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from seamwright.fabric.model import Fabric
from seamwright.geometry import Affine, Ring, after
from seamwright.notes import Note
from seamwright.options import Units
from seamwright.quilt.bordernotes import border_note, eased_note, measuring_notes, mitred_together
from seamwright.quilt.coping import NOISE_IN, Growth, Pair, Repeated, border_fault, check_widths, how_many, widths
from seamwright.quilt.easing import EASED_IN, eased
from seamwright.quilt.model import Border, Cloth, Edging, Quilt, Role, Set, Setting, Spot
from seamwright.quilt.plaincloth import names
from seamwright.units import say_size

if TYPE_CHECKING:  # blocks are read by whoever lays the quilt
    from seamwright.quilt.looks import LookBook

Box = tuple[float, float, float, float]
"""(left, top, right, bottom)."""


def bordered(centre: Quilt, book: LookBook, units: Units = Units.INCH) -> Quilt:
    """A quilt with all borders that its setting states round the centre that has none yet.

    Args:
        centre: laid without borders, its top left corner at (0, 0).
        book: its looks, those of the borders among them. units: for messages and notes.

    Raises:
        SettingError: a border cannot be sewn as stated.
    """
    borders, file = centre.setting.borders, centre.setting.file
    check_widths(borders, file, units)
    found = repeated_blocks(centre.setting, book, units)
    inside = (centre.width_in, centre.height_in)
    wide = widths(inside, borders, found, file=file, growth=_growth(centre), units=units)
    box, cloths, spots, notes = (0.0, 0.0, *inside), list(centre.cloths), list(centre.spots), list(centre.notes)
    for number, (border, (across, down)) in enumerate(zip(borders, wide, strict=True)):
        _check_corner(border, number, across, book, file, units)
        part = f"border {number + 1}"
        round_it: list[Spot] = []
        if border.edging is Edging.PIECED:
            round_it, told = _pieced(border, box, part, book, units)
            notes += told
        elif border.edging is Edging.MITRED:
            cloths += _mitred(border, box, across, part)
        else:
            cloths += _butted(border, box, across, down, part)
        if border.corners or border.corner is not None or border.edging is Edging.PIECED:
            laid = _corners(border, box, across, down, part, book, units)
            round_it = [*round_it, *laid[0]]
            cloths += laid[1]
            notes += laid[2]
        # Clockwise from the top left corner, as it is sewn.
        spots += sorted(round_it, key=lambda spot: (spot.row, spot.column))
        notes.append(border_note(border, number, box, (across, down), found.get(number), units))
        box = (box[0] - across, box[1] - down, box[2] + across, box[3] + down)
    notes += [*mitred_together(borders), *measuring_notes(centre, units)]
    shift: Affine = (1.0, 0.0, 0.0, 1.0, -box[0], -box[1])
    named = _fabrics(replace(centre, cloths=tuple(cloths)))
    return replace(
        centre,
        width_in=box[2] - box[0],
        height_in=box[3] - box[1],
        looks=book.looks,
        spots=tuple(replace(spot, place=after(spot.place, shift)) for spot in spots),
        cloths=tuple(_shifted(_along_print(cloth, named[cloth.fabric]), -box[0], -box[1]) for cloth in cloths),
        borders_in=wide,
        notes=tuple(notes),
    )


# -- plain borders ------------------------------------------------------------------------------------------------


def _butted(border: Border, box: Box, across: float, down: float, part: str) -> list[Cloth]:
    """Sides first, then top and bottom over them; with corners four strips as long as the sides."""
    left, top, right, bottom = box
    cornered = bool(border.corners or border.corner)
    over = 0.0 if cornered else across
    strips: tuple[Box, ...] = (
        (left - over, top - down, right + over, top),
        (right, top, right + across, bottom),
        (left - over, bottom, right + over, bottom + down),
        (left - across, top, left, bottom),
    )
    role = Role.COPING if border.edging is Edging.COPING else Role.BORDER
    # A coping strip that is not needed on two sides has no width there.
    return [
        _rectangle(role, strip, border.fabric, part, side, int(cornered))
        for side, strip in enumerate(strips)
        if min(strip[2] - strip[0], strip[3] - strip[1]) > NOISE_IN
    ]


def _corner_boxes(box: Box, across: float, down: float) -> tuple[Box, Box, Box, Box]:
    left, top, right, bottom = box
    return (
        (left - across, top - down, left, top),
        (right, top - down, right + across, top),
        (right, bottom, right + across, bottom + down),
        (left - across, bottom, left, bottom + down),
    )


def _mitred(border: Border, box: Box, width: float, part: str) -> list[Cloth]:
    left, top, right, bottom = box
    far = (left - width, top - width, right + width, bottom + width)
    outer = ((far[0], far[1]), (far[2], far[1]), (far[2], far[3]), (far[0], far[3]))
    inner = ((left, top), (right, top), (right, bottom), (left, bottom))
    lengths = (right - left + 2 * width, bottom - top + 2 * width)
    return [
        Cloth(
            Role.BORDER,
            (outer[side], outer[(side + 1) % 4], inner[(side + 1) % 4], inner[side]),
            border.fabric,
            part,
            side,
            0,
            lengths[side % 2],
            width,
        )
        for side in range(4)
    ]


def _rectangle(role: Role, box: Box, fabric: str, part: str, row: int, column: int) -> Cloth:
    left, top, right, bottom = box
    ring: Ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Cloth(role, ring, fabric, part, row, column, right - left, bottom - top)


def _fabrics(quilt: Quilt) -> dict[str, Fabric | None]:
    """What is known of the fabric of each plain piece, by the name that its line has for it."""
    known, called = {fabric.name: fabric for fabric in quilt.fabrics}, names(quilt)
    return {cloth.fabric: known.get(called(cloth.fabric)) for cloth in quilt.cloths}


def _along_print(cloth: Cloth, fabric: Fabric | None) -> Cloth:
    """A strip of a border with the way its fabric runs in it.

    Stripes go round the quilt with the border, as they lie in its top strip; a print with a top stands on all sides
    as it does in the blocks.
    """
    if cloth.role not in (Role.BORDER, Role.COPING, Role.BORDER_CORNER):
        return cloth
    if fabric is None or fabric.direction_deg is None:
        return cloth
    turned = 90.0 * cloth.row if fabric.striped and cloth.role is not Role.BORDER_CORNER else 0.0
    return replace(cloth, grain_deg=(fabric.direction_deg + turned) % (180.0 if fabric.striped else 360.0))


def _shifted(cloth: Cloth, right: float, down: float) -> Cloth:
    return replace(cloth, ring=tuple((x + right, y + down) for x, y in cloth.ring))


# -- pieced borders -----------------------------------------------------------------------------------------------


def repeated_blocks(setting: Setting, book: LookBook, units: Units = Units.INCH) -> dict[int, Repeated]:
    """By number of border, the block of each pieced one as it lies along the top.

    Raises:
        SettingError: none is named, or it is not square and nothing else is said to lie in the corners.
    """
    found: dict[int, Repeated] = {}
    for number, border in enumerate(setting.borders):
        if border.edging is not Edging.PIECED:
            continue
        if border.cell is None or not border.cell.source:
            what = f"border {number + 1} is pieced, and no block is named for it"
            raise border_fault(what, "Name one, or give it a width and a fabric", border, setting.file)
        across, out = book.size(border.cell)
        if border.corner is None and not border.corners and abs(across - out) > book.tolerance_in:
            lies = f"{border.cell.source} is {say_size(across, out, units)}"
            what = f"{lies}: it is not square, so it does not fill the corners of border {number + 1}"
            mend = f"Say what does: corners plain FABRIC, or corners with a block of {say_size(out, out, units)}"
            raise border_fault(what, mend, border, setting.file)
        found[number] = Repeated(across, out)
    return found


def _check_corner(border: Border, number: int, out: float, book: LookBook, file: str, units: Units) -> None:
    """The block in the corners of a border fills them."""
    if border.edging is Edging.MITRED and (border.corner or border.corners):
        what = f"border {number + 1} is mitred, so its strips meet in the corners and leave no room there"
        raise border_fault(what, "Leave out its corners, or 'mitred'", border, file)
    if border.corner is None or not border.corner.source:
        return
    width, height = book.size(border.corner)
    if max(abs(width - out), abs(height - out)) > book.tolerance_in:
        fits = say_size(out, out, units)
        own = f"{border.corner.source} is {say_size(width, height, units)}"
        what = f"{own}, the corners of border {number + 1} are {fits}"
        mend = f"Give {border.corner.source} size {fits}, or say: corners plain FABRIC"
        raise border_fault(what, mend, border, file)


def _pieced(border: Border, box: Box, part: str, book: LookBook, units: Units) -> tuple[list[Spot], list[Note]]:
    """The blocks along all four sides."""
    assert border.cell is not None
    look, quarters = book.of(border.cell)
    along, out = book.size(border.cell)
    left, top, right, bottom = box
    spots, most = [], 0.0
    for side in range(4):
        length = bottom - top if side % 2 else right - left
        count = how_many(length, along)
        most = max(most, abs(length - count * along))
        # What is to be eased in is shared by all.
        room = (out, length / count) if side % 2 else (length / count, out)
        lies = eased(book.looks[look].block, quarters + side, room)
        for k in range(count):
            near, far = k * length / count, (k + 1) * length / count
            at = (
                (left + near, top - out),
                (right, top + near),
                (right - far, bottom),
                (left - out, bottom - far),
            )[side]
            spots.append(_spot(look, quarters + side, lies, at, part, side, 1 + k))
    return spots, [eased_note(part, most, units)] if most > EASED_IN else []


def _corners(
    border: Border, box: Box, across: float, down: float, part: str, book: LookBook, units: Units
) -> tuple[list[Spot], list[Cloth], list[Note]]:
    """What lies in the four corners, each at the start of its side, clockwise from the top left one."""
    boxes = _corner_boxes(box, across, down)
    cell = border.corner or (None if border.corners else border.cell)
    if cell is None or not cell.source:
        fabric = border.corners if cell is None else cell.fabric
        if min(across, down) <= NOISE_IN:
            return [], [], []
        return [], [_rectangle(Role.BORDER_CORNER, at, fabric, part, k, 0) for k, at in enumerate(boxes)], []
    look, quarters = book.of(cell)
    most = max(abs(length - across) for length in book.size(cell))
    spots = []
    for side, (x, y, _, _) in enumerate(boxes):
        lies = eased(book.looks[look].block, quarters + side, (across, down))
        spots.append(_spot(look, quarters + side, lies, (x, y), part, side, 0))
    return spots, [], [eased_note(f"corners of {part}", most, units)] if most > EASED_IN else []


def _spot(look: int, quarters: int, lies: Affine, at: Pair, part: str, row: int, column: int) -> Spot:
    return Spot(look, quarters % 4, after(lies, (1.0, 0.0, 0.0, 1.0, *at)), part, row, column)


def _growth(centre: Quilt) -> Growth:
    """What one cell more adds to the centre."""
    between = centre.setting.sashing.width_in if centre.setting.sashing else 0.0
    slant = 2**0.5 if centre.setting.set is Set.ON_POINT else 1.0
    across, down = ((side + between) * slant for side in centre.cell_in)
    return Growth((across, down), (centre.columns, centre.rows))
