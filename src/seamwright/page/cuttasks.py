"""What to cut of each fabric for a text on the page: to read, and as files.

Knows:  which call makes what.
Leaves: the work (handouts), its words (booklet, words), who asks (cutting).
Method: functions of plain values, run in a process of their own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from seamwright.asked import Given
from seamwright.page.planned import plans_of_text
from seamwright.page.printtasks import Made
from seamwright.page.stories import story_object

if TYPE_CHECKING:
    from seamwright.cutting.model import Cutting


def cutting_told(path: str, text: str, given: Given) -> dict[str, Any]:
    """The cutting list of a text: what to buy first, then its tables, the same as its pages hold."""
    from seamwright.booklet.cutsheet import sheet_story
    from seamwright.booklet.tables import BLADE
    from seamwright.words.cuts import proven_words

    lists = _lists(path, text, given)
    return {"story": story_object(sheet_story(lists)), "proven": proven_words(lists), "blade": BLADE}


def cutting_made(path: str, text: str, given: Given, form: str) -> Made:
    """The cutting list as pages (".pdf") or as a table for spreadsheets (".csv")."""
    from seamwright.handouts import cutting_file
    from seamwright.words.cuts import written

    lists = _lists(path, text, given)
    return Made(cutting_file(form, *lists), (f"{written(lists, form).capitalize()}.",))


def _lists(path: str, text: str, given: Given) -> list[Cutting]:
    from seamwright.handouts import cutting

    return [cutting(plan) for plan in plans_of_text(path, text, given)]
