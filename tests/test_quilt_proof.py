"""The proof of a laid quilt: whole quilts pass, and each planted fault is refused by its name."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from seamwright.claims.quilts import claim_of_quilt
from seamwright.errors import ProofError
from seamwright.geometry import Affine, after
from seamwright.notes import Note
from seamwright.proof.quilt import check_quilt
from seamwright.proof.quiltclaim import QuiltClaim
from seamwright.quilt.model import Border, Cell, Cloth, Edging, Quilt, Role, Sashing, Set, Setting, Source, Turn
from seamwright.quilts import quilt_of

DESIGNS = Path(__file__).resolve().parents[1] / "designs"
KITE = Source("kite", str(DESIGNS / "kite.svg"), "8 in")
WAVE = Source("wave", str(DESIGNS / "kite.svg"), "4 in")


def kite(quarters: int = 0, *, reversed: bool = False) -> Cell:
    return Cell("kite", Turn(quarters, reversed))


ROWS = ((kite(), kite(1), kite(2, reversed=True)), (kite(3, reversed=True), Cell(fabric="sea"), kite()))


@cache
def quilt(set_: Set = Set.STRAIGHT) -> Quilt:
    """Kites rotated and reversed among plain blocks, sashes, and borders of each kind."""
    rows = ROWS if set_ is Set.STRAIGHT else (ROWS[0], ROWS[1][:2], ROWS[0])
    borders = (
        Border(Edging.BUTTED, 1.0, "foam"),
        Border(Edging.COPING, 1.0, "sea"),
        Border(Edging.PIECED, 4.0, cell=Cell("wave")),
        Border(Edging.MITRED, 3.0, "ink"),
        Border(Edging.BUTTED, 2.0, "foam", "brass"),
    )
    sashing = Sashing(1.5, "foam", "brass", outside=True)
    return quilt_of(
        Setting(
            "evening watch", "", (KITE, WAVE), rows, set=set_, triangles="sea", sashing=sashing, borders=borders
        )
    )


def laid(place: Affine, xy: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    a, b, c, d, e, f = place
    return np.asarray(xy @ np.array([[a, b], [c, d]]) + np.array([e, f]))


def refused(claim: Quilt | QuiltClaim, code: str, words: str | None = None) -> None:
    with pytest.raises(ProofError, match=words) as told:
        check_quilt(claim_of_quilt(claim) if isinstance(claim, Quilt) else claim)
    assert told.value.code == code


@pytest.mark.parametrize("set_", Set)
def test_a_whole_quilt_passes_and_its_pieces_add_up_to_its_size(set_: Set) -> None:
    made = quilt(set_)
    check_quilt(claim_of_quilt(made))
    # GEOS, patch by patch: the proof itself looks at each look once.
    patches = [
        shapely.transform(
            shapely.Polygon(block.patch_ring(number), block.patch_holes(number)),
            partial(laid, spot.place),
        )
        for spot in made.spots
        for block in [made.looks[spot.look].block]
        for number in range(len(block.patches))
    ]
    areas = [*patches, *(shapely.Polygon(cloth.ring) for cloth in made.cloths)]
    assert math.fsum(area.area for area in areas) == pytest.approx(made.width_in * made.height_in, rel=1e-9)
    union = shapely.union_all(areas, grid_size=1e-7)
    assert union.area == pytest.approx(made.width_in * made.height_in, rel=1e-6)
    assert union.bounds == pytest.approx((0, 0, made.width_in, made.height_in), abs=1e-6)


def test_quilts_on_point_pass_at_any_angle_of_their_blocks() -> None:
    # A block on point is rotated by 45 degrees and its own turn: each of the four, and its mirror image.
    for quarters in range(4):
        for flipped in (False, True):
            rows = ((kite(quarters, reversed=flipped),) * 2,) * 3
            check_quilt(
                claim_of_quilt(quilt_of(Setting("t", "", (KITE,), rows, set=Set.ON_POINT, triangles="sea")))
            )


def test_edges_that_all_but_coincide_are_no_overlap() -> None:
    # Without a grid GEOS 3.14.1 calls the sash below the third block, whole, a part of that block.
    sources = (
        Source("reef", str(DESIGNS / "reef.seams"), "20 cm"),
        Source("breakwater", str(DESIGNS / "breakwater.seams"), "20 cm"),
    )
    rows = ((Cell("reef", Turn(2)),), (Cell("breakwater"),))
    sashing = Sashing(1.5, "foam", "brass", outside=True)
    quilt_of(Setting("t", "", sources, rows, repeat=(1, 2), set=Set.ON_POINT, triangles="sea", sashing=sashing))


# -- planted faults ------------------------------------------------------------------------------------------------


def spot_changed(made: Quilt, number: int, place: Callable[[Affine], Affine]) -> Quilt:
    spots = list(made.spots)
    spots[number] = replace(spots[number], place=place(spots[number].place))
    return replace(made, spots=tuple(spots))


def cloth_changed(made: Quilt, wanted: Callable[[Cloth], bool], change: Callable[[Cloth], Cloth | None]) -> Quilt:
    cloths = list(made.cloths)
    number = next(k for k, cloth in enumerate(cloths) if wanted(cloth))
    new = change(cloths[number])
    cloths[number : number + 1] = [] if new is None else [new]
    return replace(made, cloths=tuple(cloths))


def lies_in(part: str, cloth: Cloth) -> bool:
    return cloth.part == part


@pytest.mark.parametrize("set_", Set)
def test_a_shifted_block_is_refused(set_: Set) -> None:
    moved = spot_changed(quilt(set_), 0, lambda place: after(place, (1.0, 0.0, 0.0, 1.0, 1 / 64, 0.0)))
    refused(moved, "overlap", "kite.* at row")


@pytest.mark.parametrize("set_", Set)
@pytest.mark.parametrize("role", [Role.SASH, Role.CORNERSTONE, Role.COPING, Role.BORDER, Role.BORDER_CORNER])
def test_a_missing_piece_is_refused(role: Role, set_: Set) -> None:
    refused(cloth_changed(quilt(set_), lambda cloth: cloth.role is role, lambda _: None), "hole")


@pytest.mark.parametrize("role", [Role.SIDE_TRIANGLE, Role.CORNER_TRIANGLE])
def test_a_missing_setting_triangle_is_refused(role: Role) -> None:
    refused(cloth_changed(quilt(Set.ON_POINT), lambda cloth: cloth.role is role, lambda _: None), "hole")


def test_a_missing_block_is_refused() -> None:
    refused(replace(quilt(), spots=quilt().spots[1:]), "rows not as asked")
    border = next(k for k, spot in enumerate(quilt().spots) if spot.part == "border 3")
    refused(replace(quilt(), spots=quilt().spots[:border] + quilt().spots[border + 1 :]), "hole")


def test_a_mitre_cut_the_wrong_way_is_refused() -> None:
    def wrong_way(cloth: Cloth) -> Cloth:
        # The long side inwards.
        (x0, top), (x1, _), _, (_, inner) = cloth.ring
        return replace(cloth, ring=((x0 + 3, top), (x1 - 3, top), (x1, inner), (x0, inner)))

    refused(cloth_changed(quilt(), lambda c: c.part == "border 4" and c.row == 0, wrong_way), "overlap")


def test_a_border_strip_cut_too_short_is_refused() -> None:
    def short(cloth: Cloth) -> Cloth:
        (x0, y0), (x1, _), (_, y1), _ = cloth.ring
        return replace(
            cloth, ring=((x0, y0), (x1 - 0.01, y0), (x1 - 0.01, y1), (x0, y1)), width_in=cloth.width_in - 0.01
        )

    refused(cloth_changed(quilt(), lambda c: c.part == "border 5" and c.row == 0, short), "hole")


def test_a_strip_said_to_be_shorter_than_it_lies_is_refused() -> None:
    for part in ("border 1", "border 4"):
        said = cloth_changed(quilt(), partial(lies_in, part), lambda c: replace(c, width_in=c.width_in - 1 / 16))
        refused(said, "wrong size of a piece", part)


def test_a_block_sheared_mirrored_or_stretched_is_refused() -> None:
    middle = (4.0, 4.0)

    def about(way: tuple[float, float, float, float]) -> Callable[[Affine], Affine]:
        a, b, c, d = way
        x, y = middle
        whole = (a, b, c, d, x - a * x - c * y, y - b * x - d * y)
        return lambda place: after(whole, place)

    for way in ((1.0, 0.0, 0.01, 1.0), (-1.0, 0.0, 0.0, 1.0), (1.0, 0.0, 0.0, -1.0), (1.01, 0.0, 0.0, 1.0)):
        refused(spot_changed(quilt(), 0, about(way)), "block misshapen")


def test_a_block_eased_further_than_was_told_is_refused() -> None:
    wider = spot_changed(quilt(), 0, lambda place: after((1 + 1 / 400, 0.0, 0.0, 1.0, 0.0, 0.0), place))
    refused(wider, "block misshapen", "stretched by 0.0200 in")
    # Once the sewer was told, it is the overlap with its neighbour that is refused.
    refused(replace(wider, notes=(Note("eased", "", 1, 0.03),)), "overlap")


@pytest.mark.parametrize("set_", Set)
def test_a_block_rotated_otherwise_than_asked_is_refused(set_: Set) -> None:
    quarter = (0.0, 1.0, -1.0, 0.0, 8.0, 0.0)
    refused(
        spot_changed(quilt(set_), 0, lambda place: after(quarter, place)), "block not as asked", "kite.* at row"
    )


def test_a_border_block_with_its_top_inwards_is_refused() -> None:
    number = next(k for k, spot in enumerate(quilt().spots) if spot.part == "border 3" and spot.column == 2)
    half = (-1.0, 0.0, 0.0, -1.0, 4.0, 4.0)
    refused(spot_changed(quilt(), number, lambda place: after(half, place)), "block not as asked", "border 3, top")


@pytest.mark.parametrize("source", ["kite.svg", "whirlpool.seams"])
def test_a_reversed_block_that_is_not_mirrored_is_refused(source: str) -> None:
    size = "8 in"
    rows = ((Cell("b"), Cell("b", Turn(0, True))),)
    made = quilt_of(Setting("t", "", (Source("b", str(DESIGNS / source), size),), rows))
    check_quilt(claim_of_quilt(made))
    # The second block is laid as the first one is, in its own place.
    spots = list(made.spots)
    spots[1] = replace(spots[0], place=after(spots[0].place, (1.0, 0.0, 0.0, 1.0, 8.0, 0.0)), column=1)
    refused(replace(made, spots=tuple(spots)), "block not as asked", "reversed")
    if len(made.looks) > 1:
        looks = (made.looks[0], replace(made.looks[1], block=made.looks[0].block))
        refused(replace(made, looks=looks), "block not as asked", "reversed")


def test_another_fabric_in_a_patch_is_refused() -> None:
    made = quilt()
    claim = claim_of_quilt(made)
    looks = list(claim.looks)
    first = looks[0].patches[0]
    looks[0] = replace(looks[0], patches=(replace(first, fabric="mud"), *looks[0].patches[1:]))
    refused(replace(claim, looks=tuple(looks)), "block not as asked")


def test_a_patch_left_out_of_a_look_or_laid_twice_is_refused() -> None:
    claim = claim_of_quilt(quilt())
    look = claim.looks[0]
    for patches in (look.patches[1:], (*look.patches, look.patches[0])):
        refused(replace(claim, looks=(replace(look, patches=patches), *claim.looks[1:])), "look not whole")


def test_a_plain_block_of_another_fabric_and_blocks_that_changed_places_are_refused() -> None:
    other = cloth_changed(quilt(), lambda c: c.role is Role.SETTING_BLOCK, lambda c: replace(c, fabric="foam"))
    refused(other, "rows not as asked")
    first, second = quilt().spots[:2]
    changed = (replace(first, place=second.place), replace(second, place=first.place))
    # Both are kites: what differs is how each is rotated in its place.
    assert first.quarters != second.quarters
    refused(
        replace(
            quilt(),
            spots=(
                replace(first, place=after(first.place, (1, 0, 0, 1, 9.5, 0))),
                replace(second, place=after(second.place, (1, 0, 0, 1, -9.5, 0))),
                *quilt().spots[2:],
            ),
        ),
        "block not as asked",
    )
    check_quilt(claim_of_quilt(replace(quilt(), spots=(*changed[::-1], *quilt().spots[2:]))))


def test_a_quilt_larger_or_smaller_than_its_pieces_is_refused() -> None:
    refused(replace(quilt(), width_in=quilt().width_in + 0.01), "hole")
    refused(replace(quilt(), width_in=quilt().width_in - 0.01), "outside the quilt")


def test_what_is_no_number_is_refused() -> None:
    refused(replace(quilt(), height_in=math.nan), "not a number")
    refused(spot_changed(quilt(), 0, lambda place: (*place[:5], math.inf)), "not a number")


def test_four_hundred_blocks_of_81_patches_are_proven_look_by_look() -> None:
    from support.random_blocks import grid
    from support.set_by_hand import set_by_hand

    block = replace(grid(9, 9), name="b", file="b.seams")
    made = set_by_hand([block], [[(0, 0)] * 20] * 20)
    rows = ((Cell("b"),) * 20,) * 20
    made = replace(made, setting=Setting("t", "", (Source("b", "b.seams"),), rows))
    claim = claim_of_quilt(made)
    assert len(claim.looks) == 1 and sum(len(look.patches) for look in claim.looks) == 81
    check_quilt(claim)
