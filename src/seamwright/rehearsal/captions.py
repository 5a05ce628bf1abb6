"""What the sewer does at each step, in words.

Knows:  steps as they were rehearsed.
Leaves: where the words stand (pictures).
"""

from __future__ import annotations

import math

from seamwright.options import Units
from seamwright.rehearsal.model import Rehearsed, SewnJoin, SewnStep
from seamwright.units import say_length, say_size

CAUTIONS = (
    "Irons burn: keep yours dry, and hands out of its way. Draw blades away from you and close them at once; keep "
    "fingers off the ruler's edge. Count pins and needles; keep small parts and blades away from children. The "
    "makers' manuals and the classroom's rules come first."
)
"""The usual cautions (common practice)."""

SQUARES = {"half-square triangle": "half", "quarter-square triangle": "a quarter"}
HALF_RECTANGLE = "half-rectangle triangle"

PLAIN = "A plain piece, sewn without paper: cut it on the trim line and mark the stitch line on its wrong side."
UNIT = "All is sewn: measure it from raw edge to raw edge before joining, and true it up to its size."
TRIMMED = "All patches are on: cut paper and fabric on the trim line, never by the fabric. Measure before joining."


def cut_size(step: SewnStep, units: Units) -> str:
    """The piece of fabric of a step as it is cut: "4 x 2 1/2 in", "half of a 4 1/2 in square".

    A real piece is said as it is. The least that hands would cut is said up to the next 1/8 in or 1/2 cm: up as
    fabric for paper piecing is cut, by a ruler's plain marks, never too small (common practice).
    """
    piece = step.piece
    if piece is None:
        grid = 1 / 8 if units is Units.INCH else 0.5 / 2.54
        # A size that rounding alone took over a mark stays on it.
        width, height = (math.ceil(side / grid - 1e-6) * grid for side in (step.width_in, step.height_in))
        return say_size(width, height, units)
    if piece.shape in SQUARES:
        return f"{SQUARES[piece.shape]} of a {say_length(piece.width, units)} square"
    size = say_size(piece.width, piece.height, units)
    return f"half of {size}, square corner {piece.hand}" if piece.shape == HALF_RECTANGLE else size


def lay_words(step: SewnStep, units: Units, *, glyphs: bool = False) -> str:
    """How the piece of a stitched step comes to lie in its place, as a clause: "its end at the tick"."""
    piece, seam = step.piece, step.seam
    if piece is None or seam is None:
        clipped = seam is not None and seam.clipped
        return "so that it covers the patch once flipped" if clipped else "its edge on the trimmed edge"
    if piece.lay == "angled" and piece.folded:
        return "so that it covers the patch once flipped: pin it on the line and fold it back to see"
    if piece.lay == "angled":
        return "its edges along the dotted marks for it"
    if step.side:
        edge = f"its {step.side} edge" if step.side != "short" else "a short edge"
    elif abs(piece.width - piece.height) < 1e-6:
        edge = "one edge"
    else:
        edge = f"its {say_length(piece.width, units, glyphs=glyphs)} edge"
    if piece.lay == "ticks":
        ends = "its ends at the ticks" if len(piece.ticks) > 1 else "its end at the tick"
        return f"{edge} on the trimmed edge, {ends}"
    return f"{edge} on the trimmed edge, its middle on the middle of the line"


def sticks_out(step: SewnStep) -> bool:
    """Whether a piece, laid at an angle, reaches beyond its line farther than the allowance: trimmed once sewn."""
    return step.piece is not None and step.piece.lay == "angled" and step.seam is not None and not step.seam.clipped


def step_words(step: SewnStep, allowance_in: float, extra_in: float, units: Units) -> str:
    """What is done in a step."""
    allowance, extra = say_length(allowance_in, units), say_length(extra_in, units)
    seam = step.seam
    if seam is None:
        return (
            "Lay the fabric right side up on the blank side of the paper. Held to the light, it covers "
            f"{step.patch} and its allowance, with {extra} to spare all round."
        )
    if seam.clear:
        words = [f"Fold the paper back on the line and trim to {allowance} beyond it."]
    else:
        words = [f"Crease the paper along this seam only, and trim to {allowance} beyond it there."]
    words.append(f"Lay the next fabric right sides together, {lay_words(step, units)}.")
    if seam.stops:
        ends = "both ends" if len(seam.stops) > 1 else "the dot"
        words.append(f"Stitch on the line, stop dead at {ends} and secure the thread.")
    else:
        words.append(f"Stitch on the line, {allowance} past its ends.")
    if seam.clipped:
        words.append("Trim its allowance along the seam and clip it to the seam's end.")
    if sticks_out(step):
        words.append(f"Trim it to {allowance} along the seam, too.")
    words.append("Flip and press.")
    if step.cleared is not None:
        words.append("Cut it off at once where it lies on another arm.")
    return " ".join(words)


def plain_step_words(step: SewnStep, allowance_in: float, units: Units) -> str:
    """What is done in a step of a section sewn without paper."""
    if step.seam is None:
        return "No paper: lay it right side up."
    allowance = say_length(allowance_in, units)
    words = [
        f"Right sides together, raw edges even, sewn at a scant {allowance} from edge to edge; opened, pressed."
    ]
    if step.seam.stops:
        ends = "both ends" if len(step.seam.stops) > 1 else "the dot"
        words[0] = f"Right sides together, raw edges even, sewn at a scant {allowance}; it stops dead at {ends}."
    if step.trimmed_off is not None:
        words.append("The points that stick out are cut off.")
    return " ".join(words)


def join_words(join: SewnJoin) -> str:
    """Which parts a join sews together, and how."""
    how = {"straight": "", "curved": ", along the curve", "set-in": ", set in", "partial": ", in two goes"}
    return f"{join.first} to {join.second}{how.get(join.kind, '')}"


def joined_words(rehearsed: Rehearsed) -> str:
    """All joins, in their order."""
    if not rehearsed.joins:
        return "The block is one section; nothing is joined."
    told = "; ".join(f"{number}. {join_words(join)}" for number, join in enumerate(rehearsed.joins, start=1))
    return f"Right sides together, pinned where seams meet, stitched on the line, pressed: {told}."
