"""What a command was asked: its drawings, the quilts among them, and the options given.

Knows:  the slips of whoever asks; that a quilt comes as the blocks it is made of, each look of them once.
Leaves: what an option's text means (optiontext), the quilt itself (quilts).
"""

from __future__ import annotations

import os
from contextlib import suppress
from functools import lru_cache

from seamwright.commands.telling import complain, say
from seamwright.offered import ITS_ROWS, OPTION_NAMES
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from collections.abc import Callable, Sequence

    from seamwright.quilt.model import Quilt
    from seamwright.results import Outcome

    Pairs = Sequence[tuple[str, str]]

SETTING = ".setting"
"""How the name of a quilt's file ends."""


def drawings_of(asked: Namespace) -> list[str]:
    """The drawings asked for, each with its size behind it if one was given; never none."""
    if not all(asked.drawings) or not asked.drawings:
        raise Slip("which drawing? Name an SVG or .seams file, such as designs/kite.svg.")
    from seamwright.asked import split_size

    _quilt_at.cache_clear()  # files may have changed since the last command
    for drawing in asked.drawings:
        path, size = split_size(drawing)
        if size and is_quilt(path):
            what = "a quilt comes out as large as its blocks and borders make it"
            raise Slip(f"{drawing}: {what}. Leave out @{size}, and change sizes in its file; 'fit' nears a size.")
    return list(asked.drawings)


def is_quilt(drawing: str) -> bool:
    """Whether a drawing asked for is the file of a quilt, by its name or its first line."""
    if drawing.lower().endswith(SETTING):
        return True
    if not os.path.isfile(drawing):  # whoever opens a pipe waits for what may never come
        return False
    try:
        with open(drawing, "rb") as file:
            first = file.read(200).decode("utf-8-sig", errors="replace").split("\n", 1)[0]
    except (OSError, ValueError):
        return False
    return first.lower().split()[:2] == ["seamwright", "quilt"]


def files_of(drawings: Sequence[str], *, quilts: bool = True) -> list[str]:
    """The files that drawings come from; for a quilt its own, unless left out, and those of its blocks."""
    from seamwright.asked import split_size
    from seamwright.errors import SeamwrightError
    from seamwright.quilt.form import read_setting

    files = []
    for drawing in drawings:
        path = split_size(drawing)[0]
        if is_quilt(path):
            from pathlib import Path

            with suppress(SeamwrightError):  # what is wrong with it is told in its turn
                found = read_setting(Path(path)).files
                files += found if quilts else found[1:]
                continue
        files.append(path)
    return files


def quilt_asked(drawings: Sequence[str], given: Pairs) -> Quilt | None:
    """The quilt, if it is what a command is asked for; None if it is asked for drawings of blocks only.

    None too for a quilt that cannot be laid: it is then a job of `each_colourway` itself, for `outcome` to tell.

    Raises:
        Slip: a quilt is asked for together with something else.
    """
    from seamwright.errors import SeamwrightError

    found = [drawing for drawing in drawings if is_quilt(drawing)]
    if not found:
        return None
    if len(drawings) > 1:
        more = "one more is" if len(drawings) == 2 else f"{len(drawings) - 1} more are"
        raise Slip(f"{found[0]} is a quilt, and {more} given. Take a quilt by itself.")
    try:
        return quilt_at(found[0], given)
    except SeamwrightError:
        return None


def quilt_at(path: str, given: Pairs) -> Quilt:
    """The quilt of a file, laid out and proven, with the options given; once read, at hand.

    Raises:
        Slip: an option says of a block what the quilt's file says in another way.
        SeamwrightError: the quilt cannot be laid.
    """
    for name, _ in given:
        if name in ITS_ROWS:
            raise Slip(f"--{name}: {path} is a quilt, and {ITS_ROWS[name]}. Leave the option out.")
    return _quilt_at(path, tuple(given))


@lru_cache(maxsize=4)
def _quilt_at(path: str, given: tuple[tuple[str, str], ...]) -> Quilt:
    from seamwright.quilts import read_quilt

    return read_quilt(path, **{name.replace("-", "_"): text for name, text in given})


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
    is; so does one that cannot be read or has no such colourway, for `outcome` to tell. A quilt comes as its looks,
    in their order, with the options that the quilt itself plans them under.
    """
    from seamwright.dressing import each_way

    jobs: list[tuple[str, Pairs]] = []
    for drawing in drawings:
        if is_quilt(drawing):
            jobs += _looks_of(drawing, given)
            continue
        jobs += [(drawing, way) for way in each_way(drawing, given)]
    return jobs


def _looks_of(path: str, given: Pairs) -> list[tuple[str, Pairs]]:
    from seamwright.errors import SeamwrightError
    from seamwright.quilt.looks import given_to

    try:
        quilt = quilt_at(path, given)
    except SeamwrightError:
        return [(path, given)]
    return [(look.drawing, given_to(quilt.setting, look)) for look in quilt.looks]


def outcome(drawing: str, given: Pairs, progress: Callable[[int], None] | None = None) -> Outcome:
    """What comes of one of the jobs of `each_colourway`, as `api.outcome`; of a quilt: its faults."""
    from seamwright import api
    from seamwright.errors import SeamwrightError
    from seamwright.results import Outcome

    if is_quilt(drawing):
        try:
            quilt_at(drawing, given)
        except SeamwrightError as error:
            return Outcome(drawing, error=error)
    return api.outcome(drawing, given, progress)


def tell_of_quilts(drawings: Sequence[str], given: Pairs) -> None:
    """Says before the blocks of a quilt which quilt they are of; faults of one are told in its place."""
    from seamwright.errors import SeamwrightError
    from seamwright.units import say_count, say_size

    for drawing in filter(is_quilt, drawings):
        with suppress(SeamwrightError):
            quilt = quilt_at(drawing, given)
            size = say_size(quilt.width_in, quilt.height_in, quilt.setting.units)
            kinds = say_count(len(quilt.looks), "kind")
            say(f"{drawing}: {quilt.setting.name}, {size}, {say_count(len(quilt.spots), 'block')} of {kinds}:")


def left_out(drawings: Sequence[object], outcomes: Sequence[Outcome]) -> int:
    """Tells of drawings not looked at, since Ctrl-C stopped the search before; the exit code, 0 for none."""
    left = len(drawings) - len(outcomes)
    if not left:
        return 0
    complain(f"stopped; {left} of {len(drawings)} drawings {'was' if left == 1 else 'were'} not looked at")
    return 130
