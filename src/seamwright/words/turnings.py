"""What is said of turnings: how many there are, what was counted as one, what decides which come first.

Knows:  the sentences for the contact sheet and the screen.
Leaves: every fact itself (exploring), the same facts as data (report.turnings).
"""

from __future__ import annotations

import math
import shlex
from typing import TYPE_CHECKING

from seamwright.quilt.secondary import WEIGHTS
from seamwright.units import say_count, say_length, say_list

if TYPE_CHECKING:
    from seamwright.exploring import Turning, Turnings

PAGE_OPTIONS = ("paper", "margins")
"""Options that change no layout."""
TOLD = 12
"""Layouts whose lines are told on the screen."""


def title(found: Turnings) -> str:
    """What the sheet is called."""
    from seamwright.exploring import names_of

    return f"Turnings of {names_of(found)}"


def head_sentences(found: Turnings, shown: int) -> list[str]:
    """What stands at the head of the sheet."""
    return [
        " ".join(filter(None, (count_sentence(found), _shown(found, shown), _tints(found)))),
        *reasons(found),
        paste_sentence(found),
    ]


def reasons(found: Turnings) -> list[str]:
    """What was counted as one, and what comes first; of one layout nothing has to be said."""
    if len(found.every) == 1:
        return []
    return [f"{same_sentence(found)} {hands_sentence(found)}", rank_sentence(found)]


def _tints(found: Turnings) -> str:
    """What is said where a patch is of a fabric without a colour, or of none."""
    for block in found.blocks:
        known = {fabric.name for fabric in block.fabrics if fabric.colour is not None}
        if any(name not in known for k in range(len(block.patches)) for name in block.fabrics_in(k)):
            return "Tints stand for colours that are not known."
    return ""


def count_sentence(found: Turnings) -> str:
    """How many layouts there are."""
    count, side = len(found.every), found.repeat.value
    both = " that use both blocks" if found.group.blocks > 1 else ""
    if count == 1:
        return f"There is 1 layout of {side} x {side} blocks: whichever way the block lies, it shows the same."
    if found.by_rule:
        return f"{count:,} layouts of {side} x {side} blocks{both} are made by rules, no two of them alike."
    return f"{count:,} layouts of {side} x {side} blocks{both} differ."


def _shown(found: Turnings, shown: int) -> str:
    count = len(found.every)
    if count == 1:
        return ""
    return "All are shown." if shown == count else f"The first {shown} are shown; --show all shows every one."


def same_sentence(found: Turnings) -> str:
    """Under which moves layouts are taken as one, and how many these are."""
    group = found.group
    turned = "quarter turns" if group.quarter else "half turns"
    ways = ["shifted by whole blocks", f"rotated by {turned}", *(["mirrored"] if group.mirrored else [])]
    agrees = "" if found.by_rule else "; Burnside's lemma gives the same number"
    return f"Counted as one: what is the same once {say_list(ways, 'or')} ({group.order} moves in all){agrees}."


def hands_sentence(found: Turnings) -> str:
    """Whether reversed blocks are among them."""
    if not found.reversed_too:
        return "No block is reversed."
    if not any(state.turn.reversed for state in found.group.states):
        return "Reversed, the block shows the same as rotated."
    return "Blocks may be reversed too: these need reversed foundations."


def rank_sentence(found: Turnings) -> str:
    """What comes first."""
    parts = {
        "run on": "seams that run on from block to block",
        "meet": "seams that meet at the edge",
        "longest": "the longest line",
        "shapes": "patches of one fabric that grow into closed shapes",
        "regular": "regularity",
    }
    told = say_list([f"{parts[name]} ({weight})" for name, weight in WEIGHTS.items()])
    if found.by_rule:
        return f"First comes the best of each rule, then the next of each; the best adds up most of {told}."
    equal = ", equal ones four at a time" if found.by_turns else ""
    return f"First come those that make most of their blocks{equal}; the number out of 100 adds up {told}."


def paste_sentence(found: Turnings) -> str:
    """How to go on with one of them."""
    again = f" and repeat {found.times} x {found.times}" if found.times > 1 else ""
    return (
        f"To go on, type the lines below a picture into a quilt file{again}, or have it written: "
        f"seamwright turnings {command_words(found)} --write 1 -o evening.setting"
    )


def command_words(found: Turnings) -> str:
    """What was asked for, as it is typed: numbers hold for the same drawings and these options only."""
    words = [shlex.quote(drawing) for drawing in found.drawings]
    for name, text in found.asked:
        if name not in PAGE_OPTIONS and text != "no":
            words.append(f"--{name}" if text == "yes" else f"--{name} {shlex.quote(text)}")
    words += ["--with-reversed"] if found.reversed_too else []
    if found.by_rule:
        words += ["--grid 4x4", *([f"--seed {found.seed}"] if found.seed != 1 else [])]
    return " ".join(words)


def foot_words(found: Turnings) -> str:
    """At the foot of each page."""
    return f"{title(found)}. Numbers hold for: {command_words(found)}"


def caption(turning: Turning) -> str:
    """Beside the number of a layout: the rules that make it, or how many out of 100 it makes."""
    return ", ".join(turning.rules) or f"{turning.found.points:.0f} out of 100"


def written_sentence(found: Turnings, number: int, file: str) -> str:
    """What was written, and what can be done with it."""
    turning = found.every[number - 1]
    return (
        f"Quilt: {file}, layout {number}: {'; '.join(turning.lines)}. "
        f"Change its rows, borders and binding as you like; seamwright quilt {file} says what comes of it."
    )


def turnings_lines(found: Turnings, *, briefly: bool) -> list[str]:
    """Lines for the screen; `briefly`: without the layouts, where a sheet shows them."""
    lines = [f"{title(found)}. {count_sentence(found)}"]
    lines += [f"  {sentence}" for sentence in reasons(found)]
    if briefly:
        return lines
    for turning in found.every[:TOLD]:
        lines.append(f"  {turning.number:>3}  {'; '.join(turning.lines)}  ({_made(found, turning)})")
    left = len(found.every) - TOLD
    if left > 0:
        lines.append(f"  and {left:,} more; -o turnings.pdf shows them in colour")
    return lines


def _made(found: Turnings, turning: Turning) -> str:
    """What the blocks of a layout make together."""
    made, units = turning.found.secondary, found.base.units
    line = "without end" if math.isinf(made.longest_in) else say_length(made.longest_in, units)
    parts = [*turning.rules]
    if made.ends:
        parts += [f"{made.running} of {made.ends} seam ends run on", f"longest line {line}"]
    parts += [say_count(made.shapes, "closed shape")] if made.shapes else []
    return "; ".join(parts)
