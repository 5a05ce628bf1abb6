"""Advice on a whole quilt: what can be sewn as it is set, but asks for a look or for care.

Knows:  seams of two blocks that nearly meet, patches that grow together across an edge, points lost in a neighbour,
        points where many patches meet.
Leaves: advice within a block (piecing.advice), on the quilt as a whole (wholeadvice), which pieces touch
        (contacts), seams that nest (pressing).
Units:  inches of the finished quilt.
Method: one note for each kind, with all its places. Thresholds are common practice or our own judgement, as said
        beside each: nothing here stops anything. Each kind of meeting of two sides is looked at once, however often
        it comes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from seamwright.block.asseen import as_seen
from seamwright.block.model import Block
from seamwright.fabric.contrast import read_alike
from seamwright.fabric.model import Fabric
from seamwright.geometry import Point
from seamwright.notes import Note
from seamwright.options import DEFAULT_ALLOWANCE_IN, Units
from seamwright.piecing.advice import CROWD, NAMED
from seamwright.piecing.shapes import ANGLE_SLACK_DEG, TIP_DEG
from seamwright.piecing.vanishing import STILL_SHARP_DEG
from seamwright.quilt.balance import Balance, balance
from seamwright.quilt.contacts import SAME_IN, Contact, contacts_of, on_side, pieces_of, sides_of
from seamwright.quilt.lines import MEET_WITHIN_IN
from seamwright.quilt.meeting import Meeting
from seamwright.quilt.model import Quilt
from seamwright.quilt.wholeadvice import whole_notes
from seamwright.units import say_count, say_length, say_list

MISS_IN = 1 / 4
"""Seams of two blocks that end nearer than this on both sides of their common edge look as if they were meant to
meet: the allowance that a foot beside the needle measures by."""


@dataclass(frozen=True, slots=True)
class Miss:
    """One kind of meeting at which seams of two blocks miss each other.

    Attributes:
        one, other: the sides, such as "the top side of kite"; named as the blocks are drawn.
        off_in: by how much. places: all of them, in the quilt.
    """

    one: str
    other: str
    off_in: float
    places: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Grown:
    """Patches of one fabric that grow together across edges of blocks.

    Attributes:
        fabric: its name. edges: how many edges between two blocks, or a block and a plain piece. length_in: of all
            the runs.
    """

    fabric: str
    edges: int
    length_in: float


@dataclass(frozen=True, slots=True)
class Advice:
    """All that is advised.

    Attributes:
        edges: how many edges blocks share with blocks or plain pieces.
    """

    balance: Balance
    misses: tuple[Miss, ...]
    grown: tuple[Grown, ...]
    edges: int
    notes: tuple[Note, ...]


def advised(quilt: Quilt, units: Units = Units.INCH, allowance_in: float = DEFAULT_ALLOWANCE_IN) -> Advice:
    """What the maker of a quilt should know before she cuts."""
    return _Look(quilt, units, allowance_in).all()


class _Look:
    """One quilt, looked at for each kind of advice."""

    def __init__(self, quilt: Quilt, units: Units, allowance_in: float) -> None:
        self.quilt, self.units, self.allowance_in = quilt, units, allowance_in
        self.seen = [as_seen(look.block)[0] for look in quilt.looks]
        self.pieces = pieces_of(quilt, self.seen)
        # Where both are plain nothing is drawn that could miss, vanish or crowd.
        self.contacts = [
            contact
            for contact in contacts_of(self.pieces)
            if self.pieces[contact.one].look >= 0 or self.pieces[contact.other].look >= 0
        ]
        self.fabrics = {fabric.name: fabric for fabric in quilt.fabrics}
        self.balance = balance(quilt)

    def all(self) -> Advice:
        misses, grown = self.misses(), self.grown()
        meeting = Meeting(self.quilt, self.seen, self.pieces, self.contacts)
        found = (
            *whole_notes(self.quilt, self.balance, self.units, self.allowance_in),
            self.missing(misses),
            self.growing(grown),
            self.lost(meeting),
            self.crowded(meeting),
        )
        return Advice(
            self.balance, misses, grown, len(self.contacts), tuple(note for note in found if note is not None)
        )

    # -- across the edges --------------------------------------------------------------------------------------

    def misses(self) -> tuple[Miss, ...]:
        """Every kind of meeting of two blocks where seams end near each other and not together."""
        kinds: dict[tuple[str, str, float], list[Point]] = {}
        for contact in self.contacts:
            if self.pieces[contact.one].look < 0 or self.pieces[contact.other].look < 0:
                continue
            names = self._side(contact.one, contact.side), self._side(contact.other, contact.other_side)
            for at, off in self._missed(contact):
                a, b = sorted(names)
                kinds.setdefault((a, b, round(off, 6)), []).append(self._spot(contact, at))
        found = [Miss(a, b, off, tuple(sorted(places, key=_reading))) for (a, b, off), places in kinds.items()]
        return tuple(sorted(found, key=lambda miss: (-len(miss.places), -miss.off_in, miss.one, miss.other)))

    def _missed(self, contact: Contact) -> Iterator[tuple[float, float]]:
        """(middle of the two ends along the first side, how far apart they are) of each miss at an edge."""
        one, other = (
            [end.at for end in piece.shape[side].ends if end.edges]
            for piece, side in (
                (self.pieces[contact.one], contact.side),
                (self.pieces[contact.other], contact.other_side),
            )
        )
        there = [contact.shift - at for at in other]
        # Ends that have met are out of it: a seam beside them belongs to its own block's drawing.
        alone = [at for at in one if not any(abs(at - b) <= MEET_WITHIN_IN for b in there)]
        others = [b for b in there if not any(abs(at - b) <= MEET_WITHIN_IN for at in one)]
        close = sorted((abs(a - b), a, b) for a in alone for b in others if abs(a - b) < MISS_IN - SAME_IN)
        used: set[tuple[int, float]] = set()
        for off, a, b in close:
            if (0, a) in used or (1, b) in used:
                continue
            used |= {(0, a), (1, b)}
            if contact.start - SAME_IN <= (a + b) / 2 <= contact.end + SAME_IN:
                yield (a + b) / 2, off

    def missing(self, misses: Sequence[Miss]) -> Note | None:
        """Seams of two blocks that nearly meet."""
        if not misses:
            return None
        said = [
            f"{miss.one} against {miss.other} by {say_length(miss.off_in, self.units)}, "
            f"{say_count(len(miss.places), 'time')}"
            for miss in misses
        ]
        count = sum(len(miss.places) for miss in misses)
        first = self._at(misses[0].places[0])
        text = (
            f"seams of neighbouring blocks miss each other by less than {say_length(MISS_IN, self.units)}: "
            f"{say_list(said, most=NAMED)}, the first {first}; let them meet, or end well apart"
        )
        places = tuple(sorted((place for miss in misses for place in miss.places), key=_reading))
        return Note("advice-meet", text, count, max(miss.off_in for miss in misses), places)

    def grown(self) -> tuple[Grown, ...]:
        """What grows together across edges, the longest run first."""
        found: dict[str, list[float]] = {}
        for contact in self.contacts:
            here: dict[str, float] = {}
            one = self.pieces[contact.one].shape[contact.side]
            other = self.pieces[contact.other].shape[contact.other_side]
            for low, high, _, fabric in one.runs:
                for a, b, _, across in other.runs:
                    run = min(high, contact.shift - a, contact.end) - max(low, contact.shift - b, contact.start)
                    if fabric and fabric == across and run > SAME_IN:
                        here[fabric] = here.get(fabric, 0.0) + run
            for fabric, run in here.items():
                found.setdefault(fabric, []).append(run)
        grown = [Grown(fabric, len(runs), math.fsum(runs)) for fabric, runs in found.items()]
        return tuple(sorted(grown, key=lambda each: (-round(each.length_in, 6), each.fabric)))

    def growing(self, grown: Sequence[Grown]) -> Note | None:
        """The same fabric on both sides of edges of blocks: a fact worth telling."""
        if not grown:
            return None
        said = [
            f"{each.fabric} at {say_count(each.edges, 'edge')} ({say_length(each.length_in, self.units)} together)"
            for each in grown
        ]
        text = (
            f"patches of one fabric grow together across edges of blocks: {say_list(said, most=NAMED)}; there the "
            "eye sees one shape, and not where a block ends"
        )
        return Note("grown-together", text, sum(each.edges for each in grown))

    # -- where pieces meet in a point ---------------------------------------------------------------------------

    def lost(self, meeting: Meeting) -> Note | None:
        """Sharp points that touch a broad patch of another block that reads like them.

        What its block stands on is a ground: where it ends in a tip, and goes on beyond, no point was meant.
        """
        grounds = [_ground(block) for block in self.seen]
        found: dict[tuple[str, str], list[Point]] = {}
        for at, around in meeting.around():
            for piece, _, angle, fabric in around:
                look = self.pieces[piece].look
                sharp = fabric is not None and angle <= TIP_DEG + ANGLE_SLACK_DEG
                if fabric is None or not sharp or look < 0 or fabric.name == grounds[look]:
                    continue
                for other, _, wide, across in around:
                    broad = other != piece and wide > STILL_SHARP_DEG + ANGLE_SLACK_DEG
                    if broad and across is not None and self._alike(fabric, across):
                        found.setdefault((fabric.name, across.name), []).append(at)
                        break
        if not found:
            return None
        said = [
            f"{say_count(len(places), 'point')} of {tip}" + ("" if tip == across else f" beside {across}")
            for (tip, across), places in sorted(found.items(), key=lambda pair: (-len(pair[1]), pair[0]))
        ]
        places = tuple(sorted({place for each in found.values() for place in each}, key=_reading))
        text = (
            "sharp points at the edges of blocks end in a neighbour that reads like them: "
            f"{say_list(said, most=NAMED)}, the first {self._at(places[0])}; "
            "rotate one of the two, or choose another fabric"
        )
        return Note("advice-lost", text, sum(map(len, found.values())), None, places)

    def _alike(self, one: Fabric, other: Fabric) -> bool:
        return one.name == other.name or read_alike(one, other)

    def crowded(self, meeting: Meeting) -> Note | None:
        """Points of an edge where more patches meet than press flat."""
        found = [(len(around), at) for at, around in meeting.around() if len(around) > CROWD]
        if not found:
            return None
        places = tuple(sorted((at for _, at in found), key=_reading))
        most = max(count for count, _ in found)
        text = (
            f"{say_count(len(found), 'point')} at the edges of blocks where more than {CROWD} patches meet, up to "
            f"{most}, the first {self._at(places[0])}: press the seams there open, and "
            "trim their allowances in steps"
        )
        return Note("advice-corner", text, len(found), None, places)

    # -- names and places -----------------------------------------------------------------------------------------

    def _at(self, place: Point) -> str:
        """A place of the quilt as a ruler finds it."""
        across, down = (say_length(side, self.units).removeprefix("about ") for side in place)
        return f"{across} from the left and {down} from the top"

    def _side(self, piece: int, side: int) -> str:
        look = self.quilt.looks[self.pieces[piece].look]
        return f"the {self.pieces[piece].shape[side].name} side of {look.name}"

    def _spot(self, contact: Contact, at: float) -> Point:
        return on_side(self.pieces[contact.one], contact.side, at)


def _ground(block: Block) -> str | None:
    """Of a block as it is seen the fabric that lies along most of a block's edge: what its points stand on."""
    lengths: dict[str, list[float]] = {}
    for side in sides_of(block):
        for low, high, _, fabric in side.runs:
            if fabric is not None:
                lengths.setdefault(fabric, []).append(high - low)
    return max(lengths, key=lambda fabric: round(math.fsum(lengths[fabric]), 6), default=None)


def _reading(place: Point) -> tuple[float, float]:
    return (round(place[1], 6), round(place[0], 6))
