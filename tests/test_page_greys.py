"""Greys in a real browser: what they can show of fabrics, and what is said of those they cannot."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect

from support.browser import Served

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.long

HALVES = """seamwright block 1
name halves
size 4 in

seam 0, 0 to 4, 4

fabric fog
fabric ink colour #17182b
lay fog at 3, 1
lay ink at 1, 3
"""


def test_greys_say_which_fabrics_they_know_nothing_of(tab: Callable[..., Page], served: Served) -> None:
    (served.folder / "halves.seams").write_text(HALVES)
    page = tab()
    page.get_by_role("button", name="Colour", exact=True).click()
    greys, told = page.get_by_role("button", name="Values in grey"), page.get_by_text("White says nothing of fog")
    expect(told).to_have_count(0)
    greys.click()
    expect(told).to_be_visible()
    page.get_by_role("button", name="Change fog").click()
    page.locator(".cloth-form").get_by_label("Value").select_option("light")
    page.get_by_role("button", name="Keep this fabric").click()
    expect(told).to_be_hidden()


def test_where_no_fabric_has_a_colour_the_page_says_where_to_give_one(
    tab: Callable[..., Page], served: Served
) -> None:
    (served.folder / "halves.seams").write_text(HALVES.replace(" colour #17182b", ""))
    page = tab()
    page.get_by_role("button", name="Colour", exact=True).click()
    expect(page.get_by_text('Press "Change" beside a fabric, or choose a palette.')).to_be_visible()
