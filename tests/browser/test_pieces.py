"""The pieces page in a real browser: tapes, fields, drawing, on every size."""

from __future__ import annotations

import pytest
from tests.browser.conftest import SIZES, Watch
from tests.browser.test_page import TOUCH_PX, Opened, sideways, violations
from tests.integration.test_own_drawing import ANSWERS, OWN, SQUARE, svg


@pytest.mark.parametrize("size", list(SIZES))
def test_a_shape_is_chosen_measured_and_drawn(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    page.goto(f"{address}pieces")
    assert violations(page) == []
    page.select_option("#shape", "tunic")
    page.fill("#m-stature", "168")
    page.fill("#m-waist_girth", "29 in")
    page.click("button.go")
    page.wait_for_selector("figure.sheet svg")
    assert page.url.endswith("#made")
    assert page.input_value("#m-waist_girth") == "29 in"
    assert "estimated, +-" in page.inner_text(".measures")
    assert sideways(page) <= 0
    assert violations(page) == []
    for control in ("#shape", "#m-stature", "button.go", ".take a"):
        box = page.locator(control).first.bounding_box()
        assert box
        assert box["height"] >= TOUCH_PX
    assert watch.messages == []
    assert watch.hosts == {address.split("/")[2]}


def test_a_tape_leads_to_its_field_and_a_refused_measure_stays(
    opened: Opened, address: str, watch: Watch
) -> None:
    page = opened("desk")
    page.goto(f"{address}pieces?shape=circle-skirt")
    page.locator('.figure a[href="#m-waist_girth"]').click()
    assert page.url.endswith("#m-waist_girth")
    page.fill("#m-waist_girth", "7 cm")
    page.click("button.go")
    page.wait_for_selector("#trouble .error")
    assert "impossible" in page.inner_text("#trouble")
    assert page.input_value("#m-waist_girth") == "7 cm"
    assert violations(page) == []


@pytest.mark.parametrize("size", list(SIZES))
def test_a_costume_is_drawn_on_one_sheet(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    page.goto(f"{address}pieces?shape=tunic&m.stature=168&alter=right+shoulder+down+8+mm")
    page.locator(".more > summary", has_text="More shapes").click()
    page.locator('label.pick:has(input[value="trousers"])').click()
    page.click("button.go")
    page.wait_for_selector("article.shape >> nth=1")
    assert page.locator("figure.sheet svg").count() == 1
    assert "trousers: front" in (page.text_content("figure.sheet") or "")
    assert "sleeve, right front-cap" in page.inner_text(".fitted")
    assert sideways(page) <= 0
    assert violations(page) == []
    assert watch.messages == []
    page.emulate_media(media="print")
    assert page.locator("figure.sheet").is_visible()
    assert not page.locator("form.tapes").is_visible()


@pytest.mark.parametrize("size", list(SIZES))
def test_a_drawing_of_ones_own_is_sent_and_answered(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    page.goto(f"{address}pieces-own")
    assert violations(page) == []
    page.set_input_files(
        "#file", {"name": "own.svg", "mimeType": "image/svg+xml", "buffer": svg(SQUARE + OWN)}
    )
    page.click("button.go")
    page.wait_for_selector("text=What the drawing leaves open")
    assert violations(page) == []
    for key, answer in ANSWERS.items():
        page.fill(f'[name="q.{key}"]', answer)
    page.locator("button.go", has_text="Make the pieces").click()
    page.wait_for_selector("figure.sheet svg")
    assert sideways(page) <= 0
    assert violations(page) == []
    assert watch.messages == []
