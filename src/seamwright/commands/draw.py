"""`seamwright draw`: serves the page on this computer, and opens it.

Knows:  what the command may be asked, what is printed first.
Leaves: the server (page).
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace


def draw(asked: Namespace) -> int:
    """Serves the page until it is stopped by Ctrl-C; returns the exit code."""
    from seamwright.page.serve import serve

    return serve(asked.folder, asked.port, opened=not asked.no_open)
