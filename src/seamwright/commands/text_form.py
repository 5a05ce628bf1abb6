"""`seamwright text-form`: how a block is typed, and a quilt."""

from __future__ import annotations

from seamwright.commands.telling import say
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace


def text_form(asked: Namespace) -> int:
    """Shows how a block is typed, or a quilt; returns the exit code."""
    from seamwright.drawing.textform import GRAMMAR
    from seamwright.quilt.formhelp import QUILT_GRAMMAR

    if asked.drawings not in ([], ["quilt"], ["block"]):
        raise Slip(
            f"text-form takes no drawing: it only shows how one is typed; to read {asked.drawings[0]}, use check."
        )
    quilt = asked.drawings == ["quilt"]
    say((QUILT_GRAMMAR if quilt else GRAMMAR).rstrip())
    if not asked.drawings:
        say("\nHow a quilt of blocks is typed: seamwright text-form quilt")
    return 0
