"""Pictures and counts of whole quilts against the writing of the same file by hand.

Knows:  a quilt of any number of blocks, turned all ways, and its picture taken apart into what is formatted.
Leaves: how rounds are taken (measuring), which quilts are measured (speed, growth).
Method: in the floor every number of the finished picture is there already as a float, every word as a word, and
        plain string formatting puts them together. What is measured begins with the quilt and its plans: fabrics
        are looked up, blocks drawn and laid, seams between them found, and it is counted how often each foundation
        is printed.
Limits: small quilts are mostly their part at arm's length, which is cut out of them.
"""

from __future__ import annotations

import re
from dataclasses import replace

from measuring import Figure, side_by_side

from seamwright.fabric.model import Fabric
from seamwright.geometry import Point, after
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.quilt.counts import blocks_counted, prints_counted
from seamwright.quilt.model import Look, Quilt, Setting, Source, Spot, Turn
from seamwright.quiltpictures import quilt_svg

FABRICS = ("sea #2c6e8f", "foam #eef3f4", "ink #14213d", "brass #c9a24b", "sand #e6d7b8", "coral #d97b66")
PATCHES, BLOCK_IN = 80, 8.0

Piece = str | list[tuple[list[Point], str]]
"""What stands as it is, or lines: their points and what closes them."""


def pictures(side: int, rounds: int) -> Figure:
    """The picture and the counts of a quilt of so many blocks a side, against the writing of the same file."""
    made, plans = chart_quilt(side)
    pieces = taken_apart(quilt_svg(made))
    assert written(pieces) == quilt_svg(made)

    def ours() -> None:
        quilt_svg(made)
        blocks_counted(made)
        prints_counted(made, plans)

    ratio, seconds = side_by_side(ours, lambda: written(pieces), rounds)
    what = f"quilt picture and counts, {side * side * PATCHES:,} patches"
    return Figure(what, "the same bytes written by hand", ratio, 3.0, seconds)


def chart_quilt(side: int) -> tuple[Quilt, tuple[Plan, ...]]:
    """Blocks of 80 patches side by side, turned all ways, and the plan of the one they all are."""
    from support.random_blocks import large_cut_block

    fabrics = tuple(Fabric(name, colour=colour) for name, colour in map(str.split, FABRICS))
    block = large_cut_block(1, PATCHES, size=BLOCK_IN)
    patches = tuple(
        replace(patch, fabric=fabrics[7 * number % len(fabrics)].name) for number, patch in enumerate(block.patches)
    )
    block = replace(block, name="chart", file="chart.seams", patches=patches, fabrics=fabrics)
    spots = []
    for row in range(side):
        for column in range(side):
            turn = Turn((3 * row + column) % 4)
            lies = after(turn.place(BLOCK_IN, BLOCK_IN), (1.0, 0.0, 0.0, 1.0, column * BLOCK_IN, row * BLOCK_IN))
            spots.append(Spot(0, turn.quarters, lies, "centre", row, column))
    setting = Setting("chart", "chart.setting", (Source("chart", "chart.seams"),), ())
    look = Look("chart", "chart", "chart.seams@8in", block)
    whole = side * BLOCK_IN
    quilt = Quilt(setting, whole, whole, side, side, (BLOCK_IN, BLOCK_IN), (look,), tuple(spots), ())
    return quilt, (plan(block),)


def taken_apart(svg: str) -> list[Piece]:
    """A picture as what is copied and what is formatted: paths of straight lines, and where blocks are used."""
    pieces: list[Piece] = []
    end = 0
    for found in re.finditer(r' d="((?:M[-\d.,L]+Z?)+)"|matrix\(([^)]*)\)', svg):
        group = 1 if found[1] else 2
        pieces.append(svg[end : found.start(group)])
        if group == 1:
            lines = re.findall(r"M([-\d.,L]+)(Z?)", found[1])
            pieces.append([([_point(p) for p in line.split("L")], close) for line, close in lines])
        else:
            pieces.append(found[2])
        end = found.end(group)
    return [*pieces, svg[end:]]


def _point(text: str) -> Point:
    x, y = text.split(",")
    return float(x), float(y)


def written(pieces: list[Piece]) -> str:
    """The picture put together."""
    out = []
    for piece in pieces:
        if isinstance(piece, str):
            out.append(piece)
        else:
            for points, close in piece:
                out.append("M" + "L".join([f"{short(x)},{short(y)}" for x, y in points]) + close)
    return "".join(out)


def short(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
