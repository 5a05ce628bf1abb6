"""The fabrics of a block changed without touching its drawing: by a palette, then by a colourway.

Knows:  which line of a palette changes which fabric, what a colourway makes of them, which ones are asked for.
Leaves: reading palettes (drawing.palette), how a fabric reads (shade), a plan of each (dressing, commands).
Method: a fabric takes the palette's line of its name, else the line of its exact colour that no other fabric's name
        has taken. What the line says wins, the rest stays; but a new colour takes with it the value and warmth of
        the old one. Then all changes of a colourway are done at once, so that fabrics may swap places; its names
        are those of the drawing or of the palette. Shapes, numbers and order of patches are never touched.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

from seamwright.block.model import Block
from seamwright.errors import DrawingError, OptionError, SeamwrightError, fail
from seamwright.fabric.model import Colourway, Fabric, Palette, folded
from seamwright.notes import Note
from seamwright.units import quoted, say_list

MOST_TOLD = 8
"""Fabrics of a palette, and names of colourways, that a message lists one by one."""


def known_colourways(drawn: Sequence[Colourway], palette: Palette | None) -> tuple[Colourway, ...]:
    """The colourways of a drawing and of a palette, which wins where both have one of that name."""
    more = palette.colourways if palette else ()
    taken = {folded(way.name) for way in more}
    return (*(way for way in drawn if folded(way.name) not in taken), *more)


def asked_for(text: str, known: Sequence[Colourway]) -> tuple[str, ...]:
    """The names of the colourways that an option's text asks for, each once, "" for the drawing's own fabrics.

    >>> ways = [Colourway("Dusk", ()), Colourway("night sky", ())]
    >>> [asked_for(text, ways) for text in ("all", "night  sky, dusk", "own,dusk", "")]
    [('', 'Dusk', 'night sky'), ('night sky', 'Dusk'), ('', 'Dusk'), ('',)]

    Raises:
        OptionError: there is none of that name; the mend says the nearest, and which there are.
    """
    names = {folded(way.name): way.name for way in known}
    if folded(text) in names:  # its name may hold a comma
        return (names[folded(text)],)
    found: dict[str, None] = {}
    for part in (" ".join(part.split()) for part in text.split(",")):
        if folded(part) == "all":
            found.update(dict.fromkeys(["", *names.values()]))
        elif folded(part) in names:
            found[names[folded(part)]] = None
        elif folded(part) == "own":
            found[""] = None
        elif part:
            raise _unknown(part, names)
    return tuple(found) or ("",)


def _unknown(part: str, names: Mapping[str, str]) -> SeamwrightError:
    import difflib  # only a slip needs it

    what = f"no colourway is called {quoted(part)}"
    if not names:
        mend = "Neither the drawing nor a palette states one; add a line: colourway dusk sky becomes plum"
        return fail(OptionError, "option", what, mend)
    near = difflib.get_close_matches(folded(part), list(names), n=1)
    there = f"There {'is' if len(names) == 1 else 'are'}: {say_list(list(names.values()), most=MOST_TOLD)}"
    return fail(OptionError, "option", what, f"Perhaps '{names[near[0]]}' is meant. {there}" if near else there)


def dressed(block: Block, palette: Palette | None, colourway: str = "") -> Block:
    """The block of a drawing in the fabrics of a palette and a colourway.

    Args:
        block: as drawn, or dressed before: then it begins anew.
        colourway: the name of one of `known_colourways`; "" for none.

    Raises:
        DrawingError: a colourway of the palette lays a fabric that neither palette nor drawing knows.
    """
    drawn = block.as_drawn()
    if palette is None and not colourway:
        return drawn
    wardrobe = _recoloured(drawn.fabrics, palette) if palette else _Wardrobe.of(drawn)
    ways = known_colourways(drawn.colourways, palette)
    changes = next((way.changes for way in ways if way.name == colourway), ())
    notes = []
    becomes: dict[str, str] = {}
    for before, after in changes:
        old = wardrobe.find(before)
        if old is None or not wardrobe.worn(old):
            continue
        new = wardrobe.find(after)
        if new is None:
            raise _no_fabric(palette, after, wardrobe)
        becomes[old] = new
    if changes and not becomes:
        what = f"colourway {colourway} changes no fabric of {drawn.name}; it speaks of "
        notes.append(Note("colourway", what + say_list([old for old, _ in changes], most=MOST_TOLD)))
    aims = {wardrobe.find(after) for way in ways for _, after in way.changes}
    if palette and not palette.shared:
        notes += _unused(palette, wardrobe, aims)
    names = [wardrobe.now.get(patch.fabric or "") for patch in drawn.patches]
    return replace(
        drawn,
        patches=tuple(
            replace(patch, fabric=becomes.get(name, name) if name else None)
            for patch, name in zip(drawn.patches, names, strict=True)
        ),
        fabrics=_own_codes(wardrobe, {*wardrobe.now.values(), *aims}),
        colourways=tuple(wardrobe.spoken(ways)),
        colourway=colourway,
        notes=(*drawn.notes, *notes),
        drawn=drawn,
    )


@dataclass(slots=True)
class _Wardrobe:
    """The fabrics there are.

    Attributes:
        now: what each fabric of the drawing is called now. fabrics: all of them by the name they have now.
        taken: names that come from the palette and are worn by the block.
    """

    now: dict[str, str]
    fabrics: dict[str, Fabric]
    taken: set[str]

    @classmethod
    def of(cls, block: Block) -> _Wardrobe:
        return cls({f.name: f.name for f in block.fabrics}, {f.name: f for f in block.fabrics}, set())

    def find(self, name: str) -> str | None:
        """What a fabric is called now; by its name in the drawing first, case and spaces forgiven."""
        for names in (self.now, {name: name for name in self.fabrics}):
            if name in names:
                return names[name]
        alike = {folded(one): now for one, now in (*((n, n) for n in self.fabrics), *self.now.items())}
        return alike.get(folded(name))

    def spoken(self, ways: Iterable[Colourway]) -> Iterator[Colourway]:
        """The colourways with fabrics as they are called now, as far as they speak of this block."""
        for way in ways:
            pairs = [(self.find(before), self.find(after)) for before, after in way.changes]
            changes = {old: new for old, new in pairs if old and new and self.worn(old)}
            if changes:
                yield Colourway(way.name, tuple(changes.items()))

    def worn(self, name: str) -> bool:
        """Whether it came from the drawing, under whatever name."""
        return name in self.now.values()


def under_palette(fabrics: Sequence[Fabric], palette: Palette | None) -> dict[str, Fabric]:
    """What a palette makes of fabrics, by the name that each has without it."""
    if palette is None:
        return {fabric.name: fabric for fabric in fabrics}
    wardrobe = _recoloured(fabrics, palette)
    return {name: wardrobe.fabrics[now] for name, now in wardrobe.now.items()}


def _recoloured(fabrics: Sequence[Fabric], palette: Palette) -> _Wardrobe:
    """Fabrics after a palette, and those of the palette that are none of them."""
    by_name = {fabric.name: fabric for fabric in palette.fabrics}
    alike = {folded(fabric.name): fabric for fabric in reversed(palette.fabrics)}
    named = {f.name: by_name.get(f.name) or alike.get(folded(f.name)) for f in fabrics}
    spoken_for = {line.name for line in named.values() if line}
    by_colour = {f.colour: f for f in reversed(palette.fabrics) if f.colour and f.name not in spoken_for}
    wardrobe = _Wardrobe({}, {}, set())
    for fabric in fabrics:
        line = named[fabric.name] or by_colour.get(fabric.colour or "")
        new = _merged(fabric, line) if line else fabric
        wardrobe.now[fabric.name] = new.name
        wardrobe.fabrics.setdefault(new.name, new)
        if line:
            wardrobe.taken.add(new.name)
    for fabric in palette.fabrics:
        wardrobe.fabrics.setdefault(fabric.name, fabric)
    return wardrobe


def _merged(old: Fabric, line: Fabric) -> Fabric:
    """A fabric as a palette's line changes it."""
    recoloured = line.colour is not None and line.colour != old.colour
    turned = line.direction_deg is not None
    return Fabric(
        name=line.name,
        code=line.code or old.code,
        colour=line.colour or old.colour,
        value=line.value or (None if recoloured else old.value),
        warmth=line.warmth or ("" if recoloured else old.warmth),
        direction_deg=line.direction_deg if turned else old.direction_deg,
        width_in=old.width_in if line.width_in is None else line.width_in,
        striped=line.striped if turned else old.striped,
    )


