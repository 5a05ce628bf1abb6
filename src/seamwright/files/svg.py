"""A layered foundation as SVG, its layers named as vector editors and the programs of cutters show them.

Knows:  which words the file holds about itself.
Leaves: how ink becomes SVG (ink.svg), what lies on which layer (layers).
"""

from __future__ import annotations

from seamwright.files.model import Layered
from seamwright.ink.svg import to_layered_svg


def to_svg_file(drawn: Layered, made_from: str) -> bytes:
    """The SVG document.

    Args:
        made_from: the mark that tells whose file it is, such as "made by seamwright from [kite.svg]".
    """
    print_ = drawn.foundation
    side = "mirrored, as printed: fabric lies on the blank side" if print_.mirrored else "front view"
    return to_layered_svg(
        drawn.layers,
        drawn.width_in,
        drawn.height_in,
        title=f"{print_.block} {print_.label}",
        description=f"True size, {side}. The check square measures 1 in (2.54 cm). {made_from}",
    ).encode()
