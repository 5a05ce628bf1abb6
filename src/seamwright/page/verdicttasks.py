"""The verdict on a text and mends for it, as a worker finds them.

Knows:  which sentence stands in the verdict's place, what goes with it; how a mend is handed over.
Leaves: the finding itself (api, report.checks: the same as on the command line), what is drawn of it (shown).
Method: a mend comes with the whole text that it makes, so that doing it is one change like any other. The server
        only names these functions: what they need is imported where they run, and nothing of the server is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamwright.page.faults import error_object

if TYPE_CHECKING:  # the server itself plans nothing
    from seamwright.asked import Given
    from seamwright.errors import SeamwrightError
    from seamwright.piecing.model import Mend, Plan
    from seamwright.results import Outcome


def verdict_on(path: str, text: str, given: Given) -> dict[str, Any]:
    """What `check` finds, with `state`, `sentence`, `proven`, `counts` and what the drawing shows of it.

    States: "can", "cannot", "unfinished" (lines end in the open), "empty" (no seam yet), "unreadable", "unproven"
    (our own fault).
    """
    from seamwright.api import outcome

    found = outcome(path, given, source=text.encode())
    return _planned(path, found.plan) if found.plan is not None else _not_planned(found, text)


def _planned(path: str, plan: Plan) -> dict[str, Any]:
    from seamwright.notes import all_notes
    from seamwright.page.shown import note_objects, patch_looks, stuck_objects, turn_objects
    from seamwright.picture.marks import turn_words
    from seamwright.piecing.setin import floating
    from seamwright.piecing.turns import turns_of
    from seamwright.report.checks import check_object, in_order
    from seamwright.words.checks import join_lines, print_lines, proven, sentence, verdict
    from seamwright.words.onpage import on_page

    told, looks, order = check_object(path, plan), patch_looks(plan), in_order(plan)
    for patch, number in zip(told["patches"], order, strict=True):
        patch |= looks[number]
    foundations = sum(section.kind == "foundation" for section in plan.sections)
    set_in = plan.options.set_in
    return {
        **told,
        "state": "can" if plan.sections else "cannot",
        "sentence": verdict(plan),
        "proven": on_page(proven(plan)),
        "counts": {
            "patches": len(plan.block.patches),
            "sections": len(plan.sections),
            "foundations": foundations,
            "prints": len(plan.prints()),
            "joins": len(plan.joins),
            "points_to_match": plan.points_to_match,
        },
        "lines": [on_page(sentence(line)) for line in (*print_lines(plan), *join_lines(plan))],
        "stuck": stuck_objects(plan),
        "notes": note_objects(all_notes(plan), plan.block.notes),
        "turns": turn_objects(plan),
        "turn_words": turn_words(turns_of(plan)),
        "may_set_in": bool(plan.obstructions) and not set_in and not floating(plan.block),
        "is_set_in": set_in,
    }


def _not_planned(found: Outcome, text: str) -> dict[str, Any]:
    """Why there is no plan: quietly where the drawing is only not finished yet."""
    error = found.error
    assert error is not None
    state = state_of(error)
    told = error_object(error)
    lines = text.splitlines()
    for fault in told["error"]["faults"]:
        at = fault["line"]
        fault["source"] = lines[at - 1] if at is not None and 0 < at <= len(lines) else ""
    nothing: dict[str, Any] = {"proven": "", "stuck": [], "turns": [], "notes": []}
    return {"state": state, "sentence": _sentence(state, error), **nothing, **told}


def state_of(error: SeamwrightError) -> str:
    """What stands against a verdict, in one word."""
    if error.exit_code == 3:
        return "unproven"
    if error.code == "unfinished":
        return "unfinished"
    return "empty" if error.faults[0].code == "no seams" else "unreadable"


def _sentence(state: str, error: SeamwrightError) -> str:
    from seamwright.words.onpage import on_page

    if state == "empty":
        return "Nothing is drawn yet: draw the first seam from one edge to another."
    if state == "unfinished":
        count = len(error.faults)
        lines = "a line still ends in the open" if count == 1 else f"{count} ends still lie in the open"
        return f"Not finished yet: {lines}."
    fault = error.faults[0]
    where = f"line {fault.line}: " if fault.line is not None else ""
    what = on_page(f"{where}{fault.what}")
    return f"{'No verdict' if state == 'unproven' else 'Cannot be read as it stands'}: {what}."


def mends_for(path: str, text: str, given: Given) -> dict[str, Any]:
    """Mends of a drawing: `mends` as `check` tells them, each with the text that it makes, and `notes`."""
    from seamwright.api import outcome
    from seamwright.mending import with_mends
    from seamwright.page.shown import note_objects

    found = with_mends(outcome(path, given, source=text.encode()))
    plan = found.plan
    if plan is None:
        return {"mends": [], "notes": []}
    told = [_mend(plan, mend, text) for mend in found.mends]
    notes = tuple(note for note in plan.notes if note.code == "mend")
    return {"mends": [mend for mend in told if mend is not None], "notes": note_objects(notes)}


def _mend(plan: Plan, mend: Mend, text: str) -> dict[str, Any] | None:
    """One mend with the text it makes; None if it cannot be written into this text."""
    from seamwright.errors import SeamwrightError
    from seamwright.mending import mended_drawing
    from seamwright.page.shown import mend_lines
    from seamwright.report.checks import mend_object
    from seamwright.words.checks import sentence
    from seamwright.words.onpage import on_page

    try:
        made = mended_drawing(plan, [mend], ".seams", text.encode(), marked=False)
    except SeamwrightError:
        return None
    return {
        **mend_object(mend),
        "text": on_page(sentence(mend.text)),
        **mend_lines(plan, mend),
        "drawing": made.content.decode(),
        "said": [on_page(sentence(said)) for said in made.said],
    }
