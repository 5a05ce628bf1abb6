"""The cutting of a whole quilt: every fabric over all blocks and plain pieces, binding, backing and batting.

Knows:  what of a quilt is of which fabric, and in which order things are worked out.
Leaves: pieces of blocks (cutting.pieces), plain pieces (plaincuts), long strips (longstrips), binding, backing and
        batting (extras), strips of a fabric and what is bought (cutting.make), the proof (claims.quiltcuts).
Units:  inches.
Method: fabrics of one name are one, and so strips are shared by all blocks, borders and the binding. The backing is
        bought apart, in whole widths.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from seamwright.asked import usable_options
from seamwright.cutting import amounts
from seamwright.cutting.make import fabric_cut, fabric_cut_notes
from seamwright.cutting.model import FabricCut, Unit
from seamwright.cutting.pieces import pieces_of
from seamwright.cutting.rows import inches, parts_of, rows_of, whole_ticks
from seamwright.cutting.units import Sewn, units_over
from seamwright.errors import OptionError, fail
from seamwright.fabric.model import Fabric, folded
from seamwright.fabric.rulers import Ruler
from seamwright.fabric.words import fabric_called
from seamwright.notes import Note
from seamwright.options import CutOptions, PlanOptions, Units
from seamwright.piecing.model import Plan
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.cutmodel import BindingCut, Counted, Joined, Joint, QuiltCutting
from seamwright.quilt.extras import backing_cut, batting_cut, binding_cut
from seamwright.quilt.longstrips import along_selvedge, is_long, joined, strip_piece
from seamwright.quilt.model import Quilt
from seamwright.quilt.plaincloth import names
from seamwright.quilt.plaincuts import is_askew, plain_pieces, print_deg
from seamwright.units import say_bought, say_list

BINDING = "binding"
"""What its strips are called, and its fabric where none is named."""
_HAIR = 1e-6


def quilt_cutting(quilt: Quilt, plans: Sequence[Plan], options: CutOptions) -> QuiltCutting:
    """What to cut for a whole quilt.

    Args:
        plans: of its looks, in their order; each can be sewn.
        options: how fabric is cut; for how many blocks is known of the quilt.

    Raises:
        OptionError: blocks measure in different units, or have different seam allowances.
        ValueError: the plans are not those of the looks.
    """
    if len(plans) != len(quilt.looks):
        raise ValueError(f"{len(plans)} plans for {len(quilt.looks)} looks")
    units, allowance = _agreed(quilt, plans)
    options = replace(options, blocks=max(1, len(quilt.spots)))
    fabrics = {fabric.name: fabric for fabric in quilt.fabrics}
    plain = plain_pieces(quilt, fabrics, Ruler(allowance, units))
    pieces = (*_block_pieces(quilt, plans), *plain)
    binding = _binding(quilt, fabrics, options, units)
    cuts: list[FabricCut] = []
    strips: list[Joined] = []
    cut: list[Counted] = []
    notes: list[Note] = []
    order = list(dict.fromkeys(each.piece.fabric for each in pieces))
    if binding is not None and _binding_fabric(binding) not in order:
        order.append(_binding_fabric(binding))
    for name in order:
        mine = [each for each in pieces if each.piece.fabric == name]
        bound = binding if binding is not None and _binding_fabric(binding) == name else None
        fabric = None if name is None else fabrics.get(name, Fabric(name))
        made = _fabric(fabric, mine, bound, options, units, allowance)
        cuts.append(made.cut)
        strips += made.joined
        cut += made.pieces
        notes += [*made.notes, *_aslant(quilt, fabric, mine)]
    if binding is not None:
        binding = replace(binding, alone=_binding_fabric(binding) not in {each.piece.fabric for each in pieces})
    setting, size = quilt.setting, (quilt.width_in, quilt.height_in)
    backing = setting.backing and replace(setting.backing, fabric=names(quilt)(setting.backing.fabric))
    return QuiltCutting(
        quilt,
        tuple(plans),
        options,
        units,
        allowance,
        tuple(cut),
        tuple(cuts),
        tuple(strips),
        _units(quilt, plans),
        binding=binding,
        backing=None if backing is None else backing_cut(
            backing, size, backing.width_in or _usable_in(fabrics.get(backing.fabric), units), units
        ),
        batting=None if setting.batting is None else batting_cut(setting.batting, size, units),
        notes=tuple(notes),
    )  # fmt: skip


def _agreed(quilt: Quilt, plans: Sequence[Plan]) -> tuple[Units, float]:
    """Units and seam allowance of all blocks; those that the quilt asks for where it has none."""
    plan_options = [plan.options for plan in plans] or [_stated(quilt)]
    found = list(dict.fromkeys((each.units, each.seam_allowance_in) for each in plan_options))
    if len(found) > 1:
        what = "blocks of this quilt are measured in different units, or sewn at different seam allowances"
        mend = (
            "Say which for all of them in the quilt's file, such as option units inch and option allowance 1/4 in"
        )
        raise fail(OptionError, "option", what, mend, drawing=quilt.setting.file)
    return found[0]


def _stated(quilt: Quilt) -> PlanOptions:
    return usable_options(quilt.setting.options)


def _block_pieces(quilt: Quilt, plans: Sequence[Plan]) -> list[Counted]:
    """The pieces of all blocks, look by look."""
    times = blocks_of_looks(quilt)
    several = len(quilt.looks) > 1
    # Blocks may write one name in different ways; it is one fabric.
    called: dict[str, str] = {}
    for fabric in quilt.fabrics:
        called.setdefault(folded(fabric.name), fabric.name)
    return [
        Counted(
            replace(
                piece,
                name=f"{look.name} {piece.name}" if several else piece.name,
                fabric=piece.fabric and called.get(folded(piece.fabric), piece.fabric),
            ),
            times[number],
            number,
            piece.name,
        )
        for number, (look, plan) in enumerate(zip(quilt.looks, plans, strict=True))
        if times[number]
        for piece in parts_of(pieces_of(plan))
    ]


def _units(quilt: Quilt, plans: Sequence[Plan]) -> tuple[Unit, ...]:
    """What needs no paper, of all blocks together."""
    times, several = blocks_of_looks(quilt), len(quilt.looks) > 1
    sewn = zip(quilt.looks, plans, strict=True)
    return units_over(
        [Sewn(plan, times[n], f"{look.name} " * several) for n, (look, plan) in enumerate(sewn) if times[n]]
    )


def _aslant(quilt: Quilt, fabric: Fabric | None, mine: Sequence[Counted]) -> Iterator[Note]:
    """Where a print that runs one way cannot lie as it is meant to."""
    askew = [
        each.piece.name
        for each in mine
        for cloth in [quilt.cloths[number] for number in each.cloths[:1]]
        if (direction := print_deg(cloth, fabric)) is not None and is_askew(each.piece, cloth, direction)
    ]
    if askew:
        text = (
            f"the print of {fabric_called(fabric)} comes to lie aslant in {say_list(askew, most=6)}: what stands "
            "askew to it is cut along its own sides, so that no edge is on the bias. Take a fabric that looks the "
            "same all ways if that shows"
        )
        yield Note("aslant", text, len(askew))


def _binding(quilt: Quilt, fabrics: Mapping[str, Fabric], options: CutOptions, units: Units) -> BindingCut | None:
    if quilt.setting.binding is None:
        return None
    binding = replace(quilt.setting.binding, fabric=names(quilt)(quilt.setting.binding.fabric))
    usable = _usable_in(fabrics.get(binding.fabric), units)
    return binding_cut(binding, (quilt.width_in, quilt.height_in), usable, options.spare, units)


def _binding_fabric(binding: BindingCut) -> str:
    return binding.fabric or BINDING


def _usable_in(fabric: Fabric | None, units: Units) -> float:
    """The width that is counted of a fabric, down to what a ruler shows."""
    usable = fabric.width_in if fabric is not None and fabric.width_in else amounts.USABLE_IN[units]
    return inches(whole_ticks(usable, units), units)


@dataclass(frozen=True, slots=True)
class _Made:
    """What comes of one fabric."""

    cut: FabricCut
    pieces: tuple[Counted, ...]
    joined: tuple[Joined, ...]
    notes: tuple[Note, ...]


def _fabric(
    fabric: Fabric | None,
    mine: Sequence[Counted],
    binding: BindingCut | None,
    options: CutOptions,
    units: Units,
    allowance_in: float,
) -> _Made:
    """Strips of one fabric: long pieces are joined of them, or cut along the selvedge where that takes no more."""
    usable, name = _usable_in(fabric, units), None if fabric is None else fabric.name
    strips = joined(mine, usable, allowance_in)
    short = [each for each in mine if not is_long(each.piece, usable)]
    bound = [Counted(strip_piece(BINDING, name, binding.width_in, usable), binding.strips)] if binding else []

    def cut(others: Sequence[Counted]) -> tuple[FabricCut, tuple[Counted, ...]]:
        counted = (*others, *short, *bound)
        rows = rows_of([(each.piece, each.count) for each in counted], units)
        return fabric_cut(fabric, rows, options, units), counted

    across = [Counted(strip_piece(each.name, name, each.width_in, usable), each.strips) for each in strips]
    made, counted = cut(across)
    # Strips go across the fabric whichever way its print runs, and are no pieces of one that does.
    one_way = any(each.piece.one_way for each in mine)
    notes = [note for note in fabric_cut_notes(made, options, units) if one_way or note.code != "one-way"]
    if not strips:
        return _Made(made, counted, (), tuple(notes))
    free = [each for strip in strips if strip.joint is Joint.DIAGONAL for each in strip.lengths]
    if free:
        held = [each for each, strip in zip(across, strips, strict=True) if strip.joint is not Joint.DIAGONAL]
        whole, along = cut([*held, *map(along_selvedge, free)])
        called = fabric_called(fabric)
        if whole.bought_in <= made.bought_in + _HAIR:
            strips = tuple(strip for strip in strips if strip.joint is not Joint.DIAGONAL)
            text = (
                f"long strips of {called} are cut along the selvedge, each in one piece: that takes no more fabric "
                "than joining them, and they stretch less. Cut them before anything else of it"
            )
            notes.append(Note("along", text, len(free)))
            return _Made(whole, along, strips, tuple(notes))
        text = (
            f"long strips of {called} are joined of strips across the fabric; along the selvedge, each in one "
            f"piece, they would take {say_bought(whole.bought_in, units)} in place of "
            f"{say_bought(made.bought_in, units)}. Cut them before anything else of it"
        )
        notes.append(Note("joined", text, len(strips)))
    return _Made(made, counted, strips, tuple(notes))
