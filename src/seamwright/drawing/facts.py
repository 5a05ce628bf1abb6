"""What the lines of a block's text state, before anything is measured.

Knows:  the keywords of the text form, one reader each.
Leaves: turning points into inches, and what they must satisfy together (textform).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from seamwright.drawing.fabricline import LONGEST_NAME, read_fabric
from seamwright.drawing.faults import Faults, shown
from seamwright.drawing.tokens import Place, Reading
from seamwright.errors import OptionError
from seamwright.fabric.model import RESERVED, Fabric, folded
from seamwright.optiontext import read_option
from seamwright.units import Amount

MOST_FABRICS, MOST_WAYS = 1000, 200
"""Of one file; no quilt has so many, and each is held against all others."""
LONGEST_WAY = 40
"""Characters of a colourway's name: it stands behind the block's on every print."""


@dataclass(frozen=True, slots=True)
class Run:
    """A seam or curve as written: its kind ("seam", "curve", "bending", "arc") and places."""

    kind: str
    places: tuple[Place, ...]


@dataclass(slots=True)
class Facts:
    """What the lines have stated so far."""

    name: str
    faults: Faults = field(default_factory=Faults)
    first_said: dict[str, int] = field(default_factory=dict)
    size: tuple[Amount, Amount | None] | None = None
    size_line: tuple[int, int] = (1, 1)
    grid: tuple[int, int | None] | None = None
    outline: tuple[Place, ...] = ()
    outline_end: tuple[int, int] = (1, 1)
    sides: list[Run] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    fabrics: dict[str, Fabric] = field(default_factory=dict)
    laid: list[tuple[str, Place, int]] = field(default_factory=list)
    options: dict[str, str] = field(default_factory=dict)
    colourways: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    becomes: list[tuple[str, int, int]] = field(default_factory=list)

    def once(self, what: str, reading: Reading) -> None:
        """Refuse a fact that was stated before."""
        if what in self.first_said:
            raise reading.fault_at(
                reading.tokens[0].start,
                "twice",
                f"{what} stands here a second time, first in line {self.first_said[what]}",
                "Keep one of the two lines",
            )
        self.first_said[what] = reading.number


def _read_name(facts: Facts, reading: Reading) -> None:
    facts.once("the name", reading)
    token = reading.peek()
    single = token is not None and token.kind == "string" and token is reading.tokens[-1]
    said = reading.name("name", "name kite") if single else " ".join(reading.rest().split())
    if not said.strip():
        raise reading.fault("name", "the name is missing", "Write it as: name kite")
    if len(said) > LONGEST_NAME:
        raise reading.fault_at(5, "name", f"the name is {len(said)} characters long", f"Use at most {LONGEST_NAME}")
    facts.name = said


def _read_size(facts: Facts, reading: Reading) -> None:
    facts.once("the size", reading)
    column = (reading.tokens[1].start if len(reading.tokens) > 1 else reading.end) + 1
    width = reading.amount("the finished width", "size 8 in, or size 8 x 12 in")
    height = reading.amount("the finished height", "size 8 x 12 in") if reading.skip("x", "by") else None
    reading.finish("Write it as: size 8 in, size 8 1/2 x 11 in or size 20 cm")
    facts.size, facts.size_line = (width, height), (reading.number, column)


def _read_grid(facts: Facts, reading: Reading) -> None:
    facts.once("the grid", reading)

    def squares(way: str) -> int:
        token = reading.peek()
        amount = reading.amount(f"the number of squares {way}", "grid 8, or grid 8 x 12")
        if amount.unit or amount.value.denominator != 1 or not 1 <= amount.value <= 1000:
            assert token is not None
            raise reading.fault_at(
                token.start,
                "grid",
                f"{shown(token.text)} is no number of squares",
                "Give a whole number from 1 to 1000",
            )
        return int(amount.value)

    across = squares("across")
    down = squares("down") if reading.skip("x", "by") else None
    reading.finish("Write it as: grid 8, or grid 8 x 12")
    facts.grid = (across, down)


def _read_points(reading: Reading, between: tuple[str, ...], example: str) -> tuple[Place, ...]:
    """Places with one of the words `between` them, to the end of the line."""
    places = [reading.place(example)]
    while not reading.done():
        if not reading.skip(*between):
            raise reading.fault(
                "grammar", f"the word '{between[0]}' should stand between points", f"Write it as: {example}"
            )
        places.append(reading.place(example))
    return tuple(places)


def _read_outline(facts: Facts, reading: Reading) -> None:
    facts.once("the outline", reading)
    example = "outline 2, 0 to 6, 0 to 8, 4 to 0, 4"
    facts.outline = _read_points(reading, ("to",), example)
    facts.outline_end = (reading.number, reading.end + 1)


def _read_side(facts: Facts, reading: Reading) -> None:
    reading.skip("from")
    example = "side 0, 4 through 4, 0 to 8, 4"
    start = reading.place(example)
    if reading.skip("through"):
        middle = reading.place(example)
        reading.need("to", example)
        facts.sides.append(Run("arc", (start, middle, reading.place(example))))
        reading.finish()
        return
    facts.sides.append(
        _curve_from(start, reading, "side 0, 4 bending at 4, 0 to 8, 4", "side 0, 0 to 1, 0.2 to 2, 0")
    )


def _read_seam(facts: Facts, reading: Reading) -> None:
    reading.skip("from")
    example = "seam 0, 0 to 8, 8"
    places = _read_points(reading, ("to",), example)
    if len(places) < 2:
        raise reading.fault("grammar", "the seam has no second point", f"Write it as: {example}")
    facts.runs.append(Run("seam", places))


def _read_arc(facts: Facts, reading: Reading) -> None:
    reading.skip("from")
    example = "arc 0, 4 through 2, 2 to 4, 4"
    places = [reading.place(example)]
    for word in ("through", "to"):
        reading.need(word, example)
        places.append(reading.place(example))
    reading.finish()
    facts.runs.append(Run("arc", tuple(places)))


def _read_curve(facts: Facts, reading: Reading) -> None:
    reading.skip("from")
    example = "curve 0, 4 bending at 4, 0 to 8, 4"
    start = reading.place(example)
    facts.runs.append(_curve_from(start, reading, example, "curve 0, 0 to 1, 0.2 to 2, 0"))


def _curve_from(start: Place, reading: Reading, example: str, many: str) -> Run:
    """What follows the first point of a curve: a pull towards one point or two, or many points."""
    if reading.skip("bending"):
        reading.skip("at")
        control = [reading.place(example)]
        if reading.skip("and"):
            reading.skip("at")
            control.append(reading.place(example))
        reading.need("to", example)
        places = (start, *control, reading.place(example))
        reading.finish()
        return Run("bending", places)
    reading.need("to", example)
    places = (start, *_read_points(reading, ("to",), many))
    if len(places) < 3:
        raise reading.fault(
            "grammar", "a curve through two points only is straight", f"Write it as a seam, or as: {example}"
        )
    return Run("curve", places)


def _read_fabric_line(facts: Facts, reading: Reading) -> None:
    at = reading.peek()
    _not_too_many(reading, len(facts.fabrics), MOST_FABRICS, "fabrics")
    fabric = read_fabric(reading)
    assert at is not None
    if fabric.name in facts.fabrics:
        first = facts.first_said[f"fabric {fabric.name}"]
        raise reading.fault_at(
            at.start, "twice", f"fabric {shown(fabric.name)} stands in line {first} too", "Give it another name"
        )
    if fabric.code and any(f.code == fabric.code for f in facts.fabrics.values()):
        raise reading.fault_at(at.start, "twice", f"code {shown(fabric.code)} is taken", "Give it another code")
    facts.first_said[f"fabric {fabric.name}"] = reading.number
    facts.fabrics[fabric.name] = fabric


def _not_too_many(reading: Reading, count: int, most: int, what: str) -> None:
    if count >= most:
        start = reading.tokens[0].start
        raise reading.fault_at(
            start, "too many", f"there are more than {most} {what}", "Leave out what is not used"
        )


def _read_lay(facts: Facts, reading: Reading) -> None:
    example = "lay sky at 2, 3 and 5, 6"
    at = reading.peek()
    name = reading.name("name of the fabric", example)
    reading.need("at", example)
    assert at is not None
    while True:
        facts.laid.append((name, reading.place(example), at.start + 1))
        if not reading.skip("and"):
            break
        reading.skip("at")
    reading.finish(f"Write it as: {example}")


def _read_option_line(facts: Facts, reading: Reading) -> None:
    at = reading.peek()
    words = reading.rest()
    if at is None:
        raise reading.fault("option", "the option is missing", "Write it as: option tolerance 1/8 in")
    name, _, value = words.partition(" ")
    name = name.lower().removeprefix("--")
    value = " ".join(value.split())
    try:
        read_option(name, value)
    except OptionError as error:
        raise reading.fault_at(at.start, "option", error.faults[0].what, error.faults[0].mend) from None
    facts.once(f"option {name}", reading)
    facts.options[name] = value


def _read_colourway(facts: Facts, reading: Reading) -> None:
    example = "colourway night sky becomes ink"
    at = reading.peek()
    way = " ".join(reading.name("name of the colourway", example).split())
    assert at is not None
    if folded(way) in RESERVED:
        raise reading.fault_at(
            at.start, "name", f"{shown(way)} means {RESERVED[folded(way)]}", "Give the colourway another name"
        )
    if len(way) > LONGEST_WAY:
        raise reading.fault_at(
            at.start, "name", f"the name is {len(way)} characters long", f"Use at most {LONGEST_WAY}"
        )
    if way not in facts.colourways:
        _not_too_many(reading, len(facts.colourways), MOST_WAYS, "colourways")
    # Written in several lines it may be in several spellings: the first counts.
    way = next((known for known in facts.colourways if folded(known) == folded(way)), way)
    reading.skip(":")
    changes: list[tuple[str, str]] = []
    named: list[tuple[str, int, int]] = []
    while True:
        pair = []
        for word in ("becomes", ""):
            token = reading.peek()
            pair.append(reading.name("name of a fabric", example))
            assert token is not None
            named.append((pair[-1], reading.number, token.start + 1))
            if word and any(pair[0] == changed for changed, _ in (*facts.colourways.get(way, ()), *changes)):
                what = f"{shown(pair[0])} changes a second time in colourway {shown(way)}"
                raise reading.fault_at(token.start, "twice", what, "Keep one of the two")
            if word:
                reading.need(word, example)
        changes.append((pair[0], pair[1]))
        if not reading.skip("and"):
            break
    reading.finish(f"Write it as: {example}")
    facts.colourways.setdefault(way, []).extend(changes)
    facts.becomes += named


LINES: dict[str, Callable[[Facts, Reading], None]] = {
    "name": _read_name,
    "size": _read_size,
    "grid": _read_grid,
    "outline": _read_outline,
    "side": _read_side,
    "seam": _read_seam,
    "arc": _read_arc,
    "curve": _read_curve,
    "fabric": _read_fabric_line,
    "lay": _read_lay,
    "option": _read_option_line,
    "colourway": _read_colourway,
}
