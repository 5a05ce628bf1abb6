"""Fabrics that the page offers to begin with: a harbour and the sea, from light to dark.

Knows:  names and colours; they are written into a drawing only when one is used.
Leaves: everything else about fabrics (fabric), her own palettes (drawing.palette).
"""

from __future__ import annotations

from seamwright.fabric.model import Fabric

HARBOUR = tuple(
    Fabric(name, colour=colour)
    for name, colour in (
        ("chalk", "#f4f1ea"),
        ("foam", "#dce8ea"),
        ("sand", "#dcc9a6"),
        ("sky", "#a9c9dc"),
        ("brass", "#c39343"),
        ("dune", "#a8804f"),
        ("sea", "#4f8196"),
        ("signal", "#c8102e"),
        ("deep", "#24465a"),
        ("ink", "#1b2a41"),
    )
)
"""No codes: those are made from the names, so that none is taken."""
