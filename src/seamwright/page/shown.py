"""What the drawing on the page shows of a plan: tints, names in patches, marks of what is stuck, lines of mends.

Knows:  which of it goes with the verdict, as data.
Leaves: where it lies (picture), how it is drawn (the page's own files).
Units:  inches of the finished block, front view; type sizes too.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import lru_cache
from typing import Any

from seamwright.geometry import Ring, bounds, boxes_meet
from seamwright.ink.lettering import CAP_HEIGHT
from seamwright.ink.model import Words
from seamwright.notes import Note, all_notes
from seamwright.picture.labels import name_in
from seamwright.picture.marks import lettered, stuck_places
from seamwright.picture.mends import changed_lines
from seamwright.picture.plan import NAME_SIZES_PT, SIDE_IN, STUCK
from seamwright.picture.tints import on, section_tints
from seamwright.piecing.model import Mend, Plan
from seamwright.piecing.turns import turns_of
from seamwright.report.values import note_object, rounded_point, rounded_points
from seamwright.words.checks import sentence
from seamwright.words.onpage import capital, on_page

DIGITS = 4
"""Decimals of places that are only looked at."""
KEY_IN = 0.13
"""Of the picture: names keep this far from the middle of a key."""


def patch_looks(plan: Plan) -> list[dict[str, Any]]:
    """For each patch, by number: the colour below it, that of its name, and the middle of its name.

    A name that finds no room even at the smallest size has none.
    """
    block = plan.block
    tints = section_tints(plan)
    colours = {patch: tints[s.name] for s in plan.sections for patch in s.patches}
    colours |= {patch: STUCK for o in plan.obstructions for patch in o.patches}
    unit_pt = 72 * SIDE_IN / max(block.width_in, block.height_in)
    keys = _keys(plan, KEY_IN * 72 / unit_pt)
    looks = []
    for patch, name in enumerate(plan.patch_names()):
        rings = (block.patch_ring(patch), *block.patch_holes(patch))
        colour = colours.get(patch, "#FFFFFF")
        look: dict[str, Any] = {"colour": colour, "ink": on(colour), "name_at": None, "name_size": None}
        words = _name(rings, name, _near(keys, rings[0]), unit_pt)
        if words is not None:
            size, (x, y) = words.size_pt / unit_pt, words.at
            look["name_at"] = rounded_point((x, y - CAP_HEIGHT * size / 2), DIGITS)
            look["name_size"] = round(size, DIGITS)
        looks.append(look)
    return looks


@lru_cache(maxsize=4096)
def _name(rings: tuple[Ring, ...], name: str, keys: tuple[Ring, ...], unit_pt: float) -> Words | None:
    # Most patches of a drawing are as they were before its last change.
    return name_in(rings, name, NAME_SIZES_PT, obstacles=keys, unit_pt=unit_pt)


def _near(keys: Iterable[Ring], ring: Ring) -> tuple[Ring, ...]:
    """Those that a name inside of a ring could touch."""
    within = bounds(ring)
    return tuple(key for key in keys if boxes_meet(bounds(key), within))


def _keys(plan: Plan, reach: float) -> list[Ring]:
    """Boxes round the keys of what is stuck and of advice: names keep clear of them."""
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    places = [at for _, note in lettered(all_notes(plan)) for at in note.places_in]
    places += [at for o in plan.obstructions if (at := stuck_places(plan.block, o).key_at) is not None]
    return [tuple((x + reach * i, y + reach * j) for i, j in corners) for x, y in places]


def stuck_objects(plan: Plan) -> list[dict[str, Any]]:
    """For each obstruction what is marked: lines, spots, where its number stands (None: beside each spot)."""
    made = []
    for obstruction in plan.obstructions:
        stuck = stuck_places(plan.block, obstruction)
        made.append(
            {
                "number": obstruction.number,
                "why": on_page(sentence(obstruction.why)),
                "lines_in": [rounded_points(line, DIGITS) for line in stuck.lines],
                "spots_in": rounded_points(stuck.spots, DIGITS),
                "key_at": rounded_point(stuck.key_at, DIGITS) if stuck.key_at is not None else None,
            }
        )
    return made


def note_objects(notes: Iterable[Note], of_drawing: Collection[Note] = ()) -> list[dict[str, Any]]:
    """Notes in the page's words; advice has the letter that stands at its places.

    Args:
        of_drawing: those of them that tell what was read and tidied.
    """
    notes = tuple(notes)
    letters = {id(note): letter for letter, note in lettered(notes)}
    return [
        {
            **note_object(note),
            "text": capital(on_page(sentence(note.text))),
            "letter": letters.get(id(note), ""),
            "of_drawing": note in of_drawing,
        }
        for note in notes
    ]


def turn_objects(plan: Plan) -> list[dict[str, Any]]:
    """Where joins turn, or close a seam in a second go (`is_half`), with the number of the join."""
    return [
        {"at_in": rounded_point(plan.block.points[turn.point], DIGITS), "join": turn.join, "is_half": turn.is_half}
        for turn in turns_of(plan)
    ]


def mend_lines(plan: Plan, mend: Mend) -> dict[str, Any]:
    """Lines that a mend takes away or moves, and those it draws."""
    old, new = changed_lines(plan.block, [mend])
    return {
        "old_in": [rounded_points(run, DIGITS) for run in old],
        "new_in": [rounded_points(run, DIGITS) for run in new],
    }
