"""Rows of a quilt's file: blocks by name, how each is rotated and reversed, in which colourway.

Knows:  `3 kite 90 reversed in dusk` and `plain sea`, one entry; rows of them.
Leaves: whether there are such blocks (form).
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.drawing.faults import shown
from seamwright.drawing.tokens import Reading, Token
from seamwright.quilt.model import Turn

MOST_CELLS, MOST_ALIKE = 200, 60
"""In a row as it is stated, and said at once: 90 in front of a name is a slip."""
WORDS = frozenset(
    (
        "plain",
        "reversed",
        "in",
        "of",
        "coping",
        "at",
        "least",
        "mitred",
        "butted",
        "corners",
        "cornerstones",
        "outside",
        "none",
        "width",
        "over",
        "size",
    )
)
"""What means something in a line of the file; a fabric of such a name stands in quotes."""
ROW_EXAMPLE = "row kite, kite 90, plain sea, 3 star 180 reversed in dusk"
OTHER_WORDS = {
    **dict.fromkeys(("flipped", "flip", "mirrored", "mirror", "reverse"), "reversed"),
    **dict.fromkeys(("rotated", "rotate", "turned", "turn"), "degrees"),
}
"""What people say of a block that lies in another way, and which of our own words serves: degrees alone rotate."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A block as an entry names it, not yet looked for; `model.Cell` says what the fields are."""

    name: str
    turn: Turn
    colourway: str
    fabric: str
    line: int
    column: int

    @property
    def turned(self) -> bool:
        """Whether something is said of how it lies or of its colourway."""
        return bool(self.colourway) or self.turn != Turn()


def read_row(reading: Reading, fabrics: list[tuple[str, int, int]]) -> tuple[Entry, ...]:
    """All entries of a row.

    Args:
        fabrics: takes the fabrics that are named, each with its line and column.

    Raises:
        LineFault: the first thing that does not fit.
    """
    entries: list[Entry] = []
    while True:
        at = reading.peek()
        count = 1
        if at is not None and at.amount is not None and at.text.endswith('"'):
            what = "behind a number a quotation mark means inches"
            mend = 'Write a block whose name is in quotes as often as it comes: "two kites", "two kites"'
            raise reading.fault_at(at.start, "number", what, mend)
        if at is not None and at.kind == "number":
            count = count_of(reading, "blocks alike", ROW_EXAMPLE, MOST_ALIKE)
        entries += [read_entry(reading, fabrics, ROW_EXAMPLE)] * count
        if len(entries) > MOST_CELLS:
            what = f"the row has more than {MOST_CELLS} blocks"
            raise reading.fault_at(0 if at is None else at.start, "too many", what, "No quilt is so wide")
        if reading.done():
            return tuple(entries)
        if not reading.skip(","):
            what = f"a comma should stand between blocks, {reading.found()}"
            raise reading.fault("grammar", what, _how_said(reading, entries[-1].name))


def _how_said(reading: Reading, name: str) -> str:
    """The mend where a block is followed by what is no part of it."""
    token = reading.peek()
    word = OTHER_WORDS.get(token.text.lower(), "") if name and token is not None else ""
    if word == "reversed":
        return f"The mirror image is written: {name} reversed"
    if word == "degrees":
        return f"Degrees alone say that it is rotated, clockwise: {name} 90"
    return f"Write it as: {ROW_EXAMPLE}"


