"""From foundations to the files of each: SVG and DXF with named layers at true size, and a preview.

Knows:  how the files of one foundation come together, and that none leaves here unmeasured.
Leaves: every form itself (svg, dxf), writing to the disk (the caller).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from seamwright.files.check import measure
from seamwright.files.dxf import to_dxf_file
from seamwright.files.layers import drawings_of
from seamwright.files.model import MachineFiles
from seamwright.files.svg import to_svg_file
from seamwright.foundation.model import Foundation
from seamwright.ink.png import to_png
from seamwright.piecing.model import Plan

PREVIEW_DPI = 150


def machine_files(
    jobs: Sequence[tuple[Plan, Sequence[Foundation]]],
    made_from: Callable[[Foundation], str],
    blocks: Sequence[int] = (),
) -> tuple[MachineFiles, ...]:
    """The files of every drawing of every plan; places of one print that share a drawing share its files.

    Args:
        jobs: plans with their foundations.
        made_from: the mark for the files of a foundation, such as "made by seamwright from [kite.svg]".
        blocks: how many blocks of each plan are made; (): one of each.

    Raises:
        LibraryError: the cairo library is missing. ProofError: a file does not read back true.
    """
    made = []
    for drawn, times in drawings_of(jobs, blocks):
        mark = made_from(drawn.foundation)
        svg, dxf = to_svg_file(drawn, mark), to_dxf_file(drawn, mark)
        error = measure(drawn, svg, dxf)
        preview = to_png(svg.decode(), PREVIEW_DPI, {"Software": "seamwright", "Source": mark})
        made.append(MachineFiles(drawn.name, drawn.foundation, times, svg, dxf, preview, error))
    return tuple(made)
