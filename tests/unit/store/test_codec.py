"""Plain JSON is read strictly."""

from __future__ import annotations

from typing import Any

import pytest
from tests.swatches import plain_swatch

from samite.kernel.errors import InputError
from samite.store.codec import from_plain, to_plain
from samite.swatch.trial import Swatch


def test_a_missing_key_with_a_default_is_filled() -> None:
    plain = to_plain(plain_swatch())
    del plain["note"], plain["press"]["support"]
    assert from_plain(Swatch, plain) == plain_swatch()


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        (("note",), 3, "note"),
        (("note",), "zero\x00byte", "note"),
        (("set_aside",), 1, "set_aside"),
        (("made_on",), "3rd of May", "made_on"),
        (("made_on",), None, "made_on"),
        (("findings",), {}, "findings"),
        (("findings",), [], "seen"),
        (("press",), [], "press"),
        (("press", "seconds"), "4", "press.seconds"),
        (("press", "seconds"), True, "press.seconds"),
        (("press", "seconds"), float("inf"), "press.seconds"),
        (("press", "seconds"), 10**400, "press.seconds"),
        (("press", "seconds"), -1, "press.seconds"),
        (("press", "dial"), "hot", "press.dial"),
        (("press", "dial"), [], "press.dial"),
        (("press", "speed"), 1, "press"),
        (("nothing",), 1, ""),
    ],
)
def test_what_is_unknown_or_wrong_is_refused_at_its_place(
    path: tuple[str, ...], value: Any, where: str
) -> None:
    plain: Any = to_plain(plain_swatch())
    place = plain
    for name in path[:-1]:
        place = place[name]
    place[path[-1]] = value
    with pytest.raises(InputError) as caught:
        from_plain(Swatch, plain)
    assert caught.value.where == where


def test_a_missing_key_without_a_default_is_refused() -> None:
    plain = to_plain(plain_swatch())
    del plain["made_on"]
    with pytest.raises(InputError, match="made_on is missing"):
        from_plain(Swatch, plain)
