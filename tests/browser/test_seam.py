"""Joining cloths, on the phone and on the desk: ask, read, draw."""

from __future__ import annotations

import pytest
from tests.browser.conftest import Watch
from tests.browser.test_page import TOUCH_PX, Opened, sideways, violations

ORGANZA = "silk organza, 140 cm"
VELVET = "95% polyester 5% elastane stretch velvet"


@pytest.mark.parametrize("device", ["phone", "desk"])
def test_two_labels_are_joined_and_read(
    opened: Opened, address: str, watch: Watch, device: str
) -> None:
    page = opened(device)
    watch.on(page)
    page.goto(f"{address}seam")
    assert violations(page) == []
    page.fill("#label", ORGANZA)
    page.fill("#label2", VELVET)
    page.fill("#for", "fitted")
    button = page.locator("#ask button").bounding_box()
    assert button
    assert button["height"] >= TOUCH_PX
    page.click("#ask button")
    page.wait_for_selector("#joint .step")
    assert "organza" in page.inner_text("h1").lower()
    assert page.locator("figure.cut svg").is_visible()
    assert page.locator(".beside thead th").count() == 3
    assert page.input_value("#label2") == VELVET
    assert violations(page) == []
    assert sideways(page) <= 0
    page.fill("#label2", "5% elastane velvet")
    page.click("#ask button")
    page.wait_for_selector("#label-error .error")
    assert page.input_value("#label2") == "5% elastane velvet"
    assert violations(page) == []
    assert sideways(page) <= 0
    assert watch.hosts == {address.split("/")[2]}
