"""The lay page in a real browser: it gets shorter while one looks, and is cut from on every size."""

from __future__ import annotations

import pytest
from tests.browser.conftest import SIZES, Watch
from tests.browser.test_page import TOUCH_PX, Opened, sideways, violations

READY_MS = 120_000


@pytest.mark.parametrize("size", list(SIZES))
def test_a_costume_is_laid_and_cut_from(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    page.goto(f"{address}lay")
    assert violations(page) == []
    page.select_option("#shape", "tunic")
    page.fill("#label", "cotton velvet, 150 cm, 18.90/m")
    page.select_option("#seconds", "2")
    page.click("#lay-ask button[type=submit]")
    page.wait_for_selector(".lay-card[data-state=done] svg", timeout=READY_MS)
    assert "to buy" in page.inner_text(".lay-card .buy")
    assert sideways(page) <= 0
    assert violations(page) == []
    page.click(".to-strip .act")
    page.wait_for_selector(".steps-list li.now")
    assert sideways(page) <= 0
    assert violations(page) == []
    for control in (".tick", ".acts button", ".differently button", "#turned_out"):
        box = page.locator(control).first.bounding_box()
        assert box
        assert box["height"] >= TOUCH_PX
    first = page.inner_text("#next")
    page.locator(".steps-list input[name=cut]").first.check()
    assert page.inner_text("#next") != first
    assert page.locator(".lay-strip g.done").count() == 1
    page.reload()
    page.wait_for_selector(".steps-list li.done")
    assert page.locator(".steps-list input[name=cut]").first.is_checked()
    assert watch.messages == []
    assert watch.hosts == {address.split("/")[2]}
