"""Letters and places: sections that are alike share a print, mirror images have a reversed one.

Knows:  which letter and which place a section has, and in which order its patches are laid on.
Leaves: which sections there are (divide), which are alike (alike), the order inside the first of a kind (order).
Method: a letter belongs to a print, a number to a place. The first section of a kind, in reading order, defines
        print A. Those that are equal after rotation, lines, order and fabrics alike, are A.2, A.3; their mirrors
        are Ar, Ar.2, printed reversed, since the fabric lies on the blank side. All are sewn in one order:
        that of the first, carried over by laying one section on the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.piecing.alike import Alike, Kind
from seamwright.piecing.names import section_name


@dataclass(frozen=True, slots=True)
class Place:
    """Where a section stands among those like it.

    Attributes:
        print: letter of the print. number: 1 for the first place of this print or of its mirror image.
        reversed: the section is the mirror image of the print's own.
        first: which section defines the print.
    """

    print: str
    number: int
    reversed: bool
    first: int

    @property
    def name(self) -> str:
        """ "A", "A.2"; "Ar", "Ar.2" for mirror images."""
        stem = self.print + ("r" if self.reversed else "")
        return stem if self.number == 1 else f"{stem}.{self.number}"

    @property
    def order(self) -> tuple[int, str, bool, int]:
        """Sorts by name: letter by letter, mirror images after all others of their letter."""
        return len(self.print), self.print, self.reversed, self.number


def places(alike: Alike, sections: Sequence[Sequence[int]]) -> list[Place]:
    """The place of each section; sections are given by their patches, in reading order."""
    found: list[Place] = []
    prints: dict[tuple[int, bool | None], tuple[str, int]] = {}
    used: dict[Kind, int] = {}
    letters = 0
    for number, patches in enumerate(sections):
        kind: Kind | None = alike.kind(patches) if alike.may_repeat(patches) else None
        known = None if kind is None else prints.get(kind)
        mirror = None if kind is None or kind[1] is None else prints.get((kind[0], not kind[1]))
        if kind is not None and (known or mirror):
            used[kind] = used.get(kind, 0) + 1
            letter, first = known or mirror or ("", 0)
            found.append(Place(letter, used[kind], known is None, first))
            continue
        place = Place(section_name(letters), 1, False, number)
        letters += 1
        if kind is not None:
            prints[kind] = (place.print, number)
            used[kind] = 1
        found.append(place)
    return found
