"""The block as the eye sees it: what is pieced beforehand shows its parts, each in its own fabric.

Knows:  which patch of a block each patch of its drawing lies in, and what it wears there.
Leaves: piecing beforehand (prepieced), what is seen (fabric, picture).
Method: the drawing is kept beside a block whose patches were joined; it has the same lines and more. Its patches
        take the fabrics that parts and patches wear now, whatever palette or colourway these came from.
"""

from __future__ import annotations

from dataclasses import replace

from seamwright.block.model import Block


def as_seen(block: Block) -> tuple[Block, tuple[int, ...]]:
    """The block with every part a patch of its own, and for each of its patches the one of `block` it lies in."""
    if not block.pre_pieced:
        return block, tuple(range(len(block.patches)))
    from seamwright.block.prepieced import came_from

    drawn = block.as_drawn()
    lies_in = came_from(drawn, block)
    worn = {part.ring: part.fabric for made in block.pre_pieced for part in made.parts}
    joined = {made.patch for made in block.pre_pieced}
    patches = tuple(
        replace(patch, fabric=worn[drawn.patch_ring(n)] if within in joined else block.patches[within].fabric)
        for n, (patch, within) in enumerate(zip(drawn.patches, lies_in, strict=True))
    )
    seen = replace(drawn, patches=patches, fabrics=block.fabrics, colourway=block.colourway)
    return seen, tuple(lies_in)
