"""The page of an SVG: its physical size, and what was assumed where it states none.

Knows:  width, height, viewBox and preserveAspectRatio of the root element.
Leaves: everything inside (svg_tree).
Units:  inches; user units of the root's children.
Source: SVG 1.1 (second edition), sections 7.2, 7.7, 7.8; CSS Values and Units Level 3, section 6.2 (96 px = 1 in).
"""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from seamwright.drawing.svg_transform import fit_viewbox, parse_viewbox
from seamwright.drawing.svg_units import ABSOLUTE, PER_INCH, split_length
from seamwright.drawing.svg_xml import unreadable
from seamwright.geometry import Affine, Ring
from seamwright.units import say_size


@dataclass(frozen=True, slots=True)
class Page:
    """The root's viewport.

    Attributes:
        affine: root user units -> inches.
        width, height: the viewport of the root's children, in their user units.
        artboard: corners of the page in inches; None if the file gives no size at all.
        physical: the size is stated in units of length.
        assumed: what was assumed about the scale, as a sentence; "" if nothing.
    """

    affine: Affine
    width: float
    height: float
    artboard: Ring | None
    physical: bool
    assumed: str


def read_page(root: Element) -> Page:
    """The page of a root `<svg>` element.

    Raises:
        DrawingError: a size of zero or less, or one that cannot be read.
    """
    where = "the drawing"
    sizes: dict[str, tuple[float, str] | None] = {}
    for name in ("width", "height"):
        text = (root.get(name) or "").strip()
        given = split_length(text, f"{where}, {name}") if text and text.lower() != "auto" else None
        if given is not None and given[1] in ("%", "em", "rem", "ex", "ch"):
            given = None  # a share of a window that is not there
        if given is not None and given[0] <= 0:
            raise unreadable("viewBox", f"{where}: its {name} is not above zero", "Set the page size in the editor")
        sizes[name] = given
    width, height = sizes["width"], sizes["height"]
    box_text = (root.get("viewBox") or "").strip()
    box = parse_viewbox(box_text, where) if box_text else None
    w = width[0] / PER_INCH[width[1]] if width else None
    h = height[0] / PER_INCH[height[1]] if height else None
    affine: Affine = (1 / PER_INCH["px"], 0.0, 0.0, 1 / PER_INCH["px"], 0.0, 0.0)
    if box is not None:
        ratio = box[3] / box[2]
        if w is None:
            w = h / ratio if h is not None else box[2] / PER_INCH["px"]
        h = w * ratio if h is None else h
        affine = fit_viewbox(box, w, h, root.get("preserveAspectRatio") or "", where)
        inner = (box[2], box[3])
    else:
        inner = ((w or 0.0) * PER_INCH["px"], (h or 0.0) * PER_INCH["px"])
    stated = [given[1] for given in (width, height) if given is not None]
    physical = bool(stated) and all(unit in ABSOLUTE for unit in stated)
    artboard = None
    if w is not None and h is not None:
        artboard = ((0.0, 0.0), (w, 0.0), (w, h), (0.0, h))
    assumed = "" if physical else _assumption(stated, box is not None, artboard)
    return Page(affine, inner[0], inner[1], artboard, physical, assumed)


def _assumption(stated: list[str], has_box: bool, artboard: Ring | None) -> str:
    """What was assumed of a file without a physical size."""
    if stated:
        what = "the file gives its size in pixels"
    elif has_box:
        what = "the file gives a viewBox but no size"
    else:
        what = "the file gives no size"
    page = f", which makes the page {say_size(*artboard[2])}" if artboard else ""
    return f"{what}; 96 units to the inch assumed{page}; give --size if the block should be another size"
