"""The palette and the colourways that options ask for, found and laid over a block.

Knows:  where a palette lies that a drawing names, which colourways a drawing is asked for in.
Leaves: what they change (fabric.colourways), reading files (drawing).
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import Given, split_size, usable_options
from seamwright.errors import OptionError, SeamwrightError, fail

if TYPE_CHECKING:  # most drawings need none of it
    from seamwright.block.model import Block
    from seamwright.drawing.model import Drawing
    from seamwright.fabric.model import Palette
    from seamwright.options import PlanOptions

OWN = "own"
"""The colourway that is none: the drawing's own fabrics, though it may ask for another itself."""


def options_of(drawing: Drawing, path: str | Path, given: Given) -> dict[str, str]:
    """The options of a drawing with those given, which win; a palette that the drawing names lies beside it."""
    beside = Path(path).parent
    own = {name: str(beside / text) if name == "palette" and text else text for name, text in drawing.options}
    return {**own, **dict(given)}


def dress(block: Block, how: PlanOptions) -> Block:
    """The block in the palette, the one colourway and the hand that options ask for.

    A palette says how stripes run in the block as drawn, so a mirror image is made last.

    Raises:
        SeamwrightError: the palette cannot be used, there is no such colourway, or several are asked for.
    """
    if not (block.reversed or how.reversed):
        return _recoloured(block, how)
    from seamwright.block.mirrored import mirrored

    drawn = _recoloured(mirrored(block) if block.reversed else block, how)
    return mirrored(drawn) if how.reversed else drawn


def _recoloured(block: Block, how: PlanOptions) -> Block:
    """The block in the palette and the colourway asked for; as it is if neither is."""
    if not (how.palette or how.colourway):
        return block
    from seamwright.fabric.colourways import asked_for, dressed, known_colourways

    palette = _palette(how)
    names = asked_for(how.colourway, known_colourways(block.as_drawn().colourways, palette))
    if len(names) > 1:
        what = f"{len(names)} colourways are asked for, and a plan has one"
        mend = "Name one; read_colourways gives the block in each of them"
        raise fail(OptionError, "option", what, mend, drawing=block.file)
    return dressed(block, palette, names[0])


def colourways_asked(drawing: str, given: Given = (), source: bytes | None = None) -> tuple[str, ...]:
    """Names of the colourways in which a drawing is asked for, in order, "" for its own fabrics; never none.

    A plan has one colourway, so whoever takes several makes a plan of each: `api.outcome` with ("colourway", name).

    Args:
        drawing: its path, with a size behind it if wanted.
        given: options as pairs (long name, text); what the drawing itself asks for counts where these do not.
        source: the drawing's bytes where they are not, or not yet, those of its file; None: read from there.

    Raises:
        SeamwrightError: drawing, palette or an option cannot be used, or there is no colourway of such a name.
    """
    from seamwright.drawing.read import file_bytes, read_bytes

    path = Path(split_size(drawing)[0])
    data = file_bytes(path) if source is None else source
    # A large drawing is not read twice to learn that it says nothing of it.
    if not any(name == "colourway" for name, _ in given) and b"colourway" not in data:
        return ("",)
    from seamwright.fabric.colourways import asked_for, known_colourways

    read = read_bytes(data, path)
    how = usable_options(options_of(read, path, given).items())
    return asked_for(how.colourway, known_colourways(read.colourways, _palette(how)))


def each_way(drawing: str, given: Given) -> list[Given]:
    """The options of each plan that a drawing is asked for: one for each colourway, never none.

    One that cannot be read, or has no such colourway, comes once with what is given, for `api.outcome` to tell.
    """
    try:
        names = colourways_asked(drawing, given)
    except SeamwrightError:
        names = ("",)
    if names == ("",):
        return [given]
    rest = [pair for pair in given if pair[0] != "colourway"]
    return [[*rest, ("colourway", name or OWN)] for name in names]


def _palette(how: PlanOptions) -> Palette | None:
    from seamwright.drawing.palette import read_palette

    return read_palette(Path(how.palette)) if how.palette else None
