"""A phone user keeps a swatch of the recipe just read."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import Watch
from tests.browser.test_page import TOUCH_PX, Opened, open_all, sideways, violations, visit
from tests.swatches import JPEG


def tapped_targets(page: Any) -> list[str]:
    """What is tapped on the journal's pages and is too small for a finger."""
    found: list[str] = page.evaluate(
        """least => [...document.querySelectorAll(
            '.journal summary, .journal button, .journal .pick span, .journal select,'
            + '.journal input:not([type=checkbox]):not([type=radio]):not([type=hidden]),'
            + '.journal .take a, .home')]
          .map(item => [item.name || item.textContent.trim(), item.getBoundingClientRect()])
          .filter(([, box]) => box.height && (box.height < least || box.width < least))
          .map(([text, box]) => `${text}: ${box.width} x ${box.height}`)""",
        TOUCH_PX,
    )
    return found


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_swatch_is_kept_in_three_taps_from_the_card(
    opened: Opened, address: str, watch: Watch, script: bool
) -> None:
    page = opened("phone", java_script_enabled=script)
    watch.on(page)
    label = f"100% wool flannel, 150 cm, 300 g/m2, lot {'one' if script else 'two'}"
    visit(page, address, label)
    if script:
        page.wait_for_selector("#press .chances")
    page.click("text=Keep a swatch of this")
    page.wait_for_selector(".keep")
    if script:
        assert violations(page) == []
        assert sideways(page) <= 0
        assert tapped_targets(page) == []
    began = time.monotonic()
    page.locator("#seen .pick:has-text('set flat')").tap()
    page.tap(".keep-it")
    page.wait_for_selector(".kept")
    assert time.monotonic() - began < 10.0
    assert page.locator(".swatches > li").count() == 1
    assert "wool/silk, two dots" in page.inner_text(".swatches")
    if script:
        assert violations(page) == []
        assert sideways(page) <= 0
        assert tapped_targets(page) == []
    page.reload()
    assert page.locator(".swatches > li").count() == 1
    assert watch.hosts == {address.split("/")[2]}
    assert watch.messages == []
    assert page.context.cookies() == []


def test_a_mistake_stands_beside_its_field_and_everything_is_kept(
    opened: Opened, address: str, tmp_path: Path
) -> None:
    page = opened("phone")
    photo = tmp_path / "photo.jpg"
    photo.write_bytes(JPEG + b"not much of a photo")
    visit(page, address + "swatch", "100% wool flannel, 150 cm, 300 g/m2, mistakes")
    page.locator("#seen .pick:has-text('shrunk')").tap()
    page.click("#press summary")
    page.fill("#seconds", "-4")
    page.fill("#note", "typed once")
    page.tap(".keep-it")
    page.wait_for_selector("#seconds-error .error")
    assert page.locator("#shrunk-error .error").is_visible()
    assert page.input_value("#seconds") == "-4"
    assert page.get_attribute("#seconds", "aria-invalid") == "true"
    assert page.get_attribute("#seconds", "aria-describedby") == "seconds-error"
    assert page.input_value("#note") == "typed once"
    assert page.is_checked("#seen input[value='shrunk']")
    open_all(page)
    assert violations(page) == []
    assert sideways(page) <= 0
    assert tapped_targets(page) == []
    page.fill("#seconds", "4")
    page.fill("#shrunk", "1.5")
    page.set_input_files("#photo", photo)
    page.tap(".keep-it")
    page.wait_for_selector(".kept")
    assert "Shrunk by 1.5 mm in 10 cm" in page.inner_text(".swatches")
    page.tap("text=Into the bin")
    page.wait_for_selector("text=0 kept")
    page.tap("text=Undo: swatch put into the bin")
    page.tap("text=mistakes")
    page.wait_for_selector("text=1 kept")
    assert page.locator(".swatches > li").count() == 1


@pytest.mark.parametrize("size", ["tablet", "desk"])
def test_form_and_list_fit_larger_pages(opened: Opened, address: str, size: str) -> None:
    page = opened(size)
    label = f"100% wool flannel, 150 cm, 300 g/m2, {size}"
    visit(page, address + "swatch", label)
    open_all(page)
    assert violations(page) == []
    assert sideways(page) <= 0
    page.locator("#seen .pick:has-text('set flat')").click()
    page.click(".keep-it")
    page.wait_for_selector(".kept")
    assert violations(page) == []
    assert sideways(page) <= 0