def read_entry(reading: Reading, fabrics: list[tuple[str, int, int]], example: str) -> Entry:
    """A block with all that is said of it, or a plain one.

    Raises:
        LineFault: it is neither, or something is said twice.
    """
    at = reading.peek()
    if reading.skip("plain"):
        fabric = read_cloth(reading, fabrics, "plain sea")
        assert at is not None
        return Entry("", Turn(), "", fabric, reading.number, at.start + 1)
    first = at.text.lower() if at is not None and at.kind == "word" else ""
    name = " ".join(reading.name("name of a block", example).split())
    assert at is not None
    following = reading.peek()
    if (
        (first == "reversed" or first in OTHER_WORDS)
        and following is not None
        and following.kind == "word"
        and following.text.lower() not in ("in", "reversed", "corners")
    ):
        what = f"'{first}' stands before the name of the block"
        raise reading.fault_at(at.start, "grammar", what, "Name the block first: kite reversed, kite 90")
    quarters: int | None = None
    reverse, colourway = False, ""
    while (token := reading.peek()) is not None:
        within = token.amount is not None and _runs_into_in(token)
        if token.amount is not None:
            if quarters is not None:
                raise reading.fault("twice", f"{shown(name)} is rotated twice", "Keep one of the two")
            quarters = _quarters(reading, token, name, within)
        elif reading.skip("reversed"):
            if reverse:
                raise reading.fault_at(token.start, "twice", "'reversed' stands here twice", "Keep one of the two")
            reverse = True
            continue
        elif not reading.skip("in"):
            break
        else:
            within = True
        if within:
            if colourway:
                raise reading.fault_at(token.start, "twice", "a second colourway is named", "Keep one of the two")
            colourway = " ".join(reading.name("name of the colourway", "kite 90 in dusk").split())
    return Entry(name, Turn(quarters or 0, reverse), colourway, "", reading.number, at.start + 1)


def read_cloth(reading: Reading, fabrics: list[tuple[str, int, int]], example: str) -> str:
    """Take the name of a fabric, and note where it stands.

    Raises:
        LineFault: it is missing.
    """
    token = reading.peek()
    if token is not None and token.kind == "word" and token.text.lower() in WORDS:
        what = f"the name of the fabric should stand here, {reading.found()}"
        raise reading.fault("name", what, f"Write it as: {example}; a fabric of that name stands in quotes")
    name = reading.name("name of the fabric", example)
    assert token is not None
    following = reading.peek()
    if token.kind == "word" and following is not None and following.kind == "word" and not _ours(following.text):
        both = f"{name} {following.text}"
        what = f"behind the fabric '{name}' stands {shown(following.text)}"
        mend = f'Put a name of more than one word in quotes ("{both}"), or leave out {shown(following.text)}'
        raise reading.fault("name", what, mend)
    fabrics.append((name, reading.number, token.start + 1))
    return name


def _ours(word: str) -> bool:
    """Whether a word means something in a line of the file, or is one that does with a slip in it."""
    import difflib  # few lines have a word behind a fabric

    # "pink" is near to "in", and "stone" to "none", by chance.
    long = [known for known in WORDS if len(known) > 3 and known != "none"]
    return word.lower() in WORDS or bool(difflib.get_close_matches(word.lower(), long, n=1, cutoff=0.61))


def _runs_into_in(token: Token) -> bool:
    """`90 in dusk`: the word behind the number reads like a unit."""
    assert token.amount is not None
    return token.amount.unit == "in" and token.text.lower().endswith("in")


def _quarters(reading: Reading, token: Token, name: str, within: bool) -> int:
    amount = token.amount
    assert amount is not None
    reading.skip_any()
    reading.skip("degrees", "°")
    if (amount.unit and not within) or amount.value % 90 or not -360 <= amount.value <= 360:
        said = token.text[:-2].rstrip() if within else token.text
        what = f"{shown(name)} is rotated by {shown(said)}, and blocks are rotated by quarter turns"
        raise reading.fault_at(
            token.start, "degrees", what, "Give degrees clockwise: 90, 180 or 270; commas part blocks"
        )
    return int(amount.value) // 90 % 4


def count_of(reading: Reading, what: str, example: str, most: int) -> int:
    """Take a whole number from 1.

    Raises:
        LineFault: it is none.
    """
    token = reading.peek()
    amount = reading.amount(f"the number of {what}", example)
    if amount.unit or amount.value.denominator != 1 or not 1 <= amount.value <= most:
        assert token is not None
        raise reading.fault_at(
            token.start,
            "number",
            f"{shown(token.text)} is no number of {what}",
            f"Give a whole number, 1 to {most}: {example}",
        )
    return int(amount.value)
