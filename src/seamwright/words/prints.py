"""What a print comes to, in sentences on one screen: sheets, prints, notes, how true, what to do next.

Knows:  how sheets that are alike are told together, which drawing a note is about.
Leaves: every fact itself (sheets, plans), the same facts as data (report), how a check is told (words.checks).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from seamwright.foundation.model import Use
from seamwright.notes import all_notes
from seamwright.options import PrintOptions, Sets
from seamwright.piecing.model import Plan
from seamwright.printnotes import print_notes
from seamwright.results import Printed
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.naming import block_names, times_of
from seamwright.sheet.stock import on_screen
from seamwright.units import say_count, say_list, say_size
from seamwright.words.checks import note_words, pieces, without_paper

FEW = 8
"""Sheets, and notes, told one by one: what was made must fit one screen."""
LEAST_MM = 0.001
"""The file's own grid is not finer than that, so no smaller error is claimed."""


def foundations_words(printed: Printed) -> list[str]:
    """Lines for a person: what was made, where it lies, how true it is, and what to do next."""
    lines = [f"{printed.file}: {made_words(printed)}.", *(f"  {line}" for line in block_words(printed))]
    lines += [f"  {line}." for line in _some(list(_sheets(printed)))]
    told = told_notes(printed)
    if len(told) > FEW:
        left = len(told) - FEW + 1
        told = [
            *told[: FEW - 1],
            f"And {left} more notes like these: seamwright check tells those of each drawing.",
        ]
    lines += [f"  {line}" for line in (*told, true_words(printed), *on_screen(printed.plans, printed.printing))]
    return [*lines, f"  Next: {next_words(printed.printing)}"]


def block_words(printed: Printed) -> list[str]:
    """What is printed of each block, a sentence each."""
    lines = []
    for number, plan in enumerate(dict.fromkeys(printed.plans)):
        size = say_size(plan.block.width_in, plan.block.height_in, plan.options.units)
        often = times_of([p.foundation for p in _once(printed, plan)], printed.printing, printed.quilt, number)
        if not often and printed.printing.copies > 1:
            often = f"{printed.printing.copies} copies of each"
        known = (_printed_of(printed, plan), often, _reused(printed, plan), _enlarged(printed))
        facts = "; ".join(fact for fact in known if fact)
        lines.append(f"{plan.block.title}, {size} finished, plan {plan.id}: {facts}.")
    return lines


def told_notes(printed: Printed) -> list[str]:
    """Notes of drawings and print, a sentence each; of which drawings, where several are printed."""
    names = block_names(printed.plans)
    several = len(set(names)) > 1
    notes: dict[str, list[str]] = {}
    for name, plan in zip(names, printed.plans, strict=True):
        for note in all_notes(plan):
            about = notes.setdefault(note_words(note), [])
            if name not in about:
                about.append(name)
    told = [
        f"{words.partition(':')[0]}, {say_list(on)}:{words.partition(':')[2]}" if several else words
        for words, on in notes.items()
    ]
    return [*told, *(note_words(note) for note in print_notes(printed))]


def true_words(printed: Printed) -> str:
    """What was measured in the finished file."""
    measured = printed.measured
    off, true = measured.largest_error_mm, max(measured.squares_error_mm, measured.lines_error_mm)
    return (
        f"Measured in the finished file: {measured.points} points, none further than {max(off, LEAST_MM):.3f} mm "
        f"from its place; squares and long lines true to {max(true, LEAST_MM):.3f} mm."
    )


def _printed_of(printed: Printed, plan: Plan) -> str:
    """What is printed of a plan: its foundations and plain pieces, or windows in place of them."""
    if printed.printing.windows:
        windows, patches = len(_once(printed, plan)), len(plan.block.patches)
        alike = f" for {patches} patches, those that are alike share one"
        return f"{say_count(windows, 'window')}{alike if windows < patches else ', one for each patch'}"
    without = f"; without a print {say_list(without_paper(plan))}" if without_paper(plan) else ""
    return pieces(plan, printed=True) + "; front views, not for sewing on" * printed.printing.unmirrored + without


def _enlarged(printed: Printed) -> str:
    """How much larger than for sewing all of it is, "" where it is not."""
    times = printed.printing.enlarge
    return f"enlarged {times:g} times, for the wall, not for sewing" if times > 1 else ""


