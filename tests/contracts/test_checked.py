"""Every engine function is checked against something outside, or the page says why not."""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.contracts.tree import ROOT, engine_modules, markdown_rows, public_functions

OUTSIDE = ("published", "practice", "oracles")
PAGE = ROOT / "docs" / "unchecked.md"


@cache
def mentioned() -> frozenset[str]:
    """Return every word of the tests that check against something outside."""
    files = [path for kind in OUTSIDE for path in sorted((ROOT / "tests" / kind).rglob("*"))]
    wanted = {".py", ".csv", ".json", ".toml"}
    texts = [path.read_text(encoding="utf-8") for path in files if path.suffix in wanted]
    return frozenset(re.findall(r"\w+", "\n".join(texts)))


@cache
def excused() -> dict[str, str]:
    rows = markdown_rows(PAGE.read_text(encoding="utf-8"), "function", "why not checked")
    return {row["function"]: row["why not checked"] for row in rows}


@pytest.mark.parametrize("module", engine_modules())
def test_every_engine_function_is_checked_or_excused(module: str) -> None:
    short = module.removeprefix("samite.")
    if f"{short}.*" in excused():
        return
    missing = [
        f"{short}.{name}"
        for name in public_functions(module)
        if name not in mentioned() and f"{short}.{name}" not in excused()
    ]
    assert not missing, (
        "neither checked in tests/published, tests/practice or tests/oracles nor excused in"
        f" docs/unchecked.md: {', '.join(missing)}"
    )


def test_every_excuse_is_for_a_function_that_is_there_and_gives_a_reason() -> None:
    there = {
        f"{module.removeprefix('samite.')}.{name}"
        for module in engine_modules()
        for name in public_functions(module)
    }
    there |= {f"{module.removeprefix('samite.')}.*" for module in engine_modules()}
    gone = sorted(set(excused()) - there)
    assert not gone, f"docs/unchecked.md names what is not there: {gone}"
    bare = [name for name, why in excused().items() if len(why.split()) < 3]
    assert not bare, f"docs/unchecked.md gives no reason for: {bare}"
