"""What is handed out beside prints: cutting lists.

Knows:  the order of the stages, and that nothing is handed out without its proof.
Leaves: every stage itself.
Units:  inches; an option is given as on the command line or as a number of inches.
"""

from __future__ import annotations

from seamwright.asked import Text, agreed
from seamwright.cutting.model import Cutting
from seamwright.options import CutOptions
from seamwright.piecing.model import Plan


def cutting(plan: Plan, **asked: Text) -> Cutting:
    """What to cut of each fabric for the blocks of a plan: strips, subcuts, what to buy; each list proven.

    Args:
        plan: of a block that can be sewn.
        asked: options of cutting lists: blocks, spare, cloth, stack. They win over what the drawing asks for.

    Raises:
        StuckError: the plan says that its block cannot be sewn.
        OptionError: an option cannot be used.
        ProofError: a patch is not covered in the sewing rehearsal, or a list failed its proof; our fault, please
            report it.
    """
    from seamwright import api
    from seamwright.cutclaims import cut_claims
    from seamwright.cutting.make import cutting as make
    from seamwright.proof.cut import check_cut

    options = agreed(CutOptions, [plan], asked)
    api.rehearse(plan)
    made = make(plan, options)
    for claim in cut_claims(made):
        check_cut(claim)
    return made
