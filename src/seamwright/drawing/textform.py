"""The text form of a block: a drawing that a person can type, read aloud and mend.

Knows:  the keywords below, what each states, how points are counted.
Leaves: one line each (facts, tokens), points in inches (measured), writing (textwrite); whether lines meet (block).
Units:  coordinates count squares of the grid if there is one, else the unit of the size; (0, 0) is the top left
        corner, across first, then down. What is read becomes inches once, from exact fractions.
Method: one pass over the lines collects facts, since the size may come last; then points become inches.
Limits: one fault a line; colourways are kept, not used here (fabric.colourways).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from seamwright.drawing.facts import LINES, Facts
from seamwright.drawing.faults import LineFault
from seamwright.drawing.header import after_header
from seamwright.drawing.measured import Measured
from seamwright.drawing.model import Drawing
from seamwright.drawing.textwrite import write_seams
from seamwright.drawing.tokens import Reading, lines_of
from seamwright.errors import Fault

__all__ = ["GRAMMAR", "read_seams", "write_seams"]

GRAMMAR = """\
A block as text, one fact a line. The first line is always: seamwright block 1

  # a remark                            after # and a space, anywhere
  name storm rose                       what the block is called
  size 8 in                             finished size: 8 in, 8 x 12 in, 8 1/2 in, 20 cm
  grid 8                                count points in squares, 8 across (8 x 12: 8 across, 12 down)
  outline 2, 0 to 6, 0 to 8, 4 to 0, 4  corners of the block, if it is no rectangle
  side 2, 0 through 4, 1 to 6, 0        a side of the block that is curved, from corner to corner; as arc or curve
  seam 0, 0 to 8, 8                     a straight seam; any number of points: 0, 0 to 4, 4 to 8, 0
  arc 0, 4 through 2, 2 to 4, 4         part of a circle
  curve 0, 4 bending at 4, 0 to 8, 4    a curve pulled towards one point, or two: bending at 2, 0 and 6, 0
  curve 0, 0 to 1, 0.2 to 2, 0          a curve through many points, close together
  fabric sky colour #a9c9dc value light cool code S stripes 45 width 42 in
  fabric waves direction -90            a print that runs one way, here straight up; stripes have no top
  lay sky at 2, 3 and 5, 6              the patches round these points are of that fabric
  option tolerance 1/8 in               any option of plans or prints, by its long name
  colourway night sky becomes ink       another set of fabrics for the same block; more of them behind: and

Points are across, down from the top left corner: in grid squares, without a grid in the unit of the size.
Fractions are welcome, as in 2 1/2, 3 3/4. A point may also name its unit: 2 1/2 in, 3 3/4 in.
Stripes and prints run at degrees clockwise from level, as they show in the block.
Words in a patch of an SVG drawing name its fabric, and with a comma say the same of it: sky, stripes 45 code S

A palette recolours blocks without touching their drawings (--palette FILE). Its first line is always:
seamwright palette 1; fabric and colourway lines follow, as above. A fabric of the block takes the line of its name,
else that of its exact colour; what a line does not say stays.
"""


def read_seams(text: str, *, name: str, file: str) -> Drawing:
    """The drawing that a text states.

    Args:
        text: the whole file, decoded.
        name: the block's name if the text gives none.
        file: the path, for messages.

    Raises:
        DrawingError: with every fault of the text, one a line, each with line, column and mend.
    """
    return Measured(*stated(text, name=name, file=file)).drawing()


def stated(text: str, *, name: str, file: str) -> tuple[Facts, str, int]:
    """What the lines of a text state, nothing measured yet: (facts, file, number of lines).

    Raises:
        DrawingError: it is no text of a block. Faults in single lines are gathered in the facts.
    """
    facts = Facts(name)
    lines = lines_of(text, file)
    gather(facts, lines, after_header(lines, file, "block"), LINES)
    return facts, file, len(lines)


MOST_WORDS = 600_000
"""Words, numbers and marks: more than 50,000 seams need."""
_Facts = TypeVar("_Facts", bound=Facts)


def gather(
    facts: _Facts, lines: Sequence[str], first: int, readers: Mapping[str, Callable[[_Facts, Reading], None]]
) -> None:
    """Collect what lines state, from number `first` on; faults are gathered in the facts, one a line at the most.

    Args:
        readers: the keywords that may begin a line.
    """
    words = 0
    for number in range(first, len(lines) + 1):
        if facts.faults.full:
            break
        try:
            reading = Reading(lines[number - 1], number)
            words += len(reading.tokens)
            if words > MOST_WORDS:
                what, mend = f"the file holds more than {MOST_WORDS:,} words", "A block has a few hundred seams"
                facts.faults.add(Fault("too large", what, f"{mend}; leave out what is none", line=number, column=1))
                break
            if not reading.done():
                readers[reading.keyword(readers, "keyword")](facts, reading)
        except LineFault as found:
            facts.faults.add(found.fault)
