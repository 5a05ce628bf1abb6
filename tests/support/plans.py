"""Plans of blocks that are made up of grid units: how large they are on paper is of no concern."""

from __future__ import annotations

from dataclasses import replace

from seamwright.block.model import Block
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.budget import Progress
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan


def plan_any_size(block: Block, options: PlanOptions | None = None, progress: Progress | None = None) -> Plan:
    """`plan`, with sections of any size."""
    return plan(block, replace(options or PlanOptions(), fit=Fit.NONE), progress)
