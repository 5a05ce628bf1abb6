"""What a quilt comes to, in sentences on one screen: its size first, what is proven last.

Knows:  which facts are told, and in which order.
Leaves: every fact itself (quiltfacts), the same facts as data (report.quilts), its cutting list (words.cuts).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Shape
from seamwright.fabric.words import fabric_called
from seamwright.options import Units
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.quilt.cutting import BINDING
from seamwright.quilt.model import Cloth, Edging, Quilt, Role, Set
from seamwright.quiltfacts import QuiltFacts
from seamwright.units import say_bought, say_count, say_length, say_list, say_size
from seamwright.words.checks import note_words

TOLD = 8
"""Kinds of plain pieces told; prints are told up to three times as many."""
PRESSES = 3
"""Joins told of one way of pressing."""
PROVEN = (
    "Proven: pieces lie side by side without gap or overlap, and their areas come to that of the quilt; every "
    "block can be sewn; what is bought holds all that is cut."
)


@dataclass(frozen=True, slots=True)
class Told:
    """Facts of one kind, each a line without its full stop; `beside`: what parts a single one from its heading."""

    title: str
    lines: tuple[str, ...]
    beside: str = ": "


def quilt_words(drawing: str, facts: QuiltFacts) -> list[str]:
    """Lines for a person."""
    construction = facts.quilt.construction
    told: list[str] = []
    for number, part in enumerate(quilt_told(facts)):
        told += _under(part)
        if not number and construction:
            told.append(f"{construction}.")
    told += (note_words(note) for note in (*facts.notes, *facts.advice.notes))
    told.append(PROVEN)
    return [f"{drawing}: {size_sentence(facts)}", *(f"  {line}" for line in told)]


def size_sentence(facts: QuiltFacts) -> str:
    """What the quilt is called, and how large it is."""
    quilt = facts.quilt
    return f"{quilt.setting.name}, {say_size(quilt.width_in, quilt.height_in, facts.cutting.units)} finished."


def quilt_told(facts: QuiltFacts, *, briefly: bool = True) -> list[Told]:
    """What a quilt comes to, under its headings; none without lines.

    Args:
        briefly: for one screen: of many plain pieces and ways of pressing the first, each drawing with its path.
    """
    spare = facts.cutting.options.spare
    borders = "Borders, inside first" if len(facts.quilt.borders_in) > 1 else "Border"
    parts = [
        Told(_set(facts), tuple(_blocks(facts, paths=briefly))),
        Told("Cut plain, with seam allowances", tuple(_some(_pieces(facts.cutting), TOLD if briefly else None))),
        Told(borders, tuple(_borders(facts))),
        Told("Print", tuple(_prints(facts)), beside=" of "),
        Told(f"Buy, {f'{spare * 100:g} %' if spare else 'nothing'} to spare in it", tuple(_bought(facts.cutting))),
        Told("By area", tuple(_light(facts)), beside=" "),
        Told("Press", tuple(_pressed(facts, PRESSES if briefly else None))),
    ]
    return [part for part in parts if part.lines]


def _under(part: Told) -> Iterator[str]:
    """Facts of one kind under their heading, a line each; a single one beside it."""
    if len(part.lines) == 1:
        yield f"{part.title}{part.beside}{part.lines[0]}."
    else:
        yield f"{part.title}:"
        yield from (f"  {line}." for line in part.lines)


def _blocks(facts: QuiltFacts, *, paths: bool) -> Iterator[str]:
    """How many of which block lie in which turn."""
    quilt, units = facts.quilt, facts.cutting.units
    for number, look in enumerate(quilt.looks):
        turns = [each for each in facts.blocks if each.look == number]
        many = sum(each.count for each in turns)
        size = side_words(look.block.width_in, look.block.height_in, units)
        lie = [f"{each.count} {f'rotated {90 * each.quarters}' if each.quarters else 'upright'}" for each in turns]
        how = lie[0].partition(" ")[2] if len(lie) == 1 else say_list(lie)
        yield f"{many} {look.name} of {size}{f' ({look.drawing})' * paths}: {how}"


def _set(facts: QuiltFacts) -> str:
    """How they are set."""
    quilt, units = facts.quilt, facts.cutting.units
    how = "on point" if quilt.setting.set is Set.ON_POINT else "straight"
    line = f"Blocks, set {how}, {quilt.columns} x {quilt.rows}"
    sashing = quilt.setting.sashing
    if sashing is not None:
        stones = f", cornerstones of {sashing.cornerstones}" if sashing.cornerstones else ", strips run through"
        line += f", with sashing of {sashing.fabric}, {say_length(sashing.width_in, units)} wide{stones}"
    return line


def _some(pieces: Iterable[str], most: int | None) -> Iterator[str]:
    """The first kinds of pieces; the others are counted."""
    kinds = list(pieces)
    yield from kinds[:most]
    if most is not None and len(kinds) > most:
        yield f"and {say_count(len(kinds) - most, 'kind')} more: seamwright cutting has all of them"


def _pieces(cutting: QuiltCutting) -> Iterator[str]:
    """Plain pieces but strips of borders, which are told with these."""
    lengths = [each for one in cutting.joined for each in one.lengths]
    for each in (*cutting.pieces, *lengths):
        cloths = [cutting.quilt.cloths[number] for number in each.cloths]
        if cloths and cloths[0].role not in (Role.BORDER, Role.COPING):
            piece, count = each.piece, each.count
            size = side_words(piece.width_in, piece.height_in, cutting.units)
            if piece.share > 1:
                cut = -(-count // piece.share)
                how = "cut twice" if piece.shape is Shape.QUARTER_SQUARE else "cut once"
                size = f"{say_count(cut, 'square')} {size} {how} corner to corner"
            of = f" of {piece.fabric}" if piece.fabric else ""
            yield f"{_many(count, cloths[0])}{of}, {size}{', joined of strips' * (each in lengths)}"


def _many(count: int, cloth: Cloth) -> str:
    """So many pieces of one kind: "2 sashes", "4 corners (border 2)"."""
    if cloth.role is Role.BORDER_CORNER:
        return f"{say_count(count, 'corner')} ({cloth.part})"
    return say_count(count, cloth.role.value)


def side_words(width_in: float, height_in: float, units: Units) -> str:
    """A size, of a square one side only: "9 in"."""
    return say_length(width_in, units) if abs(width_in - height_in) < 1e-9 else say_size(width_in, height_in, units)


def _borders(facts: QuiltFacts) -> Iterator[str]:
    """Each border, by the number that notes and cutting lists give it."""
    many = len(facts.quilt.borders_in)
    for number in range(many):
        yield f"{number + 1}: " * (many > 1) + _border(facts.quilt, number, facts)


def _border(quilt: Quilt, number: int, facts: QuiltFacts) -> str:
    border, widths = quilt.setting.borders[number], quilt.borders_in[number]
    sides, ends = (say_length(width, facts.cutting.units) for width in widths)
    wide = sides if sides == ends else f"{sides} at the sides and {ends} at top and bottom"
    if border.edging is Edging.PIECED and border.cell is not None:
        blocks = sum(spot.part == f"border {number + 1}" for spot in quilt.spots)
        return f"{blocks} {border.cell.source} blocks, {wide}"
    how = "coping strips of " if border.edging is Edging.COPING else ""
    mitred = ", mitred" if border.edging is Edging.MITRED else ""
    corners = f", corners of {border.corners}" if border.corners else ""
    return f"{how}{border.fabric}, {wide}{mitred}{corners}"


def _prints(facts: QuiltFacts) -> Iterator[str]:
    """Which foundations to print, how often; a block and its mirror image share letters and prints.

    Templates of plain pieces are printed once: they are cut by again and again.
    """
    drawn: dict[str, tuple[list[str], list[str]]] = {}
    for each in facts.prints:
        look = facts.quilt.looks[each.look]
        name = f"{look.source} in {look.colourway}" if look.colourway else look.source
        sewn, cut = drawn.setdefault(name, ([], []))
        letter = f"{each.print}{'r' * each.reversed}"
        if each.kind == "foundation":
            sewn.append(f"{letter} {'once' if each.count == 1 else f'{each.count} times'}")
        else:
            cut.append(letter)
    for name, (sewn, cut) in drawn.items():
        often = [say_list(sewn, most=3 * TOLD)] if sewn else []
        if cut:
            often.append(f"{'templates' if len(cut) > 1 else 'the template'} {say_list(cut, most=3 * TOLD)} once")
        yield f"{name}: {'; '.join(often)}"
    if any(each.reversed and each.kind == "foundation" for each in facts.prints):
        yield "a letter with r is a reversed print: the mirror image, for its own sections only"


def _bought(cutting: QuiltCutting) -> Iterator[str]:
    """What to buy: fabrics, then what is for the edge and behind."""
    amounts: dict[str, list[str]] = {}
    for fabric, way in fabrics_bought(cutting):
        amounts.setdefault(way, []).append(fabric_called(fabric))
    told = [f"{way}{' each' * (len(names) > 1)} of {say_list(names)}" for way, names in amounts.items()]
    if told:
        yield "; ".join(told)
    yield from edges_bought(cutting)


def fabrics_bought(cutting: QuiltCutting) -> Iterator[tuple[Fabric | None, str]]:
    """Each fabric of the top, and how much to buy of it; what is of the binding alone is told with the edge."""
    binding = cutting.binding
    for cut in cutting.fabrics:
        name = None if cut.fabric is None else cut.fabric.name
        if binding is None or not binding.alone or name != (binding.fabric or BINDING):
            quarters = say_count(cut.fat_quarters or 0, "fat quarter")
            yield cut.fabric, say_bought(cut.bought_in, cutting.units) if cut.bought_in else quarters


def edges_bought(cutting: QuiltCutting) -> Iterator[str]:
    """Binding, backing and batting."""
    units, binding = cutting.units, cutting.binding
    if binding is not None:
        of = f" of {binding.fabric}" if binding.fabric else ""
        strips = f"{say_count(binding.strips, 'strip')} {say_length(binding.width_in, units)} wide"
        bought = f" ({say_bought(binding.bought_in, units)})" if binding.alone else ", bought with it"
        yield f"binding{of}, {strips}{bought}"
    if (backing := cutting.backing) is not None:
        of = f" of {backing.fabric}" if backing.fabric else ""
        seams = "" if backing.panels == 1 else f", seams {'upright' if backing.upright else 'level'}"
        panels = f"{say_count(backing.panels, 'panel')} {say_length(backing.panel_in, units)} long{seams}"
        yield f"backing{of}, {panels} ({say_bought(backing.bought_in, units)})"
    if (batting := cutting.batting) is not None:
        yield f"batting {say_size(batting.width_in, batting.height_in, units)}"


def _light(facts: QuiltFacts) -> Iterator[str]:
    """Light and dark by area."""
    balance = facts.advice.balance
    values = [f"{round(100 * share)} % {value.value}" for value, share in balance.values if share > 0]
    if not values:
        return
    steps = " ".join(str(round(100 * share)) for share in balance.greys)
    known = round(100 * balance.known)
    of = f" of the {known} % that are known" * (known < 100)
    greys = f"; in {len(balance.greys)} greys from black to white, per cent{of}: {steps}" if steps else ""
    yield f"{say_list(values)}{greys}"


def _pressed(facts: QuiltFacts, most: int | None) -> Iterator[str]:
    """How seams between blocks, and those that meet at them, are pressed; of the ways so many."""
    nesting = facts.nesting
    if nesting.between:
        yield nesting.between.removeprefix("press ")
    if not nesting.meetings:
        return
    how = "all nest" if nesting.nested == nesting.meetings else f"{nesting.nested or 'none'} can nest"
    told = f"seams of two blocks meet at {say_count(nesting.meetings, 'point')} of their edges, and {how}"
    if nesting.ways and not nesting.alike:
        told += " if blocks are pressed in more than one way"
    yield told
    for number, way in enumerate(nesting.ways, 1):
        look = facts.quilt.looks[way.look].name
        joins = [f"join {press.join} ({press.name}) towards {press.towards}" for press in way.presses]
        where = "all" if nesting.alike else _where(facts.quilt, way.spots)
        yield f"way {number}, {look}, {where}: {say_list(joins, most=most)}"
        if number == most and len(nesting.ways) > most:
            yield f"and {say_count(len(nesting.ways) - most, 'way')} more: --json has all of them"
            break
    if nesting.nested < nesting.meetings:
        left = nesting.meetings - nesting.nested
        where = "there" if not nesting.nested else f"at the other {say_count(left, 'point')}"
        why = "paper and dark allowance leave no choice" if nesting.settled == left else "joins tie each other"
        yield f"{where} {why}: pin through both points, and where it is thick press that seam between blocks open"


def _where(quilt: Quilt, spots: tuple[int, ...]) -> str:
    """Blocks by row and place, the first few."""
    named = [
        f"{'' if quilt.spots[s].part == 'centre' else quilt.spots[s].part + ' '}row {quilt.spots[s].row + 1} place "
        f"{quilt.spots[s].column + 1}"
        for s in spots
    ]
    return f"{say_count(len(spots), 'block')} ({say_list(named, most=4)})"
