"""Turnings of the blocks of a quilt, as pictures to choose from.

Knows:  what is shown of each, and which of the quilt's own names its rows bear.
Leaves: finding and ranking layouts (exploring), a quilt's picture (picture.quilt).
Units:  inches of the pictures.
"""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.fabric.model import folded
from seamwright.page.quiltwork import plain, setting_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from seamwright.exploring import Turnings
    from seamwright.quilt.edits import Laid
    from seamwright.quilt.model import Cell, Setting, Source

SIDE_IN = 2.0
"""Longer side of a picture: four blocks, so that what they make together shows."""


def turnings_shown(
    folder: str,
    name: str,
    text: str,
    blocks: Sequence[tuple[str, str]],
    reversed_too: bool,
    side: int,
    seed: int,
    first: int,
    most: int,
) -> dict[str, Any]:
    """Layouts of one or two blocks of a quilt.

    Args:
        blocks: name in the quilt and colourway of each; one name in two colourways is two blocks.
        side: 2: all layouts of 2 x 2; 4: layouts of 4 x 4 made by rules, those by chance by `seed`.
        first, most: which are shown, counted from 1 in the order of their ranking.

    Returns:
        count, sentences, layouts [number, caption, svg, rows of `quilt.edits.Laid`].

    Raises:
        SeamwrightError: blocks differ in size, or one cannot be read.
    """
    from seamwright.exploring import turnings
    from seamwright.quilt.looks import drawing_of
    from seamwright.words.turnings import count_sentence, hands_sentence, rank_sentence, same_sentence

    try:
        with setting_at(folder, name, text) as setting:
            named = [_source(setting, block) for block, _ in blocks]
            ways = [way for _, way in blocks]
            if len({source.name for source in named}) < len(named):
                named, asked = named[:1], {"colourway": ", ".join(way or "own" for way in ways)}
            else:
                asked = {"colourway": ways[0]} if any(ways) and len(ways) == 1 else {}
            if setting.fabrics or setting.colourways:
                asked["palette"] = setting.file
            options: dict[str, Any] = {key.replace("-", "_"): value for key, value in setting.options}
            drawings = [drawing_of(source) for source in named]
            found = turnings(*drawings, reversed_too=reversed_too, repeat=side, seed=seed, **{**options, **asked})
            names = {made.name: source.name for made, source in zip(found.base.sources, named, strict=True)}
            layouts = _shown(found, names, first, most)
    except SeamwrightError as error:
        raise _on_page(plain(error, folder)) from error
    several = len(found.every) > 1
    return {
        "count": len(found.every),
        "sentences": [
            count_sentence(found),
            *([f"{same_sentence(found)} {hands_sentence(found)}", rank_sentence(found)] if several else []),
        ],
        "layouts": layouts,
    }


def _shown(found: Turnings, names: dict[str, str], first: int, most: int) -> list[dict[str, Any]]:
    from seamwright.ink.svg import to_svg
    from seamwright.picture.cloth import Finish
    from seamwright.picture.quilt import quilt_repeated
    from seamwright.picture.turnings import looks_of_all
    from seamwright.quilt.layout import laid
    from seamwright.words.turnings import caption

    book = looks_of_all(found)
    layouts = []
    for turning in found.every[first - 1 : first - 1 + most]:
        quilt = laid(replace(found.setting(turning), binding=None), book)
        repeated, view = quilt_repeated(quilt, SIDE_IN, Finish.COLOUR)
        rows = [[asdict(_laid(cell, names)) for cell in row] for row in turning.rows]
        layouts.append(
            {
                "number": turning.number,
                "caption": caption(turning),
                "svg": to_svg((), view.width, view.height, repeated=repeated),
                "rows": rows,
            }
        )
    return layouts


def _laid(cell: Cell, names: dict[str, str]) -> Laid:
    from seamwright.quilt.editview import laid_of

    return laid_of(replace(cell, source=names[cell.source]))


def _source(setting: Setting, block: str) -> Source:
    found = next((one for one in setting.sources if folded(one.name) == folded(block)), None)
    if found is None:
        what = f"no block of the quilt is called '{block[:60]}'"
        raise fail(OptionError, "quilt", what, "Take it into the quilt first")
    return found


def _on_page(error: SeamwrightError) -> SeamwrightError:
    """Sizes are given in the list of blocks here."""
    if error.code != "size" or "no size makes them one" in str(error):
        return error
    fault = replace(error.faults[0], mend="Give both one finished size in the list of blocks")
    return type(error)(error.code, (fault,))
