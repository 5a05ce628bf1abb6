"""Ruler, rotary cutter, iron, pin and presser foot as outlines, seen from above.

Knows:  how each is drawn, at a size that goes with the hand that is not drawn.
Leaves: where it lies and which hand holds it (howto).
Units:  inches of the figure, x right, y down; the body of the person who sews is below the figure.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.geometry import Point, Ring
from seamwright.ink.model import Area, Ink, Pen, Stroke
from seamwright.picture.tints import INK, WHITE

RULER_WIDE_IN = 0.62
BLADE_IN = 0.15
"""Radius."""
METAL = "#E3E6EA"


def ruler(bottom: Point, top: Point, hand: float, allowance: float) -> list[Ink]:
    """A clear ruler with its edge from `bottom` to `top`, straight up; its line for the allowance is dashed.

    Args:
        hand: 1: it lies on the left of its edge, held by the left hand; -1: on the right.
        allowance: in the figure.
    """
    (x, low), (_, high) = bottom, top
    far = x - hand * RULER_WIDE_IN
    ring = ((x, low), (x, high), (far, high), (far, low))
    inks: list[Ink] = [Stroke(Pen.STITCH, ring, closed=True, colour=INK)]
    inks.append(Stroke(Pen.HELPER, ((x - hand * allowance, low), (x - hand * allowance, high)), colour=INK))
    steps = int((low - high) / 0.125)
    inks += [
        Stroke(
            Pen.RULE, ((far, low - 0.125 * k), (far + hand * (0.1 if k % 2 else 0.06), low - 0.125 * k)), colour=INK
        )
        for k in range(1, steps)
    ]
    return inks


def cutter(at: Point, hand: float) -> list[Ink]:
    """A rotary cutter whose blade touches the edge of a ruler at `at`, drawn away from the body: up.

    Args:
        hand: 1: in the right hand, on the right of the edge; -1: in the left hand.
    """
    x, y = at
    middle = (x + hand * 0.035, y)
    blade = _ellipse(middle, 0.035, BLADE_IN)
    grip = _turned(
        ((-0.05, 0.03), (0.05, 0.03), (0.075, 0.5), (0.05, 0.66), (-0.05, 0.66), (-0.075, 0.5)),
        (x + hand * 0.09, y + 0.06),
        -hand * 14,
    )
    guard = _ellipse((x + hand * 0.09, y + 0.02), 0.06, 0.1)
    inks: list[Ink] = [Area((blade,), METAL), Stroke(Pen.RULE, blade, closed=True, colour=INK)]
    for ring in (guard, grip):
        inks += [Area((ring,), WHITE), Stroke(Pen.STITCH, ring, closed=True, colour=INK)]
    return [*inks, *arrow((x + hand * 0.2, y + 0.05), (x + hand * 0.2, y - 0.4))]


def pin(at: Point, head: Point, reach: float) -> list[Ink]:
    """A pin with its middle at `at`, its head `reach` away along the unit vector `head`."""
    (x, y), (u, v) = at, head
    end = (x + reach * u, y + reach * v)
    knob = _ellipse(end, 0.035, 0.035)
    return [Stroke(Pen.STITCH, ((x - reach * u, y - reach * v), end), colour=INK), Area((knob,), INK)]


def iron(at: Point, hand: float) -> list[Ink]:
    """An iron with its point at `at`, held from the right (1) or from the left (-1)."""
    half = [(0.0, 0.0), (0.1, 0.1), (0.3, 0.2), (0.6, 0.26), (0.85, 0.27), (0.92, 0.22)]
    sole = _turned([*half, *((u, -v) for u, v in reversed(half[1:]))], at, -18, hand)
    grip = _turned(
        ((0.34, -0.06), (0.82, -0.06), (0.86, 0.0), (0.82, 0.06), (0.34, 0.06), (0.3, 0.0)), at, -18, hand
    )
    inks: list[Ink] = []
    for ring in (sole, grip):
        inks += [Area((ring,), METAL if ring is sole else WHITE), Stroke(Pen.STITCH, ring, closed=True, colour=INK)]
    return inks


def foot(at: Point, direction: Point) -> list[Ink]:
    """A presser foot with its needle at `at`, its toes ahead along `direction` (a unit vector)."""
    ahead, aside = direction, (-direction[1], direction[0])

    def place(u: float, v: float) -> Point:
        return (at[0] + u * ahead[0] + v * aside[0], at[1] + u * ahead[1] + v * aside[1])

    shape = ((0.2, -0.11), (0.2, -0.035), (0.0, -0.035), (0.0, 0.035), (0.2, 0.035), (0.2, 0.11), (-0.2, 0.11))
    ring = tuple(place(u, v) for u, v in (*shape, (-0.2, -0.11)))
    needle = _ellipse(place(0.03, 0.0), 0.022, 0.022)
    return [Area((ring,), WHITE), Stroke(Pen.STITCH, ring, closed=True, colour=INK), Area((needle,), INK)]


def arrow(start: Point, end: Point) -> list[Ink]:
    """A line with a point at its end."""
    length = math.dist(start, end)
    u = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    neck = (end[0] - 0.1 * u[0], end[1] - 0.1 * u[1])
    side = (-0.04 * u[1], 0.04 * u[0])
    tip = (end, (neck[0] + side[0], neck[1] + side[1]), (neck[0] - side[0], neck[1] - side[1]))
    return [Stroke(Pen.MARK, (start, neck), colour=INK), Area((tip,), INK)]


def _ellipse(middle: Point, across: float, down: float) -> Ring:
    turns = (2 * math.pi * k / 24 for k in range(24))
    return tuple((middle[0] + across * math.cos(t), middle[1] + down * math.sin(t)) for t in turns)


def _turned(points: Sequence[Point], at: Point, degrees: float, hand: float = 1.0) -> Ring:
    """Points about their origin, turned clockwise as seen, then laid at `at`; mirrored left to right for -1."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((at[0] + hand * (cos * u - sin * v), at[1] + sin * u + cos * v) for u, v in points)
