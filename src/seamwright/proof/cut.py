"""Cutting lists proven: all pieces of all blocks are there, and the cloth is large enough for what is cut from it.

Knows:  bare rectangles: what is needed, what is cut from which strip, what the cloth measures. It shares no code
        with what planned the list.
Leaves: how large a piece has to be (the rehearsal sews with the pieces themselves).
Units:  inches.
Method: every strip is laid out anew: its pieces side by side from one end, what is left of it cut along, and every
        rectangle is held against the one it is cut from. What was cut is then counted against what is needed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from seamwright.errors import ProofError, SeamwrightError, fail

HAIR_IN = 1e-6


@dataclass(frozen=True, slots=True)
class NeededPiece:
    """One patch's fabric, or that of pieces which are equal.

    Attributes:
        patch: its name.
        width_in, height_in: of the rectangle that it is cut from; for one that may not be given a quarter turn the
            height runs along the selvedge.
        share: how many equal pieces come from one rectangle.
        count: how many are needed in all.
        kind: what it becomes, and for which hand.
    """

    patch: str
    width_in: float
    height_in: float
    share: int
    kind: str
    turns: bool
    count: int


@dataclass(frozen=True, slots=True)
class CutPieces:
    """Equal rectangles of one strip: along it, across it, how many, for which patches, what they become."""

    along_in: float
    across_in: float
    count: int
    patches: tuple[str, ...]
    kind: str


@dataclass(frozen=True, slots=True)
class CutStrip:
    """Strips cut alike; counts are of all of them together, those of `rest` too."""

    width_in: float
    length_in: float
    count: int
    pieces: tuple[CutPieces, ...]
    rest: tuple[CutStrip, ...]


@dataclass(frozen=True, slots=True)
class CutClaim:
    """What a cutting list says of one fabric.

    Attributes:
        name: of the fabric. needed: all that is made of it.
        strips: what is cut.
        cloth_in: how long a strip can be.
        sheets: for cloth in equal pieces (how many alike, (line of strips, how many from each)); () from the bolt.
        sheet_in: length of such a piece that strips may take.
        straighten_in: lost at the cut edge of a length from the bolt.
        spare: share to be bought beyond what is cut.
        bought: pieces bought, or the length in inches.
        too_large: names of patches that the list says it leaves out.
        left_over: rectangles that the list says are left of what is bought.
    """

    name: str
    needed: tuple[NeededPiece, ...]
    strips: tuple[CutStrip, ...]
    cloth_in: float
    sheets: tuple[tuple[int, tuple[tuple[int, int], ...]], ...]
    sheet_in: float
    straighten_in: float
    spare: float
    bought: float
    too_large: tuple[str, ...] = ()
    left_over: tuple[tuple[float, float], ...] = ()


def check_cut(claim: CutClaim) -> None:
    """Proves one fabric's list.

    Raises:
        ProofError: with what is wrong.
    """
    cut: Counter[str] = Counter()
    for strip in claim.strips:
        if strip.length_in > claim.cloth_in + HAIR_IN:
            raise _wrong(claim, f"a strip {strip.length_in:g} in long is cut from {claim.cloth_in:g} in of cloth")
        _check_strip(claim, strip, cut)
    for piece in claim.needed:
        if piece.patch in claim.too_large:
            _is_too_large(claim, piece)
    counts = {piece.patch: piece.count for piece in claim.needed}
    for patches, share in _groups(claim):
        wanted = sum(counts[patch] for patch in patches)
        if cut[patches[0]] * share < wanted:
            raise _wrong(claim, f"{cut[patches[0]] * share} of {wanted} pieces of {patches[0]} are cut")
        if (cut[patches[0]] - 1) * share >= wanted:
            raise _wrong(claim, f"more pieces of {patches[0]} are cut than are needed")
    _check_bought(claim)
    _check_left(claim)


def _check_strip(claim: CutClaim, strip: CutStrip, cut: Counter[str]) -> None:
    """Lays out one of equal strips, and counts what all of them give."""
    if strip.count < 1:
        raise _wrong(claim, "a line of strips has none")
    reach = 0.0
    alone = len(strip.pieces) == 1 and not strip.rest
    for piece in strip.pieces:
        if piece.count < 1 or (piece.count % strip.count and not alone):
            raise _wrong(claim, f"{piece.count} pieces of {piece.patches[0]} do not part evenly among the strips")
        if piece.across_in > strip.width_in + HAIR_IN:
            raise _wrong(claim, f"{piece.patches[0]} is higher than the strip it is cut from")
        for needed in (n for n in claim.needed if n.patch in piece.patches):
            _check_piece(claim, needed, piece)
        if not {n.patch for n in claim.needed} >= set(piece.patches):
            raise _wrong(claim, "pieces are cut that no patch needs")
        # The fullest strip of the line: where its pieces are all of one kind the last may hold fewer.
        reach += piece.along_in * -(-piece.count // strip.count)
        for name in piece.patches:
            cut[name] += piece.count
    if reach > strip.length_in + HAIR_IN:
        raise _wrong(claim, f"pieces take {reach:g} in of a strip {strip.length_in:g} in long")
    stacked = 0.0
    for inner in strip.rest:
        if inner.length_in > strip.length_in - reach + HAIR_IN:
            raise _wrong(claim, "a narrow strip is longer than what is left to cut it from")
        if inner.count % strip.count:
            raise _wrong(claim, "narrow strips do not part evenly among those they are cut from")
        stacked += inner.width_in * (inner.count // strip.count)
        _check_strip(claim, inner, cut)
    if stacked > strip.width_in + HAIR_IN:
        raise _wrong(claim, "narrow strips are wider together than what they are cut from")


def _check_piece(claim: CutClaim, needed: NeededPiece, piece: CutPieces) -> None:
    """Whether a rectangle is large enough for its patch, lying as it does, and becomes what it should."""

    def covers(along: float, across: float) -> bool:
        return piece.along_in >= along - HAIR_IN and piece.across_in >= across - HAIR_IN

    if needed.kind != piece.kind:
        raise _wrong(claim, f"{needed.patch} should be {needed.kind or 'a rectangle'}, not {piece.kind}")
    if covers(needed.width_in, needed.height_in):
        return
    if not covers(needed.height_in, needed.width_in):
        raise _wrong(claim, f"{needed.patch} is cut too small")
    if not needed.turns:
        raise _wrong(claim, f"{needed.patch} has been given a quarter turn, and its fabric runs one way")


def _groups(claim: CutClaim) -> list[tuple[tuple[str, ...], int]]:
    """(Patches that are cut from the same rectangles, share) of all that is not left out."""
    lines = {p.patches for strip in _all_strips(claim.strips) for p in strip.pieces}
    found: list[tuple[tuple[str, ...], int]] = []
    for piece in claim.needed:
        if piece.patch in claim.too_large:
            continue
        own = [patches for patches in lines if piece.patch in patches]
        if len(own) != 1:
            raise _wrong(claim, f"{piece.patch} stands in {len(own)} kinds of rectangles")
        if (own[0], piece.share) not in found:
            found.append((own[0], piece.share))
    return found


def _all_strips(strips: Iterable[CutStrip]) -> list[CutStrip]:
    return [each for strip in strips for each in (strip, *_all_strips(strip.rest))]


def _is_too_large(claim: CutClaim, piece: NeededPiece) -> None:
    """A piece that is left out may be that only if no strip, however wide, can hold it."""
    shorter = min(piece.width_in, piece.height_in) if piece.turns else piece.width_in
    if shorter <= claim.cloth_in + HAIR_IN:
        raise _wrong(claim, f"{piece.patch} fits the cloth, and is left out as too large")


def _check_bought(claim: CutClaim) -> None:
    used = sum(strip.width_in * strip.count for strip in claim.strips)
    if not claim.sheets:
        if claim.strips and claim.bought < (used + claim.straighten_in) * (1 + claim.spare) - HAIR_IN:
            raise _wrong(claim, f"{claim.bought:g} in are bought for {used:g} in of strips")
        return
    taken: Counter[int] = Counter()
    for times, strips in claim.sheets:
        if sum(claim.strips[line].width_in * number for line, number in strips) > claim.sheet_in + HAIR_IN:
            raise _wrong(claim, "the strips of a fat quarter are wider together than it is long")
        for line, number in strips:
            taken[line] += times * number
    if taken != Counter({line: strip.count for line, strip in enumerate(claim.strips)}):
        raise _wrong(claim, "strips and fat quarters do not agree")
    cut = sum(times for times, _ in claim.sheets)
    if claim.bought < cut or claim.bought * claim.sheet_in < used * (1 + claim.spare) - HAIR_IN:
        raise _wrong(claim, f"{claim.bought:g} fat quarters are bought, too few for strips and spare")


def _check_left(claim: CutClaim) -> None:
    """What is left over and what is cut can be no more than what is bought."""
    bought = claim.bought * claim.cloth_in * (claim.sheet_in if claim.sheets else 1.0)
    pieces = sum(p.along_in * p.across_in * p.count for s in _all_strips(claim.strips) for p in s.pieces)
    if pieces + sum(width * length for width, length in claim.left_over) > bought + HAIR_IN:
        raise _wrong(claim, "more is left over than there can be")


def _wrong(claim: CutClaim, what: str) -> SeamwrightError:
    mend = "Nothing was handed out; please report it with the drawing"
    return fail(ProofError, "proof", f"The cutting list of {claim.name} failed its proof: {what}", mend)
