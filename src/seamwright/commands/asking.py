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

    Pairs = Sequence[tuple[str, str]]


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


def each_colourway(drawings: Sequence[str], given: Pairs) -> list[tuple[str, Pairs]]:
    """Each drawing once for every colourway asked for: (drawing, the options given for this plan of it).

    Every command that takes drawings makes its plans from this list: one colourway each, in the order asked for,
    the drawing's own fabrics first under "all". A drawing of which nothing is asked comes once, with `given` as it
    is; so does one that cannot be read or has no such colourway, for `api.outcome` to tell.
    """
    from seamwright.dressing import OWN, colourways_asked
    from seamwright.errors import SeamwrightError

    jobs: list[tuple[str, Pairs]] = []
    for drawing in drawings:
        try:
            names = colourways_asked(drawing, given)
        except SeamwrightError:
            names = ("",)
        if names == ("",):
            jobs.append((drawing, given))
        else:
            rest = [pair for pair in given if pair[0] != "colourway"]
            jobs += [(drawing, [*rest, ("colourway", name or OWN)]) for name in names]
    return jobs


def left_out(drawings: Sequence[object], outcomes: Sequence[Outcome]) -> int:
    """Tells of drawings not looked at, since Ctrl-C stopped the search before; the exit code, 0 for none."""
    left = len(drawings) - len(outcomes)
    if not left:
        return 0
    complain(f"stopped; {left} of {len(drawings)} drawings {'was' if left == 1 else 'were'} not looked at")
    return 130
