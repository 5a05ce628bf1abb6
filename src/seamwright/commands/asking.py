"""What a command was asked: its drawings, and the options given.

Knows:  the slips of whoever asks.
Leaves: what an option's text means (optiontext).
"""

from __future__ import annotations

from seamwright.commands.telling import complain
from seamwright.offered import OPTION_NAMES
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from collections.abc import Sequence

    from seamwright.results import Outcome


def drawings_of(asked: Namespace) -> list[str]:
    """The drawings asked for, each with its size behind it if one was given; never none."""
    if not all(asked.drawings) or not asked.drawings:
        raise Slip("which drawing? Name an SVG or .seams file, such as designs/kite.svg.")
    return list(asked.drawings)


def given_of(asked: Namespace) -> list[tuple[str, str]]:
    """The shared options given, as pairs of long name and text, each of them usable."""
    from seamwright.asked import usable_options
    from seamwright.errors import OptionError

    given = [(name, getattr(asked, name.replace("-", "_"), None)) for name in OPTION_NAMES]
    pairs = [(name, "yes" if text is True else text) for name, text in given if text not in (None, False)]
    try:
        usable_options(pairs)
    except OptionError as error:
        raise Slip(" ".join(fault.text.replace("option ", "--", 1) for fault in error.faults)) from None
    return pairs


def left_out(drawings: Sequence[str], outcomes: Sequence[Outcome]) -> int:
    """Tells of drawings not looked at, since Ctrl-C stopped the search before; the exit code, 0 for none."""
    left = len(drawings) - len(outcomes)
    if not left:
        return 0
    complain(f"stopped; {left} of {len(drawings)} drawings {'was' if left == 1 else 'were'} not looked at")
    return 130
