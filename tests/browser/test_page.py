"""The page in a real browser: phone, tablet and desk."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

import pypdfium2 as pdfium
import pytest
from tests.browser.conftest import SIZES, SLOW_S, Watch

from samite.tables.loader import read_toml

if TYPE_CHECKING:
    from playwright.sync_api import Page

LABEL = "100% silk organza, 140 cm, 40 g/m2"
WORST = "100% polyester sequin mesh with beads, 300 g/m2"
WORST_USE = "child of 6, on skin, stage, near candles, hood, train, cords, nightwear"
BAD = "50% polyester velvet"
TOUCH_PX = 44
"""Smallest side of what is tapped: the enhanced target size of WCAG 2.2, 2.5.5."""

Opened = Callable[..., Any]


def visit(page: Page, address: str, label: str = "", use: str = "") -> None:
    query = {name: value for name, value in (("label", label), ("for", use)) if value}
    page.goto(address + ("?" + urlencode(query) if query else ""))


def wait_for_odds(page: Page) -> None:
    page.wait_for_selector("#card[data-window='wanted'] .chances, #card[data-window=''] .board")


def sideways(page: Page) -> int:
    return int(page.evaluate("document.documentElement.scrollWidth - window.innerWidth"))


def violations(page: Page) -> list[str]:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(page).response["violations"]
    return [f"{item['id']}: {node['target']}" for item in found for node in item["nodes"]]


def open_all(page: Page) -> None:
    page.evaluate("document.querySelectorAll('details').forEach(item => item.open = true)")


@pytest.mark.parametrize("size", SIZES)
def test_a_label_is_typed_read_and_asked_why(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    visit(page, address)
    assert violations(page) == []
    assert sideways(page) <= 0
    page.locator("#label").press_sequentially(LABEL)
    page.wait_for_selector("#card h1:has-text('organza')")
    wait_for_odds(page)
    why = page.locator("#step-needle details").first
    assert not why.locator("div").first.is_visible()
    why.locator("summary").click()
    assert why.locator("li").first.is_visible()
    open_all(page)
    assert sideways(page) <= 0
    assert violations(page) == []
    assert watch.messages == []
    assert watch.hosts == {address.split("/")[2]}
    assert page.context.cookies() == []


@pytest.mark.parametrize("size", SIZES)
def test_pictures_settle_woven_or_knit(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    visit(page, address)
    page.fill("#label", "shiny velvet")
    page.wait_for_selector(".questions")
    assert violations(page) == []
    assert sideways(page) <= 0
    page.click("[data-say='stretches']")
    page.wait_for_selector("#card .facts:has-text('knit')")
    assert page.input_value("#label") == "shiny velvet, stretches"
    assert page.locator(".questions").count() == 0
    assert watch.messages == []


@pytest.mark.parametrize("size", SIZES)
def test_an_error_stands_beside_what_was_typed(opened: Opened, address: str, size: str) -> None:
    page = opened(size)
    visit(page, address)
    page.fill("#label", BAD)
    page.wait_for_selector("#trouble .error")
    assert page.input_value("#label") == BAD
    assert page.get_attribute("#trouble", "aria-live") == "polite"
    assert page.get_attribute("#label", "aria-invalid") == "true"
    assert "trouble" in str(page.get_attribute("#label", "aria-describedby"))
    assert page.inner_text("#card h1") == "No card yet"
    assert page.locator("#press").count() == 0
    assert violations(page) == []
    assert sideways(page) <= 0
    page.fill("#label", LABEL)
    page.wait_for_selector("#press")
    assert page.locator("#trouble .error").count() == 0
    assert page.get_attribute("#label", "aria-invalid") is None


def test_on_the_phone_the_press_is_one_tap_away_and_its_number_large(
    opened: Opened, address: str
) -> None:
    page = opened("phone")
    visit(page, address, LABEL)
    wait_for_odds(page)
    stop = page.locator(".stop b").first
    assert f"stop {stop.inner_text()} s" == page.inner_text("#brief")
    page.tap(".thumb .to-press")
    page.wait_for_timeout(1000)  # the page glides there
    box = stop.bounding_box()
    assert box
    assert 0 <= box["y"] < SIZES["phone"][1] / 2
    assert stop.evaluate("item => parseFloat(getComputedStyle(item).fontSize)") >= 80
    for place in (".how li:last-child", ".how li:first-child"):
        box = page.locator(place).first.bounding_box()
        assert box
        assert 0 < box["y"] < SIZES["phone"][1] - 60


@pytest.mark.parametrize("size", ["phone", "tablet"])
def test_what_is_tapped_is_large_enough(opened: Opened, address: str, size: str) -> None:
    page = opened(size)
    visit(page, address, "shiny velvet")
    wait_for_odds(page)
    small = page.evaluate(
        """least => [...document.querySelectorAll(
            'summary, button, .pick span, .thumb a, .picture, .home, .take a')]
          .map(item => [item.textContent.trim(), item.getBoundingClientRect()])
          .filter(([, box]) => box.height && (box.height < least || box.width < least))
          .map(([text, box]) => `${text}: ${box.width} x ${box.height}`)""",
        TOUCH_PX,
    )
    assert small == []


@pytest.mark.parametrize("abort_works", [True, False], ids=["let go", "not let go"])
def test_a_late_answer_to_an_older_label_is_dropped(
    opened: Opened, address: str, watch: Watch, abort_works: bool
) -> None:
    page = opened("phone")
    watch.on(page)
    if not abort_works:
        page.add_init_script("AbortController.prototype.abort = function () {}")
    visit(page, address)
    page.fill("#label", "100% wool flannel, slow")
    with page.expect_request(re.compile("part/card.*slow")):
        pass
    page.fill("#label", LABEL)
    page.wait_for_selector("#card h1:has-text('organza')")
    wait_for_odds(page)
    page.wait_for_timeout(1000 * SLOW_S)
    assert "organza" in page.inner_text("#card h1").lower()
    assert page.locator("#card").get_attribute("data-seq") == "2"
    assert watch.messages == []


def test_the_keyboard_alone_is_enough(opened: Opened, address: str) -> None:
    page = opened("desk")
    visit(page, address)

    def tab_to(selector: str) -> None:
        for _ in range(80):
            page.keyboard.press("Tab")
            if page.evaluate("what => document.activeElement.matches(what)", selector):
                return
        pytest.fail(f"{selector} is not reached by Tab")

    tab_to("#label")
    page.keyboard.type(LABEL)
    page.wait_for_selector("#card h1:has-text('organza')")
    tab_to("input[value='on skin']")
    assert (
        page.evaluate("getComputedStyle(document.activeElement.nextElementSibling).outlineStyle")
        == "solid"
    )
    page.keyboard.press("Space")
    page.wait_for_url(re.compile("on\\+skin"))
    wait_for_odds(page)
    tab_to("#step-needle summary")
    page.keyboard.press("Enter")
    assert page.locator("#step-needle details").first.get_attribute("open") is not None
    tab_to("#press .count")
    page.keyboard.press("Enter")
    page.wait_for_selector(".count.going")


def test_what_is_open_stays_open_when_the_odds_arrive(opened: Opened, address: str) -> None:
    page = opened("phone")
    held: list[Any] = []
    page.route("**/part/window*", lambda route: held.append(route))  # noqa: PLW0108 - a builtin is not taken
    visit(page, address, LABEL)
    page.click("#press details summary")
    assert page.evaluate("document.activeElement.matches('#why-press summary')")
    assert page.locator("#press .chances").count() == 0
    held[0].continue_()
    page.wait_for_selector("#press .chances")
    assert page.locator("#why-press").get_attribute("open") is not None
    assert page.evaluate("document.activeElement.matches('#why-press summary')")


def test_without_a_script_it_is_a_plain_form(opened: Opened, address: str) -> None:
    page = opened("phone", java_script_enabled=False)
    visit(page, address)
    page.fill("#label", BAD)
    page.check("input[value='gathered']", force=True)
    page.click("text=Make the card")
    assert page.locator("#trouble .error").is_visible()
    assert page.input_value("#label") == BAD
    page.fill("#label", LABEL)
    page.click("text=Make the card")
    assert page.is_checked("input[value='gathered']")
    assert "organza" in page.inner_text("#card h1").lower()
    page.click("#why-needle-1 summary")
    assert page.locator("#why-needle-1 li").first.is_visible()
    page.click("text=Work out the odds")
    assert page.locator("#press .chances").is_visible()
    assert page.locator("button.count:visible, button.print:visible").count() == 0


def test_a_bolt_fills_the_box(opened: Opened, address: str) -> None:
    page = opened("phone")
    bolt = read_toml("demo.toml")["bolt"][4]
    visit(page, address)
    page.click(f"text={bolt['role']}")
    page.wait_for_selector("#card")
    assert page.input_value("#label") == bolt["label"]
    assert page.is_checked("input[value='lined']")


def test_choices_units_and_address_follow_each_other(opened: Opened, address: str) -> None:
    page = opened("phone")
    visit(page, address, LABEL, "lined")
    page.click(".pick:has-text('unlined')")
    page.wait_for_url(re.compile("for=unlined"))
    assert not page.is_checked("input[value='lined']")
    page.click(".pick:has-text('imperial')")
    page.wait_for_selector("#step-stitch .head:has-text('to the inch')")
    page.reload()
    assert page.is_checked("input[value='unlined']")
    assert page.is_checked("input[value='imperial']")
    assert "to the inch" in page.inner_text("#step-stitch .head")


def test_counting_along_ends_in_stop(opened: Opened, address: str) -> None:
    page = opened("phone")
    visit(page, address, LABEL)
    wait_for_odds(page)
    page.clock.install()
    last = int(page.inner_text(".stop b"))
    page.tap(".count")
    page.clock.run_for(1500)
    assert page.inner_text(".count").startswith("2")
    page.clock.run_for(1000 * last)
    assert page.inner_text(".count").startswith("STOP")
    page.clock.run_for(5000)
    assert page.inner_text(".count") == "Count again"


def test_a_server_that_is_gone_is_told(opened: Opened, address: str) -> None:
    page = opened("phone")
    visit(page, address)
    page.route("**/part/**", lambda route: route.abort())
    page.fill("#label", LABEL)
    page.wait_for_selector("#trouble :text('no longer answers')")
    assert page.input_value("#label") == LABEL


CASES = [(bolt["label"], bolt["for"]) for bolt in read_toml("demo.toml")["bolt"]]


@pytest.mark.parametrize(("label", "use"), [*CASES, (WORST, WORST_USE)])
def test_the_print_is_one_page_in_black_and_white(
    opened: Opened, address: str, label: str, use: str
) -> None:
    page = opened("phone")
    visit(page, address, label, use)
    wait_for_odds(page)
    open_all(page)
    page.emulate_media(media="print")
    for selector in ("#ask", ".thumb", ".mast"):
        assert not page.locator(selector).is_visible()
    assert page.locator("#press .board").is_visible()
    printed = page.pdf(prefer_css_page_size=True)
    document = pdfium.PdfDocument(printed)
    assert len(document) == 1
    text = document[0].get_textpage().get_text_bounded()
    assert "Press" in text
    assert "Try on a scrap first" in text
    coloured = {
        item
        for item in page.evaluate(
            """[...document.querySelectorAll('#card *')].filter(item => item.checkVisibility())
              .flatMap(item => { const style = getComputedStyle(item);
                return [style.color, style.backgroundColor]; })"""
        )
        if len(set(re.findall(r"\d+", item)[:3])) > 1
    }
    assert coloured == set()
    document.close()


@pytest.mark.parametrize("size", SIZES)
def test_my_iron_is_typed_refused_beside_its_field_and_carried_by_the_link(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    watch.on(page)
    visit(page, address, LABEL)
    page.click("#my-iron summary")
    page.fill("#low_c", "230")
    page.press("#low_c", "Tab")
    page.wait_for_selector("#iron-trouble .error")
    assert page.get_attribute("#low_c", "aria-invalid") == "true"
    assert page.get_attribute("#label", "aria-invalid") is None
    assert violations(page) == []
    assert sideways(page) <= 0
    page.fill("#low_c", "230 F")
    page.press("#low_c", "Tab")
    page.wait_for_selector("#press .counted")
    assert page.get_attribute("#low_c", "aria-invalid") is None
    assert "one dot 107 to 113" in page.inner_text("#press .counted")
    assert "low_c=230+F" in page.url
    page.reload()
    assert page.input_value("#low_c") == "230 F"
    assert "one dot 107 to 113" in page.inner_text("#press .counted")


TURNED = "crushed lame, 62% polyester 38% nylon, 112 cm, 95 g/m2"
"""Pressed from both sides, and not proved safe."""


@pytest.mark.parametrize("size", ["phone", "tablet"])
def test_the_recipe_is_pictures_and_steps(
    opened: Opened, address: str, watch: Watch, size: str
) -> None:
    page = opened(size)
    page.set_default_timeout(60_000)
    watch.on(page)
    visit(page, address, TURNED)
    page.wait_for_selector("#press .offers")
    strip = page.locator("figure.strip svg")
    assert strip.get_attribute("role") == "img"
    assert "turn it over" in str(strip.locator("desc").text_content())
    box = strip.bounding_box()
    assert box is not None
    assert box["width"] <= SIZES[size][0]
    steps = page.locator(".recipe-steps li").all_inner_texts()
    assert any("turn the seam over" in step for step in steps)
    assert re.search(r"from \d+ to \d+ °C", steps[-1])
    assert page.locator("figure.hold-curve svg").is_visible()
    open_all(page)
    assert page.locator(".weak li").count() >= 3
    assert sideways(page) <= 0
    assert violations(page) == []
    assert watch.messages == []
