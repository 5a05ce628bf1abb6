"""Names of what is cut for a quilt, grouped by the blocks that they are of.

Knows:  which name is that of a patch of which look.
Leaves: names themselves (cutting), how patches are listed (words, booklet, report).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from seamwright.piecing.model import Plan
from seamwright.quilt.cutmodel import QuiltCutting


def parts_said(
    cutting: QuiltCutting, patches: Callable[[Plan, Sequence[str]], str]
) -> Callable[[Sequence[str]], str]:
    """Words for names of pieces: those of one block together, such as "kite: A1, B2; star: A1; sash".

    Args:
        patches: words for names of patches of one plan.
    """
    known = {each.piece.name: (each.look, each.patch) for each in cutting.pieces if each.look is not None}
    several = len(cutting.quilt.looks) > 1

    def said(names: Sequence[str]) -> str:
        by_look: dict[int, list[str]] = {}
        plain: list[str] = []
        for name in names:
            look, patch = known.get(name, (None, ""))
            if look is None:
                plain.append(name)
            else:
                by_look.setdefault(look, []).append(patch)
        told = [
            f"{cutting.quilt.looks[look].name}: {patches(cutting.plans[look], those)}"
            if several
            else patches(cutting.plans[look], those)
            for look, those in by_look.items()
        ]
        return "; ".join([*told, *plain])

    return said
