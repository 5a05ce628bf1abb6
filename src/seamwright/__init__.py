"""From a sharp-pointed sketch to foundations that sew true.

The Python interface, loaded when first asked for, so that `import seamwright` costs nothing:

    import seamwright
    block = seamwright.read_block("designs/kite.svg", size="8in")
    plan = seamwright.plan(block)
    print(plan.sewable, [section.name for section in plan.sections])
    seamwright.write_pdf("kite.pdf", plan)
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from seamwright.api import (
        foundations,
        lay_out,
        outcome,
        plan,
        read_block,
        read_colourways,
        rehearse,
        write_files,
        write_pdf,
    )
    from seamwright.choosing import write_turning, write_turnings
    from seamwright.cloths import fabrics, fabrics_picture, write_fabrics
    from seamwright.exploring import turnings
    from seamwright.handouts import cutting, write_booklet, write_cutting
    from seamwright.many import check_many, print_many
    from seamwright.mending import apply_mends, mended_drawing, mends, write_mended
    from seamwright.picturing import picture_of, rehearsal_pictures, write_picture, write_rehearsal
    from seamwright.quilt.counts import for_quilt
    from seamwright.quiltbooks import write_quilt_booklet
    from seamwright.quiltcuts import cutting_of, write_quilt_cutting
    from seamwright.quiltfacts import facts_of
    from seamwright.quiltpictures import write_quilt_picture
    from seamwright.quilts import plans_of, quilt_of, read_quilt
    from seamwright.results import Booked, Outcome, Printed

    __version__: str

__all__ = [
    "Booked",
    "Outcome",
    "Printed",
    "__version__",
    "apply_mends",
    "check_many",
    "cutting",
    "cutting_of",
    "fabrics",
    "fabrics_picture",
    "facts_of",
    "for_quilt",
    "foundations",
    "lay_out",
    "mended_drawing",
    "mends",
    "outcome",
    "picture_of",
    "plan",
    "plans_of",
    "print_many",
    "quilt_of",
    "read_block",
    "read_colourways",
    "read_quilt",
    "rehearsal_pictures",
    "rehearse",
    "turnings",
    "write_booklet",
    "write_cutting",
    "write_fabrics",
    "write_files",
    "write_mended",
    "write_pdf",
    "write_picture",
    "write_quilt_booklet",
    "write_quilt_cutting",
    "write_quilt_picture",
    "write_rehearsal",
    "write_turning",
    "write_turnings",
]

ELSEWHERE = {
    "check_many": "many",
    "print_many": "many",
    "mends": "mending",
    "apply_mends": "mending",
    "mended_drawing": "mending",
    "write_mended": "mending",
    "picture_of": "picturing",
    "write_picture": "picturing",
    "rehearsal_pictures": "picturing",
    "write_rehearsal": "picturing",
    "Booked": "results",
    "cutting": "handouts",
    "write_booklet": "handouts",
    "write_cutting": "handouts",
    "fabrics": "cloths",
    "fabrics_picture": "cloths",
    "facts_of": "quiltfacts",
    "for_quilt": "quilt.counts",
    "write_fabrics": "cloths",
    "turnings": "exploring",
    "write_turning": "choosing",
    "write_turnings": "choosing",
    "plans_of": "quilts",
    "quilt_of": "quilts",
    "read_quilt": "quilts",
    "cutting_of": "quiltcuts",
    "write_quilt_booklet": "quiltbooks",
    "write_quilt_cutting": "quiltcuts",
    "write_quilt_picture": "quiltpictures",
}
"""Those of them that are no part of `api`, with the module they stand in."""


def __getattr__(name: str) -> object:
    if name == "__version__":
        from importlib.metadata import PackageNotFoundError, version

        try:
            return version("seamwright")
        except PackageNotFoundError:  # run from a copy that was never installed
            return "unknown"
    if name in __all__:
        from importlib import import_module

        return getattr(import_module(f"seamwright.{ELSEWHERE.get(name, 'api')}"), name)
    raise AttributeError(f"module 'seamwright' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted(__all__)
