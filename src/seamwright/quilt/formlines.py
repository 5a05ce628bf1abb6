"""What the lines of a quilt's file state, one reader a keyword.

Knows:  the keywords of the quilt file that the text form of a block has not; names, options, fabrics and colourways
        are read as there.
Leaves: rows and their entries (formrows), what lines must satisfy together (form).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from seamwright.drawing.facts import LINES, Facts
from seamwright.drawing.faults import shown
from seamwright.drawing.tokens import Reading
from seamwright.errors import OptionError
from seamwright.fabric.model import folded
from seamwright.options import Size
from seamwright.quilt.formrows import Entry, count_of, read_cloth, read_entry, read_row
from seamwright.quilt.model import Backing, Batting, Binding, Edging, Sashing, Set, Source, Wanted
from seamwright.units import parse_size, say_length

MOST_SOURCES, MOST_ROWS, MOST_REPEATS, MOST_BORDERS = 60, 200, 200, 12
"""Of one quilt; no bed is so large."""
NARROWEST_IN, WIDEST_IN = 1 / 8, 60.0
"""Strips of a quilt; what lies outside is taken for a slip of the pen or of the unit."""
BINDING_IN = (1.0, 8.0)
"""Strips of a binding as cut, at the least and at the most: 2 1/4 and 2 1/2 in are usual (common practice)."""
LEAST_COPING_IN = 1.0
"""Where nothing is said: a narrower strip is hard to sew straight (common practice)."""
NOT_HERE = {
    "palette": ("a quilt's file is itself the palette of its blocks", "Write its fabric and colourway lines here"),
    "colourway": ("a colourway is said of each block in its row", "Write it as: row kite in dusk, kite"),
    "reversed": ("whether a block is reversed is said in its row", "Write it as: row kite reversed, kite"),
    "blocks": ("how many blocks there are follows from the rows", "Leave this line out"),
}
"""Options of blocks that a quilt says in another way."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A border as its line states it; `model.Border` says what the fields are.

    Attributes:
        corner: what lies in its corners. column: of the keyword.
    """

    edging: Edging
    width_in: float
    line: int
    column: int
    fabric: str = ""
    entry: Entry | None = None
    corner: Entry | None = None


@dataclass(slots=True)
class Stated(Facts):
    """What the lines of a quilt's file have stated so far.

    Attributes:
        sources: by folded name. files: their paths as written, and where.
        named: fabrics that lines name, each with its line.
        places: column of the keyword of each fact that is stated once, by keyword: (line, column).
    """

    sources: dict[str, Source] = field(default_factory=dict)
    files: dict[str, tuple[str, int, int]] = field(default_factory=dict)
    rows: list[tuple[Entry, ...]] = field(default_factory=list)
    row_places: list[tuple[int, int]] = field(default_factory=list)
    repeat: tuple[int, int] = (1, 1)
    set: Set = Set.STRAIGHT
    triangles: str = ""
    sashing: Sashing | None = None
    borders: list[Stroke] = field(default_factory=list)
    binding: Binding | None = field(default_factory=Binding)
    backing: Backing | None = field(default_factory=Backing)
    batting: Batting | None = field(default_factory=Batting)
    wanted: Wanted | None = None
    named: list[tuple[str, int, int]] = field(default_factory=list)
    places: dict[str, tuple[int, int]] = field(default_factory=dict)

    def alone(self, keyword: str, reading: Reading) -> None:
        """Refuse a fact that was stated before, and keep where this one stands."""
        self.once(f"the line '{keyword}'", reading)
        self.places[keyword] = (reading.number, reading.tokens[0].start + 1)

    def cloth(self, reading: Reading, example: str) -> str:
        """Take the name of a fabric."""
        return read_cloth(reading, self.named, example)


def _width(
    reading: Reading, what: str, example: str, least_in: float = NARROWEST_IN, most_in: float = WIDEST_IN
) -> float:
    """A width with its unit, without one in inches."""
    token = reading.peek()
    amount = reading.amount(what, example)
    inches = amount.inches()
    if not least_in <= inches <= most_in:
        assert token is not None
        wrong = "is negative" if inches < 0 else "is too little" if inches < least_in else "is too much"
        range_of = f"{say_length(least_in)} to {say_length(most_in)}"
        raise reading.fault_at(
            token.start, "number", f"{shown(token.text)} {wrong} for {what}", f"Give {range_of}, or cm: {example}"
        )
    return inches


def _read_block(stated: Stated, reading: Reading) -> None:
    example = "block kite kite.svg size 8 in"
    at = reading.peek()
    name = " ".join(reading.name("name of the block", example).split())
    assert at is not None
    if folded(name) in stated.sources:
        first = stated.sources[folded(name)]
        what = f"block {shown(name)} stands in line {first.line} too"
        raise reading.fault_at(at.start, "twice", what, "Give it another name")
    if len(stated.sources) >= MOST_SOURCES:
        what = f"there are more than {MOST_SOURCES} blocks"
        raise reading.fault_at(reading.tokens[0].start, "too many", what, "Leave out what is not used")
    # Rows name it from here on: where the rest of its line is at fault, that one fault is told, and not theirs too.
    stated.sources[folded(name)] = Source(name, "", "", reading.number)
    where = reading.peek()
    if where is not None and where.start == at.end and where.text == ".":
        what = "a block has a name and then its file, and only one of them stands here"
        raise reading.fault_at(
            at.start, "name", what, f"Write it as: block {name} {reading.text[at.start :].split()[0]}"
        )
    path = reading.path("file of the block's drawing", f"block {name} kite.svg")
    assert where is not None
    if path.lower().endswith(".setting"):
        what = "a quilt is made of blocks, and this is the file of a quilt"
        raise reading.fault_at(where.start, "name", what, "Name the drawing of a block, .svg or .seams")
    size = ""
    if reading.skip("size"):
        token = reading.peek()
        if token is None:
            raise reading.fault("number", "the size is missing", f"Write it as: {example}")
        size = " ".join(reading.rest().split())
        try:
            parse_size(size)
        except OptionError as error:
            fault = error.faults[0]
            raise reading.fault_at(token.start, "number", fault.what, fault.mend) from None
    reading.finish(f"Write it as: {example}")
    stated.sources[folded(name)] = Source(name, path, size, reading.number)
    stated.files[folded(name)] = (path, reading.number, where.start + 1)


def _read_row(stated: Stated, reading: Reading) -> None:
    if len(stated.rows) >= MOST_ROWS:
        what = f"there are more than {MOST_ROWS} rows"
        raise reading.fault_at(reading.tokens[0].start, "too many", what, "Say them once: repeat 4 x 5")
    place = (reading.number, reading.tokens[0].start + 1)
    stated.rows.append(read_row(reading, stated.named))
    stated.row_places.append(place)


def _read_repeat(stated: Stated, reading: Reading) -> None:
    stated.alone("repeat", reading)
    example = "repeat 4 x 5 (times across x times down)"
    across = count_of(reading, "times across", example, MOST_REPEATS)
    if not reading.skip("x", "by"):
        raise reading.fault("grammar", "the times down are missing", f"Write it as: {example}")
    down = count_of(reading, "times down", example, MOST_REPEATS)
    reading.finish(f"Write it as: {example}")
    stated.repeat = (across, down)


def _read_set(stated: Stated, reading: Reading) -> None:
    stated.alone("set", reading)
    if reading.skip("on"):
        reading.need("point", "set on point")
        stated.set = Set.ON_POINT
    elif reading.skip("straight"):
        stated.set = Set.STRAIGHT
    else:
        what = "how the blocks are set should stand here"
        raise reading.fault("grammar", what, "Write it as: set straight, or: set on point")
    reading.finish("Write it as: set straight, or: set on point")


def _read_triangles(stated: Stated, reading: Reading) -> None:
    stated.alone("triangles", reading)
    stated.triangles = stated.cloth(reading, "triangles sea")
    reading.finish("Write it as: triangles sea")


def _read_sashing(stated: Stated, reading: Reading) -> None:
    stated.alone("sashing", reading)
    example = "sashing 1 1/2 in foam cornerstones brass outside"
    width = _width(reading, "the width of the sashing", example)
    reading.skip("in", "of")  # "4 cm in sky", as "4 in ink" reads
    fabric = stated.cloth(reading, example)
    corners, outside = "", False
    while not reading.done():
        token = reading.peek()
        assert token is not None
        part = reading.keyword(("cornerstones", "outside"), "part of a sashing line")
        if (part == "outside" and outside) or (part == "cornerstones" and corners):
            raise reading.fault_at(token.start, "twice", f"'{part}' stands here twice", "Keep one of the two")
        if part == "outside":
            outside = True
        else:
            corners = stated.cloth(reading, example)
    stated.sashing = Sashing(width, fabric, corners, outside)


def _read_border(stated: Stated, reading: Reading) -> None:
    if len(stated.borders) >= MOST_BORDERS:
        what = f"there are more than {MOST_BORDERS} borders"
        raise reading.fault_at(reading.tokens[0].start, "too many", what, "Leave some out")
    line, column = reading.number, reading.tokens[0].start + 1
    if reading.skip("of"):
        at = reading.peek()
        entry = read_entry(reading, stated.named, "border of wave")
        if not entry.name:
            assert at is not None
            what = "a border is of a block again and again, and a plain one of one width"
            raise reading.fault_at(at.start, "border", what, f"Give it one: border 4 in {entry.fabric}")
        corner = None
        if reading.skip("corners"):
            corner = read_entry(reading, stated.named, "border of wave corners star")
        reading.finish("Write it as: border of wave corners star, or: border of wave corners plain brass")
        stated.borders.append(Stroke(Edging.PIECED, 0.0, line, column, entry=entry, corner=corner))
        return
    if reading.skip("coping"):
        example = "border coping sea at least 1 in"
        fabric, least = stated.cloth(reading, example), LEAST_COPING_IN
        if reading.skip("at"):
            reading.need("least", example)
            least = _width(reading, "the width of the coping strip", example)
        reading.finish(f"Write it as: {example}")
        stated.borders.append(Stroke(Edging.COPING, least, line, column, fabric))
        return
    _read_plain_border(stated, reading, line, column)


def _read_plain_border(stated: Stated, reading: Reading, line: int, column: int) -> None:
    example = "border 4 in ink mitred"
    following = reading.peek()
    if following is None or following.amount is None:
        what = "a border is so wide, 'of' a block, or 'coping'"
        raise reading.fault(
            "grammar", what, f"Write it as: {example}; border of wave; or border coping sea at least 1 in"
        )
    width = _width(reading, "the width of the border", example)
    reading.skip("in", "of")
    fabric = stated.cloth(reading, example)
    edging: Edging | None = None
    corner: Entry | None = None
    while not reading.done():
        token = reading.peek()
        assert token is not None
        part = reading.keyword(("mitred", "butted", "corners"), "part of a border line")
        if part == "corners":
            if corner is not None:
                raise reading.fault_at(token.start, "twice", "'corners' stands here twice", "Keep one of the two")
            corner = read_entry(reading, stated.named, "border 4 in ink corners brass")
            continue
        if edging is not None:
            what = "how the corners meet is said twice"
            raise reading.fault_at(token.start, "twice", what, "Keep one: butted or mitred")
        edging = Edging(part)
    if edging is Edging.MITRED and corner is not None:
        what = "corners are mitred or squares of their own, not both"
        raise reading.fault_at(column - 1, "grammar", what, "Leave out 'mitred' or 'corners'")
    stated.borders.append(Stroke(edging or Edging.BUTTED, width, line, column, fabric, corner=corner))


def _read_binding(stated: Stated, reading: Reading) -> None:
    stated.alone("binding", reading)
    example = "binding ink 2 1/2 in, or: binding none"
    if reading.skip("none"):
        stated.binding = None
    else:
        following = reading.peek()
        only_width = following is not None and following.amount is not None
        stated.binding = Binding("" if only_width else stated.cloth(reading, example))
        if not reading.done():
            width = _width(reading, "the width of the binding strips", example, *BINDING_IN)
            stated.binding = replace(stated.binding, width_in=width)
    reading.finish(f"Write it as: {example}")


def _over(reading: Reading, example: str) -> float:
    return _width(reading, "what lies beyond the top", example, 0.0)


def _read_backing(stated: Stated, reading: Reading) -> None:
    stated.alone("backing", reading)
    example = "backing foam width 108 in over 4 in, or: backing none"
    if reading.skip("none"):
        stated.backing = None
        reading.finish(f"Write it as: {example}")
        return
    fabric = ""
    token = reading.peek()
    if token is None or token.kind == "string" or token.text.lower() not in ("width", "over"):
        fabric = stated.cloth(reading, example)
    width: float | None = None
    over: float | None = None
    while not reading.done():
        token = reading.peek()
        assert token is not None
        part = reading.keyword(("width", "over"), "part of a backing line")
        if (width if part == "width" else over) is not None:
            raise reading.fault_at(token.start, "twice", f"'{part}' stands here twice", "Keep one of the two")
        if part == "width":
            width = _cloth_width(reading, example)
        else:
            over = _over(reading, example)
    stated.backing = Backing(fabric, width, over)


def _cloth_width(reading: Reading, example: str) -> float:
    token = reading.peek()
    inches = reading.amount("the width of the backing fabric", example).inches()
    if not 10 <= inches <= 200:
        assert token is not None
        what = f"no backing is {shown(token.text)} wide"
        raise reading.fault_at(token.start, "number", what, f"Give 10 in to 200 in, or cm: {example}")
    return inches


def _read_batting(stated: Stated, reading: Reading) -> None:
    stated.alone("batting", reading)
    example = "batting over 4 in, or: batting none"
    if reading.skip("none"):
        stated.batting = None
    else:
        reading.need("over", example)
        stated.batting = Batting(_over(reading, example))
    reading.finish(f"Write it as: {example}")


def _read_fit(stated: Stated, reading: Reading) -> None:
    from seamwright.quilt.beds import SIZES  # few quilts ask for it

    stated.alone("fit", reading)
    example = "fit 60 x 80 in"
    token = reading.peek()
    if token is not None and token.kind == "word":
        name = reading.keyword(tuple(SIZES), "size of a quilt")
        reading.finish(f"Write it as: fit {name}")
        stated.wanted = Wanted(name, SIZES[name])
        return
    sides = [reading.amount("the width wanted", f"fit twin, or: {example}")]
    if not reading.skip("x", "by"):
        raise reading.fault("grammar", "the height wanted is missing", f"Write it as: {example}")
    sides.append(reading.amount("the height wanted", example))
    reading.finish(f"Write it as: {example}")
    width, height = (
        one.inches() if one.unit or not other.unit else float(one.exact(other.unit))
        for one, other in zip(sides, sides[::-1], strict=True)
    )
    if not (8 <= width <= 200 and 8 <= height <= 200):
        assert token is not None
        what = f"no quilt is {width:.6g} x {height:.6g} in"
        raise reading.fault_at(token.start, "number", what, f"Give 8 in to 200 in each way, or cm: {example}")
    stated.wanted = Wanted("", Size(width, height))


def _read_option(stated: Stated, reading: Reading) -> None:
    token = reading.peek()
    if token is not None:
        name = reading.text[token.start :].split()[0].lower().removeprefix("--")
        if name in NOT_HERE:
            raise reading.fault_at(token.start, "option", *NOT_HERE[name])
    LINES["option"](stated, reading)


QUILT_LINES: dict[str, Callable[[Stated, Reading], None]] = {
    "name": LINES["name"],
    "block": _read_block,
    "set": _read_set,
    "row": _read_row,
    "repeat": _read_repeat,
    "triangles": _read_triangles,
    "sashing": _read_sashing,
    "border": _read_border,
    "binding": _read_binding,
    "backing": _read_backing,
    "batting": _read_batting,
    "fit": _read_fit,
    "fabric": LINES["fabric"],
    "colourway": LINES["colourway"],
    "option": _read_option,
}
