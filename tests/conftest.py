"""What all tests share: how many random cases to try, and what must not be skipped."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

FULL = os.environ.get("SAMITE_FULL") == "1"
NEED = frozenset(filter(None, os.environ.get("SAMITE_NEED", "").split(",")))

# A compiled kernel takes a second on its first call and the machine may be shared: no deadlines.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("quick", max_examples=12, derandomize=True, **_COMMON)
settings.register_profile("full", max_examples=300, print_blob=True, **_COMMON)
settings.load_profile("full" if FULL else "quick")

MARKS = {
    "published": pytest.mark.published,
    "practice": pytest.mark.practice,
    "oracles": pytest.mark.oracle,
    "property": pytest.mark.property,
    "pinned": pytest.mark.pinned,
}

HEAVY_FIRST = ("browser", "oracles", "integration", "property", "published", "practice")
"""The folders whose files take longest; the many small ones fill what is left of the cores."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test with the kind that its folder names, and put heavy folders first."""
    for item in items:
        kind = folder(item)
        if kind in MARKS:
            item.add_marker(MARKS[kind])
    last = len(HEAVY_FIRST)
    place = {kind: index for index, kind in enumerate(HEAVY_FIRST)}
    items.sort(key=lambda item: place.get(folder(item), last))


def folder(item: pytest.Item) -> str:
    """Return the folder of a test, one below ``tests``."""
    return item.path.relative_to(Path(__file__).parent).parts[0]


@pytest.fixture(scope="session", autouse=True)
def own_store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A store of the tests' own: nothing ever touches that of the person who runs them."""
    place = tmp_path_factory.mktemp("store") / "samite.sqlite"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SAMITE_STORE", str(place))
        yield place


@pytest.fixture(scope="session")
def heavy() -> Callable[[int], int]:
    """Number of cases of a heavy random test: all of them with ``--full``, else a tenth."""
    return lambda count: count if FULL else max(1, count // 10)


@pytest.fixture(scope="session")
def lacking() -> Callable[[str, str], None]:
    """Skip for want of a tool, unless SAMITE_NEED lists it: then its lack is a failure."""

    def lack(tool: str, why: str) -> None:
        if tool in NEED:
            pytest.fail(f"{tool} is needed here: {why}")
        pytest.skip(f"no {tool}: {why}")

    return lack
