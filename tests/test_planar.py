"""The plane map: faces, sides of edges, seams as runs."""

from seamwright.block.model import OUTLINE, OUTSIDE
from seamwright.geometry import signed_area
from support.exact import exact_block


def test_two_crossing_lines_make_four_patches_and_two_seams():
    block = exact_block([((0, 3), (6, 3)), ((3, 0), (3, 6))])
    assert len(block.patches) == 4
    assert sorted(len(seam.points) for seam in block.seams) == [3, 3]
    assert all(signed_area(block.patch_ring(p)) == 9 for p in range(4))
    assert signed_area(block.outline_ring()) == 36


def test_the_sides_of_an_edge_are_its_patches():
    block = exact_block([((3, 0), (3, 6))])
    (seam,) = block.seams
    edge = block.edges[seam.edges[0]]
    assert block.points[edge.start][1] < block.points[edge.end][1], "the factory sorts ends"
    # Walking down (+y), the right hand is on the side of smaller x.
    right = block.patch_ring(edge.right)
    assert max(x for x, _ in right) == 3


def test_outline_edges_have_the_outside_on_one_side_and_belong_to_no_seam():
    block = exact_block([((3, 0), (3, 6))])
    for edge in block.edges:
        assert (edge.seam == OUTLINE) == (OUTSIDE in (edge.left, edge.right))


def test_a_part_that_floats_inside_a_patch_is_its_hole():
    block = exact_block([((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))])
    assert len(block.patches) == 2
    (outer,) = [p for p in block.patches if p.holes]
    assert len(outer.holes[0]) == 4


def test_five_rays_from_a_point_are_five_seams():
    block = exact_block([((3, 3), p) for p in ((3, 0), (6, 2), (5, 6), (1, 6), (0, 2))])
    assert len(block.patches) == 5
    assert len(block.seams) == 5


def test_a_line_with_a_gap_is_two_seams():
    # x = 3 is drawn above y = 2 and below y = 4 only.
    block = exact_block([((0, 2), (6, 2)), ((0, 4), (6, 4)), ((3, 0), (3, 2)), ((3, 4), (3, 6))])
    assert len(block.seams) == 4
