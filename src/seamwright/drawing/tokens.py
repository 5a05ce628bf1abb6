"""Words, numbers and places in a line of our text forms, and faults that name line and column.

Knows:  lines, comments, tokens, lengths, points, names, near misses of a keyword. The text form of a block and
        the quilt file share it.
Leaves: which keywords there are and what they mean.
Method: a line becomes tokens with their columns; a `Reading` walks over them and raises `LineFault` at the first
        thing that does not fit; the caller gathers one fault a line and goes on, so a person sees all at once.
Limits: a line holds 100,000 characters, a file 20 MB; past 60 faults the rest is only counted.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from seamwright.drawing.faults import LineFault, nearest, shown
from seamwright.errors import DrawingError, Fault, fail
from seamwright.units import Amount, scan_amount

LONGEST_LINE = 100_000
LARGEST_FILE, MOST_LINES = 20_000_000, 200_000

_TOKEN = re.compile(
    r"""(?P<string>"(?:[^"\\]|\\.)*")
      | (?P<colour>\#(?:[0-9A-Fa-f]{6}|[0-9A-Fa-f]{3})(?![\w]))
      | (?P<word>[^\W\d_][\w'’-]*)
      | (?P<mark>.)""",
    re.VERBOSE,
)
_DIGITS = re.compile(r"[\d.]{2,}")
_NUMBER_AHEAD = re.compile(r"\s*[-+]?[\d.¼½¾⅐-⅞]")
_COMMENT = re.compile(r"#(?![\w])")


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of a line.

    Attributes:
        kind: "word", "number", "string", "colour" or "mark" (one other character; "x" between numbers is one).
        text: as written, strings without their quotes.
        start, end: indices in the line.
        amount: the number of a "number".
    """

    kind: str
    text: str
    start: int
    end: int
    amount: Amount | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """A point as written, not yet in inches, and where it stands."""

    x: Amount
    y: Amount
    line: int
    column: int


class Reading:
    """A walk over the tokens of one line. Columns count from 1; a tab is one column."""

    def __init__(self, text: str, number: int) -> None:
        """Cut the line into tokens; comments fall away.

        Raises:
            LineFault: the line is too long or holds characters that no text has.
        """
        self.text, self.number = text, number
        self._at = 0
        if len(text) > LONGEST_LINE:
            raise self.fault_at(
                LONGEST_LINE,
                "text",
                f"the line is {len(text):,} characters long",
                f"Break it up; a line holds up to {LONGEST_LINE:,}",
            )
        strange = next(
            (i for i, c in enumerate(text) if not c.isprintable() and c not in "\t\u00a0\u2009\u202f"), None
        )
        if strange is not None:
            raise self.fault_at(
                strange,
                "text",
                f"the character U+{ord(text[strange]):04X} cannot be read or seen",
                "Delete it, or save the file as plain text",
            )
        self.tokens = list(self._cut())
        self.end = self.tokens[-1].end if self.tokens else 0

    def _cut(self) -> Iterator[Token]:
        at, before = 0, ""
        while at < len(self.text):
            if self.text[at].isspace():
                at += 1
                continue
            if _COMMENT.match(self.text, at) or (self.text[at] == "#" and not before):
                return
            token = self._one(at, before)
            yield token
            at, before = token.end, token.kind

    def _one(self, at: int, before: str) -> Token:
        amount = scan_amount(self.text, at)
        if amount is not None:
            return Token("number", self.text[at : amount.end], at, amount.end, amount)
        digits = _DIGITS.match(self.text, at)
        if digits:  # no number, and none begins within it
            return Token("mark", digits[0], at, digits.end())
        # "8x12", "8 x 12": between numbers x is a cross, elsewhere it begins a word.
        if before == "number" and self.text[at] in "xX×*" and _NUMBER_AHEAD.match(self.text, at + 1):
            return Token("mark", "x", at, at + 1)
        found = _TOKEN.match(self.text, at)
        assert found is not None and found.lastgroup is not None  # the last branch takes any character
        text = found[0]
        if found.lastgroup == "string":
            text = self._unquoted(text, at)
        return Token(found.lastgroup, text, at, found.end())

    def _unquoted(self, text: str, at: int) -> str:
        try:
            name = str(json.loads(text))
            name.encode()  # half of a surrogate pair is no character
            return name
        except ValueError:
            raise self.fault_at(
                at, "text", f"{shown(text)} cannot be read", 'Inside quotes write \\" and \\\\ for " and \\'
            ) from None

    # -- faults ------------------------------------------------------------------------------------------

    def fault_at(self, index: int, code: str, what: str, mend: str) -> LineFault:
        """A fault at a character of this line."""
        return LineFault(Fault(code, what, mend, line=self.number, column=index + 1))

    def fault(self, code: str, what: str, mend: str) -> LineFault:
        """A fault at the next token, or just behind the last."""
        token = self.peek()
        return self.fault_at(token.start if token else self.end, code, what, mend)

    def found(self) -> str:
        """What stands here in place of what should, as part of a sentence."""
        token = self.peek()
        return f"not {shown(self.text[token.start : token.end])}" if token else "but the line ends"

    # -- looking and taking --------------------------------------------------------------------------------

    def peek(self) -> Token | None:
        """The next token, or None at the end of the line."""
        return self.tokens[self._at] if self._at < len(self.tokens) else None

    def done(self) -> bool:
        """Nothing is left."""
        return self._at >= len(self.tokens)

    def rest(self) -> str:
        """All that is left as written, comment and outer spaces left out; takes it."""
        token = self.peek()
        self._at = len(self.tokens)
        return self.text[token.start : self.end] if token else ""

    def finish(self, mend: str = "One fact a line: begin a new line, or put # and a space before a remark") -> None:
        """Raise LineFault unless the line is used up."""
        if not self.done():
            raise self.fault("extra", f"the line should end here, {self.found()}", mend)

    def skip(self, *texts: str) -> bool:
        """Take the next token if it is one of these words or marks (any case)."""
        token = self.peek()
        if token is None or token.kind not in ("word", "mark") or token.text.lower() not in texts:
            return False
        self._at += 1
        return True

    def skip_any(self) -> None:
        """Take the next token, whatever it is."""
        self._at += 1

    def need(self, text: str, example: str) -> None:
        """Take this word or raise LineFault."""
        if not self.skip(text):
            raise self.fault(
                "grammar", f"the word '{text}' should stand here, {self.found()}", f"Write it as: {example}"
            )

    def keyword(self, known: Iterable[str], what: str) -> str:
        """Take one of these words, or raise LineFault with the nearest."""
        token = self.peek()
        options = list(known)
        if token is None or token.kind != "word" or token.text.lower() not in options:
            if token is None:
                raise self.fault("grammar", f"a {what} is missing", f"Use one of: {', '.join(options)}")
            word = self.text[token.start : token.end]
            raise self.fault("keyword", f"{shown(word)} is no {what}", nearest(word, options))
        self._at += 1
        return token.text.lower()

    def name(self, what: str, example: str) -> str:
        """Take a name: one word, or anything in quotes."""
        token = self.peek()
        if token is None or token.kind not in ("word", "string") or not token.text.strip():
            raise self.fault(
                "name",
                f"the {what} should stand here, {self.found()}",
                f"Write it as: {example} (quotes round more than one word)",
            )
        self._at += 1
        return token.text

    def path(self, what: str, example: str) -> str:
        """Take the name of a file: all up to the next space, or anything in quotes."""
        token = self.peek()
        if token is None or token.kind == "string":
            return self.name(what, example)
        end = next((at for at in range(token.start, self.end) if self.text[at].isspace()), self.end)
        while not self.done() and self.tokens[self._at].end <= end:
            self._at += 1
        following = self.peek()
        if following is not None and following.start < end:  # a number and its unit have a space between
            self._at = self.tokens.index(token)
            raise self.fault("name", f"the {what} holds a space", f"Write it as: {example}, with quotes round it")
        return self.text[token.start : end]

    def amount(self, what: str, example: str) -> Amount:
        """Take a number with or without unit."""
        token = self.peek()
        if token is None or token.amount is None:
            raise self.fault("number", f"{what} should stand here, {self.found()}", f"Write it as: {example}")
        self._at += 1
        return token.amount

    def place(self, example: str) -> Place:
        """Take a point: two numbers, a comma between them if you like, in brackets if you like."""
        token = self.peek()
        column = (token.start if token else self.end) + 1
        bracket = self.skip("(")
        x = self.amount("a point (across, down)", example)
        self.skip(",")
        following = self.peek()
        if following is None or following.amount is None:
            raise self.fault(
                "number",
                f"the second number of the point, how far down, should stand here, {self.found()}",
                f"Write a point as across, down with a comma between: {example}",
            )
        y = self.amount("how far down", example)
        if bracket and not self.skip(")"):
            raise self.fault("grammar", "the bracket is not closed", "Write ) after the point")
        return Place(x, y, self.number, column)


def lines_of(text: str, file: str) -> list[str]:
    """The lines of a file, a byte order mark left out; Unix, Windows and old Mac line ends.

    Raises:
        DrawingError: the text is over 20 MB, or has over 200,000 lines.
    """
    if len(text) > LARGEST_FILE:
        raise fail(
            DrawingError,
            "unreadable",
            f"the file holds {len(text) / 1e6:.0f} million characters",
            "A drawing of a block is a few thousand; at most 20 million are read",
            drawing=file,
        )
    count = text.count("\n") + text.count("\r") - text.count("\r\n")
    if count > MOST_LINES:
        raise fail(
            DrawingError,
            "unreadable",
            f"the file has {count:,} lines",
            f"A drawing of a block has a few hundred; at most {MOST_LINES:,} are read",
            drawing=file,
        )
    return re.split(r"\r\n|\r|\n", text.removeprefix("\ufeff"))
