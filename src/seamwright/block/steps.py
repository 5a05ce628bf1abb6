"""Counted steps: a drawing that would take too long to tidy is refused, the same on every machine.

Knows:  how much work tidying one drawing may take.
Leaves: what a step is (each loop whose length the drawing decides counts its own rounds).
Limits: MOST_STEPS, about five seconds of an ordinary computer in 2020; a block of 500 seams takes one in a hundred.
"""

from __future__ import annotations

from typing import Any

from seamwright.errors import DrawingError, fail

MOST_STEPS = 1_500_000
NATIVE = 20
"""Rounds of a loop inside a compiled library that take as long as one of our own."""


class Steps:
    """Counts the work done for one drawing; copies of a net share it.

    Args:
        drawing: file, for the message.
        most: steps that are too many.
    """

    def __init__(self, drawing: str = "", most: int = MOST_STEPS) -> None:
        self.taken = 0
        self._drawing, self._most = drawing, most

    def take(self, count: int) -> None:
        """Count more steps.

        Raises:
            DrawingError: they are too many.
        """
        self.taken += count
        if self.taken > self._most:
            raise fail(
                DrawingError,
                "too many lines",
                "the drawing has too many lines and crossings beside each other to be tidied into a block",
                "Keep the block's seams and leave hatching, pictures and text out",
                drawing=self._drawing,
            )

    def __deepcopy__(self, memo: dict[int, Any]) -> Steps:
        return self
