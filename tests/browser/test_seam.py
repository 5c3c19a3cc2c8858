"""Joining cloths, on the phone and on the desk: ask, read, draw."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest
from tests.browser.conftest import SIZES, Watch
from tests.browser.test_page import TOUCH_PX, Opened, sideways, violations

ORGANZA = "silk organza, 140 cm"
VELVET = "95% polyester 5% elastane stretch velvet"
LINING = "acetate lining"


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


@pytest.mark.parametrize("device", SIZES)
def test_three_cloths_are_told_apart_and_drawn(opened: Opened, address: str, device: str) -> None:
    page = opened(device)
    query = {"label": ORGANZA, "label2": VELVET, "label3": LINING, "behind": "second"}
    page.goto(f"{address}seam?{urlencode(query)}")
    page.wait_for_selector("#joint .step")
    assert "behind the stretch velvet" in page.inner_text(".steps")
    assert page.locator("figure.cut svg pattern").count() >= 1
    for section in ("tests-head", "taken-head", "aids-head"):
        assert page.locator(f"#{section}").is_visible()
    page.evaluate("document.querySelectorAll('details').forEach(item => item.open = true)")
    assert page.input_value("#behind") == "second"
    assert violations(page) == []
    assert sideways(page) <= 0


def test_a_joint_is_asked_with_the_keyboard_alone(opened: Opened, address: str) -> None:
    page = opened("desk")
    page.goto(f"{address}seam")
    page.focus("#label")
    page.keyboard.type("cotton lawn")
    page.keyboard.press("Tab")
    page.keyboard.type("cotton twill")
    for _ in range(4):
        page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector("#joint .step")
    page.focus(".wide")
    assert page.evaluate("document.activeElement.getAttribute('role')") == "region"
    names = page.evaluate(
        "[...document.querySelectorAll('#joint svg')].map(one => one.getAttribute('aria-labelledby')"
        ".split(' ').every(id => document.getElementById(id).textContent.length > 0))"
    )
    assert names
    assert all(names)


def test_the_print_keeps_the_cut_in_black_and_white(opened: Opened, address: str) -> None:
    page = opened("desk")
    page.goto(f"{address}seam?{urlencode({'label': ORGANZA, 'label2': VELVET, 'label3': LINING})}")
    page.wait_for_selector("#joint .step")
    page.emulate_media(media="print")
    assert page.locator("figure.cut").is_visible()
    assert not page.locator("#ask").is_visible()
    inks = page.evaluate(
        "[...new Set([...document.querySelectorAll('#joint h1, #joint h2, #joint p, #joint li')]"
        ".map(one => getComputedStyle(one).color))]"
    )
    assert inks == ["rgb(0, 0, 0)"]
