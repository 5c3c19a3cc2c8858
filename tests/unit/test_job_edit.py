"""Changes of a job's file leave every comment and line of it as it was."""

from __future__ import annotations

import tomllib

import pytest

from samite.kernel.errors import InputError
from samite.services.job_edit import add_section, raw_values, set_value, set_values, shown, take_out
from samite.services.job_store import demo_job_text
from samite.services.job_workroom import set_workroom

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


def test_a_form_that_is_sent_as_it_was_shown_changes_nothing() -> None:
    before = raw_values(TEXT)
    path = ("costume", "moon", "piece", "sash")
    names = ("shape", "cloth", "lining", "set/turns", "joined", "allowances/hem")
    fields = {name: shown(before, (*path, *name.split("/"))) for name in names}
    assert fields["joined"] == "sash"
    assert set_values(TEXT, path, fields) == TEXT
    hours = {"tuesday": "19:00-21:30", "closed": "2031-01-18", "fittings/moon": "2031-01-26"}
    assert set_values(TEXT, ("hours",), hours) == TEXT


def test_a_bare_key_with_a_dot_stays_one_measure() -> None:
    text = '[person.a]\nmeasures = { arm_length.left = "61 cm" }\n'
    after = set_values(text, ("person", "a"), {"measures/arm_length.left": "60 cm"})
    assert after == text.replace("61", "60")
    more = set_values(text, ("person", "a"), {"measures/stature": "170 cm"})
    assert tomllib.loads(more)["person"]["a"]["measures"] == {
        "arm_length": {"left": "61 cm"},
        "stature": "170 cm",
    }


def test_days_and_switches_are_written_as_toml_has_them() -> None:
    after = tomllib.loads(set_value(TEXT, ("hours", "closed"), "2031-01-18; 2031-01-20"))
    assert [day.isoformat() for day in after["hours"]["closed"]] == ["2031-01-18", "2031-01-20"]
    assert tomllib.loads(set_value(TEXT, ("stock",), "no"))["stock"] is False


def test_the_workroom_keeps_what_is_said_of_a_machine_that_stays() -> None:
    text = TEXT + '\n[[workroom.machine]]\nkind = "zigzag"\nfoot_lift = "7 mm"\n'
    after = set_workroom(
        text,
        machines=["zigzag", "overlocker"],
        feet=["normal"],
        needles="stretch 75; universal 80",
        threads="polyester-spun tex 27",
    )
    room = tomllib.loads(after)["workroom"]
    assert room["machine"] == [{"kind": "zigzag", "foot_lift": "7 mm"}, {"kind": "overlocker"}]
    assert room["needle"][1] == {"point": "universal", "size_nm": 80}
    assert room["thread"] == [{"kind": "polyester-spun", "tex": 27.0}]
    none = set_workroom(after, machines=[], feet=[], needles="", threads="")
    assert "workroom" not in tomllib.loads(none)
    for needles, threads in (("stretch", ""), ("", "polyester-spun 27"), ("75", "")):
        with pytest.raises(InputError, match="is no"):
            set_workroom(text, machines=[], feet=[], needles=needles, threads=threads)
