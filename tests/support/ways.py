"""One block drawn in many ways: the same lines as loose strokes, polygons, one path, clones, layers ...

Points are in inches of the finished block; `draw` writes them in any unit and under any transform, so that all
documents show the very same block.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

Point = tuple[float, float]

OUTLINE: tuple[Point, ...] = ((0, 0), (8, 0), (8, 8), (0, 8))
SEAMS: tuple[tuple[Point, Point], ...] = (
    ((0, 2), (8, 6)),
    ((3, 0), (4, 4)),
    ((3.5, 2), (8, 1)),
    ((2, 8), (2, 3)),
    ((2, 5.5), (8, 7.5)),
)
FACES: tuple[tuple[Point, ...], ...] = (
    ((0, 0), (3, 0), (3.5, 2), (4, 4), (0, 2)),
    ((3, 0), (8, 0), (8, 1), (3.5, 2)),
    ((3.5, 2), (8, 1), (8, 6), (4, 4)),
    ((0, 2), (2, 3), (2, 8), (0, 8)),
    ((2, 3), (8, 6), (8, 7.5), (2, 5.5)),
    ((2, 5.5), (8, 7.5), (8, 8), (2, 8)),
)
"""Corners as a person draws them: where another seam ends on a long side, the side has no corner."""
COLOURS = ("#e8c36a", "#7fb3d5", "#d98880", "#a9cca4", "#c39bd3", "#f0b27a")

INK = 'fill="none" stroke="#203040" stroke-width="{w}"'

Move = Callable[[Point], Point]


def number(value: float) -> str:
    """Seven decimals, as careful editors write."""
    return f"{value:.7f}".rstrip("0").rstrip(".") or "0"


def pair(point: Point) -> str:
    return f"{number(point[0])},{number(point[1])}"


# Ways of drawing: each gives the body of a group; `at` maps inches to the coordinates to write.


def loose_lines(at: Move, w: str) -> str:
    lines = [*zip(OUTLINE, OUTLINE[1:] + OUTLINE[:1], strict=True), *SEAMS]
    tags = []
    for a, b in lines:
        (x1, y1), (x2, y2) = at(a), at(b)
        tags.append(f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"/>')
    return f"<g {INK.format(w=w)}>{''.join(tags)}</g>"


def polygons(at: Move, w: str) -> str:
    return "".join(
        f'<polygon points="{" ".join(pair(at(p)) for p in face)}" fill="{colour}"/>'
        for face, colour in zip(FACES, COLOURS, strict=True)
    )


def stroked_polygons(at: Move, w: str) -> str:
    return "".join(
        f'<polygon points="{" ".join(pair(at(p)) for p in face)}"'
        f' style="fill:{colour};stroke:black;stroke-width:{w}"/>'
        for face, colour in zip(FACES, COLOURS, strict=True)
    )


def one_path(at: Move, w: str) -> str:
    d = "M" + "L".join(pair(at(p)) for p in OUTLINE) + "Z"
    d += "".join(f"M{pair(at(a))}L{pair(at(b))}" for a, b in SEAMS)
    return f'<path d="{d}" {INK.format(w=w)}/>'


def one_relative_path(at: Move, w: str) -> str:
    def chain(points: Sequence[Point], close: bool) -> str:
        nonlocal pen
        text = ""
        first = at(points[0])
        for index, p in enumerate(points):
            x, y = at(p)
            # Written numbers are rounded, so the pen is moved by what was written.
            dx, dy = number(x - pen[0]), number(y - pen[1])
            pen = (pen[0] + float(dx), pen[1] + float(dy))
            if index == 0:
                first = pen
                text += f"m{dx} {dy}"
            else:
                text += f"{'' if dx.startswith('-') else ' '}{dx}{'' if dy.startswith('-') else ' '}{dy}"
        if close:
            pen = first
        return text + ("z" if close else "")

    pen = (0.0, 0.0)
    d = chain(OUTLINE, True) + "".join(chain(seam, False) for seam in SEAMS)
    return f'<path d="{d}" {INK.format(w=w)}/>'


def rectangle_and_curves(at: Move, w: str) -> str:
    """Straight seams written as cubic and quadratic curves and as arcs without a radius."""
    d = f"M{pair(at(OUTLINE[0]))}" + "".join(f" {pair(at(p))}" for p in OUTLINE[1:]) + "Z"
    for index, (a, b) in enumerate(SEAMS):

        def between(t: float, a: Point = a, b: Point = b) -> str:
            return pair(at((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)))

        step = (
            f"C{between(0)} {between(1)} {between(1)}",
            f"C{between(1 / 3)} {between(2 / 3)} {between(1)}",
            f"Q{between(0.4)} {between(1)}",
            f"A0 7 0 0 1 {between(1)}",
            f"C{between(0.1)} {between(0.3)} {between(0.5)}S{between(0.9)} {between(1)}",
        )[index]
        d += f"M{between(0)}{step}"
    return f'<path d="{d}" style="{STYLE.format(w=w)}"/>'


STYLE = "fill:none;stroke:#000000;stroke-width:{w};stroke-linecap:round"


def polylines(at: Move, w: str) -> str:
    lines = [(*OUTLINE, OUTLINE[0]), *SEAMS]
    body = "".join(f'<polyline points="{" ".join(pair(at(p)) for p in points)}"/>' for points in lines)
    return f"<style>polyline{{{STYLE.format(w=w)}}}</style>{body}"


def clones(at: Move, w: str) -> str:
    """Every line a clone of a definition, placed by x and y."""
    shift = at((1, 1))
    tags, defs = [], []
    for index, points in enumerate([(*OUTLINE, OUTLINE[0]), *SEAMS]):
        moved = " ".join(pair((at(p)[0] - shift[0], at(p)[1] - shift[1])) for p in points)
        defs.append(f'<g id="part{index}"><polyline points="{moved}"/></g>')
        tags.append(f'<use xlink:href="#part{index}" x="{number(shift[0])}" y="{number(shift[1])}"/>')
    return f"<defs>{''.join(defs)}</defs><g {INK.format(w=w)}>{''.join(tags)}</g>"


def pieces_of_lines(at: Move, w: str) -> str:
    """Every seam in three touching pieces, some points clicked twice, the outline from the middle of a side."""
    middle = ((OUTLINE[0][0] + OUTLINE[1][0]) / 2, 0.0)
    d = f"M{pair(at(middle))}" + "".join(f"L{pair(at(p))}L{pair(at(p))}" for p in (*OUTLINE[1:], OUTLINE[0])) + "Z"
    for a, b in SEAMS:
        cuts = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for t in (0, 0.25, 0.7, 1)]
        for p, q in pairwise(cuts):
            d += f"M{pair(at(p))}L{pair(at(q))}Z"  # a loop of two points
    return f'<path d="{d}" {INK.format(w=w)}/>'


def stacked(at: Move, w: str) -> str:
    """Coloured shapes one over the other: a square, then what covers it, larger than what shows."""
    shapes = (
        (COLOURS[2], OUTLINE),
        (COLOURS[1], ((2, 0), (8, 0), (8, 1), (1, 1 + 14 / 9))),
        (COLOURS[0], FACES[0]),
        (COLOURS[3], ((0, 2), (8, 6), (8, 8), (0, 8))),
        (COLOURS[4], ((2, 3), (8, 6), (8, 8), (2, 8))),
        (COLOURS[5], ((2, 5.5), (8, 7.5), (8, 8), (2, 8))),
    )
    return "".join(
        f'<path d="M{"L".join(pair(at(p)) for p in ring)}Z" fill="{colour}"/>' for colour, ring in shapes
    )


def nested_layers(at: Move, w: str) -> str:
    body = loose_lines(at, w)
    return (
        '<g inkscape:groupmode="layer" inkscape:label="old" style="display:none">'
        '<path d="M0 0L5 5" stroke="red"/></g>'
        f'<g inkscape:groupmode="layer" inkscape:label="seams"><g><g id="inner">{body}</g></g></g>'
    )


WAYS: dict[str, Callable[[Move, str], str]] = {
    "loose lines": loose_lines,
    "polygons": polygons,
    "stroked polygons": stroked_polygons,
    "one path": one_path,
    "one relative path": one_relative_path,
    "straight curves": rectangle_and_curves,
    "polylines": polylines,
    "clones": clones,
    "pieces": pieces_of_lines,
    "stacked": stacked,
    "layers": nested_layers,
}

PAGES: dict[str, tuple[str, float]] = {
    # attributes of the page of 10 x 10 in, and user units to the inch
    "inches": ('width="10in" height="10in" viewBox="0 0 10 10"', 1.0),
    "mm": ('width="254mm" height="254mm" viewBox="0 0 254 254"', 25.4),
    "cm, box in mm": ('width="25.4cm" height="25.4cm" viewBox="0 0 254 254"', 25.4),
    "hundredths of mm": ('width="254mm" height="254mm" viewBox="0 0 25400 25400"', 2540.0),
    "pt": ('width="720pt" height="720pt" viewBox="0 0 720 720"', 72.0),
    "pc": ('width="60pc" height="60pc" viewBox="0,0,60,60"', 6.0),
    "px": ('width="960px" height="960px"', 96.0),
    "no unit": ('width="960" height="960"', 96.0),
    "box only": ('viewBox="0 0 960 960"', 96.0),
    "inches, no box": ('width="10in" height="10in"', 96.0),
    "wide page": ('width="14in" height="10in" viewBox="0 0 10 10" preserveAspectRatio="xMaxYMid meet"', 1.0),
    "origin elsewhere": ('width="10in" height="10in" viewBox="-3.5 2.25 10 10"', 1.0),
}

TURNS: dict[str, tuple[str, Move]] = {
    # transform to write, and where a point must be drawn so that the transform puts it right (user units)
    "none": ("", lambda p: p),
    "moved": ("translate(3,-2)", lambda p: (p[0] - 3, p[1] + 2)),
    "quarter": ("rotate(90)", lambda p: (p[1], -p[0])),
    "flip": ("matrix(1,0,0,-1,0,100)", lambda p: (p[0], 100 - p[1])),
    "tilted": ("rotate(30)", lambda p: _rotated(p, -30)),
    "scaled": ("translate(1 1) scale(2)", lambda p: ((p[0] - 1) / 2, (p[1] - 1) / 2)),
    "skewed": ("skewX(45)", lambda p: (p[0] - p[1], p[1])),
}


def _rotated(p: Point, degrees: float) -> Point:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (c * p[0] - s * p[1], s * p[0] + c * p[1])


def draw(way: str, page: str, turn: str) -> str:
    """The block as a whole SVG document."""
    attributes, scale = PAGES[page]
    text, back = TURNS[turn]

    def at(p: Point) -> Point:
        return back(((p[0] + 1) * scale, (p[1] + 1) * scale))

    body = WAYS[way](at, number(0.01 * scale))
    group = f'<g transform="{text}">{body}</g>' if text else body
    spaces = (
        'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        ' xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
    )
    return f"<svg {spaces} {attributes}>{group}</svg>"
