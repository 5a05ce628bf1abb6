"""The fabrics of plain pieces: called as the quilt calls them, in its colourway; what is not known of them.

Knows:  names of fabrics of a laid quilt.
Leaves: the fabrics of blocks (fabric.colourways), what each is cut into (plaincuts).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from seamwright.drawing.textwrite import fabric_line
from seamwright.fabric.model import Fabric, folded
from seamwright.notes import Note
from seamwright.quilt.model import Quilt, Role, Setting
from seamwright.units import say_list

MOST_TOLD = 8
"""Fabrics that a note lists one by one."""


def in_its_fabrics(quilt: Quilt) -> Quilt:
    """A laid quilt whose plain pieces are of the fabrics that it knows, and what is not known of them told.

    Names are matched as everywhere, without regard for case and spaces. A colourway that is asked for the whole
    quilt changes plain pieces as it changes blocks.
    """
    called = names(quilt)
    cloths = (replace(cloth, fabric=called(cloth.fabric)) for cloth in quilt.cloths)
    dressed = replace(quilt, cloths=tuple(cloths))
    return replace(dressed, notes=(*quilt.notes, *_notes(dressed)))


def names(quilt: Quilt) -> Callable[[str], str]:
    """What the quilt calls a fabric that a line of it names for plain pieces."""
    becomes = _colourway(quilt.setting)
    known: dict[str, str] = {}
    for fabric in quilt.fabrics:
        known.setdefault(folded(fabric.name), fabric.name)

    def called(name: str) -> str:
        name = becomes.get(folded(name), name)
        return known.get(folded(name), name)

    return called


def _colourway(setting: Setting) -> dict[str, str]:
    """What fabrics become, by folded name, in the colourway asked for the whole quilt."""
    asked = folded(dict(setting.options).get("colourway", ""))
    ways = (way for way in setting.colourways if folded(way.name) == asked)
    return {folded(before): after for way in ways for before, after in way.changes}


def _notes(quilt: Quilt) -> Iterator[Note]:
    yield from _two_colours(quilt)
    yield from _unworn(quilt)
    bare = list(dict.fromkeys(cloth.role for cloth in quilt.cloths if not cloth.fabric))
    if bare:
        what = f"no fabric is named yet for {say_list([_several(role) for role in bare])}"
        yield Note("fabric", what, sum(not cloth.fabric for cloth in quilt.cloths))
    plain = {cloth.fabric for cloth in quilt.cloths}
    told = {note.text.split(" (line ")[0] for note in quilt.notes if note.code == "fabric"}
    unknown = [f.name for f in quilt.fabrics if f.name in plain and _unseen(f) and f.name not in told]
    if unknown:
        one = len(unknown) == 1
        what = f"no line says what colour {say_list(unknown, most=MOST_TOLD)} {'is' if one else 'are'}"
        line = fabric_line(Fabric(unknown[0], colour="#9fb8c8"))
        yield Note("fabric", f"{what}; add a line such as: {line}", len(unknown))


def _unworn(quilt: Quilt) -> Iterator[Note]:
    """Fabric lines of the quilt that nothing of it is of, each with the nearest name that has no line."""
    import difflib

    setting = quilt.setting
    worn = {
        name or ""
        for look in quilt.looks
        for n in range(len(look.block.patches))
        for name in look.block.fabrics_in(n)
    }
    worn |= {cloth.fabric for cloth in quilt.cloths}
    worn |= {each.fabric for each in (setting.binding, setting.backing) if each}
    worn |= {name for way in setting.colourways for change in way.changes for name in change}
    known, stated = {folded(name) for name in worn}, {folded(fabric.name) for fabric in setting.fabrics}
    for fabric in setting.fabrics:
        if folded(fabric.name) not in known:
            near = difflib.get_close_matches(folded(fabric.name), sorted(known - stated - {""}), n=1)
            perhaps = f"; perhaps {near[0]} is meant" if near else ""
            yield Note("fabric", f"nothing in the quilt is of {fabric.name}, which a line states{perhaps}")


def _two_colours(quilt: Quilt) -> Iterator[Note]:
    """Fabrics of one name that blocks show in different colours; the quilt has one fabric of a name."""
    worn: dict[str, dict[str, str]] = {}
    for look in quilt.looks:
        for fabric in look.block.fabrics:
            if fabric.colour and any(
                fabric.name in look.block.fabrics_in(n) for n in range(len(look.block.patches))
            ):
                worn.setdefault(fabric.name, {}).setdefault(fabric.colour, look.source)
    for name, colours in worn.items():
        if len(colours) > 1:
            told = say_list([f"{colour} in {source}" for colour, source in colours.items()], most=MOST_TOLD)
            line = fabric_line(Fabric(name, colour=next(iter(colours))))
            what = f"{name} is {told}, and a quilt has one fabric of a name; say which with a line: {line}"
            yield Note("fabric", what, len(colours))


def _unseen(fabric: Fabric) -> bool:
    return fabric.colour is None and fabric.value is None


def _several(role: Role) -> str:
    words = role.value
    return words if words.endswith("s") else words + ("es" if words.endswith("sh") else "s")
