"""Words broken into lines of a width, and cut short where a line has no room for them."""

from __future__ import annotations

import re
from functools import lru_cache

from seamwright.ink.lettering import width_pt


def wrapped(
    text: str, size_pt: float, most_pt: float, bold: bool = False, *, part: bool = False
) -> tuple[str, ...]:
    """`text` in lines no longer than `most_pt`, broken at blanks but for those that hold words together.

    One word too long stands on a line alone.

    Args:
        part: a word too long for a line is parted, behind a + or - if there is one, else where the line ends.

    >>> wrapped("measure before you sew", 8, 50)
    ('measure', 'before you', 'sew')
    >>> wrapped("a lighthouse", 8, 30, part=True)
    ('a', 'lighthou', 'se')
    >>> wrapped("A+B.2+C+D", 8, 32, part=True)
    ('A+B.2+', 'C+D')
    """
    lines: list[str] = []
    length = 0.0
    for word in filter(None, _BLANKS.split(text)):
        parts = _parts(word, size_pt, most_pt, bold) if part else (word,)
        # Only what comes on is measured, with the letter before it for the kerning: long texts are many lines.
        more = (
            width_pt(f"{lines[-1][-1]} {word}", size_pt, bold) - width_pt(lines[-1][-1], size_pt, bold)
            if lines
            else 0
        )
        if lines and len(parts) == 1 and length + more <= most_pt:
            lines[-1] += f" {word}"
            length += more
        else:
            lines += parts
            length = width_pt(lines[-1], size_pt, bold)
    return tuple(lines)


_BLANKS = re.compile(r"[ \t\r\n]+")


def _parts(word: str, size_pt: float, most_pt: float, bold: bool) -> tuple[str, ...]:
    """A word in pieces that each fit a line."""
    found = [""]
    for letter in word:
        if found[-1] and width_pt(found[-1] + letter, size_pt, bold) > most_pt:
            end = max(found[-1].rfind(sign) for sign in "+-/,") + 1 or len(found[-1])
            found[-1:] = [found[-1][:end], found[-1][end:]]
        found[-1] += letter
    return tuple(found)


@lru_cache(maxsize=4096)
def lines_of(text: str, size_pt: float, most_pt: float, *, bold: bool = False, most: int = 99) -> tuple[str, ...]:
    """As `wrapped`, but what is too long for a line, or the lines beyond so many, is cut short.

    >>> lines_of("measure before you sew", 8, 50, most=2), lines_of("measure", 8, 24)
    (('measure', 'before you...'), ('mea...',))
    """
    lines = wrapped(text, size_pt, most_pt, bold)
    if len(lines) > most:
        lines = (*lines[: most - 1], " ".join(lines[most - 1 :]))
    return tuple(_cut_short(line, size_pt, most_pt, bold) for line in lines)


def _cut_short(line: str, size_pt: float, most_pt: float, bold: bool) -> str:
    if width_pt(line, size_pt, bold) <= most_pt:
        return line
    while line and width_pt(f"{line}...", size_pt, bold) > most_pt:
        line = line[:-1]
    return f"{line.rstrip()}..."
