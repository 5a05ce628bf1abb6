"""Faults of a text: gathered line by line, told all at once, with the nearest word that is known.

Limits: past 60 faults the rest is only counted, and past 1,000 what follows is no longer read.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.errors import DrawingError, Fault

MOST_FAULTS, MOST_COUNTED = 60, 1000


class LineFault(Exception):
    """One thing wrong in a line; caught once a line."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault)
        self.fault = fault


class Faults:
    """All that is wrong in one file, in the order of its lines."""

    def __init__(self) -> None:
        self._found: list[Fault] = []

    def add(self, fault: Fault) -> None:
        """Take one more."""
        self._found.append(fault)

    def __len__(self) -> int:
        return len(self._found)

    @property
    def told(self) -> bool:
        """Whether there are as many as are told; no mend need be looked for any more."""
        return len(self._found) >= MOST_FAULTS

    @property
    def full(self) -> bool:
        """Whether there are so many that reading on is of no use."""
        return len(self._found) > MOST_COUNTED

    def stop_if_any(self, file: str) -> None:
        """Raise them all.

        Raises:
            DrawingError: there is at least one.
        """
        if not self._found:
            return
        found = sorted(self._found, key=lambda f: (f.line or 0, f.column or 0))
        if len(found) > MOST_FAULTS:
            rest = len(found) - MOST_FAULTS
            found = found[:MOST_FAULTS]
            found.append(
                Fault("more", f"{rest}{' or' if self.full else ''} more faults follow", "Mend those above first")
            )
        raise DrawingError("unreadable", tuple(found), file)


def nearest(word: str, known: Sequence[str]) -> str:
    """The mend for a word that is not known: the nearest, or all of them."""
    import difflib  # only a slip needs it

    close = difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.6)
    return f"Perhaps '{close[0]}' is meant" if close else f"Use one of: {', '.join(known)}"


def shown(text: str) -> str:
    """The text in quotes, cut short if long, what cannot be seen made visible."""
    clean = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[:60])
    return f"'{clean[:40]}...'" if len(text) > 40 else f"'{clean}'"
