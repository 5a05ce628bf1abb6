"""Letters of sections."""

from __future__ import annotations

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which read as one and nought."""


def section_name(number: int) -> str:
    """Name of section `number`, counted from 0: A, B ... Z, then AA, AB ...

    >>> [section_name(n) for n in (0, 7, 8, 23, 24, 25, 48)]
    ['A', 'H', 'J', 'Z', 'AA', 'AB', 'BA']
    """
    name = ""
    number += 1
    while number:
        number, last = divmod(number - 1, len(LETTERS))
        name = LETTERS[last] + name
    return name
