"""The drawing as a hand knows it: places of the block, in inches, as pixels of the page; drags and clicks there."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page

Place = tuple[float, float]


def on_screen(page: Page, place: Place) -> Place:
    """A place of the block in pixels of the window."""
    x, y = page.evaluate(
        """([x, y]) => {
          const { chart } = window.seamwright, box = chart.svg.getBoundingClientRect(), at = chart.place([x, y]);
          return [box.left + at[0], box.top + at[1]];
        }""",
        list(place),
    )
    return x, y


def drag(page: Page, start: Place, end: Place, steps: int = 4) -> None:
    """The pointer goes to a place, is pressed there, and let go at another."""
    page.mouse.move(*on_screen(page, start), steps=steps)
    page.mouse.down()
    page.mouse.move(*on_screen(page, end), steps=steps)
    page.mouse.up()
