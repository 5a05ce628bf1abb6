"""Which patches the sewer sews together beforehand, to lay them on as one.

Knows:  how she names them, that what she says of one place of a print holds for all of them, what she is told.
Leaves: which patches can be sewn so, and the block that comes of it (block.prepieced).
Method: the names are those of the plan without the option and without a start: a patch that is pieced beforehand is
        one patch of the next plan, which has its own names.
"""

from __future__ import annotations

from seamwright.block.model import Block
from seamwright.block.prepieced import limits_of, pieced
from seamwright.errors import Fault, OptionError, fail
from seamwright.fabric.rulers import FINE_STEP_IN, on_step
from seamwright.notes import Note
from seamwright.options import PlanOptions, Units
from seamwright.piecing.model import Plan
from seamwright.piecing.named import Named, split_names
from seamwright.units import say_length


def block_pieced(plan: Plan, asked: str) -> Block:
    """The block of a plan with the patches pieced beforehand that the sewer names.

    Args:
        plan: made without them.
        asked: names of patches, those of one group tied by +, groups parted by commas.

    Raises:
        OptionError: a name is unknown, or a group cannot be sewn together beforehand.
    """
    names = plan.patch_names()
    order = [patch for section in plan.sections for patch in section.patches] or range(len(names))
    known = Named({names[patch]: patch for patch in order}, "pre-pieced")
    groups: dict[frozenset[int], tuple[int, ...]] = {}
    faults: list[Fault] = []
    for word in split_names(asked):
        found = [known.find(part) for part in word.split("+") if part.strip()]
        unknown = [one for one in found if isinstance(one, Fault)]
        faults += unknown
        patches = tuple(dict.fromkeys(one for one in found if not isinstance(one, Fault)))
        if len(patches) < 2:
            if not unknown:
                what = f"option pre-pieced: {word} names one patch, and two or more are sewn together"
                faults.append(Fault("option", what, "Tie their names with +, such as A2+A3"))
            continue
        for group in _in_all_places(plan, patches):
            groups.setdefault(frozenset(group), group)
    if faults:
        raise OptionError("option", tuple(faults))
    taken: set[int] = set()
    for group in groups.values():
        for patch in group:
            if patch in taken:
                what = f"option pre-pieced: {names[patch]} is in two groups"
                raise fail(OptionError, "option", what, "Tie all patches that are sewn together with +: A2+A3+A4")
            taken.add(patch)
    if len(plan.block.patches) - len(taken) + len(groups) < 2:
        what = "option pre-pieced: nothing would be left to lay the pieced patch beside"
        raise fail(OptionError, "option", what, "Name fewer patches")
    made = pieced(plan.block, tuple(groups.values()), names)
    _refuse_odd_strips(made, plan.options)
    return made


def _refuse_odd_strips(block: Block, options: PlanOptions) -> None:
    """A part between two seams is cut exactly, or the second seam would miss its line: a ruler must show it."""
    allowance, step = options.seam_allowance_in, FINE_STEP_IN[options.units]
    for made in block.pre_pieced:
        for part, between in zip(made.parts, limits_of(made), strict=True):
            for low, high in (between[0::2], between[1::2]):
                if low is None or high is None or on_step(high - low + 2 * allowance, step) is not None:
                    continue
                # In decimals: rounded as a ruler is read it would seem to lie on a mark.
                apart = f"{high - low:.2f} in" if options.units is Units.INCH else f"{(high - low) * 2.54:.2f} cm"
                mark = max(1, round((high - low + 2 * allowance) / step)) * step - 2 * allowance
                what = f"option pre-pieced: {part.name} lies between two seams {apart} apart, and no ruler shows "
                what += "how wide that is cut"
                mend = f"Leave {part.name} out, or draw the seams {say_length(mark, options.units)} apart"
                raise fail(OptionError, "option", what, mend)


def _in_all_places(plan: Plan, patches: tuple[int, ...]) -> list[tuple[int, ...]]:
    """A group in every place of its print; one that lies in several sections in its own place only."""
    for section in plan.sections:
        if set(patches) <= set(section.patches):
            spots = [section.patches.index(patch) for patch in patches]
            places = [other for other in plan.sections if other.print == section.print]
            return [tuple(other.patches[spot] for spot in spots) for other in places]
    return [patches]


def told(plan: Plan) -> tuple[Note, ...]:
    """What the sewer is told of a plan with patches that are pieced beforehand."""
    names = plan.patch_names()
    place = {patch: count for count, patch in enumerate(p for section in plan.sections for p in section.patches)}
    made = sorted(plan.block.pre_pieced, key=lambda one: place.get(one.patch, 0))
    if not made:
        return ()
    pairs = [f"{'+'.join(part.name for part in one.parts)} is {names[one.patch]} now" for one in made]
    text = f"sewn together beforehand and laid on as one: {', '.join(pairs)}"
    return (Note("pre-pieced", text, len(pairs)),)
