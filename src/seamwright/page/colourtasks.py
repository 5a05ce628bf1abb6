"""Fabrics of a text on the page, as a worker finds them: how they look and read, and what they do to its points.

Knows:  what is told of fabrics, colourways and patches, also while nothing can be painted yet.
Leaves: how patches and swatches look (coloured, swatches), facts and words (cloths, words.fabrics), who asks
        (colours).
Units:  inches of the drawing, front view.
Method: the server only names these functions: what they need is imported where they run.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # the server itself plans nothing
    from seamwright.asked import Given
    from seamwright.errors import SeamwrightError
    from seamwright.fabric.model import Colourway, Fabric, Palette
    from seamwright.options import Units
    from seamwright.piecing.model import Plan

WAY_IN = 1.2
"""Longer side of a colourway's picture: several stand side by side."""


def fabrics_on(path: str, text: str, given: Given) -> dict[str, Any]:
    """What the page shows of a drawing's fabrics.

    `state` is "ready" when patches can be painted, else as the verdict has it; `sentence` says what there is to
    say.
    """
    from seamwright.api import outcome

    found = outcome(path, given, source=text.encode())
    if found.plan is None:
        assert found.error is not None
        return _not_yet(text, found.error)
    return _planned(found.plan, text)


def ways_shown(path: str, text: str, given: Given, grey: bool) -> list[dict[str, str]]:
    """The block in its own fabrics and in every colourway, as it is drawn: name ("" for its own) and picture (SVG).

    Raises:
        SeamwrightError: the drawing is no block, or a colourway cannot be worn.
    """
    from seamwright.api import blocks_asked
    from seamwright.block.mirrored import mirrored
    from seamwright.ink.svg import to_svg
    from seamwright.picture.cloth import Finish, block_picture

    rest = [pair for pair in given if pair[0] != "colourway"]
    shown = []
    for block in blocks_asked(path, [*rest, ("colourway", "all")], text.encode()):
        drawn = mirrored(block) if block.reversed else block
        picture = block_picture(drawn, WAY_IN, Finish.GREY if grey else Finish.COLOUR)
        shown.append({"name": block.colourway, "svg": to_svg(picture.inks, picture.width_in, picture.height_in)})
    return shown


def _not_yet(text: str, error: SeamwrightError) -> dict[str, Any]:
    """Fabrics while the drawing has no patches."""
    from seamwright.errors import DrawingError
    from seamwright.options import Units
    from seamwright.page.verdicttasks import state_of
    from seamwright.words.onpage import on_page

    state = state_of(error)
    faults = on_page(" ".join(fault.text for fault in error.faults))
    sentence = {
        "empty": "Nothing is drawn yet. Fabrics can be chosen already; patches to paint come with the first seams.",
        "unfinished": "Painting comes once every line meets another: then there are patches to paint.",
    }.get(state, f"There is nothing to paint while the drawing cannot be read: {faults}")
    try:
        stated, ways = stated_in(text)
    except DrawingError:
        stated, ways = [], []
    return {
        "state": state,
        "sentence": sentence,
        "patches": [],
        "seams": [],
        "warnings": [],
        "told": [],
        **_wardrobe(stated, ways, None, text, Units.INCH),
    }


def _planned(plan: Plan, text: str) -> dict[str, Any]:
    from pathlib import Path

    from seamwright.cloths import fabrics
    from seamwright.drawing.palette import read_palette
    from seamwright.errors import DrawingError
    from seamwright.page.coloured import as_drawn, grey_seams, patch_objects, warning_objects
    from seamwright.page.swatches import Looks
    from seamwright.words.fabrics import values_sentence, verdict
    from seamwright.words.onpage import on_page

    cloths, block = fabrics(plan), as_drawn(plan)
    try:
        stated, ways = stated_in(text)
    except DrawingError:  # a drawing of another kind: what was found in it counts
        stated, ways = list(block.as_drawn().fabrics), list(block.as_drawn().colourways)
    palette = read_palette(Path(plan.options.palette)) if plan.options.palette else None
    return {
        "state": "ready",
        "sentence": on_page(verdict(cloths)),
        "patches": patch_objects(plan, Looks(block.fabrics)),
        "seams": grey_seams(plan),
        "warnings": warning_objects(cloths),
        "told": [on_page(said) for said in (values_sentence(cloths),) if said],
        **_wardrobe(stated, ways, palette, text, plan.options.units, plan),
    }


