"""`seamwright text-form`: how a block is typed."""

from __future__ import annotations

from seamwright.commands.telling import say
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace


def text_form(asked: Namespace) -> int:
    """Shows how a block is typed; returns the exit code."""
    from seamwright.drawing.textform import GRAMMAR

    if asked.drawings:
        raise Slip(
            f"text-form takes no drawing: it only shows how one is typed; to read {asked.drawings[0]}, use check."
        )
    say(GRAMMAR.rstrip())
    return 0
