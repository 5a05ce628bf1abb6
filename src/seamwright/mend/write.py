"""A drawing's file with mends done: changed in place where that goes, else drawn anew; read back before it counts.

Knows:  which way of writing is tried first, what must be read back, what to say about it.
Leaves: each way (svgedit, seamsedit, clean, drawing.textwrite), doing the mends to the block (apply).
Units:  inches.
Method: the block with its mends is worked out first. Each way of writing is then tried in turn, and what it wrote
        is read by the same reader, with the same options, as any drawing: it counts if it gives that very block,
        fabrics included.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing
from seamwright.drawing.read import read_bytes
from seamwright.drawing.textform import write_seams
from seamwright.errors import OptionError, ProofError, SeamwrightError, fail
from seamwright.geometry import Point
from seamwright.mend.apply import apply_mends
from seamwright.mend.change import CannotEdit, dropped_edges
from seamwright.mend.clean import can_write, clean_svg
from seamwright.mend.same import same_map
from seamwright.options import PlanOptions, Units
from seamwright.piecing.model import Mend, Plan
from seamwright.units import say_point

ANEW = "drawn anew: the change could not be made in the drawing as it stands"
FORMS = (".svg", ".seams")
EXACT_IN = 1e-5
"""How far a point of a file drawn anew may lie from where it should."""
DIGITS = 6
"""Decimals of an inch in such a file, where it reads back as the same block: far below a thread."""


@dataclass(frozen=True, slots=True)
class Mended:
    """A drawing with mends done.

    Attributes:
        content: the file's bytes.
        block: the block that they give when read back, under the options of the plan.
        said: what its owner should know of how it was written.
    """

    content: bytes
    block: Block
    said: tuple[str, ...]


def mended(plan: Plan, mends: Sequence[Mend], form: str, source: bytes, name: str, mark: str) -> Mended:
    """The drawing of a plan with mends done, as a file of some form.

    Args:
        plan: of a drawing that is stuck.
        mends: of this plan.
        form: ".svg" or ".seams".
        source: the bytes of the drawing's file.
        name: the drawing's path, for its reader.
        mark: words to be kept inside the file; "" for none.

    Raises:
        OptionError: this form cannot hold the drawing.
        DrawingError: the mends do not go together.
        ProofError: nothing that was written reads back right.
    """
    wanted = apply_mends(plan.block, mends)
    drawing = read_bytes(source, Path(name))
    tried = []
    for way, within, options, said in _ways(plan, mends, wanted, form, source, drawing, mark):
        try:
            content = way()
            again = make_block(read_bytes(content, Path(name).with_suffix(form)), options)
        except (SeamwrightError, CannotEdit, ValueError) as problem:
            tried.append(str(problem))
            continue
        if same_map(wanted, again, within) == "":
            return Mended(content, again, said)
    if form == ".svg" and not can_write(wanted):
        what = "the drawing has curves, and could not be changed where it stands"
        raise fail(OptionError, "option", what, "Let the name of the output end in .seams", drawing=name)
    if form == ".svg":
        what = "with these mends lines lie so near to each other that a drawing would not be read as it should"
        raise fail(OptionError, "option", what, "Let the name of the output end in .seams", drawing=name)
    raise fail(
        ProofError,
        "proof",
        "the mended drawing does not read back as it should",
        "Nothing was written; please report this drawing",
        drawing=name,
    )


Way = tuple[Callable[[], bytes], float, PlanOptions, tuple[str, ...]]


def _ways(
    plan: Plan, mends: Sequence[Mend], wanted: Block, form: str, source: bytes, drawing: Drawing, mark: str
) -> Iterator[Way]:
    """The ways to write it, the one that changes least first: (call, how near it must come, options, said)."""
    was_text = drawing.exact
    here = ".seams" if was_text else ".svg"
    own = replace(PlanOptions(), tolerance_in=plan.options.tolerance_in)
    within = plan.options.tolerance_in
    marks = (*_remarks(plan.block, mends), *([mark] if mark else []))
    if here == form == ".seams":
        from seamwright.mend.seamsedit import edit_seams

        text = source.decode("utf-8-sig")
        yield (
            (lambda: edit_seams(text, plan.block, wanted, mends, within, marks).encode()),
            EXACT_IN,
            plan.options,
            (),
        )
    if here == form == ".svg":
        from seamwright.mend.svgedit import edit_svg

        yield (
            (lambda: edit_svg(source, plan.block, wanted, mends, within, marks)),
            max(2 * within, EXACT_IN),
            plan.options,
            (),
        )
    if form == ".seams":
        anew = replace(wanted, options=drawing.options)
        said = () if was_text else ("written as a text form",)
        if here == form:
            said = (ANEW,)
        for block in (_rounded(anew), anew):
            yield partial(_text, block, marks), EXACT_IN, own, said
    elif can_write(wanted):
        said = (ANEW,) if here == form else ()
        for block in (_rounded(wanted), wanted):
            yield partial(_clean, block, marks), EXACT_IN, own, said


def _rounded(block: Block) -> Block:
    """The block with short numbers: 1.2, not 1.2000000000000002. Whether it is still the same is read back."""

    def short(point: Point) -> Point:
        return (round(point[0], DIGITS) + 0.0, round(point[1], DIGITS) + 0.0)

    return replace(
        block,
        points=tuple(map(short, block.points)),
        edges=tuple(replace(edge, via=tuple(map(short, edge.via))) for edge in block.edges),
        width_in=round(block.width_in, DIGITS),
        height_in=round(block.height_in, DIGITS),
    )


def _clean(block: Block, remarks: Sequence[str]) -> bytes:
    return clean_svg(block, " ".join(remarks)).encode()


def _text(block: Block, remarks: Sequence[str]) -> bytes:
    return (write_seams(block) + "".join(f"# {remark}\n" for remark in remarks)).encode()


def _remarks(block: Block, mends: Sequence[Mend]) -> tuple[str, ...]:
    """What must not be lost with lines taken away: where a part that is sewn on top lies."""
    told = []
    for mend in mends:
        if mend.kind == "applique":
            gone = sorted(dropped_edges(block, mend.dropped))
            runs = ["; ".join(say_point(p, Units.INCH) for p in block.edge_points(number)) for number in gone]
            told.append(f"sewn on top (applique), lines in inches across, down: {' / '.join(runs)}")
    return tuple(told)
