"""Patches as the sewer names them in an option, found in a plan.

Knows:  how names are written in options, what one means, what is said if it means nothing.
Leaves: what is done with it (start, beforehand).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Generic, TypeVar

from seamwright.errors import Fault

_T = TypeVar("_T")


class Named(Generic[_T]):
    """What patches' names stand for, case and spaces forgiven."""

    def __init__(self, meant: Mapping[str, _T], option: str) -> None:
        """`option`: whose names these are. Patches are named as in the plan without it."""
        self.option, self._shown = option, list(meant)
        self._meant = {_plain(name): spot for name, spot in meant.items()}

    def find(self, word: str) -> _T | Fault:
        """What a name stands for, or what to say if there is no such patch."""
        if _plain(word) in self._meant:
            return self._meant[_plain(word)]
        import difflib  # only a slip needs it

        near = difflib.get_close_matches(word.upper(), self._shown, n=1, cutoff=0.3)
        mend = (
            f"Patches are named as in the plan without --{self.option}, from {self._shown[0]} to {self._shown[-1]}"
        )
        mend += f"; perhaps {near[0]} is meant" if near else ""
        return Fault("option", f"option {self.option}: there is no patch {word}", mend)


def split_names(text: str) -> list[str]:
    """The words of a list parted by commas or semicolons, none empty."""
    return [word for part in text.replace(";", ",").split(",") if (word := part.strip())]


def _plain(name: str) -> str:
    return "".join(name.split()).casefold()
