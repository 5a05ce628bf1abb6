"""Short codes of fabrics, for patches too small for the name."""

from __future__ import annotations

import re
from collections.abc import Iterable

from seamwright.fabric.model import Fabric


def is_named(fabric: Fabric) -> bool:
    """Whether its owner gave it a name; a fabric known only by its colour has none to print."""
    return not fabric.name.startswith("#")


def fabric_codes(fabrics: Iterable[Fabric]) -> dict[str, str]:
    """A code for each named fabric: its own, else initials, told apart by more letters or a number.

    >>> fabric_codes([Fabric("sea foam"), Fabric("sand"), Fabric("sail"), Fabric("storm", code="ST")])
    {'sea foam': 'SF', 'sand': 'SA', 'sail': 'SAI', 'storm': 'ST'}
    """
    named = [fabric for fabric in fabrics if is_named(fabric)]
    taken = {fabric.code for fabric in named if fabric.code}
    codes: dict[str, str] = {}
    for fabric in named:
        code = fabric.code or next(c for c in _proposals(fabric.name) if c not in taken)
        taken.add(code)
        codes[fabric.name] = code
    return codes


def _proposals(name: str) -> Iterable[str]:
    words = re.findall(r"\w+", name) or ["F"]
    initials = "".join(word[0] for word in words)
    if len(words) > 1:
        yield initials[:3].upper()
    letters = "".join(words)
    for length in (2, 3, 4):
        yield letters[:length].upper()
    number = 2
    while True:
        yield f"{initials[:2]}{number}".upper()
        number += 1
