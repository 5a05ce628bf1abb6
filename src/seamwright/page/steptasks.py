"""The sewing rehearsal for the page, as a worker makes it: every step with its words and both sides as pictures.

Knows:  how a picture of one side is cut out of what a step shows, what is told with it.
Leaves: the rehearsal and what its pictures show (rehearsal), playing them (the page's own files).
Units:  a picture is `PANEL_IN` square, in inches.
Method: words stand beside the pictures, not in them: they can be read aloud, and grow with the reader's type.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from seamwright.asked import Given


def steps_of(path: str, text: str, given: Given = ()) -> dict[str, Any]:
    """The rehearsal of a text's first plan.

    Returns:
        `sections`, in sewing order, each with its `name` and the number of its first step, from 0; "" for the whole
        block. `steps`, each with `section`, `title`, `caption`, and for the left and the right side `heads`,
        `legends` and `pictures` (SVG). `told`: how it came out; `notes`; `cautions`.

    Raises:
        SeamwrightError: the text cannot be used or sewn, or its rehearsal failed.
    """
    from seamwright.api import rehearse
    from seamwright.claims.sewing import sewing_of
    from seamwright.page.planned import plans_of_text
    from seamwright.picture.named import part_colours, patch_colours
    from seamwright.rehearsal.captions import CAUTIONS
    from seamwright.rehearsal.panels import LEFT, RIGHT, show_rehearsal
    from seamwright.words.checks import rehearsed_words, sentence
    from seamwright.words.onpage import on_page

    plan = plans_of_text(path, text, given)[0]
    rehearsed = rehearse(plan)
    colours, parts = patch_colours(plan), part_colours(plan)
    shown = show_rehearsal(plan.block.title, sewing_of(plan), rehearsed, colours, plan.options.units, parts)
    first: dict[str, int] = {}
    for number, one in enumerate(shown):
        first.setdefault(one.section, number)
    return {
        "sections": [{"name": name, "first": number} for name, number in first.items()],
        "steps": [
            {
                "section": one.section,
                "title": one.title,
                "caption": on_page(one.caption),
                "heads": one.heads,
                "legends": one.legends,
                "pictures": [_svg(one.left, LEFT, one.heads[0]), _svg(one.right, RIGHT, one.heads[1])],
            }
            for one in shown
        ],
        "told": rehearsed_words(rehearsed),
        "notes": [on_page(sentence(note.text)) for note in rehearsed.notes],
        "cautions": CAUTIONS,
    }


def _svg(inks: Any, middle: tuple[float, float], title: str) -> str:
    """One side as a picture of its own, on clear ground."""
    from seamwright.ink.model import move_ink
    from seamwright.ink.svg import to_svg
    from seamwright.rehearsal.panels import PANEL_IN

    aside = (1.0, 0.0, 0.0, 1.0, PANEL_IN / 2 - middle[0], PANEL_IN / 2 - middle[1])
    return to_svg([move_ink(ink, aside) for ink in inks], PANEL_IN, PANEL_IN, title=title)
