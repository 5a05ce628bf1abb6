"""Turnings as data for programs.

Knows:  the fields that other programs rely on; they are only ever added.
Leaves: every fact itself (exploring), the same facts in sentences (words.turnings).
Units:  `_in` inches; degrees clockwise as seen from the front.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from seamwright.quilt.secondary import WEIGHTS
from seamwright.report.values import Json, rounded
from seamwright.words.turnings import paste_sentence, rank_sentence, same_sentence

if TYPE_CHECKING:
    from seamwright.exploring import Turning, Turnings


def turnings_object(found: Turnings, shown: int | None, file: str | None) -> Json:
    """All layouts, the most telling first.

    Args:
        shown: how many layouts are told at the most; None: all. file: the sheet that was written.
    """
    group = found.group
    return {
        "drawings": list(found.drawings),
        "blocks": [
            {
                "name": name,
                "colourway": way or None,
                "width_in": rounded(block.width_in),
                "height_in": rounded(block.height_in),
            }
            for (name, way), block in zip(found.ways, found.blocks, strict=True)
        ],
        "grid": [group.rows, group.columns],
        "reversed_too": found.reversed_too,
        "seed": found.seed if found.by_rule else None,
        "count": len(found.every),
        "group": {
            "order": group.order,
            "shifts": group.rows * group.columns,
            "rotations_deg": [0, 90, 180, 270] if group.quarter else [0, 180],
            "mirrored": group.mirrored,
            "text": same_sentence(found),
        },
        "ranking": {"weights": dict(WEIGHTS), "text": rank_sentence(found)},
        "file": file,
        "how_to_go_on": paste_sentence(found),
        "layouts": [_layout(found, turning) for turning in found.every[:shown]],
    }


def _layout(found: Turnings, turning: Turning) -> Json:
    made = turning.found.secondary
    endless = math.isinf(made.longest_in)
    return {
        "number": turning.number,
        "rules": list(turning.rules),
        "lines": [*turning.lines, *([f"repeat {found.times} x {found.times}"] if found.times > 1 else [])],
        "rows": [
            [
                {
                    "block": cell.source,
                    "rotated_deg": 90 * cell.turn.quarters,
                    "reversed": cell.turn.reversed,
                    "colourway": cell.colourway or None,
                }
                for cell in row
            ]
            for row in turning.rows
        ],
        "points": rounded(turning.found.points, 6),
        "secondary": {
            "seam_ends": made.ends,
            "running_on": made.running,
            "meeting": made.meeting,
            "longest_line_in": None if endless else rounded(made.longest_in),
            "endless_line": endless,
            "closed_shapes": made.shapes,
            "edge_patches": made.edge_patches,
            "in_closed_shapes": made.grown,
            "kept_by_moves": made.kept,
        },
    }
