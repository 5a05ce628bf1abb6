"""What a plan and a print come to, in sentences: the verdict first, what is proven last.

Knows:  how names, lengths, places and counts are said.
Leaves: every fact itself (plan, sheets), the same facts as data (report).
"""

from __future__ import annotations

import math
import re
import shlex
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from seamwright.block.rings import Runs
from seamwright.claims.plans import joined_parts
from seamwright.fabric.units import FLYING_GEESE, Recognised
from seamwright.notes import Note, all_notes
from seamwright.options import Rotary
from seamwright.piecing.leftoff import left_off
from seamwright.piecing.model import Mend, Plan, Section
from seamwright.units import say_count, say_length, say_list, say_size
from seamwright.words.joins import Turning, guides_explained, join_guides

if TYPE_CHECKING:
    from seamwright.files.model import MachineFiles
    from seamwright.rehearsal.model import Rehearsed
    from seamwright.results import Rehearsal

ENDED = {
    "": ("Not every way was tried", "more --steps may find fewer"),
    "steps": ("The search ended at its limit", "more --steps may find fewer"),
    "seconds": ("The search ended at its limit", "more --seconds may find fewer"),
    "stopped": ("You stopped the search", "more time may find fewer"),
}
"""What ended a search, and what may find fewer sections then."""
FEW = 8
"""Files told one by one: what was made must fit one screen."""


def verdict(plan: Plan) -> str:
    """Whether the block can be sewn, in one sentence."""
    if plan.sewable == "no":
        how = ", not even with set-in seams" if plan.options.set_in else " with straight full seams"
        return f"Cannot be sewn{how}: stuck in {say_count(len(plan.obstructions), 'place')}."
    special = [join.kind for join in plan.joins if join.kind != "straight"]
    kinds = [f", {say_count(special.count(kind), kind + ' join')}" for kind in dict.fromkeys(special)]
    return f"Can be sewn{''.join(kinds)}: {pieces(plan)}."


def stuck_words(drawing: str, plan: Plan, mends: Sequence[Mend] = ()) -> list[str]:
    """Lines for a person who wanted a print: why there is none, and how to come to one."""
    lines = [f"{drawing}: {plan.block.title}. {verdict(plan)}", *stuck_lines(plan)]
    if mends:
        shows = f"shows {say_count(len(mends), 'mend')}, each tried and proven"
        lines.append(f"  To mend it: seamwright check {shlex.quote(drawing)} {shows}.")
    lines.append(f"  To see where: seamwright check {shlex.quote(drawing)} --picture stuck.svg")
    return [*lines, *_other_ways(plan, mends)]


def stuck_lines(plan: Plan) -> list[str]:
    """Why a block cannot be sewn, a line for each place that is stuck."""
    return [f"  {stuck.number}. {sentence(stuck.why)}" for stuck in plan.obstructions]


def _other_ways(plan: Plan, mends: Sequence[Mend]) -> list[str]:
    """How what is stuck can be sewn as it is drawn."""
    from seamwright.piecing.setin import floating

    if not plan.options.set_in and not floating(plan.block):
        return ["  To sew it as it is drawn, with seams that turn: add --set-in"]
    if not plan.options.set_in and all(mend.kind != "applique" for mend in mends):
        return ["  To sew it as it is drawn: sew what floats in a patch on top of it (applique)."]
    return []


def check_words(drawing: str, plan: Plan, mends: Sequence[Mend] = ()) -> list[str]:
    """Lines for a person: the verdict first, what is proven last."""
    units, block = plan.options.units, plan.block
    lines = [f"{drawing}: {block.title}, {say_size(block.width_in, block.height_in, units)}. {verdict(plan)}"]
    lines += [f"  {line}" for line in print_lines(plan)]
    lines += [f"  {sentence(line)}" for line in join_lines(plan)]
    lines += stuck_lines(plan)
    lines += _notes(all_notes(plan))
    if mends:
        lines.append("  What would mend it, each tried and proven:")
        lines += [f"    Mend {m.number}, place {m.obstruction}: {sentence(m.text)}" for m in mends]
        asked = f"{shlex.quote(drawing)} {_mend_all(mends)} -o mended{_ending(plan)}"
        lines.append(f"  To have it done: seamwright check {asked}")
    if plan.obstructions:
        lines.append(f"  To see where: seamwright check {shlex.quote(drawing)} --picture stuck.svg")
        lines += _other_ways(plan, mends)
    lines.append(f"  {proven(plan)}")
    return lines


def mended_words(out: str, drawing: str, mends: Sequence[Mend], said: Sequence[str]) -> list[str]:
    """Lines for a person: what was done to a drawing and where it is."""
    done = f"{out}: {drawing} with {say_list([f'mend {mend.number}' for mend in mends])} done."
    return [done, *(f"  Note: {sentence(text)}" for text in said)]


