"""Mends done in a text form: its lines, their order and its remarks stay; only what is touched changes.

Knows:  where in a line a point stands; how a seam loses a piece or is drawn on; where a fabric is laid.
Leaves: the grammar (drawing.tokens, drawing.facts), whether it reads back right (write).
Units:  inches of the finished block; figures are written as the text counts them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from shapely import Point as ShapelyPoint

from seamwright.block.model import Block
from seamwright.drawing.measured import Measured
from seamwright.drawing.textform import stated
from seamwright.drawing.textwrite import digits, quoted
from seamwright.drawing.tokens import Place
from seamwright.geometry import Point, Segment, along, moved, off_line
from seamwright.mend.change import CannotEdit, dropped_by, left_of, on_top_area
from seamwright.mend.fabric import Laid, laid_out
from seamwright.mend.shift import Shift
from seamwright.piecing.model import Mend
from seamwright.units import scan_amount

MARK = re.compile(r"\s*# made by seamwright from \[")


def edit_seams(
    text: str, block: Block, wanted: Block, mends: Sequence[Mend], within: float, remarks: Sequence[str]
) -> str:
    """A text form with mends done.

    Args:
        text: the drawing's.
        block: what it gives; wanted: what it should give with the mends done.
        within: how far a point in the text may lie from the block's.
        remarks: lines to be added at the end, as remarks.

    Raises:
        CannotEdit: a line cannot be changed where it stands.
    """
    return _Editor(text, block, wanted, mends, within).done(remarks)


class _Editor:
    def __init__(self, text: str, block: Block, wanted: Block, mends: Sequence[Mend], within: float) -> None:
        self.block, self.wanted, self.mends = block, wanted, mends
        self.shift = Shift(block, mends, within)
        pieces = re.split(r"(\r\n|\r|\n)", text)
        self.lines: list[str] = pieces[::2]
        self.ends: list[str] = [*pieces[1::2], ""]
        self.facts, file, count = stated(text, name=block.name, file=block.file)
        self.square = Measured(self.facts, file, count).square
        self.after: dict[int, list[str]] = {}
        self.unlaid: list[Place] = []
        self.gone: set[int] = set()

    def done(self, remarks: Sequence[str]) -> str:
        changes: list[tuple[Place, Point]] = []
        for run in self.facts.runs:
            changes += [(p, to) for p in run.places if (to := self.shift.of(self._at(p))) is not None]
        changes += [(p, to) for p in self.facts.outline if (to := self.shift.of(self._at(p))) is not None]
        straight = [mend.seams[0] for mend in self.mends if mend.kind == "straighten a curve"]
        others = [mend for mend in self.mends if mend.kind != "straighten a curve"]
        dropped = dropped_by(others)
        cut = self._shortened(dropped) if dropped else {}
        cut |= self._straightened(straight)
        changes += self._fabrics()
        # From the right, so that what stands before keeps its place.
        for place, to in sorted(changes, key=lambda c: (c[0].line, -c[0].column)):
            if place.line not in cut:
                self._rewrite(place, to)
        for number, lines in cut.items():
            self._replace(number, lines)
        self._unlay([place for place, _ in changes])
        self._add([segment for mend in others for segment in mend.seams], set(cut))
        return self._joined(remarks)

    # -- points -----------------------------------------------------------------------------------------

    def _at(self, place: Place) -> Point:
        x, y = place.x.inches(self.square[0]), place.y.inches(self.square[1])
        return moved(self.block.lay, (x, y))

    def _figures(self, point: Point) -> str:
        a, _, _, d, e, f = self.block.lay
        across, down = map(float, self.square)
        x, y = (point[0] - e) / a / across, (point[1] - f) / d / down
        return f"{_short(x, across)}, {_short(y, down)}"

    def _rewrite(self, place: Place, to: Point) -> None:
        line = self.lines[place.line - 1]
        start = place.column - 1
        if line[start : start + 1] == "(":
            start += 1
            while line[start : start + 1].isspace():
                start += 1
        amount = scan_amount(line, start)
        if amount is None or amount.end != place.x.end:
            raise CannotEdit("a point in the text cannot be found again")
        self.lines[place.line - 1] = line[:start] + self._figures(to) + line[place.y.end :]

    # -- seams ------------------------------------------------------------------------------------------

    def _shortened(self, dropped: Sequence[Segment]) -> dict[int, list[str]]:
        """For each line of a seam that loses something, the lines that stand for what is left."""
        cut: dict[int, list[str]] = {}
        top = on_top_area(self.block, dropped_by(self.mends))
        room = None if top is None else top.buffer(self.shift.within)
        for run in self.facts.runs:
            points = [self._at(p) for p in run.places]
            if room is not None and run.kind != "bending" and all(room.covers(ShapelyPoint(p)) for p in points):
                cut[run.places[0].line] = []
            if run.kind != "seam" or run.places[0].line in cut:
                continue
            kept = left_of(points, dropped, self.shift.within)
            if kept is None:
                continue
            number = run.places[0].line
            new = [[self.shift.of(p) or p for p in piece] for piece in kept]
            cut[number] = ["seam " + " to ".join(map(self._figures, piece)) for piece in new]
        return cut

    def _straightened(self, chords: Sequence[Segment]) -> dict[int, list[str]]:
        """For each line of a curve that is to be straight the seam that stands for it."""

        def ends_there(a: Point, b: Point) -> bool:
            return any(
                math.dist(a, c) <= self.shift.within and math.dist(b, d) <= self.shift.within
                for chord in chords
                for c, d in (chord, chord[::-1])
            )

        found = {}
        for run in self.facts.runs:
            a, b = self._at(run.places[0]), self._at(run.places[-1])
            if run.kind != "seam" and ends_there(a, b):
                found[run.places[0].line] = [f"seam {self._figures(a)} to {self._figures(b)}"]
        return found

    def _replace(self, number: int, lines: Sequence[str]) -> None:
        old = self.lines[number - 1]
        indent = old[: len(old) - len(old.lstrip())]
        remark = re.search(r"\s+#(?!\w).*$", old)
        if lines:
            self.lines[number - 1] = indent + lines[0] + (remark[0] if remark else "")
            self.after.setdefault(number, []).extend(indent + line for line in lines[1:])
        elif remark:
            self.lines[number - 1] = indent + remark[0].strip()
        else:
            self.gone.add(number)

    def _add(self, segments: Sequence[Segment], cut: set[int]) -> None:
        rest = [segment for segment in segments if not self._continued(segment, cut)]
        last = max(run.places[-1].line for run in self.facts.runs)
        old = self.lines[last - 1]
        indent = old[: len(old) - len(old.lstrip())]
        lines = [f"{indent}seam {self._figures(a)} to {self._figures(b)}" for a, b in rest]
        self.after.setdefault(last, []).extend(lines)

    def _continued(self, segment: Segment, cut: set[int]) -> bool:
        """Whether the segment goes straight on from the end of a seam of the text, which then is drawn on."""
        for run in self.facts.runs:
            if run.kind != "seam" or run.places[0].line in cut:
                continue
            for end, before in ((run.places[-1], run.places[-2]), (run.places[0], run.places[1])):
                a, b = self._at(before), self._at(end)
                for here, there in (segment, segment[::-1]):
                    if math.dist(b, here) > 1e-6 or self.shift.of(b) is not None or self.shift.of(a) is not None:
                        continue
                    if abs(off_line(there, a, b)) <= 1e-6 and along(there, a, b) > math.dist(a, b):
                        self._rewrite(end, there)
                        # Its column holds no longer; it is not drawn on a second time.
                        cut.add(end.line)
                        return True
        return False

    # -- fabrics ----------------------------------------------------------------------------------------

    def _fabrics(self) -> list[tuple[Place, Point]]:
        """Places of fabrics that must move with their patches; patches without any get lines of their own."""
        if not self.facts.laid:
            return []
        laid = [Laid(fabric, self._at(place)) for fabric, place, _ in self.facts.laid]
        move, add, surplus = laid_out(self.block, self.wanted, self.shift.new, laid)
        self.unlaid = [self.facts.laid[number][1] for number in surplus]
        last = max(place.line for _, place, _ in self.facts.laid)
        for fabric in dict.fromkeys(fabric for fabric, _ in add):
            places = " and ".join(self._figures(at) for other, at in add if other == fabric)
            self.after.setdefault(last, []).append(f"lay {quoted(fabric)} at {places}")
        return [(self.facts.laid[number][1], to) for number, to in move]

    def _unlay(self, rewritten: Sequence[Place]) -> None:
        """Take out the places at which a fabric is laid that no patch needs any more."""
        for number in dict.fromkeys(place.line for place in self.unlaid):
            here = [place for _, place, _ in self.facts.laid if place.line == number]
            if any(place in here for place in rewritten):
                raise CannotEdit("a line of fabrics changes too much")
            kept = [place for place in here if place not in self.unlaid]
            if not kept:
                self._replace(number, [])
                continue
            line = self.lines[number - 1]
            said = [line[p.column - 1 : p.y.end] + (")" if line[p.column - 1] == "(" else "") for p in kept]
            end = here[-1].y.end + (line[here[-1].column - 1] == "(")
            self.lines[number - 1] = line[: here[0].column - 1] + " and ".join(said) + line[end:]

    # -- the whole --------------------------------------------------------------------------------------

    def _joined(self, remarks: Sequence[str]) -> str:
        usual = next((end for end in self.ends if end), "\n")
        lines: list[str] = []
        for number, line in enumerate(self.lines, start=1):
            if number not in self.gone and not MARK.match(line):
                lines.append(line)
            lines += self.after.get(number, [])
        while lines and not lines[-1].strip():
            lines.pop()
        return usual.join([*lines, *(f"# {remark}" for remark in remarks), ""])


def _short(value: float, square: float) -> str:
    """A coordinate in as few decimals as keep it where it is."""
    for places in range(10):
        if abs(round(value, places) - value) * square <= 1e-10:
            return digits(round(value, places) + 0.0)
    return digits(round(value, 9) + 0.0)
