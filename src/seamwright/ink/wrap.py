"""Words broken into lines of a width."""

from __future__ import annotations

from seamwright.ink.lettering import width_pt


def wrapped(text: str, size_pt: float, most_pt: float, bold: bool = False) -> tuple[str, ...]:
    """`text` in lines no longer than `most_pt`, broken at blanks; one word too long stands on a line alone.

    >>> wrapped("measure before you sew", 8, 50)
    ('measure', 'before you', 'sew')
    """
    lines: list[str] = []
    length = 0.0
    for word in text.split():
        # Only what comes on is measured, with the letter before it for the kerning: long texts are many lines.
        more = (
            width_pt(f"{lines[-1][-1]} {word}", size_pt, bold) - width_pt(lines[-1][-1], size_pt, bold)
            if lines
            else 0
        )
        if lines and length + more <= most_pt:
            lines[-1] += f" {word}"
            length += more
        else:
            lines.append(word)
            length = width_pt(word, size_pt, bold)
    return tuple(lines)
