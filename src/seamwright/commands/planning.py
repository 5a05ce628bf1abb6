"""Planning all that a command was asked for, where one drawing without a plan is as good as none.

Knows:  what Ctrl-C means while several drawings are planned.
Leaves: the plans and the mends (api, mending), saying why there is none (telling).
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from collections.abc import Sequence

    from seamwright.commands.asking import Pairs
    from seamwright.piecing.model import Plan
    from seamwright.progress import Progress
    from seamwright.results import Outcome


def all_planned(jobs: Sequence[tuple[str, Pairs]], progress: Progress) -> tuple[list[Plan], list[Outcome]]:
    """The plans of all jobs, in order, and no outcomes; else those outcomes that came to no plan, with their mends.

    Ctrl-C while the last one is searched for takes the best plan found until then, as for a single drawing.

    Args:
        jobs: as `asking.each_colourway` gives them.
        progress: one step each is told, and one more if mends are looked for.

    Raises:
        KeyboardInterrupt: stopped before the last one, for half of what was asked for is none of it.
    """
    from seamwright import mending
    from seamwright.commands.asking import outcome

    outcomes: list[Outcome] = []
    for drawing, given in jobs:
        progress.doing(drawing)
        outcomes.append(outcome(drawing, given, progress.looked_at))
        if outcomes[-1].stopped and len(outcomes) < len(jobs):
            raise KeyboardInterrupt
    unmade = [one for one in outcomes if one.plan is None or not one.plan.sections]
    if unmade:
        progress.doing("looking for mends")
        return [], [mending.with_mends(one) for one in unmade]
    return [one.plan for one in outcomes if one.plan is not None], []