def _wardrobe(
    stated: Sequence[Fabric],
    ways: Sequence[Colourway],
    palette: Palette | None,
    text: str,
    units: Units,
    plan: Plan | None = None,
) -> dict[str, Any]:
    """Fabrics to paint with: those of the drawing, those that are ready, and the colourways."""
    from seamwright.fabric.colourways import known_colourways, under_palette
    from seamwright.foundation.codes import fabric_codes
    from seamwright.page.swatches import Looks

    now = under_palette(stated, palette)
    worn_now = plan.block.fabrics if plan else ()
    others = [fabric for fabric in now.values() if fabric.name not in {one.name for one in worn_now}]
    codes = {**fabric_codes([*worn_now, *others]), **fabric_codes(worn_now)}
    ready = _ready((*stated, *now.values()), palette)
    looks = Looks([*worn_now, *others, *(fabric for _, fabric in ready)])
    looked = {name: looks.of(shown, codes, units) for name, shown in now.items()}
    return {
        "fabrics": _own(stated, now, looked, text, plan),
        "ready": [
            {**looks.of(fabric, {}, units), "from": source, "typed": _as_typed(fabric)} for source, fabric in ready
        ],
        "colourways": [
            {"name": way.name, "stated": way in ways, "changes": dict(way.changes)}
            for way in known_colourways(ways, palette)
        ],
        "shown": plan.block.colourway if plan else "",
        "palette": palette.file.rpartition("/")[2] if palette else "",
    }


def _own(
    stated: Iterable[Fabric],
    now: Mapping[str, Fabric],
    looked: Mapping[str, dict[str, Any]],
    text: str,
    plan: Plan | None,
) -> list[dict[str, Any]]:
    """The drawing's own fabrics; each goes by the name it has there, whatever a palette makes of it (`now`)."""
    from seamwright.errors import DrawingError
    from seamwright.fabric.worn import worn
    from seamwright.sketch.fabrics import typed
    from seamwright.words.fabrics import share_words

    try:
        words = typed(text)
    except DrawingError:
        words = {}
    shares = {wear.fabric.name: wear for wear in worn(plan.block).wear} if plan else {}
    rows = []
    for fabric in stated:
        shown, said = now[fabric.name], words.get(fabric.name, {})
        wear = shares.get(shown.name)
        row = {
            "name": fabric.name,
            "called": shown.name,
            "typed": said,
            "worn": _as_typed(shown) | {"code": said.get("code", "")},
            "patches": wear.pieces if wear else 0,
            "share": share_words(wear.share) if wear else "",
        }
        rows.append(looked[fabric.name] | row)
    return rows


def _ready(taken: Iterable[Fabric], palette: Palette | None) -> list[tuple[str, Fabric]]:
    """Fabrics that are offered besides, each with where it is from; none that goes by a name that is taken."""
    from seamwright.fabric.model import folded
    from seamwright.page.ready import HARBOUR

    names = {folded(fabric.name) for fabric in taken}
    shelf = [("palette", one) for one in (palette.fabrics if palette else ())]
    ready: dict[str, tuple[str, Fabric]] = {}
    for source, fabric in (*shelf, *(("ready", one) for one in HARBOUR)):
        if folded(fabric.name) not in names:
            ready.setdefault(folded(fabric.name), (source, fabric))
    return list(ready.values())


def _as_typed(fabric: Fabric) -> dict[str, str]:
    """A fabric's parts as they would be typed."""
    from seamwright.drawing.textwrite import digits

    angle = "" if fabric.direction_deg is None else digits(fabric.direction_deg)
    parts = {
        "colour": fabric.colour or "",
        "value": fabric.value.value if fabric.value else "",
        "warmth": fabric.warmth,
        "stripes": angle if fabric.striped else "",
        "direction": "" if fabric.striped else angle,
        "width": f"{digits(fabric.width_in)} in" if fabric.width_in is not None else "",
    }
    return {part: said for part, said in parts.items() if said}


def stated_in(text: str) -> tuple[list[Fabric], list[Colourway]]:
    """Fabrics and colourways that a text states.

    Raises:
        DrawingError: it is no text of a block, or lines of it cannot be read.
    """
    from seamwright.drawing.textform import stated
    from seamwright.fabric.model import Colourway

    facts, file, _ = stated(text, name="", file="")
    facts.faults.stop_if_any(file)
    ways = [Colourway(name, tuple(changes)) for name, changes in facts.colourways.items()]
    return list(facts.fabrics.values()), ways
