"""What the limits on sections cost, and what they could not give, in a sewer's words.

Knows:  how many sections more they take, which option lifts them, which patches no sheet holds.
Leaves: the limits themselves (limits), the division under them (divide).
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.notes import Note
from seamwright.options import PlanOptions
from seamwright.piecing.divide import Division
from seamwright.piecing.fit import papers_for
from seamwright.piecing.limits import Limits
from seamwright.piecing.model import Section
from seamwright.piecing.seammap import SeamMap


def limit_notes(
    seams: SeamMap, options: PlanOptions, division: Division, sections: Sequence[Section]
) -> tuple[Note, ...]:
    """Notes of a plan under limits; () where they ask for nothing that the best plan does not give anyway."""
    found = []
    extra = division.sections - division.fewest
    if extra > 0:
        asked = " and ".join(_asked(name, options) for name in division.broken)
        lifts = " and ".join(LIFTS[name] for name in division.broken)
        text = (
            f"sections that {asked} are {division.sections}, {extra} more than without that limit; "
            f"{lifts} {'lifts' if len(division.broken) == 1 else 'lift'} it"
        )
        if not division.limits_settled:
            text += ". Fewer may do: the search ended at its limit, and more --steps may find them"
        found.append(Note("limits", text, extra))
    found += _too_large(seams, options, sections)
    return tuple(found)


LIFTS = {"fit": "--fit none", "max-patches": "a larger --max-patches", "fold-clear": "leaving out --fold-clear"}
"""What takes each limit away, by the option's name."""


def _asked(name: str, options: PlanOptions) -> str:
    if name == "fit":
        return f"fit {_papers(options)} paper"
    if name == "max-patches":
        return f"have {options.max_patches} patches at most"
    return "fold clear of all that is sewn before"


def _papers(options: PlanOptions) -> str:
    return " and ".join(paper.name.capitalize() for paper in papers_for(options.paper))


def _too_large(seams: SeamMap, options: PlanOptions, sections: Sequence[Section]) -> list[Note]:
    """Single patches that no sheet holds: they are plain pieces, and the only ones printed in parts."""
    limits = Limits(seams, options)
    large = [s for s in sections if len(s.patches) == 1 and limits.too_large(s.patches[0])]
    if not large:
        return []
    names = [section.name for section in large]
    named = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    one = len(names) == 1
    text = (
        f"{named} {'is' if one else 'are'} larger than a sheet of {_papers(options)} paper, though only one patch"
        f"{'' if one else ' each'}: {'it prints' if one else 'they print'} in parts to glue together, or can be "
        "cut by ruler without paper. A larger --paper or a smaller --size helps"
    )
    middles = []
    for section in large:
        ring = seams.block.patch_ring(section.patches[0])
        middles.append((sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)))
    return [Note("too large", text, len(names), places_in=tuple(middles))]
