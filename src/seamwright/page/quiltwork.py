"""What the page shows of a quilt, worked out in a process of its own: its picture, its facts, its turnings.

Knows:  that blocks of a quilt lie in the folder, that the text on the page may be newer than its file.
Leaves: quilts, pictures and facts themselves (quilts, quiltpictures, quiltfacts), files (quiltfiles).
Units:  inches of the picture, its top left corner at (0, 0); sizes in words.
Method: names of folders are no business of the page and are taken out of what is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from seamwright.drawing.read import read_as
from seamwright.errors import Fault, FileError, SeamwrightError, StuckError
from seamwright.page.folder import inside
from seamwright.quilt.form import setting_of, stated_in
from seamwright.quilt.model import Role, Set, Setting
from seamwright.words.onpage import capital, on_page

if TYPE_CHECKING:
    from seamwright.geometry import Ring
    from seamwright.notes import Note
    from seamwright.picture.quiltview import QuiltView
    from seamwright.quilt.model import Quilt

SHOWN_IN = 10.0
"""Longer side of the picture on the page: pens are as on paper of that size."""
SHOWN = ("rows", "unused", "fabric", "eased")
"""Notes shown beside the picture; those for whoever sews it are told with what it comes to."""
OPEN_IT = "Open the block: there stands what mends it"


def pictured(folder: str, name: str, text: str, finish: str) -> dict[str, Any]:
    """The quilt as it stands: a sentence, its picture, where each place lies in it.

    Args:
        folder, name: where its file lies. finish: "colour", "grey" or "blank".

    Returns:
        state ("can", "unreadable"), sentence, faults; of a quilt that can be laid also svg, width, height, across,
        down, places [row, column, ring], square (a quarter turn fits), fabrics (name, colour), ways, notes.
    """
    from seamwright.ink.svg import to_svg
    from seamwright.picture.cloth import Finish
    from seamwright.picture.quilt import quilt_repeated
    from seamwright.quilts import quilt_of
    from seamwright.words.quiltpictures import facts

    try:
        with setting_at(folder, name, text) as setting:
            quilt = quilt_of(setting)
    except SeamwrightError as error:
        return _not_laid(error, folder, text)
    repeated, view = quilt_repeated(quilt, SHOWN_IN, Finish(finish))
    units = quilt.setting.units
    return {
        "state": "can",
        "sentence": facts(quilt, units),
        "faults": [],
        "svg": to_svg((), view.width, view.height, title=quilt.setting.name, repeated=repeated),
        "width": view.width,
        "height": view.height,
        "across": quilt.columns,
        "down": quilt.rows,
        "places": places_of(quilt, view),
        "square": abs(quilt.cell_in[0] - quilt.cell_in[1]) < 1e-9,
        "fabrics": [(fabric.name, fabric.colour or "") for fabric in quilt.fabrics],
        "ways": _colourways(quilt),
        "notes": [said(note) for note in quilt.notes if note.code in SHOWN],
    }


def _not_laid(error: SeamwrightError, folder: str, text: str) -> dict[str, Any]:
    """What stands against a quilt; lines are named only if the text itself cannot be read."""
    from seamwright.quilt.editview import view_of
    from seamwright.units import say_count

    told = faults_of(error, folder)
    if view_of(text).faults:
        left = len(told) - 1
        more = f" There {'is' if left == 1 else 'are'} {say_count(left, 'fault')} more." if left else ""
        sentence = f"This quilt's file cannot be read: {told[0]['text']}{more}"
    else:
        sentence = "This quilt cannot be laid yet: " + " ".join(f"{f['what']}. {f['mend']}." for f in told)
    return {"state": "unreadable", "sentence": sentence, "faults": told}


def _colourways(quilt: Quilt) -> dict[str, list[str]]:
    """The colourways that each block of the quilt has, by its name."""
    shared = [way.name for way in quilt.setting.colourways]
    found: dict[str, list[str]] = {}
    for look in quilt.looks:
        own = [way.name for way in look.block.as_drawn().colourways]
        found[look.source] = list(dict.fromkeys((*found.get(look.source, ()), *own, *shared)))
    return found


def places_of(quilt: Quilt, view: QuiltView) -> list[tuple[int, int, Ring]]:
    """Every place of the centre as it is seen: row, column, its corners in the picture.

    Corners begin at the top left one of what lies there upright.
    """
    from seamwright.geometry import moved
    from seamwright.quilt import onpoint

    rings: dict[tuple[int, int], Ring] = {}
    for spot in quilt.spots:
        if spot.part == "centre":
            block = quilt.looks[spot.look].block
            wide, high = block.width_in, block.height_in
            ring = tuple(
                moved(spot.place, corner) for corner in ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
            )
            rings[spot.row, spot.column] = ring
    for cloth in quilt.cloths:
        if cloth.role is Role.SETTING_BLOCK:
            rings[cloth.row, cloth.column] = cloth.ring
    point, cells = quilt.setting.set is Set.ON_POINT, quilt.setting.cells
    seen = [(r, c) for r, row in enumerate(cells) for c in range(len(row))]
    sewn = [onpoint.place(r, c, quilt.columns) if point else (r, c) for r, c in seen]
    return [(r, c, view.line(rings[at])) for (r, c), at in zip(seen, sewn, strict=True)]


def sewable(folder: str, name: str, text: str) -> dict[str, Any]:
    """Whether every block of a quilt can be sewn: `stuck`, a sentence for each that cannot, and what to do.

    Raises:
        SeamwrightError: the quilt cannot be laid, or a block cannot be read.
    """
    from seamwright.quilts import plans_of, quilt_of

    try:
        with setting_at(folder, name, text) as setting:
            plans_of(quilt_of(setting))
    except StuckError as error:
        # A block and its mirror image are stuck alike, and in one file.
        told = (fault.what.partition(". ")[0].replace(" reversed cannot", " cannot") for fault in error.faults)
        return {"stuck": [*dict.fromkeys(f"{capital(words)}." for words in told), f"{OPEN_IT}."]}
    except SeamwrightError as error:
        raise plain(error, folder) from error
    return {"stuck": []}


# -- the setting as it stands on the page -----------------------------------------------------------------------


@contextmanager
def setting_at(folder: str, name: str, text: str) -> Iterator[Setting]:
    """The quilt of a text, its blocks found in the folder; only as long as the context lasts.

    Raises:
        DrawingError: what cannot be read, and blocks that do not lie in the folder.
    """
    home = Path(folder).resolve()
    file = str(home / (Path(name).name or "quilt.setting"))
    stated, lines = stated_in(text.encode(), file)
    for key, (where, line, column) in stated.files.items():
        try:
            path = inside(home, where)
        except FileError as error:
            stated.faults.add(Fault("file", error.faults[0].what, error.faults[0].mend, line=line, column=column))
            continue
        stated.sources[key] = replace(stated.sources[key], path=str(path))
        if not path.is_file():
            what, mend = (
                f"there is no block {where} in the folder",
                "Bring it in, or take another block in its place",
            )
            stated.faults.add(Fault("file", what, mend, line=line, column=column))
    setting = setting_of(stated, file, lines)
    # What blocks take of the quilt's own fabrics they read from its file: from the text as it stands.
    with read_as(Path(setting.file), text.encode()):
        yield setting


def plain(error: SeamwrightError, folder: str, *, lined: bool = False) -> SeamwrightError:
    """An error without names of folders, and of a block that cannot be sewn with what to do on the page.

    lined: it names lines of the quilt's file, which only those see who mend it with a text editor.
    """
    home, stuck = f"{Path(folder).resolve()}/", isinstance(error, StuckError)
    faults = tuple(
        replace(
            fault,
            what=capital(fault.what.replace(home, "")) if stuck else fault.what.replace(home, ""),
            mend=OPEN_IT if stuck else on_page(fault.mend.replace(home, "")),
            line=fault.line if lined and not stuck else None,
            column=fault.column if lined and not stuck else None,
        )
        for fault in error.faults
    )
    return type(error)(error.code, faults)


def said(note: Note) -> str:
    """A note as a sentence."""
    return sentences([note.text])[0]


def sentences(phrases: Iterable[str]) -> list[str]:
    """Phrases as sentences."""
    from seamwright.words.checks import sentence

    return [capital(sentence(phrase)) for phrase in phrases]


def faults_of(error: SeamwrightError, folder: str) -> list[dict[str, Any]]:
    """Its faults as data."""
    from seamwright.page.faults import error_object

    found: list[dict[str, Any]] = error_object(plain(error, folder, lined=True))["error"]["faults"]
    return found


# -- what it comes to -------------------------------------------------------------------------------------------


def facts_told(folder: str, name: str, text: str) -> dict[str, Any]:
    """What a quilt comes to, in words: blocks, prints, what is cut plain, what to buy, pressing, advice.

    Returns:
        sentence, parts [title, lines], fabrics [name, colour, amount], edges (binding and so on), spare, notes,
        advice, proven.

    Raises:
        SeamwrightError: the quilt cannot be laid, or a block of it cannot be sewn.
    """
    from seamwright.quiltfacts import facts_of
    from seamwright.quilts import quilt_of
    from seamwright.words.quilts import PROVEN, edges_bought, fabrics_bought, quilt_told, size_sentence

    try:
        with setting_at(folder, name, text) as setting:
            facts = facts_of(quilt_of(setting))
    except SeamwrightError as error:
        raise plain(error, folder) from error
    cutting = facts.cutting
    parts = [(part.title, sentences(part.lines)) for part in quilt_told(facts, briefly=False)]
    if facts.quilt.construction:
        parts.insert(1, ("Setting triangles", sentences([facts.quilt.construction])))
    return {
        "sentence": size_sentence(facts),
        "parts": [part for part in parts if not part[0].startswith("Buy")],
        "fabrics": [
            (fabric.name if fabric else "of no named fabric", (fabric.colour if fabric else None) or "", amount)
            for fabric, amount in fabrics_bought(cutting)
        ],
        "edges": sentences(edges_bought(cutting)),
        "spare": f"{cutting.options.spare * 100:g} %" if cutting.options.spare else "nothing",
        "notes": [on_page(said(note)) for note in facts.notes],
        "advice": [on_page(said(note)) for note in facts.advice.notes],
        "proven": PROVEN,
    }
