"""It has gone wrong, on the phone: choose, read, go back."""

from __future__ import annotations

from tests.browser.conftest import Watch
from tests.browser.test_page import TOUCH_PX, Opened, sideways, violations, visit, wait_for_odds

VELVET = "88% polyester 12% elastane stretch panne velvet, glued glitter, 150 cm, 260 g/m2"
TROUBLE = "glitter, foil, flock or dots lifted"


def test_a_trouble_is_chosen_read_and_left_again(
    opened: Opened, address: str, watch: Watch
) -> None:
    page = opened("phone")
    watch.on(page)
    visit(page, address, VELVET, "lined")
    wait_for_odds(page)
    page.select_option("#gone-trouble", TROUBLE)
    assert sideways(page) <= 0
    for control in ("#gone-trouble", ".gone button"):
        box = page.locator(control).bounding_box()
        assert box
        assert box["height"] >= TOUCH_PX
    page.click(".gone button")
    page.wait_for_selector(".halt")
    assert page.inner_text("h1").lower() == TROUBLE
    assert page.locator(".tries .number").all_inner_texts()[0] == "1"
    weight = "item => Number(getComputedStyle(item).fontWeight)"
    assert page.locator(".halt").evaluate(weight) >= 700
    assert page.locator(".try").first.evaluate(weight) < 700
    assert violations(page) == []
    assert sideways(page) <= 0
    page.select_option("#gone-trouble", "scorch")
    page.click(".gone button")
    page.wait_for_selector("#gone-error .error")
    assert page.input_value("#gone-trouble") == "scorch"
    assert page.input_value("#label") == VELVET
    assert violations(page) == []
    assert sideways(page) <= 0
    page.click("text=Back to the card")
    page.wait_for_selector("#press")
    assert page.input_value("#label") == VELVET
    assert page.is_checked("input[value='lined']")
    page.emulate_media(media="print")
    assert not page.locator("#gone").is_visible()
    refused = [text for text in watch.messages if "422" not in text]
    assert refused == []
    assert watch.hosts == {address.split("/")[2]}
