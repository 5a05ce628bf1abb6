"""The sewing rehearsal: every plan comes out as drawn, and clumsy hands are found out from the cloth alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamwright.rehearsal.rehearse import SAME_SHARE, rehearse
from seamwright.rehearsals import sewing_of
from support.prints import designs, planned


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_every_design_that_can_be_sewn_comes_out_as_drawn(path: Path):
    plan = planned(path)
    if not plan.sections:
        pytest.skip("stuck on purpose")
    done = rehearse(sewing_of(plan))
    assert done.steps == len(plan.block.patches)
    assert done.largest_share <= SAME_SHARE
