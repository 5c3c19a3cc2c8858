"""The order of work on the phone and on the desk: plan, tick, read at arm's length."""

from __future__ import annotations

import pytest
from tests.browser.conftest import SIZES, Watch
from tests.browser.test_page import TOUCH_PX, Opened, sideways, violations


@pytest.mark.parametrize("device", SIZES)
def test_a_job_is_planned_and_ticked_off(
    opened: Opened, address: str, watch: Watch, device: str
) -> None:
    page = opened(device)
    watch.on(page)
    page.goto(f"{address}work?example=1")
    assert violations(page) == []
    page.click("#ask button")
    page.wait_for_selector(".roll-now h2")
    first = page.inner_text(".roll-now h2")
    size = page.evaluate(
        "parseFloat(getComputedStyle(document.querySelector('.roll-now h2')).fontSize)"
    )
    assert size >= 32
    assert page.locator(".roll-next").is_visible()
    assert violations(page) == []
    assert sideways(page) <= 0
    button = page.locator(".roll-now button").bounding_box()
    assert button
    assert button["height"] >= TOUCH_PX
    page.fill("#took", "25")
    page.click(".roll-now button")
    page.wait_for_selector(".roll-last")
    assert first in page.inner_text(".roll-last")
    assert page.inner_text(".roll-now h2") != first
    assert violations(page) == []
    page.click(".roll-last button")
    page.wait_for_selector(".roll-now h2")
    assert page.inner_text(".roll-now h2") == first
    assert watch.hosts == {address.split("/")[2]}


def test_what_is_wrong_stands_under_the_job(opened: Opened, address: str) -> None:
    page = opened("phone")
    page.goto(f"{address}work?example=1")
    typed = page.input_value("#job").replace("18:00-21:00", "21:00-18:00")
    page.fill("#job", typed)
    page.click("#ask button")
    page.wait_for_selector("#trouble")
    assert "before it begins" in page.inner_text("#trouble")
    assert page.input_value("#job") == typed
    assert violations(page) == []
    assert sideways(page) <= 0
