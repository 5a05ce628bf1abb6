"""Where the sewer wants to start: patches, by name, that are to be the first of their section.

Knows:  how the names she writes are read, which patches of a section can be first, what is said when one cannot.
Leaves: the order that follows (order), which sections there are: a start changes neither sections nor letters.
Method: the names are those of the plan without a start. A patch can be the first of its section exactly when all
        others can be peeled off it. All places of one print are sewn in one order: a start holds for all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from seamwright.errors import Fault, OptionError
from seamwright.notes import Note
from seamwright.piecing.model import Section
from seamwright.piecing.named import Named, split_names
from seamwright.piecing.order import sewing_order
from seamwright.piecing.seammap import SeamMap
from seamwright.units import say_list


def with_start(
    seams: SeamMap, sections: tuple[Section, ...], start: str, *, fold_clear: bool = False
) -> tuple[tuple[Section, ...], tuple[Note, ...]]:
    """The sections sewn from the patches that the sewer names, and what she should know about it.

    Args:
        sections: as planned without a start; `seams` is of their block.
        start: names of patches, parted by commas, "" for none; of several in one section the first is laid on
            first.
        fold_clear: only steps that fold clear of all that is sewn before.

    Raises:
        OptionError: a name is unknown, or a patch cannot be first; a fault for each.
    """
    if not start or not sections:
        return sections, ()
    wanted = _wanted(sections, start)
    orders: dict[str, list[int]] = {}
    faults = []
    for print, spots in wanted.items():
        section = next(section for section in sections if section.print == print)
        first = [section.patches[spot] for spot in spots]
        steps = sewing_order(seams, section.patches, first=first, fold_clear=fold_clear)
        if steps is None:
            faults.append(_cannot(seams, section, spots, fold_clear))
        else:
            orders[print] = [section.patches.index(step.patch) for step in steps]
    if faults:
        raise OptionError("option", tuple(faults))
    started = tuple(
        _reordered(seams, section, orders[section.print]) if section.print in orders else section
        for section in sections
    )
    return started, _renamed(sections, wanted)


def _wanted(sections: Sequence[Section], start: str) -> dict[str, list[int]]:
    """The patches named, by print."""
    named = {s.patch_name(count + 1): (s, count) for s in sections for count in range(len(s.patches))}
    known = Named(named, "start")
    wanted: dict[str, list[int]] = {}
    faults = []
    for word in split_names(start):
        found = known.find(word)
        if isinstance(found, Fault):
            faults.append(found)
            continue
        section, count = found
        if count not in wanted.setdefault(section.print, []):
            wanted[section.print].append(count)
    if faults:
        raise OptionError("option", tuple(faults))
    return wanted


def _cannot(seams: SeamMap, section: Section, spots: list[int], fold_clear: bool) -> Fault:
    """Why sewing cannot start as asked, and where it can."""

    def can(first: list[int]) -> bool:
        patches = [section.patches[spot] for spot in first]
        return sewing_order(seams, section.patches, first=patches, fold_clear=fold_clear) is not None

    upto = next(count for count in range(1, len(spots) + 1) if not can(spots[:count]))
    before, patch = spots[: upto - 1], section.patch_name(spots[upto - 1] + 1)
    possible = [spot for spot in range(len(section.patches)) if spot not in before and can([*before, spot])]
    named = say_list([section.patch_name(spot + 1) for spot in possible], "or") if possible else ""
    held = "" if not fold_clear else ", each folded clear of those before,"
    if before:
        after = section.patch_name(before[-1] + 1)
        what = f"option start: {patch} cannot be laid on right after {after}, or not all others{held} can follow"
        return Fault("option", what, f"After {after} can come {named}" if named else f"Leave out {patch}")
    what = (
        f"option start: {patch} cannot be the first patch of section {section.name}, for the others cannot all be "
        f"sewn to it one after another{held} by straight seams"
    )
    return Fault("option", what, f"Section {section.name} can start with {named}")


def _reordered(seams: SeamMap, section: Section, order: Sequence[int]) -> Section:
    steps = sewing_order(seams, section.patches, first=[section.patches[spot] for spot in order])
    if steps is None:
        raise AssertionError(f"section {section.name} is not sewn as the others of print {section.print}")
    return replace(section, steps=steps)


def _renamed(sections: Iterable[Section], wanted: dict[str, list[int]]) -> tuple[Note, ...]:
    """That names follow the sewing order, so that those she wrote have become others."""
    told = []
    for print, spots in wanted.items():
        section = next(section for section in sections if section.print == print)
        told += [
            f"{section.patch_name(old + 1)} is {section.patch_name(new + 1)} now"
            for new, old in enumerate(spots)
            if new != old
        ]
    if not told:
        return ()
    text = f"patches are numbered as they are sewn, so the start has changed names: {', '.join(told)}"
    return (Note("start", text, len(told)),)