def _own_codes(wardrobe: _Wardrobe, wanted: Container[str | None]) -> tuple[Fabric, ...]:
    """The fabrics that are wanted, no code twice: those of the palette keep theirs, others get new ones."""
    codes: set[str] = set()
    kept: dict[str, str] = {}
    some = [fabric for fabric in wardrobe.fabrics.values() if fabric.name in wanted]
    for fabric in sorted(some, key=lambda f: f.name not in wardrobe.taken):
        kept[fabric.name] = "" if fabric.code in codes else fabric.code
        codes.add(fabric.code)
    return tuple(replace(fabric, code=kept[fabric.name]) for fabric in some)


def _no_fabric(palette: Palette | None, name: str, wardrobe: _Wardrobe) -> SeamwrightError:
    from seamwright.drawing.faults import nearest

    assert palette is not None  # a drawing's own colourways were held against its fabric lines when it was read
    line, column = next(((line, column) for one, line, column in palette.places if one == name), (None, None))
    what = f"neither palette nor drawing says what fabric {quoted(name)} is"
    mend = f"{nearest(name, list(wardrobe.fabrics))}, or add a line: fabric {name}"
    return fail(DrawingError, "unreadable", what, mend, drawing=palette.file, line=line, column=column)


def _unused(palette: Palette, wardrobe: _Wardrobe, aims: Container[str | None]) -> list[Note]:
    """Which lines of a palette change nothing here, each with the fabric of the block whose name is nearest."""
    import difflib

    unused = [f.name for f in palette.fabrics if f.name not in wardrobe.taken and f.name not in aims]
    if not unused:
        return []
    there = {folded(name): name for name in wardrobe.now}
    told = []
    for name in unused[:MOST_TOLD]:
        near = difflib.get_close_matches(folded(name), list(there), n=1)
        told.append(f"{name} (nearest here: {there[near[0]]})" if near else name)
    told += [f"{len(unused) - MOST_TOLD} more"] if len(unused) > MOST_TOLD else []
    file, match = PurePath(palette.file).name, "matches" if len(unused) == 1 else "match"
    return [Note("palette", f"of {file}, {say_list(told)} {match} no fabric of this block", len(unused))]
