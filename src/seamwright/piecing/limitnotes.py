"""What the limits on sections cost, and what they could not give, in a sewer's words.

Knows:  how many sections more they take, which option lifts them, which patches no sheet holds.
Leaves: the limits themselves (limits), the division under them (divide).
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.notes import Note
from seamwright.options import PlanOptions
from seamwright.paper import papers_for
from seamwright.piecing.divide import Division
from seamwright.piecing.limits import Limits
from seamwright.piecing.model import Section
from seamwright.piecing.mostrepeats import Repeated
from seamwright.piecing.seammap import SeamMap
from seamwright.units import say_count, say_list


def limit_notes(
    seams: SeamMap, options: PlanOptions, division: Division, sections: Sequence[Section]
) -> tuple[Note, ...]:
    """Notes of a plan under limits; () where they ask for nothing that the best plan does not give anyway."""
    found = []
    repeated = division.repeated
    limited = division.sections if repeated is None else repeated.without
    extra = limited - division.fewest
    # With units off the paper the sections are others, and there are not more because of a limit.
    if extra > 0 and not division.units:
        asked = " and ".join(_asked(name, options) for name in division.broken)
        lifts = " and ".join(LIFTS[name] for name in division.broken)
        text = (
            f"{limited} sections because they {asked}, {extra} more than without; "
            f"{lifts} {'lifts that limit' if len(division.broken) == 1 else 'lift those limits'}"
        )
        found.append(Note("limits", text, extra))
        if not division.limits_settled:
            text = (
                "fewer sections may do within these limits: the search ended before all plans were compared, and "
            )
            found.append(Note("limits-open", f"{text}more --steps may find one"))
    if repeated is not None:
        found.append(_repeats(repeated, division.sections))
    found += too_large_notes(seams, options, sections)
    return tuple(found)


LIFTS = {"fit": "--fit none", "max-patches": "a larger --max-patches", "fold-clear": "leaving out --fold-clear"}
"""What takes each limit away, by the option's name."""


def _repeats(repeated: Repeated, sections: int) -> Note:
    """What most repeats first came to."""
    prints = say_count(repeated.prints, "different print")
    text = f"most repeats first: {prints} for {say_count(sections, 'section')}"
    if sections > repeated.without:
        text += f", where {repeated.without} without repeats would do"
    if repeated.settled:
        text += "; no plan has fewer different prints, or as few and fewer sections"
    else:
        needed = f"{repeated.at_least} at least {'is' if repeated.at_least == 1 else 'are'} needed"
        fewer = needed if repeated.at_least < repeated.prints else "one with fewer sections was not ruled out"
        ended = "it ended at its limit, and more --steps may find a better plan"
        many = "the block has too many ways to be divided for all to be kept"
        text += f". The search is not complete: {fewer}; {ended if repeated.ended else many}"
    return Note("repeats", text, repeated.prints)


def _asked(name: str, options: PlanOptions) -> str:
    if name == "fit":
        return f"must fit {_papers(options)} paper"
    if name == "max-patches":
        return f"may have {options.max_patches} {'patch' if options.max_patches == 1 else 'patches'} at most"
    return "must fold clear of all that is sewn before"


def _papers(options: PlanOptions) -> str:
    return " and ".join(paper.said for paper in papers_for(options.paper, options.margins))


def too_large_notes(seams: SeamMap, options: PlanOptions, sections: Sequence[Section]) -> list[Note]:
    """Single patches that no sheet holds: they are plain pieces, and the only ones printed in parts."""
    limits = Limits(seams, options)
    printed = [s for s in sections if len(s.patches) == 1 and s.method == "paper"]
    large = [section for section in printed if limits.too_large(section.patches[0])]
    if not large:
        return []
    names = [section.name for section in large]
    named, one = say_list(names), len(names) == 1
    text = (
        f"{named} {'is' if one else 'are'} larger than a sheet of {_papers(options)} paper, though only one patch"
        f"{'' if one else ' each'}: {'it prints' if one else 'they print'} in parts to glue together, or can be "
        "cut by ruler without paper. A larger --paper or a smaller --size helps"
    )
    from seamwright.ink.place import roomiest  # needs shapely, and is seldom needed

    places = tuple(roomiest(seams.block.patch_ring(section.patches[0]))[0] for section in large)
    return [Note("too large", text, len(names), places_in=places)]
