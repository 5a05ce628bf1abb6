"""What is done at each step, for a person who has never sewn on paper: two sentences at most.

Knows:  how a piece is cut, where stitching begins and ends, what asks for care.
Leaves: how a piece comes to lie (rehearsal.captions), sizes of pieces (cutting), what the rehearsal found
        (rehearsal), the pictures (steps).
Units:  lengths as the plan's own measures say them.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.booklet.saying import cut_size
from seamwright.fabric.pieces import Piece
from seamwright.fabric.words import becomes
from seamwright.options import Units
from seamwright.rehearsal.captions import lay_words, sticks_out
from seamwright.rehearsal.model import SewnStep
from seamwright.units import say_length, say_list

MOST_NAMES = 6
"""Patches named beyond a line."""


def cut_words(piece: Piece, units: Units) -> str:
    """How a piece is cut: "3¾ x 2¾ in", "5 x 5 in, cut once corner to corner"."""
    if piece.parts:
        size = cut_size(piece.width_in, piece.height_in, units)
        return f"{size}, sewn of {say_list([part.name for part in piece.parts])}"
    is_square = abs(piece.width_in - piece.height_in) < 1e-6
    _, _, then = becomes(piece.shape, piece.share, is_square, piece.hand).partition(", ")
    size = cut_size(piece.width_in, piece.height_in, units)
    return f"{size}, {then}" if then else size


class StepWords:
    """The words of a plan's steps.

    Args:
        allowance_in: seam allowance; extra_in: what fabric has beyond it.
    """

    def __init__(self, allowance_in: float, extra_in: float, units: Units) -> None:
        self._units = units
        self._allowance = say_length(allowance_in, units, glyphs=True)
        self._extra = say_length(extra_in, units, glyphs=True)

    def first(self, step: SewnStep, fabric: str) -> str:
        """The first patch."""
        return (
            f"Lay the {fabric} right side up on the blank side of the paper and hold both to the light: it covers "
            f"{step.patch} with its allowance, and {self._extra} more all round. "
            "Pin it from the printed side, away from the next line."
        )

    def later(self, step: SewnStep, before: Sequence[str], fabric: str, dark: Sequence[str] = ()) -> str:
        """Any other patch.

        Args:
            before: names of the patches across the line; dark: of those whose allowance would show through it.
        """
        seam = step.seam
        assert seam is not None
        line = f"the line between {step.patch} and {before[0]}"
        if len(before) != 1:
            line = f"the line that parts {step.patch} from {say_list(list(before), most=MOST_NAMES)}"
        if seam.clear:
            fold = f"Fold the paper back on {line}, trim the fabric to {self._allowance} beyond the fold"
        else:
            fold = f"Crease the paper along {line} only, trim the fabric to {self._allowance} beyond it there"
        laid = f"lay the {fabric} right sides together, {lay_words(step, self._units, glyphs=True)}"
        return f"{fold}, and {laid}. {self._stitch(step, dark)}."

    def _stitch(self, step: SewnStep, dark: Sequence[str]) -> str:
        seam, allowance = step.seam, self._allowance
        assert seam is not None
        line = f"{'Unfold and stitch' if seam.clear else 'Stitch'} on the printed line"
        if len(seam.stops) > 1:
            stitch = f"{line} from one marked point to the other, stop dead and secure both ends"
        elif seam.stops:
            stitch = f"{line} from {allowance} before its free end, stop dead at the marked point and secure it"
        else:
            stitch = f"{line} from {allowance} before to {allowance} past its ends"
        parts = [stitch]
        if seam.clipped:
            parts.append("trim its allowance along the seam and clip it to the seam's end")
        if sticks_out(step):
            parts.append(f"trim the new fabric to {allowance} along the seam, too")
        if dark:
            parts.append(f"trim the dark allowance of {say_list(list(dark))} a thread narrower than the new one")
        parts.append("flip it")
        if step.cleared is not None:
            parts.append("cut it off where it lies on another arm")
        return f"{', '.join(parts)} and press"
