"""Changes of a job's file leave every comment and line of it as it was."""

from __future__ import annotations

import tomllib

import pytest

from samite.kernel.errors import InputError
from samite.services.job_edit import add_section, set_value, take_out
from samite.services.job_store import demo_job_text

TEXT = demo_job_text()


def lines_changed(before: str, after: str) -> list[str]:
    old = set(before.splitlines())
    return [line for line in after.splitlines() if line not in old]


def test_one_value_changes_one_line() -> None:
    after = set_value(TEXT, ("cloth", "night", "price"), "11.50/m")
    assert lines_changed(TEXT, after) == ['price = "11.50/m"']
    assert after.count("#") == TEXT.count("#")


def test_a_day_stays_a_day_and_a_number_a_number() -> None:
    after = tomllib.loads(set_value(TEXT, ("due",), "2031-03-01"))
    assert after["due"].isoformat() == "2031-03-01"
    assert tomllib.loads(set_value(TEXT, ("money", "rate"), "21,5"))["money"]["rate"] == 21.5


def test_what_is_set_and_unset_is_as_before() -> None:
    after = set_value(TEXT, ("cloth", "mist", "shrink"), "3 %")
    assert tomllib.loads(after)["cloth"]["mist"]["shrink"] == "3 %"
    assert tomllib.loads(set_value(after, ("cloth", "mist", "shrink"), "")) == tomllib.loads(TEXT)


def test_a_new_cloth_and_piece_stand_in_the_file() -> None:
    after = add_section(TEXT, ("cloth", "dusk"), {"label": "wool flannel, 150 cm"})
    after = add_section(
        after,
        ("costume", "moon", "piece", "hat"),
        {"shape": "cone", "cloth": "dusk", "copies": "2"},
    )
    read = tomllib.loads(after)
    assert read["cloth"]["dusk"] == {"label": "wool flannel, 150 cm"}
    assert read["costume"]["moon"]["piece"]["hat"]["copies"] == 2
    assert (
        tomllib.loads(take_out(after, ("cloth", "dusk")))["cloth"] == tomllib.loads(TEXT)["cloth"]
    )


@pytest.mark.parametrize("name", ["", "two words", "a.b", "ä", "night"])
def test_a_name_that_cannot_be_one_is_refused(name: str) -> None:
    with pytest.raises(InputError):
        add_section(TEXT, ("cloth", name), {"label": "x"})


def test_what_is_not_there_and_what_is_no_toml_is_refused() -> None:
    with pytest.raises(InputError, match="there is no"):
        take_out(TEXT, ("cloth", "dusk"))
    with pytest.raises(InputError, match="no TOML"):
        set_value("a = = 1", ("b",), "2")
    with pytest.raises(InputError, match="not a section"):
        set_value(TEXT, ("title", "x"), "2")
