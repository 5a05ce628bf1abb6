"""Mends of a drawing that is stuck, as calls: found, done, written as the drawing that they make.

Knows:  the order of the stages, and that no mended drawing is written that was not read back.
Leaves: every stage itself (mend), reading and planning (api).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import split_size
from seamwright.block.model import Block
from seamwright.errors import OptionError, fail, unexpected
from seamwright.notes import Note
from seamwright.outfiles import may_write_mended
from seamwright.output import made_by, write_ours
from seamwright.piecing.model import Mend, Plan
from seamwright.results import Outcome

if TYPE_CHECKING:
    from seamwright.mend.write import Mended


def mends(plan: Plan) -> tuple[Mend, ...]:
    """Small changes of the drawing, each of which frees one stuck region of a plan; () if nothing is stuck.

    Every one of them has been done, written, read back, planned and proven.
    """
    return _found(plan)[0]


def apply_mends(block: Block, mends: Sequence[Mend]) -> Block:
    """The block of a plan with some of its mends done.

    Raises:
        DrawingError: they do not go together.
    """
    from seamwright.mend.apply import apply_mends as apply

    return apply(block, mends)


def mended_drawing(
    plan: Plan, mends: Sequence[Mend], form: str = "", source: bytes | None = None, *, marked: bool = True
) -> Mended:
    """The drawing's file with some of its plan's mends done, as bytes that have been read back.

    Args:
        form: ".svg" or ".seams"; "" for that of the drawing.
        source: the drawing's bytes; None: read from its file.
        marked: a line in the file says what it was made from.

    Raises:
        OptionError: there is no such form, or it cannot hold the drawing. FileError: the file cannot be read.
        DrawingError: the mends do not go together. ProofError: what was written does not read back right.
    """
    from seamwright.block.mirrored import mirrored
    from seamwright.drawing.read import file_bytes
    from seamwright.mend.apply import mirrored_mend
    from seamwright.mend.write import FORMS, mended

    path = split_size(plan.block.file)[0]
    form = form or Path(path).suffix.lower()
    if form not in FORMS:
        what = f"a drawing cannot be written as {form or 'a file without an ending'}"
        raise fail(OptionError, "option", what, f"Let its name end in {' or '.join(FORMS)}")
    data = file_bytes(Path(path)) if source is None else source
    # A drawing keeps its own fabrics and its hand, in whatever colourway and however reversed it is shown.
    block = plan.block.as_drawn()
    if block.reversed:
        mends, block = [mirrored_mend(mend, block.width_in) for mend in mends], mirrored(block)
    plan = replace(plan, block=block, options=replace(plan.options, reversed=False))
    return mended(plan, mends, form, data, path, made_by([path]) if marked else "")


def write_mended(path: str | Path, plan: Plan, mends: Sequence[Mend], *, force: bool = False) -> Mended:
    """Writes the drawing with some of its plan's mends done, as SVG or text form, by the name's ending.

    Raises:
        OptionError, DrawingError, ProofError: as `mended_drawing`. FileError: the file cannot be written, or is not
            ours.
    """
    out = Path(path)
    drawing = split_size(plan.block.file)[0]
    may_write_mended(out, drawing, force=force)
    done = mended_drawing(plan, mends, out.suffix.lower())
    palette = dict(done.block.options).get("palette", "")
    if palette and out.parent.resolve() != Path(drawing).parent.resolve():
        done = replace(done, said=(*done.said, f"it asks for the palette {palette} beside it: copy that there too"))
    write_ours(out, done.content, [drawing], force=force)
    return done


def with_mends(outcome: Outcome) -> Outcome:
    """The outcome of a drawing that is stuck with the mends for it; any other as it is."""
    if outcome.plan is None or not outcome.plan.obstructions:
        return outcome
    try:
        found, notes = _found(outcome.plan)
    except Exception as problem:  # the verdict stands without them, and it is said that they are missing
        found, notes = (), (Note("mend", f"no mends: {unexpected(problem).faults[0].text}"),)
    plan = replace(outcome.plan, notes=(*outcome.plan.notes, *notes))
    return replace(outcome, plan=plan, mends=found)


def _found(plan: Plan) -> tuple[tuple[Mend, ...], tuple[Note, ...]]:
    from seamwright.mend.find import find_mends

    found = find_mends(plan)
    return found.mends, found.notes
