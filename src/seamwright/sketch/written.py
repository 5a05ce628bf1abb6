"""A text of ours as lines that can be changed one by one: what is not touched stays as written.

Knows:  lines and their ends, remarks, where a line is added, how one thing of several in a line is taken out.
Leaves: what the lines mean (drawing), what is changed (fabrics).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

LONGEST_IN_LINE = 100
"""Characters that a line may have before more goes into one of its own."""
_REMARK = re.compile(r"\s+#(?!\w).*$")

Span = tuple[int, int]
"""Start and end of something in a line."""


class Written:
    """The lines of a text, numbered from 1 as they were, whatever is done to them."""

    def __init__(self, text: str) -> None:
        pieces = re.split(r"(\r\n|\r|\n)", text)
        self._lines: list[str | None] = [*pieces[::2]]
        self._ends: list[str] = [*pieces[1::2], ""]
        self._after: dict[int, list[str]] = {}

    def line(self, number: int) -> str:
        """A line as it stands now; "" for one that is gone."""
        return self._lines[number - 1] or ""

    def has(self, number: int) -> bool:
        """Whether the line is still there."""
        return self._lines[number - 1] is not None

    def put(self, number: int, start: int, end: int, words: str) -> None:
        """Other words in place of some; whoever changes several in a line begins at its right."""
        line = self.line(number)
        self._lines[number - 1] = line[:start] + words + line[end:]

    def drop(self, number: int) -> None:
        """A line taken out; its remark stays, if it has one."""
        line = self.line(number)
        remark = _REMARK.search(line)
        indent = line[: len(line) - len(line.lstrip())]
        self._lines[number - 1] = indent + remark[0].strip() if remark else None

    def keep(self, number: int, spans: Sequence[Span], kept: Sequence[Span]) -> None:
        """Of things with "and" between them only some stay in their line; without any it goes."""
        if not kept:
            self.drop(number)
        elif len(kept) < len(spans):
            line = self.line(number)
            self.put(number, spans[0][0], spans[-1][1], " and ".join(line[start:end] for start, end in kept))

    def add(self, number: int, line: str) -> None:
        """A new line behind one, and behind what was added there before; with the same indent."""
        old = self.line(number)
        indent = old[: len(old) - len(old.lstrip())]
        self._after.setdefault(number, []).append(indent + line if line else "")

    def last(self) -> int:
        """Number of the last line that says anything."""
        return max((n for n, line in enumerate(self._lines, start=1) if line and line.strip()), default=1)

    def text(self) -> str:
        """The whole, with the ends of lines that it had; new lines have the usual one."""
        usual = next((end for end in self._ends if end), "\n")
        said: list[str] = []
        for number, (line, end) in enumerate(zip(self._lines, self._ends, strict=True), start=1):
            more = self._after.get(number, [])
            if line is not None:
                said.append(line + (end or usual * bool(more)))
            said += [one + usual for one in more]
        return "".join(said)
