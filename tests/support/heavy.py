"""A drawing that takes long to search: many lines right across a square, so large that no crossings merge."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from seamwright.drawing.textform import write_seams
from support.random_blocks import full_chords

SIZE_IN = 60


def heavy_drawing(folder: Path, lines: int = 60, seed: int = 1) -> Path:
    """The text form of a square crossed by `lines` random lines, in a folder."""
    block = full_chords(seed, lines, 1000 * SIZE_IN)
    points = tuple((x / 1000, y / 1000) for x, y in block.points)
    small = replace(block, points=points, width_in=float(SIZE_IN), height_in=float(SIZE_IN))
    path = folder / f"chords-{lines}-{seed}.seams"
    path.write_text(write_seams(small), encoding="utf-8")
    return path