def _mend_all(mends: Sequence[Mend]) -> str:
    """The options that have the best mend of every place done."""
    best: dict[int, int] = {}
    for mend in mends:
        best.setdefault(mend.obstruction, mend.number)
    return " ".join(f"--mend {number}" for number in best.values())


def _ending(plan: Plan) -> str:
    """Of a mended drawing's name: that of the drawing, but text form holds curves that an SVG may not."""
    curved = any(edge.via for edge in plan.block.edges)
    text = re.search(r"\.seams(@[^@]*)?$", plan.block.file, re.IGNORECASE)
    return ".seams" if curved or text else ".svg"


def rehearsal_words(rehearsal: Rehearsal) -> list[str]:
    """Lines for a person: how the rehearsal came out, where its pictures are, and the usual cautions."""
    from seamwright.rehearsal.captions import CAUTIONS

    lines = [rehearsed_words(rehearsal.rehearsed), *_notes(rehearsal.rehearsed.notes)]
    first, last = rehearsal.files[0], rehearsal.files[-1]
    lines.append(f"Pictures, one a step: {rehearsal.folder}, from {first} to {last}.")
    if rehearsal.older:
        lines.append(f"  Left there from an earlier plan: {_some(rehearsal.older)}.")
    return [*lines, f"  {CAUTIONS}"]


def rehearsed_words(done: Rehearsed) -> str:
    """How a rehearsal came out."""
    from seamwright.rehearsal.rehearse import SAME_SHARE

    sewn = f"{say_count(done.steps, 'step')} and {say_count(len(done.joins), 'join')} sewn"
    same = f"to less than {SAME_SHARE * 1e6:g} part in a million of the block"
    return f"Rehearsed: {sewn}. What shows is what was drawn, {same}, and the allowance is covered all round."


def _some(names: Sequence[str]) -> str:
    return ", ".join(names[:3]) + (" ..." if len(names) > 3 else "")


def files_words(folder: str, made: Sequence[MachineFiles]) -> list[str]:
    """Lines for a person: which files for machines were made, and what to do before cutting by them."""
    lines = [
        f"{folder}: {say_count(len(made), 'foundation')}, each as .svg and .dxf at true size, .png to look at."
    ]
    for one in made[:FEW]:
        often = f", needed {one.times} times" if one.times > 1 else ""
        side = "mirrored, to sew on" if one.foundation.mirrored else "front view"
        lines.append(f"  {one.name}: {side}{often}.")
    if len(made) > FEW:
        lines.append(f"  ... and so on to {made[-1].name}.")
    worst = max((0.001, *(one.largest_error_mm for one in made)))
    lines.append(f"  Measured in the finished files: no corner further than {worst:.3f} mm from its place.")
    lines.append("  Measure the 1 in square with the machine's own program, and draw it once, before you cut.")
    lines.append("  Blades and lasers hurt: follow the maker's manual, and stay with the machine while it runs.")
    return lines


def print_lines(plan: Plan) -> Iterator[str]:
    """A line for each print, in order of names; plain pieces that are printed once share one."""
    prints, units = plan.prints(), [unit for unit in left_off(plan) if len(unit.sections) > 1]
    alone = [p[0].name for p in prints if len(p) == 1 and _is_template(p[0]) and not p[0].reversed]
    for places in prints:
        if len(alone) < 2 or places[0].name not in alone:
            yield _print(plan, places)
        elif places[0].name == alone[0]:
            yield f"{say_list(alone)}: 1 patch each, plain pieces, sewn without paper."
    for unit in units:
        size = say_size(unit.made.width_in, unit.made.height_in, plan.options.units)
        of = say_list([section.name for section in unit.sections], most=FEW)
        first = ", joined before it meets anything else" * (len(unit.sections) < len(plan.sections))
        yield f"{of} make {_a(unit.made)}, {size} finished{first}."


def _print(plan: Plan, places: Sequence[Section]) -> str:
    """What is laid on one print, and how often it is needed, such as "A, print 4: 6 patches ..."."""
    first, names = places[0], plan.patch_names()
    often = f", print {len(places)}" if len(places) > 1 or first.reversed else ""
    mirror = f", the mirror image of {first.print}" if first.reversed else ""
    where = f" Places: {', '.join(section.name for section in places)}." if len(places) > 1 else ""
    if first.method == "ruler":
        how = f" in order from {names[first.patches[0]]} to {names[first.patches[-1]]}" * (first.kind != "plain")
        count = say_count(len(first.patches), "patch")
        return f"{first.name}{often}: {count}{mirror}, cut by ruler, sewn without paper{how}.{where}"
    if first.kind == "plain":
        return f"{first.name}{often}: 1 patch{mirror}, a plain piece, sewn without paper.{where}"
    start, end = names[first.patches[0]], names[first.patches[-1]]
    return f"{first.name}{often}: {len(first.patches)} patches{mirror}, sewn in order from {start} to {end}.{where}"


