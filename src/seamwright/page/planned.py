"""The plans of a text as it stands on the page, for whatever is made of plans.

Knows:  that a drawing asked for in several colourways has a plan of each; what is said of one that cannot be sewn.
Leaves: the plans (api), what is made of them (printtasks, cuttasks).
"""

from __future__ import annotations

from pathlib import Path

from seamwright.asked import Given
from seamwright.errors import StuckError, fail
from seamwright.outfiles import plain_name
from seamwright.piecing.model import Plan


def plans_of_text(path: str, text: str, given: Given = ()) -> list[Plan]:
    """The proven plans of a text: one, or one for each colourway it is asked for in; the same as every command's.

    Args:
        path: where the text is kept, or would be. given: options that win over those of the text.

    Raises:
        StuckError: it cannot be sewn as it is drawn.
        SeamwrightError: the text or an option cannot be used.
    """
    from seamwright.api import outcome
    from seamwright.dressing import OWN, colourways_asked
    from seamwright.words.checks import verdict

    source = text.encode()
    names = colourways_asked(path, given, source)
    rest = [pair for pair in given if pair[0] != "colourway"]
    jobs = [given] if names == ("",) else [[*rest, ("colourway", name or OWN)] for name in names]
    plans = []
    for job in jobs:
        found = outcome(path, job, source=source)
        if found.error is not None:
            raise found.error
        assert found.plan is not None
        if not found.plan.sections:
            mend = "Open Check to see where, and what mends it"
            raise fail(StuckError, "stuck", verdict(found.plan).rstrip("."), mend, drawing=path)
        plans.append(found.plan)
    return plans


def file_stem(name: str) -> str:
    """The beginning of the names of files made of a design."""
    return plain_name(Path(name).stem) or "block"
