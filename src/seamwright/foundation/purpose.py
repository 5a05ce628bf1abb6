"""What a print is for, and how it says so: to be sewn on, cut by, looked at, or laid on fabric.

Knows:  which use a section's print has, the words that only this use needs, on the print and on its sheet; how many
        pieces are cut by a template.
Leaves: words that every print has (wording), frames for choosing a motif (windows), ruler sizes (fabric.rulers).
Units:  inches as printed; type in points.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from seamwright.fabric.rulers import RulerCut, ruler_cut
from seamwright.foundation.common import Common
from seamwright.foundation.laying import said_of_marks
from seamwright.foundation.model import Foundation, Use
from seamwright.foundation.places import Place
from seamwright.foundation.printed import PrintedPatch, PrintedStretch
from seamwright.foundation.room import Room
from seamwright.foundation.words import NOTE_PT
from seamwright.geometry import Point, Ring, canonical_ring, signed_area
from seamwright.ink.model import Words
from seamwright.ink.wrap import wrapped
from seamwright.options import PrintOptions, Sets, Units
from seamwright.piecing.model import Section
from seamwright.units import say_length, say_size

NOT_FOR_SEWING = "Front view: not for sewing on"
TEMPLATE = "template: cut"
ON_SHEETS = {
    Use.CUT: "Plain pieces are sewn without paper: lay the template, printed side up, on the right side of the "
    "fabric, cut along its dashed line, as many as it says, and push a pin through each dot: seams start and stop "
    "there. Tips of what a ruler cuts are trimmed by the template.",
    Use.VIEW: f"{NOT_FOR_SEWING}. It is there to cut by and to look at; foundations are printed mirrored.",
    Use.WINDOW: "Cut the opening with a craft knife on a mat, the blade away from your fingers, then the frame "
    "with scissors; children need help. Lay it on the fabric until the motif shows; the arrow with a full head "
    "is the straight grain.",
}
"""What a sheet says of prints that are not sewn on. Common practice."""
TINTED = "Grey: the darker a patch, the darker its fabric reads; white where nothing is known of it."
_WIDTHS_PT = (160.0, 120.0, 90.0, 70.0, 50.0)
_NO_POINT: Point = (0.0, 0.0)


def use_of(section: Section, printing: PrintOptions) -> Use:
    """A plain piece is cut by its print; a foundation is sewn on, or looked at."""
    if section.kind == "plain":
        return Use.CUT
    return Use.VIEW if printing.unmirrored else Use.SEW


def called(print_: Foundation) -> str:
    """What a print is, for lists of prints: "Section A", "Plain piece E", "Window A1"."""
    if print_.use is Use.WINDOW:
        return f"Window {print_.label}"
    kind = "Plain piece" if print_.kind == "plain" else "Section"
    return f"{kind} {print_.section}{', front view' if print_.use is Use.VIEW else ''}"


def all_called(printing: PrintOptions) -> str:
    """What all prints of a run are together."""
    if printing.windows:
        return "windows"
    return "front views" if printing.unmirrored else "foundations"


def on_sheet(foundations: Iterable[Foundation], *, tinted: bool = False) -> tuple[str, ...]:
    """What a sheet with these prints has to say of their uses, in the order of Use, and of marks to lay fabric by.

    () if nothing needs to be said.
    """
    prints = tuple(foundations)
    uses = {foundation.use for foundation in prints}
    said = tuple(words for use, words in ON_SHEETS.items() if use in uses)
    return (*said, *said_of_marks(prints), *((TINTED,) if tinted else ()))


def cut_by_ruler(common: Common, section: Section) -> RulerCut | None:
    """How a plain piece is cut with a ruler, None where it has to be cut by its print."""
    if section.kind != "plain":
        return None
    options = common.plan.options
    ring = canonical_ring(common.plan.block.patch_ring(section.patches[0]))
    return ruler_cut(ring, common.grains_deg[section.name], options.seam_allowance_in, options.units)


def say_ruler(cut: RulerCut, units: Units) -> str:
    """Such as "by ruler 3 1/2 x 5 in" or "by ruler half of a 3 7/8 in square"."""
    if cut.pieces == 1:
        return f"by ruler {say_size(cut.width_in, cut.height_in, units, glyphs=True)}"
    share = "half" if cut.pieces == 2 else "a quarter"
    trimmed = ", then trimmed by this" if cut.is_generous else ""
    return f"by ruler {share} of a {say_length(cut.width_in, units, glyphs=True)} square{trimmed}"


def cut_words(places: int, printing: PrintOptions) -> str:
    """How many pieces are cut by a template that serves so many places of a block.

    >>> cut_words(4, PrintOptions()), cut_words(1, PrintOptions(copies=3))
    ('template: cut 4', 'template: cut 1 for each block')
    """
    shared = printing.copies > 1 and printing.sets is Sets.PACKED
    return f"{TEMPLATE} {places}{' for each block' * shared}"


def place_purpose(
    room: Room,
    common: Common,
    places: Sequence[Place],
    printing: PrintOptions,
    patches: Sequence[PrintedPatch],
    borders: Sequence[PrintedStretch],
) -> Iterator[str]:
    """The words of a print that is not sewn on, placed in its room; what found none is yielded for the legend."""
    section = places[0].section
    letter, use = common.labels[section.name], use_of(section, printing)
    if use is Use.VIEW and not _placed(room, [NOT_FOR_SEWING], patches, borders, bold=True):
        yield f"{letter}: front view, not for sewing on"
    if use is Use.CUT:
        cut = cut_by_ruler(common, section)
        said = [cut_words(len(places), printing)]
        said += [] if cut is None else [say_ruler(cut, common.plan.options.units)]
        if not _placed(room, said, patches, borders):
            yield f"{letter}: {', '.join(said)}"


def _placed(
    room: Room,
    paragraphs: Sequence[str],
    patches: Sequence[PrintedPatch],
    borders: Sequence[PrintedStretch],
    *,
    bold: bool = False,
) -> bool:
    """Whether paragraphs found room together: in a patch, the largest first, else along an edge in one line."""

    def block(size: float, width: float) -> list[Words]:
        broken = [line for text in paragraphs for line in wrapped(text, size, width, bold)]
        return [Words(line, _NO_POINT, size, bold=bold) for line in broken]

    for size in NOTE_PT:
        for patch in sorted(patches, key=lambda p: -abs(signed_area(p.ring))):
            choices = ((block(size, width), 3.0) for width in _WIDTHS_PT)
            if room.first(patch.ring, choices, holes=patch.holes):
                return True
        line = Words(", ".join(paragraphs), _NO_POINT, size, bold=bold)
        for stretch in sorted(borders, key=lambda s: -s.length_in):
            strips: tuple[Ring, ...] = (stretch.strip, stretch.wide)
            if any(strip and room.first(strip, [([line], 1.5)], angle_deg=stretch.angle_deg) for strip in strips):
                return True
    return False
