"""Small pictures of designs, for the list.

Knows:  what stands for a block, a drawing that is none yet, a quilt, a palette.
Leaves: the pictures themselves (picture), reading (drawing, quilt).
Units:  inches of the picture.
Method: plain values in and out, so that a process of its own can do it. What cannot be drawn whole is drawn as far
        as it can be read; the caller says why there is none.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.errors import DrawingError
from seamwright.page.folder import inside, kind_of

if TYPE_CHECKING:
    from seamwright.drawing.model import Drawing
    from seamwright.picture.model import Picture

SIDE_IN = 1.5


def small_picture(folder: str, name: str, data: bytes) -> str:
    """The picture of a design as an SVG document.

    Args:
        folder: that it lies in; data: its file's bytes.

    Raises:
        SeamwrightError: it cannot be read, or has nothing to show.
    """
    from seamwright.ink.svg import to_svg

    kind, path = kind_of(name), Path(folder) / name
    if kind == "quilt":
        picture = _quilt(path, data)
    elif kind == "palette":
        picture = _palette(path, data)
    else:
        picture = _block(path, data)
    return to_svg(picture.inks, picture.width_in, picture.height_in, title=Path(name).stem)


def _block(path: Path, data: bytes) -> Picture:
    from seamwright.asked import usable_options
    from seamwright.block.make import make_block
    from seamwright.drawing.read import read_bytes
    from seamwright.picture.cloth import Finish, block_picture

    drawing = read_bytes(data, path)
    try:
        block = make_block(drawing, usable_options(drawing.options))
    except DrawingError:
        return _lines(drawing)
    return block_picture(block, SIDE_IN, Finish.COLOUR)


def _lines(drawing: Drawing) -> Picture:
    """The lines of a drawing that is no block yet."""
    from seamwright.geometry import bounds
    from seamwright.ink.model import Ink, Pen, Stroke
    from seamwright.picture.model import Picture
    from seamwright.picture.tints import INK

    runs = [(line.start, line.end) for line in drawing.lines] + [curve.points for curve in drawing.curves]
    rings = [drawing.outline] if drawing.outline else []
    left, top, right, bottom = bounds([p for run in (*runs, *rings) for p in run])
    scale = (SIDE_IN - 0.04) / max(right - left, bottom - top, 1e-9)

    def lay(run: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        return tuple(((x - left) * scale + 0.02, (y - top) * scale + 0.02) for x, y in run)

    inks: list[Ink] = [Stroke(Pen.RULE, lay(run), colour=INK) for run in runs]
    inks += [Stroke(Pen.MARK, lay(ring), closed=True, colour=INK) for ring in rings]
    return Picture(tuple(inks), (right - left) * scale + 0.04, (bottom - top) * scale + 0.04)


def _quilt(path: Path, data: bytes) -> Picture:
    from seamwright.picture.cloth import Finish
    from seamwright.picture.quilt import quilt_picture
    from seamwright.quilt.form import setting_of, stated_in
    from seamwright.quilts import quilt_of

    stated, lines = stated_in(data, str(path))
    for where, _, _ in stated.files.values():
        inside(path.parent, where)
    return quilt_picture(quilt_of(setting_of(stated, str(path), lines)), SIDE_IN, Finish.COLOUR)


def _palette(path: Path, data: bytes) -> Picture:
    from seamwright.drawing.palette import palette_of
    from seamwright.ink.model import Area, Ink
    from seamwright.picture.cloth import Finish, fabric_fills
    from seamwright.picture.model import Picture

    fills = list(fabric_fills(palette_of(data, str(path)).fabrics, Finish.COLOUR).values())[:25] or ["#ffffff"]
    across = next(n for n in range(1, 6) if n * n >= len(fills))
    side = SIDE_IN / across
    inks: list[Ink] = []
    for number, fill in enumerate(fills):
        x, y = number % across * side, number // across * side
        ring = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
        inks.append(Area((ring,), fill))
    return Picture(tuple(inks), SIDE_IN, (len(fills) + across - 1) // across * side)
