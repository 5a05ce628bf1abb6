"""What the tool does with a drawing, stage after stage, on a random block of any size.

Knows:  the stages in their order, and what each takes from those before it.
Leaves: measuring (speed, growth, memory).
Units:  inches; a cell of two patches measures 0.85 in, so that blocks of 10 to 10,000 patches are of usual sizes.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any

CELL_IN = 0.85
KINDS = ("plain", "half", "quarter", "sharp", "strips")


class Bench:
    """One block on its way through the tool; each stage leaves here what the next ones take.

    Args:
        patches: about so many.
    """

    def __init__(self, patches: int, seed: int = 1) -> None:
        from seamwright.options import Fit, PlanOptions

        self.patches = patches
        self.options = PlanOptions(fit=Fit.NONE)
        self.source = drawing_of(patches, seed)
        self.drawing: Any = None
        self.block: Any = None
        self.plan: Any = None
        self.prints: Any = None
        self.sheets: Any = None
        self.pdf = b""

    def through(self, last: str) -> Bench:
        """All stages up to this one done."""
        for name, stage in STAGES.items():
            stage(self)
            if name == last:
                break
        return self

    def stage(self, name: str) -> Callable[[], None]:
        """One stage, to be done again and again."""
        return partial(STAGES[name], self)


def drawing_of(patches: int, seed: int) -> bytes:
    """An SVG of a grid of cells, plain, halved, quartered, with a sharp line or in strips, its seams in no order.

    Numbers have the four decimals of a drawing program, so that ends miss each other by what that leaves out.
    """
    chance = random.Random(seed)
    cells = max(2, round(math.sqrt(patches / 2.2)))
    lines = [((k, 0), (k, cells)) for k in range(1, cells)] + [((0, k), (cells, k)) for k in range(1, cells)]
    for column, row in product(range(cells), repeat=2):
        corners = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)]
        kind, turn = chance.choice(KINDS), chance.randrange(4)
        a, b, c, d = corners[turn:] + corners[:turn]
        lines += {
            "plain": [],
            "half": [(a, c)],
            "quarter": [(a, c), (b, d)],
            "sharp": [(a, ((2 * c[0] + d[0]) / 3, (2 * c[1] + d[1]) / 3))],
            "strips": [(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2))],
        }[kind]
    chance.shuffle(lines)
    side = CELL_IN * cells
    drawn = [
        f'<line x1="{CELL_IN * a:.4f}" y1="{CELL_IN * b:.4f}" x2="{CELL_IN * c:.4f}" y2="{CELL_IN * d:.4f}"/>'
        for (a, b), (c, d) in lines
    ]
    sizes = f'width="{side:.4f}in" height="{side:.4f}in" viewBox="0 0 {side:.4f} {side:.4f}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {sizes}><g fill="none" stroke="black" stroke-width="0.01">'
    frame = f'<rect width="{side:.4f}" height="{side:.4f}"/>'
    return "\n".join([head, frame, *drawn, "</g></svg>"]).encode()


def read(bench: Bench) -> None:
    from seamwright.drawing.read import read_bytes

    bench.drawing = read_bytes(bench.source, Path("large.svg"))


def tidy(bench: Bench) -> None:
    from seamwright.block.make import make_block

    bench.block = make_block(bench.drawing, bench.options)


def plan(bench: Bench) -> None:
    from seamwright.piecing.plan import plan

    bench.plan = plan(bench.block, bench.options)


def prove(bench: Bench) -> None:
    from seamwright.claims.plans import claim_of
    from seamwright.proof.checker import check

    check(claim_of(bench.plan))


def draw(bench: Bench) -> None:
    from seamwright.foundation.make import foundations

    bench.prints = foundations(bench.plan)


def rehearse(bench: Bench) -> None:
    from seamwright.claims.sewing import printed_marks, sewing_of
    from seamwright.cutting.pieces import pieces_of
    from seamwright.rehearsal.rehearse import rehearse

    rehearse(sewing_of(bench.plan, pieces_of(bench.plan), printed_marks(bench.plan, bench.prints)))


def prove_trims(bench: Bench) -> None:
    from seamwright.claims.plans import printed_trims, trim_claim_of
    from seamwright.proof.trimmed import check_trims

    check_trims(trim_claim_of(bench.plan, printed_trims(bench.plan, bench.prints)))


def lay_out(bench: Bench) -> None:
    from seamwright.sheet.layout import lay_out

    bench.sheets = lay_out([(bench.plan, bench.prints)])


def print_(bench: Bench) -> None:
    from seamwright.sheet.pdf import to_pdf

    bench.pdf = to_pdf(bench.sheets, title="benchmark", made_from="benchmark")


def measure(bench: Bench) -> None:
    from seamwright.sheet.readback import read_back

    read_back(bench.pdf, bench.sheets)


def picture(bench: Bench) -> None:
    from seamwright.picture.plan import plan_picture

    plan_picture(bench.plan)


STAGES: dict[str, Callable[[Bench], None]] = {
    "reading": read,
    "tidying": tidy,
    "planning": plan,
    "proof of the plan": prove,
    "picture of the plan": picture,
    "foundations": draw,
    "proof of trim lines": prove_trims,
    "rehearsal": rehearse,
    "layout": lay_out,
    "printing": print_,
    "reading back": measure,
}
LIBRARIES = ("shapely", "numpy", "networkx", "rustworkx", "cairosvg", "pypdf", "svgwrite")
"""What the stages load between them."""
