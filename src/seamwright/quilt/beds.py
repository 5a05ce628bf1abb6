"""Sizes of quilts by name.

Units:  inches, finished quilts. Makers differ by several inches: these are for mattresses of the sizes said, with a
        drop at the sides and at the foot; measure the bed before cutting (common practice, values from memory).
"""

from __future__ import annotations

from seamwright.options import Size

SIZES: dict[str, Size] = {
    "crib": Size(36, 52),  # mattress 28 x 52, 4 in over each side
    "lap": Size(50, 65),  # no bed: over the knees of somebody who sits
    "twin": Size(68, 90),  # mattress 38 x 75, a drop of 15 in
    "queen": Size(90, 95),  # mattress 60 x 80, a drop of 15 in
    "king": Size(106, 95),  # mattress 76 x 80, a drop of 15 in
}
"""Name -> width and height."""
