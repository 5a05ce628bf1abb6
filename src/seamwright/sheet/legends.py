"""The legend of a sheet: words that found no room on its prints, each thing said once.

Knows:  which lines of several prints are one, in which order a reader needs them.
Leaves: what a print has to say (foundation), where the legend lies and in which type (desk, furnish, furniture).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from seamwright.foundation.directions import MEANINGS
from seamwright.foundation.laying import FEW_MARKS, NAMELESS
from seamwright.foundation.model import Foundation
from seamwright.foundation.numbers import TOO_SMALL
from seamwright.foundation.words import ordinal
from seamwright.piecing.cloth import SHOWS_THROUGH
from seamwright.units import say_list

_PATCH = r"[A-Z]+r?\d+"
_PLACE = rf"{_PATCH}(?: and {_PATCH})*(?: under {_PATCH})?"
_OF_PATCHES = re.compile(rf"(?P<head>.+): (?P<patches>{_PLACE}(?:, {_PLACE})*)")
"""A line that ends with names of patches: "brass: A2, A4", or "...: A2 and A3 under A4"."""
_CODE = re.compile(r"\S+ = .+")


def legends(by_block: dict[str, list[Foundation]]) -> list[tuple[str, tuple[str, ...]]]:
    """Words that found no room on the prints: each line once, block by block under its name.

    What holds for several prints is one line: "A and B: stop at the large dot ...". What marks stand for is said of
    the first block only.
    """
    told: dict[str, dict[str, None]] = {}
    explained: set[str] = set()
    for block, of_block in by_block.items():
        labels = {foundation.label for foundation in of_block}
        lines: dict[str, list[str]] = {}
        for line in dict.fromkeys(line for foundation in of_block for line in foundation.legend):
            if line in explained:
                continue
            explained.update([line] if line in MEANINGS else [])
            label, colon, text = line.partition(": ")
            of_prints = bool(colon) and label in labels
            lines.setdefault(text if of_prints else line, []).extend([label] if of_prints else [])
        whole = [f"{say_list(on)}: {text}" if on else text for text, on in lines.items()]
        told[block] = dict.fromkeys(joins_in_order(of_patches_once(whole)))
    return [(block if len(told) > 1 else "", tuple(lines)) for block, lines in told.items() if lines]


def of_patches_once(lines: Iterable[str]) -> list[str]:
    """Lines of a legend, each thing said once of all its patches; fabrics in one line before the rest.

    In the order of need: what is which fabric, how a section is sewn, and last what few pieces need.

    >>> of_patches_once(["foam: A2", "A joins B (1st)", "wax: A4", "foam: B2", "F = a long name of a fabric"])
    ['F = a long name of a fabric; foam: A2, B2; wax: A4', 'A joins B (1st)']
    """
    codes: list[str] = []
    rest: list[str] = []
    patches: dict[str, dict[str, None]] = {}
    for line in lines:
        if found := _OF_PATCHES.fullmatch(line):
            patches.setdefault(found["head"], {}).update(dict.fromkeys(found["patches"].split(", ")))
        else:
            (codes if _CODE.fullmatch(line) else rest).append(line)
    said = {head: f"{head}: {', '.join(of)}" for head, of in patches.items()}
    before, after = (
        [said.pop(head) for head in heads if head in said]
        for heads in ((TOO_SMALL, SHOWS_THROUGH), (NAMELESS, FEW_MARKS))
    )
    fabrics = "; ".join([*codes, *said.values()])
    return [*([fabrics] if fabrics else []), *before, *rest, *after]


MOST_ROWS = 9
"""Joins that a legend lists one below the other; more of them run on."""


def joins_in_order(lines: Sequence[str]) -> list[str]:
    """Lines of a legend; where they tell the joins of several places or prints, these come first, join by join.

    A sewer looks for the join that is next, and a pair is said once, not at both of its sections.

    >>> joins_in_order(["A joins B.2 (1st), B (2nd)", "A.2 joins B (1st)", "B joins A.2 (1st), A (2nd)", "B: stop"])
    ['1st: A to B.2, A.2 to B', '2nd: A to B', 'B: stop']
    """
    said = {line: found for line in lines if (found := _JOINS.fullmatch(line))}
    if len(said) < 2 and not any("." in found["name"] for found in said.values()):
        return list(lines)
    pairs: dict[int, dict[frozenset[str], str]] = {}
    for found in said.values():
        for other, join in _JOIN.findall(found["others"]):
            pair = frozenset((found["name"], other))
            pairs.setdefault(int(join), {}).setdefault(pair, f"{found['name']} to {other}")
    mark = ":" if len(pairs) <= MOST_ROWS else ""
    rows = [f"{ordinal(join)}{mark} {', '.join(pairs[join].values())}" for join in sorted(pairs)]
    rows = rows if mark else [f"joins: {'; '.join(rows)}"]
    return [*rows, *(line for line in lines if line not in said)]


_JOINS = re.compile(r"(?P<name>\S+) joins (?P<others>\S+ \(\d+[a-z]{2}\)(, \S+ \(\d+[a-z]{2}\))*)")
_JOIN = re.compile(r"(\S+) \((\d+)[a-z]{2}\)")
