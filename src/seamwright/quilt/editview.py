"""What a quilt's text states, as the page shows it: even while its lines do not agree yet, or a block is missing.

Knows:  which facts the page lists, in which words lengths are said.
Leaves: what is done to them (edit), where blocks lie and how large the quilt comes out (layout).
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.errors import DrawingError
from seamwright.options import Units
from seamwright.quilt.editrows import Rows
from seamwright.quilt.edits import Laid
from seamwright.quilt.formkept import Lines
from seamwright.quilt.formlines import Stated, Stroke
from seamwright.quilt.formwrite import width_words
from seamwright.quilt.model import Cell, Edging, Set


@dataclass(frozen=True, slots=True)
class ViewedBlock:
    """A block of the quilt: what rows call it, its file, its size as typed. used: it lies in the quilt."""

    name: str
    file: str
    size: str
    used: bool


@dataclass(frozen=True, slots=True)
class ViewedBorder:
    """A border, its fields as of `edits.SetBorder`."""

    kind: str
    width: str = ""
    fabric: str = ""
    corners: str = ""
    block: str = ""
    corner: str = ""


@dataclass(frozen=True, slots=True)
class QuiltView:
    """A quilt as its text states it; lengths in words, "" for what is not stated.

    Attributes:
        name: of the quilt. units: "inch" or "metric".
        rows: all rows as they are seen, repeats with them; of a quilt fitted to a size those of one repeat.
        across, down: places, on point those of the long rows. stated: rows and columns. repeat: across, down.
        fitted: rows come as often as the wanted size takes.
        binding, backing, batting: what is said of each, None for none.
        fabrics: lines behind the keyword, by name. options: as stated.
        faults: what of the text cannot be read, in sentences; then there are no rows.
    """

    name: str
    units: str = "inch"
    rows: tuple[tuple[Laid, ...], ...] = ()
    across: int = 0
    down: int = 0
    stated: tuple[int, int] = (0, 0)
    repeat: tuple[int, int] = (1, 1)
    fitted: bool = False
    on_point: bool = False
    triangles: str = ""
    sashing: tuple[str, str, str, bool] | None = None
    borders: tuple[ViewedBorder, ...] = ()
    binding: tuple[str, str] | None = ("", "")
    backing: tuple[str, str, str] | None = ("", "", "")
    batting: tuple[str] | None = ("",)
    fit: str = ""
    blocks: tuple[ViewedBlock, ...] = ()
    fabrics: tuple[tuple[str, str, str], ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    faults: tuple[str, ...] = ()


def view_of(text: str, name: str = "") -> QuiltView:
    """What the page shows of a text; what cannot be read is said, not raised."""
    try:
        lines = Lines(text)
    except DrawingError as error:
        return QuiltView(name, faults=tuple(fault.text for fault in error.faults))
    stated, rows = lines.stated, Rows(lines)
    seen = rows.seen
    used = {cell.source for row in rows.rows for cell in row}
    borders = tuple(_border(stated, stroke) for stroke in stated.borders)
    used |= {named for border in borders for named in (border.block, border.corner)}
    options = tuple(stated.options.items())
    sashing, binding, backing = stated.sashing, stated.binding, stated.backing
    return QuiltView(
        name=stated.name or name,
        units=_units(stated).value,
        rows=tuple(tuple(laid_of(cell) for cell in row) for row in seen),
        across=max(map(len, seen), default=0),
        down=(len(seen) + 1) // 2 if stated.set is Set.ON_POINT else len(seen),
        stated=(len(rows.rows), max(map(len, rows.rows), default=0)),
        repeat=stated.repeat,
        fitted=stated.wanted is not None and "repeat" not in stated.places,
        on_point=stated.set is Set.ON_POINT,
        triangles=stated.triangles,
        sashing=None
        if sashing is None
        else (width_words(sashing.width_in), sashing.fabric, sashing.cornerstones, sashing.outside),
        borders=borders,
        binding=None if binding is None else (binding.fabric, _said(binding.width_in)),
        backing=None if backing is None else (backing.fabric, _said(backing.width_in), _said(backing.over_in)),
        batting=None if stated.batting is None else (_said(stated.batting.over_in),),
        fit=_fit(lines),
        blocks=tuple(
            ViewedBlock(source.name, source.path, source.size, source.name in used)
            for source in stated.sources.values()
        ),
        fabrics=tuple(
            (fabric.name, fabric.colour or "", fabric.value.value if fabric.value else "")
            for fabric in stated.fabrics.values()
        ),
        options=options,
    )


def laid_of(cell: Cell) -> Laid:
    """A place of the quilt as edits name it."""
    return Laid(cell.source, cell.turn.quarters, cell.turn.reversed, cell.colourway, cell.fabric)


def _units(stated: Stated) -> Units:
    return Units.METRIC if stated.options.get("units", "").strip().lower() == "metric" else Units.INCH


def _said(length_in: float | None) -> str:
    return "" if length_in is None else width_words(length_in)


def _fit(lines: Lines) -> str:
    """The size wanted, as typed."""
    line = next(lines.all("fit"), None)
    return "" if line is None else line.text[len(line.indent) + 3 : len(line.text) - len(line.remark)].strip()


def _border(stated: Stated, stroke: Stroke) -> ViewedBorder:
    from seamwright.fabric.model import folded

    def named(name: str) -> str:
        source = stated.sources.get(folded(name))
        return source.name if source else ""

    corner, corners = "", ""
    if stroke.corner is not None:
        corner = named(stroke.corner.name) if stroke.edging is Edging.PIECED else ""
        corners = "" if corner else stroke.corner.fabric or stroke.corner.name
    if stroke.edging is Edging.PIECED:
        assert stroke.entry is not None
        return ViewedBorder("blocks", corners=corners, block=named(stroke.entry.name), corner=corner)
    return ViewedBorder(stroke.edging.value, width_words(stroke.width_in), stroke.fabric, corners)
