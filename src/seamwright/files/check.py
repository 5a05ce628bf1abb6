"""Files for machines read back and measured before anyone cuts by them.

Knows:  how to get the corners of every layer out of a finished SVG or DXF, in inches from its physical size.
Leaves: how the files are written (svg, dxf), whether a foundation is the right one (proof, rehearsal).
Method: the SVG is read by its width, height, viewBox and path data alone, the DXF by its declared unit. Every line
        of the foundation must be there as one path, closed where it is closed, each corner within the tolerance.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from io import BytesIO, StringIO
from typing import Any
from xml.etree import ElementTree

from seamwright.errors import read_back_wrong
from seamwright.files.model import CHECK, FABRIC, MARKS, STITCH, TRIM, Layered
from seamwright.foundation.model import Foundation
from seamwright.geometry import Point, Ring, Segment, canonical_ring, moved

TOLERANCE_MM = 0.01
MM_PER_IN = 25.4
STRAIGHT_IN = 1e-5
"""A point of a ring nearer than this to the line through its neighbours is no corner: files round to 1e-6 in."""
_SVG = "{http://www.w3.org/2000/svg}"
_INCHES = re.compile(r"([\d.]+)in")

Path = tuple[tuple[Point, ...], bool]
"""Its corners in inches of the page, y down; whether it is closed."""
Layers = dict[str, list[Path]]


def measure(drawn: Layered, svg: bytes, dxf: bytes) -> float:
    """The farthest that any corner lies from its place in either file, millimetres.

    Raises:
        ProofError: a line is missing, or a corner of it lies more than 0.01 mm off.
    """
    return max(_error(drawn, svg_layers(svg), "SVG"), _error(drawn, dxf_layers(dxf), "DXF"))


def _error(drawn: Layered, layers: Layers, kind: str) -> float:
    print_ = drawn.foundation
    x, y, side = drawn.check_in
    square = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))

    def here(points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(moved(drawn.affine, p) for p in points)

    wanted: list[tuple[str, str, Path]] = [
        (STITCH, "stitch outline", (here(print_.stitch_outline), True)),
        (TRIM, "trim line", (here(print_.trim_outline), True)),
        (CHECK, "check square", (square, True)),
        *((STITCH, "seam", (here(seam), False)) for seam in print_.seams),
        *((MARKS, "match mark", (here(mark), False)) for mark in print_.marks),
        *((FABRIC, "mark of a fabric's direction", (here(line), False)) for p in print_.patches for line in p.mark),
        *((FABRIC, "mark for a piece of fabric", (here(line), False)) for line in _laying(print_)),
    ]
    worst = 0.0
    for layer, what, path in wanted:
        error = min((_apart(path, found) for found in layers.get(layer, ())), default=math.inf)
        if error > TOLERANCE_MM:
            far = "is missing" if math.isinf(error) else f"lies {error:.3f} mm off"
            raise read_back_wrong(f"{drawn.name}: the {what} on layer {layer} of the {kind} file {far}")
        worst = max(worst, error)
    return worst


def _laying(print_: Foundation) -> list[Segment]:
    """Ticks and outlines by which fabric is laid."""
    laid = [patch.laid for patch in print_.patches if patch.laid is not None]
    return [line for one in laid for line in (*one.ticks, *one.middles, *one.legs)]


def _apart(wanted: Path, found: Path) -> float:
    """How far the corners of two paths lie apart at the most, mm; infinite if they are not one path.

    Points inside a straight side are no corners.
    """
    (one, closed), (two, also) = wanted, found
    if closed and also:
        one, two = canonical_ring(one, STRAIGHT_IN), canonical_ring(two, STRAIGHT_IN)
    if len(one) != len(two) or closed is not also:
        return math.inf
    turns = range(len(two)) if closed else range(1)
    ways = (way[k:] + way[:k] for way in (two, two[::-1]) for k in turns)
    return min(max(math.dist(a, b) for a, b in zip(one, way, strict=True)) for way in ways) * MM_PER_IN


def svg_layers(content: bytes) -> Layers:
    """The stroked paths of every layer of an SVG of ours, in inches by its physical size.

    Raises:
        ProofError: it has no physical size in inches, or not the same unit across and down.
    """
    root = ElementTree.parse(BytesIO(content)).getroot()
    size = [_INCHES.fullmatch(root.get(name, "")) for name in ("width", "height")]
    box = [float(n) for n in root.get("viewBox", "").split()]
    if None in size or len(box) != 4 or box[:2] != [0.0, 0.0]:
        raise read_back_wrong("the SVG file has no physical size")
    across, down = (float(s[1]) / b for s, b in zip(size, box[2:], strict=True) if s)
    if not math.isclose(across, down, rel_tol=1e-9):
        raise read_back_wrong("the SVG file has another scale across than down")
    layers: Layers = {}
    for group in root.iter(f"{_SVG}g"):
        paths = [p for p in group.iter(f"{_SVG}path") if p.get("fill") == "none" and not p.get("transform")]
        layers[group.get("id", "")] = [
            (tuple((x * across, y * across) for x, y in points), closed)
            for path in paths
            for points, closed in _paths(path.get("d", ""))
        ]
    return layers


def _paths(data: str) -> Iterable[Path]:
    for part in data.split("M")[1:]:
        closed = part.endswith("Z")
        pairs = part.removesuffix("Z").split("L")
        yield tuple((float(x), float(y)) for x, y in (pair.split(",") for pair in pairs)), closed


def dxf_layers(content: bytes) -> Layers:
    """The polylines of every layer of a DXF of ours, y down from the top of its page, inches by its declared unit.

    Raises:
        ProofError: it declares no unit, or none that is a length.
    """
    import ezdxf
    from ezdxf import units

    document: Any = ezdxf.read(StringIO(content.decode("cp1252")))
    if document.units not in (units.IN, units.MM, units.CM):
        raise read_back_wrong("the DXF file declares no unit")
    inch = units.conversion_factor(ezdxf.InsertUnits(document.units), ezdxf.InsertUnits.Inches)
    top = float(document.modelspace().dxf.extmax[1])
    layers: Layers = {}
    for line in document.modelspace().query("LWPOLYLINE"):
        points: Sequence[Point] = [(float(x), float(y)) for x, y, *_ in line.get_points()]
        down: Ring = tuple((x * inch, (top - y) * inch) for x, y in points)
        layers.setdefault(line.dxf.layer, []).append((down, bool(line.closed)))
    return layers
