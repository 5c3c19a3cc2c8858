"""A trouble chosen from the list is found by its very name on every cloth that it can happen to."""

from __future__ import annotations

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.labels.rescue import find_trouble, troubles

CLOTHS = [
    build_cloth(read_label(label))
    for label in ("stretch velvet 94/6 polyester/elastane, glued glitter", "silk charmeuse", "lame")
]


@pytest.mark.parametrize("key", sorted(troubles()))
def test_a_name_from_the_list_finds_itself(key: str) -> None:
    item = troubles()[key]
    possible = [cloth for cloth in CLOTHS if item.happens_to(cloth)]
    for cloth in possible:
        assert find_trouble(item.name, cloth) is item
