"""The cutting of a whole quilt as a few calls: worked out, proven, written.

Knows:  the order of the stages, and that no cutting leaves here without its proof.
Leaves: every stage itself (quilt.cutting, proof, booklet, report), the quilt and its plans (quilts).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.asked import Text, agreed
from seamwright.options import CutOptions
from seamwright.piecing.model import Plan
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.quilt.model import Quilt


def cutting_of(quilt: Quilt, plans: Sequence[Plan] | None = None, **asked: Text) -> QuiltCutting:
    """What to cut for a whole quilt, strips shared by all of it, with binding, back and batting; proven.

    Args:
        plans: of its looks, in their order; None: they are made.
        asked: options of cutting lists: spare, cloth, stack. They win over what the quilt's file asks for, that
            over what its blocks' drawings do. How many blocks there are is known of the quilt.

    Raises:
        StuckError: a block cannot be sewn as asked.
        OptionError: an option cannot be used, or blocks ask for different ones.
        ProofError: a patch is not covered in the sewing rehearsal, or the cutting failed its proof; our fault,
            please report it.
    """
    from seamwright.api import rehearse
    from seamwright.claims.quiltcuts import claim_of_cutting, claims_of_fabrics
    from seamwright.proof.cut import check_cut
    from seamwright.proof.quiltcut import check_quilt_cut
    from seamwright.quilt.cutting import quilt_cutting
    from seamwright.quilts import plans_of

    plans = plans_of(quilt) if plans is None else plans
    stated = {name.replace("-", "_"): text for name, text in quilt.setting.options}
    options = agreed(CutOptions, plans, {**stated, **asked, "blocks": "1"})
    for plan in plans:
        rehearse(plan)
    made = quilt_cutting(quilt, plans, options)
    for claim in claims_of_fabrics(made):
        check_cut(claim)
    check_quilt_cut(claim_of_cutting(made))
    return made
