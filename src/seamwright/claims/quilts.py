"""From a laid quilt to the claim that its proof judges: values become coordinates, and nothing else passes.

Knows:  quilts, and which cell of the setting each block lies in.
Leaves: judging (proof.quilt).
Units:  inches, finished; front view.
"""

from __future__ import annotations

from collections.abc import Callable

from seamwright.block.model import Block
from seamwright.fabric.model import folded
from seamwright.proof.quiltclaim import (
    ClaimedCell,
    ClaimedCloth,
    ClaimedLook,
    ClaimedPatch,
    ClaimedSpot,
    QuiltClaim,
)
from seamwright.quilt.easing import EASED_IN
from seamwright.quilt.looks import drawing_of
from seamwright.quilt.model import SIDES, Cell, Quilt, Role, Set, Spot
from seamwright.quilt.plaincloth import names


def claim_of_quilt(quilt: Quilt) -> QuiltClaim:
    """What a quilt claims, and what its setting asks for in each place."""
    told = [note.largest_in for note in quilt.notes if note.code == "eased" and note.largest_in is not None]
    called = names(quilt)
    slant = 45.0 if quilt.setting.set is Set.ON_POINT else 0.0
    return QuiltClaim(
        quilt.width_in,
        quilt.height_in,
        tuple(_patches(look.block.mirror_of or look.block) for look in quilt.looks),
        tuple(tuple(_asked(quilt, cell, slant, called) for cell in row) for row in quilt.setting.cells),
        tuple(ClaimedLook(look.name, look.block.outline_ring(), _patches(look.block)) for look in quilt.looks),
        tuple(_spot(quilt, spot) for spot in quilt.spots),
        tuple(
            ClaimedCloth(
                cloth.ring,
                cloth.width_in,
                cloth.height_in,
                f"the {cloth.role.value} at {_place(cloth.part, cloth.row, cloth.column)}",
                cloth.fabric,
                cloth.role is Role.SETTING_BLOCK,
            )
            for cloth in quilt.cloths
        ),
        max([EASED_IN, *told]),
    )


def _spot(quilt: Quilt, spot: Spot) -> ClaimedSpot:
    where = f"{quilt.looks[spot.look].name} at {_place(spot.part, spot.row, spot.column)}"
    if spot.part == "centre":
        return ClaimedSpot(spot.look, spot.place, where)
    border = quilt.setting.borders[int(spot.part.removeprefix("border ")) - 1]
    cell = (border.corner if spot.column == 0 else None) or border.cell
    assert cell is not None
    # Tops lie outwards: each side is rotated by a quarter turn more than the one before it, and so are corners.
    return ClaimedSpot(spot.look, spot.place, where, _asked(quilt, cell, 90.0 * spot.row))


def _asked(quilt: Quilt, cell: Cell, slant_deg: float, called: Callable[[str], str] = str) -> ClaimedCell:
    if not cell.source:
        return ClaimedCell(None, fabric=called(cell.fabric))
    drawing = next(drawing_of(s) for s in quilt.setting.sources if folded(s.name) == folded(cell.source))
    drawn = next(
        number
        for number, look in enumerate(quilt.looks)
        if look.drawing == drawing and folded(cell.colourway) in map(folded, look.asked or (look.colourway,))
    )
    return ClaimedCell(drawn, cell.turn.reversed, (90.0 * cell.turn.quarters + slant_deg) % 360)


def _patches(block: Block) -> tuple[ClaimedPatch, ...]:
    return tuple(
        ClaimedPatch(
            block.patch_ring(number),
            block.patch_holes(number),
            " + ".join(name or "" for name in block.fabrics_in(number)),
        )
        for number in range(len(block.patches))
    )


def _place(part: str, row: int, column: int) -> str:
    if part == "centre":
        return f"row {row + 1}, place {column + 1}"
    return f"{part}, {SIDES[row]}, place {column + 1}"
