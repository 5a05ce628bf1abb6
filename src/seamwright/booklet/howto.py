"""The chapter that teaches: how to sew on a paper foundation, shown on the first section of the block itself.

Knows:  the six moments of every step, their words, the caution beside the tool that asks for it.
Leaves: the pictures (howtofigures), all other steps (steps).
Units:  inches.
Method: the pictures are those of one real section, so they match what lies on the table.
Source: common practice.
"""

from __future__ import annotations

from seamwright.booklet.howtofigures import Shower
from seamwright.booklet.model import Heading, Item, Paragraph, Points, Step, Story
from seamwright.booklet.stage import Type
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import Rehearsed, SewnSection
from seamwright.rehearsal.sides import Sides
from seamwright.units import say_length


def howto_story(plan: Plan, rehearsed: Rehearsed, *, left_handed: bool = False, scale: float = 1.0) -> Story:
    """How to use foundations; () for a plan of which nothing is sewn on paper.

    Args:
        left_handed: tools lie for the left hand.
        scale: of the words in pictures.
    """
    from seamwright.claims.sewing import sewing_of
    from seamwright.picture.named import part_colours, patch_colours

    on_paper = {s.name for s in plan.sections if s.kind != "plain" and s.method != "ruler"}
    shown = [sewn for sewn in rehearsed.sections if sewn.name in on_paper]
    if not shown:
        return ()
    # One whose first fold is like nearly all others teaches more than one with an inside corner.
    sewn = next((one for one in shown if _is_usual(one)), shown[0])
    sewing = sewing_of(plan)
    section = next(s for s in sewing.sections if s.name == sewn.name)
    sides = Sides(section, sewn, patch_colours(plan), part_colours(plan))
    shower = Shower(sides, sewing.allowance_in, -1.0 if left_handed else 1.0, Type(scale))
    allowance, extra = (
        say_length(length, plan.options.units, glyphs=True) for length in (sewing.allowance_in, sewing.extra_in)
    )
    one, two = (patch.name for patch in section.patches[:2])
    items: list[Item] = [
        Heading("How to sew on paper", 1),
        Paragraph(
            f"The pictures show the beginning of section {section.name} of this block. The printed side is the "
            "mirror image of the block: you stitch on it, and the fabric lies on its blank side."
        ),
        Points(BEFORE),
    ]
    stops = any(step.seam and step.seam.stops for each in shown for step in each.steps)
    marks = [step.patch for each in (sewn, *shown) for step in each.steps if step.piece and step.piece.lay in MARKS]
    told = _told(one, two, allowance, extra, stops, marks[0] if marks else "")
    for number, (figure, (title, *texts)) in enumerate(zip(shower.figures(), told, strict=True), start=1):
        items.append(Step(figure, str(number), title, tuple(texts)))
    return tuple(items)


MARKS = ("ticks", "angled")
"""Ways of laying that are marked on the foundation."""


def _is_usual(sewn: SewnSection) -> bool:
    """Whether the second piece lies edge on edge along a fold, and stitching runs past both ends of its line."""
    step = sewn.steps[1]
    seam, piece = step.seam, step.piece
    if seam is None or (piece is not None and piece.lay == "angled"):
        return False
    return seam.clear and not seam.stops and not seam.clipped


BEFORE = (
    "Cut the foundations out roughly, outside the dashed trim line; do not trim them yet.",
    "Set the stitch to 1.5 to 1.8 mm (14 to 18 to the inch), so that the paper tears off easily; take a needle of "
    "size 80 to 90, neutral thread and a dry iron.",
)
"""Common practice."""


MARKED = (
    'Some pieces have marks on the paper: with "lay {patch}" beside it, a short tick shows where an end '
    "of the piece for {patch} lies, dotted marks where its edges lie. Hold the work to the light to see them."
)
STOP = " Where a point is marked at its end, stop dead there and secure the thread."


def _told(one: str, two: str, allowance: str, extra: str, stops: bool, marked: str) -> tuple[tuple[str, ...], ...]:
    """(title, texts) of each picture; a text that begins with "Take care" is the caution at that place.

    Args:
        stops: some line of this block is not stitched past its end.
        marked: a patch whose piece lies at marks, "" if there is none.
    """
    return (
        (
            "lay the first patch",
            f"Lay the fabric for {one} right side up on the blank side and hold both to the light, printed side "
            f"towards you. It covers {one}, {allowance} of allowance round it and {extra} more; pin it.",
            "Take care: count your pins, and take each out before the needle reaches it.",
        ),
        (
            "fold and trim",
            f"Printed side up, lay a postcard along the line between {one} and {two} and fold the paper back over "
            f"it; lay the ruler's {allowance} line on the fold. Cut off what reaches out beyond the ruler: "
            f"{allowance} of fabric stays beyond the line.",
            "Take care: draw the blade away from your body, keep fingers off the ruler's edge, and close the blade "
            "at once.",
        ),
        (
            "edge on edge",
            f"Turn it over and lay the fabric for {two} right side down on {one}, its edge on the edge just "
            f"trimmed; pin it. Unfold the paper and fold the piece over for a moment: it must cover {two} "
            "with its allowance.",
            *((MARKED.format(patch=marked),) if marked else ()),
        ),
        (
            "stitch on the line",
            f"Printed side up again, stitch on the printed line, from {allowance} before it to {allowance} past it."
            f"{STOP if stops else ''}",
            "Take care: fingers stay clear of the needle, and no pin lies under the foot.",
        ),
        (
            "flip and press",
            f"Flip {two} over so that its right side shows, and press it flat: iron straight down, dry, no "
            "pushing. Tear the paper free of the few stitches that cross the next fold, and go on at 2 with the "
            "next number.",
            "Take care: the iron burns; set it down on its heel, and test that the print does not come off on it.",
        ),
        (
            "trim the section",
            "When the last patch is pressed, lay the section printed side up, the ruler's edge on the dashed trim "
            f"line. Cut paper and fabric together, side after side, never by the fabric: {allowance} stays all "
            "round.",
            "Take care: blade away from you, fingers off the edge, blade closed.",
        ),
    )
