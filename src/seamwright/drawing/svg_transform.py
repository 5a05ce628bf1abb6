"""Transforms: the `transform` attribute, and viewBox with preserveAspectRatio.

Knows:  matrices as six numbers (geometry.Affine).
Leaves: where they apply (svg_tree).
Source: SVG 1.1 (second edition), sections 7.6 (transform) and 7.8 (preserveAspectRatio); CSS Transforms Level 1,
        section 8 for the same functions with units in a style.
"""

from __future__ import annotations

import math
import re

from seamwright.drawing.svg_units import NUMBER, PX, finite, numbers
from seamwright.drawing.svg_xml import unreadable
from seamwright.geometry import IDENTITY, Affine

MOST_CALLS = 1000
"""Functions of one transform; a program writes a handful."""
_CALL = re.compile(r"[\s,]*([A-Za-z]+)\s*\(([^()]*)\)")
_ARGUMENT = re.compile(rf"[\s,]*({NUMBER})\s*([A-Za-z]*)")
_ANGLES = {"": 1.0, "deg": 1.0, "rad": 180 / math.pi, "grad": 0.9, "turn": 360.0}
_ARGUMENTS = {
    "matrix": (6,),
    "translate": (1, 2),
    "translatex": (1,),
    "translatey": (1,),
    "scale": (1, 2),
    "scalex": (1,),
    "scaley": (1,),
    "rotate": (1, 3),
    "skewx": (1,),
    "skewy": (1,),
    "skew": (1, 2),
}


def times(outer: Affine, inner: Affine) -> Affine:
    """`inner` first, then `outer`."""
    a, b, c, d, e, f = outer
    p, q, r, s, t, u = inner
    return (a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f)


def stretch(affine: Affine) -> float:
    """By how much lengths grow, on average: the square root of the growth of areas."""
    a, b, c, d, _, _ = affine
    return math.sqrt(abs(a * d - b * c))


def parse_transform(text: str, where: str) -> Affine:
    """The matrix of a transform list.

    Raises:
        DrawingError: not a transform list.

    >>> parse_transform("translate(3 4) scale(2)", "here")
    (2.0, 0.0, 0.0, 2.0, 3.0, 4.0)
    """
    text = text.strip()
    if text.lower() in ("", "none"):
        return IDENTITY
    affine, at, calls = IDENTITY, 0, 0
    while at < len(text):
        found = _CALL.match(text, at)
        calls += 1
        if not found or calls > MOST_CALLS:
            if not text[at:].strip(" ,\t\r\n"):
                break
            raise _bad(text[at:], where)
        affine = times(affine, _call(found[1].lower(), found[2], where))
        at = found.end()
    return affine


def _bad(text: str, where: str) -> Exception:
    return unreadable(
        "transform",
        f"{where}: the transform {text.strip()[:40]!r} cannot be read",
        "Ungroup the object in its editor, so that the transform goes into its points",
    )


def _call(name: str, body: str, where: str) -> Affine:
    """The matrix of one function."""
    values: list[float] = []
    at = 0
    end = len(body.rstrip(" ,\t\r\n"))
    while at < end:
        found = _ARGUMENT.match(body, at)
        if not found or len(values) == 6:
            raise _bad(f"{name}({body})", where)
        unit = found[2].lower()
        turns = name in ("rotate", "skewx", "skewy", "skew") and not (name == "rotate" and values)
        scale = _ANGLES.get(unit) if turns else PX.get(unit)
        if scale is None:
            raise _bad(f"{name}({body})", where)
        values.append(finite(float(found[1]) * scale, found[0], where))
        at = found.end()
    if len(values) not in _ARGUMENTS.get(name, ()):
        raise _bad(f"{name}({body})", where)
    return _matrix(name, values)


def _matrix(name: str, v: list[float]) -> Affine:
    if name == "matrix":
        return (v[0], v[1], v[2], v[3], v[4], v[5])
    if name.startswith("translate"):
        x, y = (0.0, v[0]) if name == "translatey" else (v[0], v[1] if len(v) > 1 else 0.0)
        return (1.0, 0.0, 0.0, 1.0, x, y)
    if name.startswith("scale"):
        x, y = (1.0, v[0]) if name == "scaley" else (v[0], v[-1] if name == "scale" else 1.0)
        return (x, 0.0, 0.0, y, 0.0, 0.0)
    if name == "rotate":
        c, s = _cos_sin(v[0])
        turn = (c, s, -s, c, 0.0, 0.0)
        if len(v) == 1:
            return turn
        there, back = (1.0, 0.0, 0.0, 1.0, v[1], v[2]), (1.0, 0.0, 0.0, 1.0, -v[1], -v[2])
        return times(there, times(turn, back))
    x = 0.0 if name == "skewy" else math.tan(math.radians(v[0]))
    y = math.tan(math.radians(v[0])) if name == "skewy" else math.tan(math.radians(v[1] if len(v) > 1 else 0))
    return (1.0, y, x, 1.0, 0.0, 0.0)


def _cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine, exact at quarter turns: a block rotated by 90 degrees must keep its straight sides."""
    quarter, rest = divmod(degrees, 90)
    if rest == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))


def parse_viewbox(text: str, where: str) -> tuple[float, float, float, float]:
    """(least x, least y, width, height) of a viewBox, all in user units.

    Raises:
        DrawingError: not four numbers, or no size above zero.
    """
    values = numbers(text, f"{where}, viewBox")
    if len(values) != 4 or values[2] <= 0 or values[3] <= 0:
        raise unreadable(
            "viewBox",
            f"{where}: the viewBox {text[:60]!r} is not four numbers with a width and height above zero",
            "Set the page size in the editor and save again",
        )
    return (values[0], values[1], values[2], values[3])


def fit_viewbox(
    box: tuple[float, float, float, float], width: float, height: float, aspect: str, where: str
) -> Affine:
    """User units of a viewBox -> those of the viewport it is fitted into.

    Args:
        box: the viewBox.
        width, height: the viewport.
        aspect: value of preserveAspectRatio, "" for its default "xMidYMid meet".
    """
    x, y, w, h = box
    words = [word for word in aspect.split() if word != "defer"] or ["xMidYMid"]
    sx, sy = width / w, height / h
    if words[0] == "none":
        return (sx, 0.0, 0.0, sy, -x * sx, -y * sy)
    found = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", words[0])
    if not found or len(words) > 2 or words[1:] not in ([], ["meet"], ["slice"]):
        raise unreadable(
            "viewBox",
            f"{where}: preserveAspectRatio {aspect[:40]!r} is unknown",
            "Use one such as xMidYMid meet, or none",
        )
    scale = max(sx, sy) if words[1:] == ["slice"] else min(sx, sy)
    share = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    dx = (width - w * scale) * share[found[1]]
    dy = (height - h * scale) * share[found[2]]
    return (scale, 0.0, 0.0, scale, dx - x * scale, dy - y * scale)
