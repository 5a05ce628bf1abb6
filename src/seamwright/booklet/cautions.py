"""The chapter of cautions, and the short ones that stand where the work happens.

Source: common practice of sewing classes, as makers' manuals and class rules say it; these come first.
"""

from __future__ import annotations

from seamwright.booklet.model import Heading, Paragraph, Points, Story

FIRST = (
    "The manuals of your machine, iron and cutter, the rules of the classroom and what you were taught in person "
    "come before anything in this booklet."
)
CAUTIONS = (
    "Rotary cutter: draw the blade away from your body, on a mat and along a ruler made for it; keep your fingers "
    "off the ruler's edge; close the blade each time you lay it down; wrap old blades before you throw them away.",
    "Iron: it burns, and so does steam. Set it down on its heel or its rest, keep its cord out of the way, and "
    "switch it off when you leave. Try the iron on one printed sheet first: ink and toner may come off.",
    "Needles and pins: take out pins before the needle reaches them; count pins and needles at the start and at "
    "the end; switch the machine off before you change a needle.",
    "Scissors and seam rippers: cut away from your hand, and close them.",
    "Children: keep blades, needles, pins and small parts away from them; work with them only under the eyes of an "
    "adult who knows the tools.",
    "Sit so that you see well, rest your eyes and hands, and stop when you are tired: tired hands slip.",
)


def cautions_story() -> Story:
    """All of them."""
    return (Heading("Before you begin"), Paragraph(FIRST, strong=True), Points(CAUTIONS))
