"""A quilt's text as lines that can be changed one by one: what is not touched stays as it was typed.

Knows:  which line states what, the remark behind it, where a new line belongs.
Leaves: what a line says (formlines), what edits do (edit).
Method: a line that changes keeps its indent and its remark; one that goes leaves its remark as a line of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from seamwright.drawing.faults import LineFault
from seamwright.drawing.tokens import Reading
from seamwright.quilt.form import stated_in
from seamwright.quilt.formlines import Stated

ORDER = (
    *("seamwright", "name", "block", "option", "set", "row", "repeat", "fit", "triangles", "sashing", "border"),
    *("binding", "backing", "batting", "fabric", "colourway"),
)
"""Keywords as `formwrite` orders them: a new line goes behind the last one that stands before it here."""
_ENDS = re.compile(r"(\r\n|\r|\n)")


@dataclass(eq=False, slots=True)
class Line:
    """One line.

    Attributes:
        text: as typed. end: how it ends. keyword: its first word, "" for a remark or an empty line.
        indent, remark: before and behind its words, the spaces with them.
    """

    text: str
    end: str
    keyword: str = field(default="", init=False)
    indent: str = field(default="", init=False)
    remark: str = field(default="", init=False)

    def __post_init__(self) -> None:
        try:
            reading = Reading(self.text, 1)
        except LineFault:
            return
        if reading.tokens:
            self.keyword = reading.tokens[0].text.lower()
            self.indent = self.text[: reading.tokens[0].start]
            self.remark = self.text[reading.end :]


class Lines:
    """The lines of a quilt's text, and what they state."""

    def __init__(self, text: str) -> None:
        """Takes a text apart.

        Raises:
            DrawingError: it is no quilt, or a line of it cannot be read, in words.
        """
        # A mark of byte order at the head is no part of the first line.
        self._mark = text[: text.startswith("\ufeff")]
        parts = _ENDS.split(text[len(self._mark) :])
        texts, ends = parts[::2], [*parts[1::2], ""]
        self.lines = [Line(one, end) for one, end in zip(texts, ends, strict=True)]
        if not self.lines[-1].text and len(self.lines) > 1:
            self.lines.pop()
        self._by_number = tuple(self.lines)
        self._end = ends[0] or "\n"
        stated, _ = stated_in(text.encode(), "")
        stated.faults.stop_if_any("")
        self.stated: Stated = stated

    @property
    def text(self) -> str:
        """The text again."""
        return self._mark + "".join(line.text + line.end for line in self.lines)

    def number(self, number: int) -> Line:
        """A line by its number as messages give it."""
        return self._by_number[number - 1]

    def all(self, keyword: str) -> Iterator[Line]:
        """The lines of a keyword."""
        return (line for line in self.lines if line.keyword == keyword)

    def say(self, line: Line, words: str) -> Line:
        """Says something else in a line, and keeps what stands round it."""
        new = Line(line.indent + words + line.remark, line.end)
        self.lines[self.lines.index(line)] = new
        return new

    def add(self, words: str, behind: Line | None = None) -> Line:
        """A new line behind another, or where such a line belongs."""
        new = Line(words, self._end)
        if behind is None:
            before = ORDER[: ORDER.index(new.keyword) + 1]
            behind = [line for line in self.lines if line.keyword in before][-1]
        behind.end = behind.end or self._end
        self.lines.insert(self.lines.index(behind) + 1, new)
        return new

    def drop(self, line: Line) -> None:
        """Takes a line away; its remark stays."""
        at = self.lines.index(line)
        if line.remark.strip():
            self.lines[at] = Line(line.indent + line.remark.strip(), line.end)
        else:
            del self.lines[at]

    def state(self, keyword: str, words: str | None) -> None:
        """The one line of a keyword says this; None: there is none."""
        line = next(self.all(keyword), None)
        if words is None:
            if line is not None:
                self.drop(line)
        elif line is None:
            self.add(f"{keyword} {words}".rstrip())
        else:
            self.say(line, f"{keyword} {words}".rstrip())
