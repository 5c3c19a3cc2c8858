"""Test next, what was learnt, fibre tests and the iron check on a phone: names, targets, no sideways."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

import pytest
from tests.browser.conftest import Watch
from tests.browser.test_page import Opened, open_all, sideways, violations, visit
from tests.browser.test_swatch import tapped_targets

LABEL = "100% wool flannel, 150 cm, 300 g/m2, lot learnt"


def checked(page: Any, *, touched: bool = True) -> None:
    open_all(page)
    assert violations(page) == []
    assert sideways(page) <= 0
    assert not touched or tapped_targets(page) == []


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_from_a_swatch_to_what_it_taught_and_back(
    opened: Opened, address: str, watch: Watch, script: bool
) -> None:
    label = f"{LABEL} {'one' if script else 'two'}"
    page = opened("phone", java_script_enabled=script)
    watch.on(page)
    visit(page, address + "swatch", label)
    page.locator("#seen .pick:has-text('set flat')").tap()
    page.tap(".keep-it")
    page.wait_for_selector(".kept")
    page.click("text=Test next")
    page.wait_for_selector("#slip", timeout=60_000)
    if script:
        checked(page)
    page.click("text=What was learnt")
    page.wait_for_selector("#from-head", timeout=60_000)
    assert "1 swatch learnt from" in page.inner_text("main")
    if script:
        checked(page)
    page.tap("text=Set aside")
    page.wait_for_selector("text=Take in again", timeout=60_000)
    assert "0 swatches learnt from, 1 set aside" in page.inner_text("main")
    assert watch.hosts == {address.split("/")[2]}
    assert [text for text in watch.messages if "422" not in text] == []


@pytest.mark.parametrize("width", ["phone", "desk"])
def test_fibre_tests_and_iron_check_are_plain_pages(
    opened: Opened, address: str, watch: Watch, width: str
) -> None:
    page, touched = opened(width), width == "phone"
    watch.on(page)
    page.goto(f"{address}fibre?{urlencode({'label': 'satin', 'smell': 'sweet'})}")
    checked(page, touched=touched)
    page.locator(".pick:has-text('a hard bead')").click()
    page.click(".keep-it")
    page.wait_for_url("**left=hard-bead**")
    assert "polyester" in page.inner_text(".likely tbody tr >> nth=0")
    page.goto(f"{address}iron-check")
    checked(page, touched=touched)
    page.fill("#name", f"iron of the {width}")
    page.fill("#medium_1", "142 C")
    page.fill("#medium_2", "warm")
    page.click(".keep-it")
    page.wait_for_selector("#medium_2-error .error")
    assert page.input_value("#medium_1") == "142 C"
    page.fill("#medium_2", "300 F")
    page.click(".keep-it")
    page.wait_for_selector("text=Kept: iron of the")
    checked(page, touched=touched)
    assert [text for text in watch.messages if "422" not in text] == []
