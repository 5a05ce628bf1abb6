"""The page from end to end, in a real browser, as someone who has never seen it uses it."""

from playwright.sync_api import Page, expect

from support.browser import Served


def test_the_page_opens_on_an_empty_folder(page: Page, served: Served) -> None:
    expect(page.get_by_role("button", name="Print")).to_be_visible()
    assert served.password not in page.url
