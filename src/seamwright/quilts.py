"""The whole quilt as a few calls: read, laid out, proven; the plans of its blocks.

Knows:  the order of the stages, and that no quilt leaves here without its proof.
Leaves: every stage itself (quilt), plans of blocks (api).
Units:  inches.

Options: the call's win over the quilt file's, these over those of its blocks' drawings, these over the defaults.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from seamwright.api import outcome
from seamwright.asked import Text, texts_of
from seamwright.errors import Fault, StuckError
from seamwright.piecing.model import Plan
from seamwright.quilt.model import Look, Quilt, Setting


def read_quilt(path: str | Path, **options: Text) -> Quilt:
    """The quilt of a file, laid out and proven.

    Args:
        options: of its blocks' plans by their long names, with _ for -; they win over what the file says.

    Raises:
        SeamwrightError: the file, a block or an option cannot be used, or the quilt cannot be laid, in words.
        ProofError: the quilt failed its proof; this is our fault, please report it.
    """
    from seamwright.quilt.form import read_setting

    return quilt_of(read_setting(Path(path)), **options)


def quilt_of(setting: Setting, **options: Text) -> Quilt:
    """A quilt laid out and proven.

    Args:
        setting: as read from a file, or made in Python; then paths of its blocks are found from where the program
            was started.
        options: as for `read_quilt`.

    Raises:
        SeamwrightError, ProofError: as `read_quilt`.
    """
    from seamwright.claims.quilts import claim_of_quilt
    from seamwright.proof.quilt import check_quilt
    from seamwright.quilt.layout import laid
    from seamwright.quilt.looks import asked_with, read_looks

    setting = asked_with(setting, texts_of(options))
    looks = read_looks(setting)
    if setting.wanted is not None:
        from seamwright.quilt.fitting import fitted  # few quilts ask for it

        setting = fitted(setting, looks, setting.units)
    quilt = laid(setting, looks)
    check_quilt(claim_of_quilt(quilt))
    return quilt


def plans_of(quilt: Quilt, *, progress: Callable[[int], None] | None = None) -> tuple[Plan, ...]:
    """The plan of each look of a quilt, in their order: the same that every command makes of such a drawing.

    Args:
        progress: told now and then how many ways to divide a block were looked at.

    Raises:
        StuckError: blocks cannot be sewn as asked, a fault each.
        SeamwrightError: a block cannot be read, or an option cannot be used.
    """
    from seamwright.quilt.looks import given_to

    plans, stuck = [], []
    for look in quilt.looks:
        found = outcome(look.drawing, given_to(quilt.setting, look), progress)
        if found.error is not None:
            raise found.error
        assert found.plan is not None
        plans.append(found.plan)
        if not found.plan.sections:
            stuck.append(_stuck(quilt, look, found.plan))
    if stuck:
        raise StuckError("stuck", tuple(stuck), quilt.setting.file)
    return tuple(plans)


def _stuck(quilt: Quilt, look: Look, plan: Plan) -> Fault:
    """A block that stops the whole quilt, at the line that names it."""
    why = " ".join(obstruction.why for obstruction in plan.obstructions)
    how = "" if plan.options.set_in else ", or sew it as it is drawn, with seams that turn: --set-in"
    line = next((source.line for source in quilt.setting.sources if source.name == look.source), 0)
    return Fault(
        "stuck",
        f"block {look.name} cannot be sewn. {why}".rstrip(" ."),
        f"Change the drawing there (seamwright check {look.drawing} --picture shows where){how}",
        line=line or None,
        column=1 if line else None,
    )
