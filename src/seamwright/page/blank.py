"""The text of a block before its first seam.

Knows:  which lines it begins with.
Leaves: their grammar (drawing.textform), what a size may be (drawing.measured).
Units:  the size as typed; a metric one brings the metric practice with it.
"""

from __future__ import annotations

from seamwright.drawing.textwrite import plain_or_quoted
from seamwright.sketch.view import view_of

NEW_SIZE, NEW_GRID = "6 in", 6
"""A block that fits one sheet of Letter or A4 paper with its allowance, in squares of one inch."""


def new_text(name: str, size: str = NEW_SIZE, grid: int = NEW_GRID) -> str:
    """A block with nothing drawn in it.

    Args:
        size: finished, "8 in" or "8 x 12 in". grid: squares across; 0 for none.

    Raises:
        DrawingError: no block has such a size, or it cannot be read.
    """
    lines = [
        "seamwright block 1",
        f"name {plain_or_quoted(' '.join(name.split()))}",
        f"size {' '.join(size.split())}",
    ]
    if grid:
        lines.append(f"grid {grid}")
    text = "".join(f"{line}\n" for line in lines)
    return text + "option units metric\n" if view_of(text).units == "metric" else text
