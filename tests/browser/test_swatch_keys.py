"""Swatch form, test next and iron check by the keyboard alone, and in black on white on paper."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from tests.browser.test_page import Opened

LABEL = "100% wool flannel, 150 cm, 300 g/m2, lot keys"
MOST_TABS = 80

ACTIVE = "() => { const at = document.activeElement; return at.value || at.name || at.textContent }"


def tab_to(page: Any, wanted: str) -> None:
    """Press Tab until what is wanted has the focus, and shows it."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate(ACTIVE).strip() == wanted:
            outline = page.evaluate(
                "() => { const at = document.activeElement; const to = at.closest('.pick') ?"
                " at.nextElementSibling : at; return getComputedStyle(to).outlineStyle }"
            )
            assert outline != "none", f"{wanted} does not show that it has the focus"
            return
    raise AssertionError(f"no way to {wanted} by the keyboard")


def test_a_swatch_is_kept_by_the_keyboard_alone(opened: Opened, address: str) -> None:
    page = opened("desk")
    page.goto(f"{address}swatch?{urlencode({'label': LABEL})}", timeout=60_000)
    tab_to(page, "set-flat")
    page.keyboard.press("Space")
    tab_to(page, "Keep this swatch")
    page.keyboard.press("Enter")
    page.wait_for_selector(".kept")
    assert "set flat" in page.inner_text(".swatches").lower()


def test_an_iron_is_checked_by_the_keyboard_alone(opened: Opened, address: str) -> None:
    page = opened("desk")
    page.goto(f"{address}iron-check")
    page.focus("#name")
    page.keyboard.type("the light one")
    names = set()
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        names.add(page.evaluate("() => document.activeElement.name || ''"))
    fields = page.eval_on_selector_all(
        "main form input:not([type=hidden])", "all => all.map(i => i.name)"
    )
    assert {name for name in fields if name} <= names | {"name"}


def test_the_form_prints_nothing_cut_off(opened: Opened, address: str) -> None:
    page = opened("desk")
    page.emulate_media(media="print")
    for path in (f"swatch?{urlencode({'label': LABEL})}", "iron-check"):
        page.goto(address + path, timeout=60_000)
        wide = page.evaluate(
            "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert wide <= 0