def join_lines(plan: Plan) -> list[str]:
    """A phrase for each join in its order, then what holds for all of them."""
    turning, runs, guides = Turning(plan), Runs(plan.block), join_guides(plan)
    lines = turning.stops()
    made: dict[str, str] = {}
    for number, (join, first, second) in enumerate(joined_parts(plan), start=1):
        length = sum(math.dist(a, b) for a, b in pairwise(runs.along(join.seam, first, second)))
        told = f"one {join.kind} seam, {say_length(length, plan.options.units)}"
        how = "; ".join(one for one in (guides.get(number, ""), turning.join(number)) if one)
        one, other = made.get(join.first, join.first), made.get(join.second, join.second)
        lines.append(f"Join {number}: {one} to {other}, {told}{': ' * bool(how)}{how}")
        # A long list of letters is not read: what is joined of many sections goes by its join.
        if join.makes.count("+") >= FEW:
            made[join.makes] = f"the part made by join {number}"
    lines += turning.general()
    if guides:
        lines.append(guides_explained(plan))
    if plan.joins:
        lines.append(f"{say_count(plan.points_to_match, 'point')} to match.")
    return lines


def _notes(notes: Iterable[Note]) -> list[str]:
    return [f"  {note_words(note)}" for note in notes]


def note_words(note: Note) -> str:
    """A note as a sentence that says what it is."""
    return f"{'Advice' if note.code.startswith('advice') else 'Note'}: {sentence(note.text)}"


def sentence(text: str) -> str:
    """A phrase with its full stop."""
    return text if text.endswith((".", "?", "!")) else f"{text}."


def pieces(plan: Plan, *, printed: bool = False) -> str:
    """Such as "3 foundations and 4 plain pieces", with the number of prints where some are alike.

    What is cut by ruler follows: "3 foundations, 2 units by ruler and 1 plain piece by ruler"; not where only what
    is `printed` is asked for.
    """
    on_paper = [places for places in plan.prints() if places[0].method == "paper"]
    told = []
    for kind, word in (("foundation", "foundation"), ("plain", "plain piece")):
        prints = [len(places) for places in on_paper if places[0].kind == kind]
        alike = f" from {say_count(len(prints), 'print')}" if len(prints) < sum(prints) else ""
        told += [say_count(sum(prints), word) + alike] if prints else []
    return say_list([*told, *(without_paper(plan) if not printed else ())])


def without_paper(plan: Plan) -> list[str]:
    """What has no print: such as "2 units by ruler", "1 plain piece by ruler"."""
    units = left_off(plan)
    of_units = {section.name for unit in units for section in unit.sections}
    single = sum(s.method == "ruler" and s.name not in of_units for s in plan.sections)
    counts = ((len(units), "unit"), (single, "plain piece"))
    return [f"{say_count(count, word)} by ruler" for count, word in counts if count]


def _is_template(section: Section) -> bool:
    return section.kind == "plain" and section.method == "paper"


def _a(made: Recognised) -> str:
    """What a unit is called, with its article."""
    if made.cells and not any(cell.cells for cell in made.cells):
        return "a row"
    return made.kind if made.kind == FLYING_GEESE else f"a {made.kind}"


def proven(plan: Plan) -> str:
    """What was proven of a plan, or of a drawing that cannot be sewn."""
    fewest = plan.fewest
    if fewest is None:
        return "Proven: whatever is sewn first, these patches stay stuck; it lies in the drawing, not in the order."
    codes = {note.code for note in plan.notes}
    # With units off the paper what is proven to be the fewest is another plan's.
    limited = "limits" in codes or any(section.method == "ruler" for section in plan.sections)
    if not fewest.proven:
        ended, finds = ENDED[fewest.ended]
        without = f"{_without(plan)}, " if limited else ""
        return (
            f"Proven: every step and seam holds. {ended}: {without}{fewest.sections} sections were found, "
            f"{fewest.at_least} at least are needed; {finds}."
        )
    if plan.sewable == "set-in":
        without = f"{_without(plan)}, " if limited else ""
        return (
            f"Proven: every step and seam holds; {without}no plan with as few partial seams and as few turns in "
            f"one join has fewer than {fewest.sections} sections."
        )
    if limited and "limits" not in codes:
        few = f"a plan has {say_count(fewest.sections, 'section')} at least"
        return f"Proven: every step and seam holds; with all of it on paper {few}."
    if "limits" in codes:
        few = "one section would do" if fewest.sections == 1 else f"{fewest.sections} sections are the fewest"
        many = len(plan.sections)
        here = f"whether fewer than {many} would do within them is open"
        if "limits-open" not in codes:
            here = f"within them no plan has fewer than {many}"
        return f"Proven: every step and seam holds; without the limits {few}, and {here}."
    if fewest.sections == 1:
        return "Proven: every step and seam holds; one section is the fewest there can be."
    return f"Proven: every step and seam holds; no plan has fewer than {fewest.sections} sections."


def _without(plan: Plan) -> str:
    return "with all of it on paper" if plan.options.rotary is Rotary.AUTO else "without the limits"
