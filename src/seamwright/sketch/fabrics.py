"""Fabrics changed in a block's text form: made, changed, renamed, dropped.

Knows:  fabric lines, and where else a fabric is named; which of the edits of fabrics is done by which module.
Leaves: the edits as values (edits), painting patches (painting), colourways (colourways), all other edits (change).
Method: what was typed is written as typed, once it has been read back; lines that are not touched stay as they are.
"""

from __future__ import annotations

from seamwright.drawing.fabricline import read_fabric
from seamwright.drawing.facts import Facts
from seamwright.drawing.faults import LineFault
from seamwright.drawing.measured import Measured
from seamwright.drawing.textform import stated
from seamwright.drawing.textwrite import quoted
from seamwright.drawing.tokens import Reading
from seamwright.errors import OptionError, fail
from seamwright.fabric.model import Fabric, folded
from seamwright.sketch import colourways
from seamwright.sketch.edits import DropColourway, DropFabric, Paint, SetColourway, SetFabric
from seamwright.sketch.painting import last_fabric, no_fabric, painted, unlay
from seamwright.sketch.written import Written
from seamwright.units import quoted as shown

Edit = Paint | SetFabric | DropFabric | SetColourway | DropColourway


def done(text: str, edit: Edit) -> str:
    """The text with one edit of fabrics done.

    Raises:
        DrawingError: the text cannot be read. OptionError: the edit cannot be done, in words.
    """
    facts, file, count = stated(text, name="", file="")
    facts.faults.stop_if_any(file)
    match edit:
        case Paint():
            return painted(text, facts, Measured(facts, file, count), edit)
        case SetFabric():
            return _set(text, facts, edit)
        case DropFabric():
            return _dropped(text, facts, edit.name)
        case SetColourway():
            return colourways.becoming(text, facts, edit)
        case DropColourway():
            return colourways.dropped(text, edit)


def as_line(edit: SetFabric) -> tuple[str, Fabric]:
    """A fabric's line made of what was typed, and what it says.

    Raises:
        OptionError: a part of it cannot be used.
    """
    stated_parts = (
        ("colour ", edit.colour),
        ("value ", edit.value),
        ("", edit.warmth),
        ("code ", quoted(code) if (code := edit.code.strip()) else ""),
        ("stripes ", edit.stripes),
        ("direction ", edit.direction),
        ("width ", edit.width),
    )
    parts = [word + said for word, said in stated_parts if said.strip()]
    line = " ".join(" ".join(part.split()) for part in (f"fabric {quoted(' '.join(edit.name.split()))}", *parts))
    try:
        reading = Reading(line, 1)
        reading.skip("fabric")
        fabric = read_fabric(reading)
    except LineFault as found:
        raise fail(OptionError, "fabric", found.fault.what, found.fault.mend) from None
    if reading.end != len(line):
        raise fail(OptionError, "fabric", "a remark cannot stand here", "Leave out what follows the #")
    return line, fabric


def typed(text: str) -> dict[str, dict[str, str]]:
    """What each fabric line of a text says, part by part as typed, by the fabric's name: what `SetFabric` takes."""
    facts, _, _ = stated(text, name="", file="")
    lines = Written(text)
    found = {}
    for name in facts.fabrics:
        number = facts.first_said[f"fabric {name}"]
        found[name] = _parts(Reading(lines.line(number), number))
    return found


def _parts(reading: Reading) -> dict[str, str]:
    words = {"colour", "color", "value", "warm", "cool", "code", "stripes", "direction", "width"}
    tokens = reading.tokens[2:]
    starts = [k for k, token in enumerate(tokens) if token.kind == "word" and token.text.lower() in words]
    # The word behind "code" is the code, whatever it is; a colour may be a word as well, but none of these.
    starts = [k for k in starts if k == 0 or tokens[k - 1].text.lower() != "code"]
    parts = {}
    for k, end in zip(starts, (*starts[1:], len(tokens)), strict=False):
        word, said = tokens[k].text.lower(), tokens[k + 1 : end]
        if word in ("warm", "cool"):
            parts["warmth"] = word
        elif word == "code":
            parts["code"] = said[0].text
        else:
            parts["colour" if word == "color" else word] = reading.text[said[0].start : said[-1].end]
    return parts


def _set(text: str, facts: Facts, edit: SetFabric) -> str:
    line, new = as_line(edit)
    was = edit.was or (new.name if new.name in facts.fabrics else "")
    if was and was not in facts.fabrics:
        raise no_fabric(was)
    others = [fabric for name, fabric in facts.fabrics.items() if name != was]
    if any(folded(other.name) == folded(new.name) for other in others):
        what = f"there is a fabric called {shown(new.name)} already"
        raise fail(OptionError, "fabric", what, "Give it another name")
    holder = next((other for other in others if new.code and other.code == new.code), None)
    if holder:
        what = f"code {shown(new.code)} is taken by {holder.name}"
        raise fail(OptionError, "fabric", what, "Give it another code, or none")
    written = Written(text)
    if not was:
        return _added(written, facts, line)
    if facts.fabrics[was] == new:
        return text
    number = facts.first_said[f"fabric {was}"]
    old = Reading(written.line(number), number)
    written.put(number, old.tokens[0].start, old.end, line)
    if was != new.name:
        named = [(place.line, column) for name, place, column in facts.laid if name == was]
        named += [(where, column) for name, where, column in facts.becomes if name == was]
        for where, column in sorted(set(named), reverse=True):
            token = next(t for t in Reading(written.line(where), where).tokens if t.start == column - 1)
            written.put(where, token.start, token.end, quoted(new.name))
    return written.text()


def _added(written: Written, facts: Facts, line: str) -> str:
    """A fabric line behind the others; if it is the first, a line before it is left free."""
    if facts.fabrics:
        written.add(last_fabric(facts), line)
    else:
        last = written.last()
        written.add(last, "")
        written.add(last, line)
    return written.text()


def _dropped(text: str, facts: Facts, name: str) -> str:
    if name not in facts.fabrics:
        raise no_fabric(name)
    written = Written(text)
    written.drop(facts.first_said[f"fabric {name}"])
    unlay(written, facts, [place for fabric, place, _ in facts.laid if fabric == name])
    return colourways.without(written, colourways.pairs_of(text), lambda pair: name in (pair.before, pair.after))
