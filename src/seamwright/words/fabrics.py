"""What the fabrics of a block come to, in sentences and a table: the verdict first, where facts come from last.

Knows:  how values, hues, shares and contrasts are said.
Leaves: every fact itself (cloths), the same facts as data (report.fabrics).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamwright.fabric.contrast import ALIKE, contrast
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.words import value_word
from seamwright.fabric.worn import Beside, Wear
from seamwright.foundation.codes import fabric_codes
from seamwright.geometry import Point
from seamwright.notes import fabric_notes
from seamwright.piecing.vanishing import alike_pairs
from seamwright.units import say_count, say_length, say_list, say_size
from seamwright.words.checks import note_words

if TYPE_CHECKING:
    from seamwright.cloths import Cloths

PAIRS_TOLD = 4
"""Pairs of neighbours with the least contrast that are told; of the others the one with the most."""
ALIKE_NOTE, SHADOWS = "advice-alike", ("shadow", "advice-shadow")
"""Notes of a plan that speak of its fabrics: points that vanish, dark allowance under light patches."""
UNKNOWN = "unknown"
LONGEST_NAME = 32
"""Letters of a fabric's name in the table."""


def fabric_lines(drawing: str, cloths: Cloths) -> list[str]:
    """Lines for a person."""
    block, units = cloths.plan.block, cloths.plan.options.units
    lines = [f"{drawing}: {block.title}, {say_size(block.width_in, block.height_in, units)}. {verdict(cloths)}"]
    stated = [f"  {note_words(note)}" for note in fabric_notes(cloths.plan)]
    if not cloths.worn.wear:
        return lines + stated
    lines += [f"  {line}" for line in _table(cloths)]
    told = (values_sentence(cloths), *pair_sentences(cloths.worn.beside), hue_sentence(cloths.worn.beside))
    lines += [f"  {line}" for line in told if line]
    shadows = [note.text for note in cloths.plan.notes if note.code in SHADOWS]
    lines += [f"  {_capital(text)}." for text in shadows]
    lines += stated
    if is_known(cloths):
        lines.append("  Values and hues are as stated, else by the colour; contrast is that of WCAG 2.")
    return lines


def verdict(cloths: Cloths) -> str:
    """Whether points vanish, in one sentence."""
    told = next((note.text for note in cloths.plan.notes if note.code == ALIKE_NOTE), "")
    if told:
        return f"{_capital(told)}."
    if not cloths.worn.wear:
        return "No patch has a fabric, so nothing can be said of its points."
    if not is_known(cloths):
        return (
            "No fabric has a colour or a value, so nothing can be said of its points. Fabric lines of the text "
            "form or of a palette state them."
        )
    if has_unknown(cloths):
        return "No point vanishes between the fabrics that are known."
    return "No point vanishes."


def is_known(cloths: Cloths) -> bool:
    """Whether the value of any fabric is known."""
    return any(wear.value is not None for wear in cloths.worn.wear)


def has_unknown(cloths: Cloths) -> bool:
    """Whether of some patch no value is known."""
    return bool(cloths.worn.bare) or any(wear.value is None for wear in cloths.worn.wear)


def values_sentence(cloths: Cloths) -> str:
    """Whether light, medium and dark are all there; "" if no value is known."""
    there = [value.value for value in cloths.worn.values]
    if not there:
        return ""
    lacking = [value.value for value in Value if value.value not in there]
    if not lacking:
        return "Light, medium and dark are all there, which gives a block depth (common practice)."
    none = f"There is no {say_list(lacking, 'or')} fabric"
    if has_unknown(cloths):
        none += " among those that are known"
    return f"{none}; light, medium and dark together give a block depth (common practice)."


def pair_sentences(beside: Sequence[Beside]) -> list[str]:
    """Which neighbours stand out least and most, and which are told apart by their hue alone."""
    by_value = [pair for pair in beside if pair.contrast is None and pair.alike]
    known = sorted((p for p in beside if p.contrast is not None), key=lambda pair: pair.contrast or 0.0)
    told = []
    if by_value:
        pairs = [f"{pair.one.name} and {pair.other.name}" for pair in by_value]
        told.append(f"Side by side and of one value: {say_list(pairs, most=PAIRS_TOLD)}.")
    if known:
        least, rest = known[:PAIRS_TOLD], known[PAIRS_TOLD:]
        said = [f"Side by side, least contrast first: {'; '.join(map(_pair, least))}"]
        if rest:
            said.append(f"most: {_pair(rest[-1])}")
        told.append("; ".join(said) + ".")
    return told


