"""Letters and places: sections that are alike share a print, mirror images have a reversed one.

Knows:  which letter and which place a section has, and in which order its patches are laid on.
Leaves: which sections there are (divide), which are alike (alike), the order inside the first of a kind (order).
Method: a letter belongs to a print, a number to a place, in reading order. The first section of a kind defines
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


def places(
    alike: Alike, sections: Sequence[Sequence[int]], reading: Sequence[tuple[int, int]], last: Sequence[bool] = ()
) -> list[Place]:
    """The place of each section.

    Args:
        sections: by their patches, in the order in which letters are given.
        reading: how far down, and how far across, each begins; places of a print are numbered by it.
        last: which sections have their letters after all others, and share none with these; (): none has.
    """
    served: dict[bool, dict[tuple[int, bool | None], tuple[str, int]]] = {False: {}, True: {}}
    found: list[tuple[str, bool, int]] = [("", False, 0)] * len(sections)  # (print, reversed, first)
    letters, is_last = 0, [*last] or [False] * len(sections)
    for number in sorted(range(len(sections)), key=is_last.__getitem__):
        patches, prints = sections[number], served[is_last[number]]
        kind: Kind | None = alike.kind(patches) if alike.may_repeat(patches) else None
        known = None if kind is None else prints.get(kind)
        mirror = None if kind is None or kind[1] is None else prints.get((kind[0], not kind[1]))
        if known is None and mirror is None:
            known = (section_name(letters), number)
            letters += 1
            if kind is not None:
                prints[kind] = known
        letter, first = known or mirror or ("", 0)
        found[number] = (letter, known is None, first)
    used: dict[tuple[str, bool], int] = {}
    numbers = [0] * len(found)
    for number in sorted(range(len(found)), key=lambda i: (reading[i], i)):
        letter, flipped, _ = found[number]
        numbers[number] = used[letter, flipped] = used.get((letter, flipped), 0) + 1
    return [
        Place(letter, place, flipped, first) for (letter, flipped, first), place in zip(found, numbers, strict=True)
    ]
