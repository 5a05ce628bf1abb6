"""Advice on a quilt as a whole: block against quilt, strips, light and dark.

Knows:  a block too large or too small for its quilt, borders too wide, strips too narrow, a quilt nearly all of one
        value, and one that weighs to a side.
Leaves: where blocks meet (advice), how light and dark lie in it (balance).
Units:  inches of the finished quilt; lightness L* from 0 to 100.
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.notes import Note
from seamwright.options import Units
from seamwright.piecing.advice import NAMED
from seamwright.quilt.balance import HALVES, PARTS, Balance
from seamwright.quilt.contacts import SAME_IN
from seamwright.quilt.model import Edging, Quilt, Set
from seamwright.units import say_length, say_list, say_size

FEW_ACROSS, MANY_ACROSS = 3, 20
"""Under three across no pattern of rotated blocks shows; more than twenty are a texture: our own judgement."""
ONE_VALUE = 0.8
"""Above this share of one value the rest is an accent: our own judgement."""
LEAST_KNOWN = 0.5
"""Share of the quilt of which it must be known how light it reads for greys to be of use: our own judgement."""
LEANS = 8.0
"""Halves whose mean lightness differs by more look as if the quilt leaned: a third of a step of value (25)."""


def whole_notes(quilt: Quilt, light: Balance, units: Units, allowance_in: float) -> Iterator[Note]:
    """One note for each kind of advice.

    Args:
        light: how light and dark lie in the quilt.
    """
    found = (
        _scale(quilt, units),
        _wide(quilt, units),
        _narrow(quilt, units, allowance_in),
        _one_value(light),
        _leaning(light),
    )
    yield from (note for note in found if note is not None)


# -- block against quilt -----------------------------------------------------------------------------------


def _scale(quilt: Quilt, units: Units) -> Note | None:
    """A block too large for its turns to show, or so small that it is a texture."""
    centre = [spot for spot in quilt.spots if spot.part == "centre"]
    # On point the shorter rows between count as well.
    between = 2 if quilt.setting.set is Set.ON_POINT else 1
    fewest, most = sorted(between * (count - 1) + 1 for count in (quilt.columns, quilt.rows))
    if len(centre) < 2 or FEW_ACROSS <= fewest <= most <= MANY_ACROSS:
        return None
    size = say_size(*quilt.cell_in, units)
    whole = say_size(quilt.width_in, quilt.height_in, units)
    share = round(100 * max(quilt.cell_in) / min(quilt.width_in, quilt.height_in))
    said = f"a block of {size} in a quilt of {whole} ({share} % of its shorter side)"
    if fewest < FEW_ACROSS:
        text = f"{said}: a pattern of rotated blocks shows from {FEW_ACROSS} x {FEW_ACROSS} on"
    else:
        text = f"{said}: beyond {MANY_ACROSS} in a row blocks read as a texture, and their points are lost to it"
    return Note("advice-scale", text, 1, max(quilt.cell_in))


def _wide(quilt: Quilt, units: Units) -> Note | None:
    """Plain borders wider than the block they frame: common practice takes half to the whole of a block."""
    block = max(quilt.cell_in)
    found = [
        (number, width)
        for number, (border, width) in enumerate(_borders(quilt), 1)
        if border in (Edging.BUTTED, Edging.MITRED) and width > block + SAME_IN
    ]
    if not found:
        return None
    said = say_list([f"border {number} of {say_length(width, units)}" for number, width in found], most=NAMED)
    text = (
        f"{said}: wider than the block of {say_length(block, units)} that it frames; half to the whole of "
        "a block is usual"
    )
    return Note("advice-border", text, len(found), max(width for _, width in found))


def _narrow(quilt: Quilt, units: Units, allowance_in: float) -> Note | None:
    """Strips under which both allowances lie over each other."""
    least = 2 * allowance_in
    strips: dict[str, float] = {}
    if quilt.setting.sashing is not None:
        strips["the sashing"] = quilt.setting.sashing.width_in
    for number, (edging, width) in enumerate(_borders(quilt), 1):
        strips[f"the coping, border {number}," if edging is Edging.COPING else f"border {number}"] = width
    found = {name: width for name, width in strips.items() if 0 < width < least - SAME_IN}
    if not found:
        return None
    said = say_list([f"{name} {say_length(width, units)}" for name, width in found.items()])
    text = (
        f"strips narrower than {say_length(least, units)}: {said}; under them both allowances lie over "
        "each other and make a ridge: make them wider, or trim the first allowance before the second seam"
    )
    return Note("advice-strip", text, len(found), min(found.values()))


def _borders(quilt: Quilt) -> list[tuple[Edging, float]]:
    """Each border with the width of its narrower strips; one that is not needed has 0."""
    pairs = zip(quilt.setting.borders, quilt.borders_in, strict=False)
    return [(border.edging, min((w for w in widths if w > 0), default=0.0)) for border, widths in pairs]


# -- light and dark ----------------------------------------------------------------------------------------


def _one_value(light: Balance) -> Note | None:
    """Nearly all of one value."""
    value, share = max(light.values, key=lambda pair: pair[1])
    if share < ONE_VALUE:
        return None
    text = (
        f"{round(100 * share)} % of the quilt is {value.value}: from across a room it reads as one surface, "
        "and only hue tells its shapes apart; if that is not the idea, give more to another value"
    )
    return Note("advice-value", text, 1, None)


def _leaning(light: Balance) -> Note | None:
    """One half, or else one quadrant, lighter than what lies opposite; not where most of the quilt is unknown."""
    if light.known < LEAST_KNOWN:
        return None
    pairs = [("top", "bottom"), ("left", "right")]
    if not any(_leans(light, *pair) for pair in pairs):
        pairs = [(PARTS[0], PARTS[2]), (PARTS[1], PARTS[3])]
    said = [told for pair in pairs if (told := _leans(light, *pair))]
    if not said:
        return None
    text = (
        f"{'; '.join(said)} (0 is black, 100 white): the eye goes there first; even it out, or let it lead on "
        "purpose"
    )
    return Note("advice-balance", text, len(said), None)


def _leans(light: Balance, one: str, other: str) -> str:
    a, b = light.mean(one), light.mean(other)
    if a is None or b is None or abs(a - b) <= LEANS:
        return ""
    kind = "half" if one in HALVES else "quarter"
    lighter, darker = (one, other) if a > b else (other, one)
    return f"the {lighter} {kind} is lighter than the {darker} one, {max(a, b):.0f} against {min(a, b):.0f}"