def _reused(printed: Printed, plan: Plan) -> str:
    """That templates are used again, "" where each serves one piece."""
    templates = [p.foundation for p in _once(printed, plan) if p.foundation.use is Use.CUT]
    many = printed.quilt is not None or printed.printing.copies > 1
    shared = printed.printing.sets is Sets.PACKED and many
    again = any(shared or one.also_for for one in templates)
    return "templates of plain pieces are used again, so there is one of each" if again else ""


def made_words(printed: Printed) -> str:
    """Such as "25 sheets, letter: 12 sets of 2 sheets, and a trial page"."""
    parts = []
    how, in_sets = printed.printing, [sheet.in_set for sheet in printed.sheets if sheet.in_set is not None]
    if how.sets is Sets.APART and in_sets:
        alike = ", alike but for their number" if how.copies > 1 else ""
        parts.append(f"{say_count(how.copies, 'set')} of {say_count(in_sets[0].sheets, 'sheet')}{alike}")
    if how.trial_page:
        parts.append("a trial page first")
    lies = " landscape" if how.landscape else ""
    return f"{say_count(len(printed.sheets), 'sheet')}, {printed.paper}{lies}{': ' * bool(parts)}{'; '.join(parts)}"


def _once(printed: Printed, plan: Plan) -> list[Placed]:
    """Every print of a plan once, however many copies and parts of it there are."""
    seen = {
        (p.foundation.use, p.foundation.section, p.foundation.label): p
        for sheet in printed.sheets
        for p in sheet.placed
        if (p.foundation.drawing, p.foundation.block) == (plan.block.file, plan.block.title)
    }
    return list(seen.values())


def _sheets(printed: Printed) -> Iterator[str]:
    """A line for each sheet, those alike that follow each other in one; of sets, the first one only."""
    runs: list[tuple[str, list[int]]] = []
    apart = False
    for sheet in printed.sheets:
        if sheet.in_set is not None and sheet.in_set.set > 1:
            break
        apart = apart or sheet.in_set is not None
        held, number = held_words(sheet), sheet.in_set.sheet if sheet.in_set else sheet.number
        if runs and runs[-1][0] == held and sheet.placed:
            runs[-1][1].append(number)
        else:
            runs.append((held, [number]))
    for held, numbers in runs:
        to = "and" if len(numbers) == 2 else "to"
        which = f"sheet {numbers[0]}" if len(numbers) == 1 else f"sheets {numbers[0]} {to} {numbers[-1]}, each"
        in_set = "in every set, " if apart and held != TRIAL else ""
        words = f"{in_set}{which}: {held}"
        yield words[0].upper() + words[1:]


TRIAL = "trial page, squares and long lines only"


def held_words(sheet: Sheet) -> str:
    """What lies on a sheet, block by block, such as "A, B x 2, C part 1.2", prints named as on paper."""
    held: dict[str, Counter[str]] = {}
    for placed in sheet.placed:
        part = f" part {placed.tile.row}.{placed.tile.column}" if placed.tile else ""
        held.setdefault(placed.block, Counter())[f"{placed.foundation.label}{part}"] += 1
    told = (
        f"{block} {', '.join(name if n == 1 else f'{name} x {n}' for name, n in counts.items())}".strip()
        for block, counts in held.items()
    )
    return "; ".join(told) or TRIAL


def _some(lines: Sequence[str]) -> list[str]:
    if len(lines) <= FEW:
        return [*lines]
    last = lines[-1].removeprefix("In every set, ")
    return [*lines[: FEW - 1], f"... and so on to {last[0].lower()}{last[1:]}"]


def next_words(how: PrintOptions) -> str:
    """What to do with the printer, and before the first cut or seam."""
    if how.trial_page:
        first = 'print sheet 1 alone at 100 %, not "fit to page", and measure it.'
        return f"{first} If it is true, print the rest in the same way."
    measure = 'print at 100 %, not "fit to page", and measure the squares and the long lines'
    if how.enlarge > 1:
        return f"{measure}: they are not enlarged."
    return f"{measure} before you {'cut' if how.windows or how.unmirrored else 'sew'}."
