"""A picture: ink on a page of its own size."""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.ink.model import Ink


@dataclass(frozen=True, slots=True)
class Picture:
    """Ink on a page of `width_in` x `height_in`, origin top left."""

    inks: tuple[Ink, ...]
    width_in: float
    height_in: float