def hue_sentence(beside: Sequence[Beside]) -> str:
    """Which neighbours differ in hue and not in value; "" if none do."""
    pairs = [f"{pair.one.name} and {pair.other.name}" for pair in beside if _by_hue(pair)]
    if not pairs:
        return ""
    told = "; ".join(pairs[:PAIRS_TOLD]) + (f"; {len(pairs) - PAIRS_TOLD} more" if pairs[PAIRS_TOLD:] else "")
    return f"Told apart by hue and not by value: {told}. In dim light such points may melt."


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing to be said of fabrics where they lie.

    Attributes:
        kind: "alike": the eye loses the edge between two fabrics; "hue": only their hue parts them; "shadow": dark
            allowance may show through.
        between: the two fabrics, () for a shadow. places: points that vanish, or where it shows through, inches.
    """

    kind: str
    text: str
    between: tuple[Fabric, ...] = ()
    places: tuple[Point, ...] = ()


def remarks(cloths: Cloths) -> list[Remark]:
    """What there is to say, pair by pair: those that lose points first, then edges, then what only hue parts."""
    found = [_alike_remark(cloths, one, other) for one, other in alike_pairs(cloths.lost)]
    told = {frozenset(remark.between) for remark in found}
    found += [
        _alike_remark(cloths, pair.one, pair.other)
        for pair in cloths.worn.beside
        if pair.alike and frozenset((pair.one, pair.other)) not in told
    ]
    found += [
        Remark(
            "hue",
            f"Only hue tells {pair.one.name} and {pair.other.name} apart{_at_contrast(pair.contrast)}: "
            "in dim light the edge may melt.",
            (pair.one, pair.other),
        )
        for pair in cloths.worn.beside
        if _by_hue(pair)
    ]
    shadows = [note for note in cloths.plan.notes if note.code in SHADOWS]
    return found + [Remark("shadow", f"{_capital(note.text)}.", (), note.places_in) for note in shadows]


def _alike_remark(cloths: Cloths, one: Fabric, other: Fabric) -> Remark:
    """Two fabrics that read alike: how far they share seams, and the points that are lost between them."""
    both = {one, other}
    beside = next((pair for pair in cloths.worn.beside if {pair.one, pair.other} == both), None)
    amount = contrast(one, other)
    lost = [each for each in cloths.lost if any({each.fabric, alike} == both for alike in each.alike)]
    told = []
    if beside is not None:
        length = say_length(beside.seam_in, cloths.plan.options.units)
        told.append(f"{length} of seam between them hardly shows")
    if lost:
        places = dict.fromkeys(each.at for each in lost)
        names = cloths.plan.patch_names()
        tips = say_list(
            [names[patch] for patch in sorted({p for each in lost for p in each.patches})], most=PAIRS_TOLD
        )
        told.append(f"{say_count(len(places), 'point')} {'vanishes' if len(places) == 1 else 'vanish'}, in {tips}")
    what = f": {' and '.join(told)}" if told else ""
    text = f"{one.name} and {other.name} read alike{_at_contrast(amount)}{what}."
    return Remark("alike", text, (one, other), tuple(dict.fromkeys(each.at for each in lost)))


def _by_hue(pair: Beside) -> bool:
    return pair.contrast is not None and pair.contrast < ALIKE and not pair.alike


def reads(wear: Wear) -> str:
    """How a fabric reads: "light, warm"; what is not known is left out, "unknown" if nothing is."""
    return value_word(wear.fabric) or UNKNOWN


def share_words(share: float) -> str:
    """A share of the block in whole per cent, never 0.

    >>> share_words(0.314), share_words(0.002)
    ('31 %', 'under 1 %')
    """
    return f"{round(100 * share)} %" if share >= 0.01 else "under 1 %"


def _pair(pair: Beside) -> str:
    assert pair.contrast is not None
    said = f"{pair.one.name} and {pair.other.name} {_to_one(pair.contrast)}"
    return f"{said} (they read alike)" if pair.alike else said


def _at_contrast(amount: float | None) -> str:
    return "" if amount is None else f" (contrast {_to_one(amount)})"


def _to_one(amount: float) -> str:
    return f"{math.floor(amount * 100 + 1e-9) / 100:.2f} to 1"


def _table(cloths: Cloths) -> list[str]:
    """A row for each fabric, the figures below each other; codes are those of the foundations."""
    codes = fabric_codes(cloths.plan.block.fabrics)
    rows = [("fabric", "code", "reads", "colour", "patches", "of the block")]
    rows += [
        (
            _short(wear.fabric.name),
            codes.get(wear.fabric.name) or "-",
            reads(wear),
            wear.fabric.colour or "-",
            str(wear.pieces),
            share_words(wear.share),
        )
        for wear in cloths.worn.wear
    ]
    if cloths.worn.bare:
        rows.append(("(none)", "-", UNKNOWN, "-", str(len(cloths.worn.bare)), share_words(_bare_share(cloths))))
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  ".join(
            cell.rjust(width) if column >= 4 else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _short(name: str) -> str:
    """A name that leaves room for the other columns."""
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 3].rstrip()}..."


def _bare_share(cloths: Cloths) -> float:
    return max(0.0, 1 - math.fsum(wear.share for wear in cloths.worn.wear))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
