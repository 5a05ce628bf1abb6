"""Words broken into lines of a width."""

from __future__ import annotations

from seamwright.ink.lettering import width_pt


def wrapped(text: str, size_pt: float, most_pt: float, bold: bool = False) -> tuple[str, ...]:
    """`text` in lines no longer than `most_pt`, broken at blanks; one word too long stands on a line alone.

    >>> wrapped("measure before you sew", 8, 50)
    ('measure', 'before you', 'sew')
    """
    lines: list[str] = []
    for word in text.split():
        if lines and width_pt(f"{lines[-1]} {word}", size_pt, bold) <= most_pt:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return tuple(lines)
