"""Colourways changed in a block's text form.

Knows:  how pairs of fabrics come and go in the lines of a colourway, and the option that asks for one.
Leaves: fabrics themselves (fabrics), what a colourway makes of a block (fabric.colourways).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from seamwright.drawing.facts import LINES, Facts
from seamwright.drawing.faults import LineFault
from seamwright.drawing.textwrite import colourway_line, quoted
from seamwright.drawing.tokens import Reading, lines_of
from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.fabric.model import Colourway, folded
from seamwright.sketch.edits import DropColourway, SetColourway
from seamwright.sketch.painting import last_fabric, no_fabric
from seamwright.sketch.written import LONGEST_IN_LINE, Span, Written
from seamwright.units import quoted as shown


@dataclass(frozen=True, slots=True)
class Pair:
    """In a colourway one fabric becomes another: in which line, and where there.

    Attributes:
        way, before, after: names as stated, the way's as first spelt.
        named, becoming: where the names of the way and of the fabric in place stand; span: the pair.
    """

    way: str
    before: str
    after: str
    line: int
    named: Span
    becoming: Span
    span: Span


def pairs_of(text: str) -> list[Pair]:
    """All pairs of all colourways, in the order of the text; the text is one that can be read."""
    found: list[Pair] = []
    names: dict[str, str] = {}
    for number, line in enumerate(lines_of(text, ""), start=1):
        if line.split()[:1] and line.split()[0].lower() == "colourway":
            tokens = Reading(line, number).tokens
            named = tokens[1]
            way = " ".join(named.text.split())
            way = names.setdefault(folded(way), way)
            at = 3 if tokens[2].text == ":" and tokens[2].kind == "mark" else 2
            for k in range(at, len(tokens), 4):  # before, "becomes", after, "and"
                before, after = tokens[k], tokens[k + 2]
                spans = ((named.start, named.end), (after.start, after.end), (before.start, after.end))
                found.append(Pair(way, before.text, after.text, number, *spans))
    return found


def becoming(text: str, facts: Facts, edit: SetColourway) -> str:
    """The text with one fabric changed in a colourway."""
    for name in (edit.fabric, edit.becomes):
        if name and name not in facts.fabrics:
            raise no_fabric(name)
    pairs = pairs_of(text)
    mine = [pair for pair in pairs if folded(pair.way) == folded(edit.name)]
    there = next((pair for pair in mine if pair.before == edit.fabric), None)
    written = Written(text)
    if not edit.becomes or edit.becomes == edit.fabric:
        return without(written, pairs, lambda pair: pair is there) if there else text
    if there:
        written.put(there.line, *there.becoming, quoted(edit.becomes))
        return written.text()
    new = _readable(colourway_line(Colourway(mine[0].way if mine else edit.name, ((edit.fabric, edit.becomes),))))
    if not mine:
        places = [pair.line for pair in pairs] or [place.line for _, place, _ in facts.laid]
        written.add(max([last_fabric(facts), *places]), new)
        return written.text()
    line = mine[-1].line
    more = f" and {quoted(edit.fabric)} becomes {quoted(edit.becomes)}"
    if mine[-1].span[1] + len(more) <= LONGEST_IN_LINE:
        written.put(line, mine[-1].span[1], mine[-1].span[1], more)
    else:
        written.add(line, new)
    return written.text()


def dropped(text: str, edit: DropColourway) -> str:
    """The text without a colourway, or with another name for it."""
    pairs = pairs_of(text)
    mine = [pair for pair in pairs if folded(pair.way) == folded(edit.name)]
    if not mine:
        mend = "Reload the page, or choose another"
        raise fail(OptionError, "option", f"no colourway is called {shown(edit.name)}", mend)
    written = Written(text)
    if not edit.becomes:
        return without(written, pairs, lambda pair: pair in mine)
    if any(folded(pair.way) == folded(edit.becomes) for pair in pairs if pair not in mine):
        raise fail(
            OptionError,
            "option",
            f"there is a colourway called {shown(edit.becomes)} already",
            "Choose another name",
        )
    name = quoted(" ".join(edit.becomes.split()))
    _readable(f"colourway {name} {quoted(mine[0].before)} becomes {quoted(mine[0].after)}")
    for pair in {pair.line: pair for pair in mine}.values():
        written.put(pair.line, *pair.named, name)
    return _asking(written.text(), mine[0].way, " ".join(edit.becomes.split()))


def without(written: Written, pairs: Sequence[Pair], gone: Callable[[Pair], bool]) -> str:
    """The text without some pairs; what asks for a colourway of which nothing is left asks no more."""
    for number in dict.fromkeys(pair.line for pair in pairs if gone(pair)):
        here = [pair for pair in pairs if pair.line == number]
        written.keep(number, [pair.span for pair in here], [pair.span for pair in here if not gone(pair)])
    text = written.text()
    left = {pair.way for pair in pairs if not gone(pair)}
    for way in dict.fromkeys(pair.way for pair in pairs if pair.way not in left):
        text = _asking(text, way, "")
    return text


def _asking(text: str, way: str, name: str) -> str:
    """The text with another name in the option that asks for colourways, or with none."""
    written = Written(text)
    for number, line in enumerate(lines_of(text, ""), start=1):
        words = line.split()[:2]
        if [word.lower().removeprefix("--") for word in words] != ["option", "colourway"]:
            continue
        reading = Reading(line, number)
        start, end = reading.tokens[1].end, reading.end
        asked = [part.strip() for part in line[start:end].split(",")]
        left = [name if folded(part) == folded(way) else part for part in asked]
        left = [part for part in left if part]
        if left == asked:
            continue
        if left:
            written.put(number, start, end, f" {', '.join(left)}")
        else:
            written.drop(number)
    return written.text()


def _readable(line: str) -> str:
    """A line of a colourway, if its name can be one."""
    try:
        reading = Reading(line, 1)
        LINES[reading.keyword(LINES, "keyword")](Facts(""), reading)
    except LineFault as found:
        raise _refusal(found) from None
    return line


def _refusal(found: LineFault) -> SeamwrightError:
    return fail(OptionError, "option", found.fault.what, found.fault.mend)
