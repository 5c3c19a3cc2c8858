"""What the reader of an iron's file takes, and everything that it refuses."""

from __future__ import annotations

import math
import re
import statistics

import pytest
from tests.contracts.tree import ROOT

from samite.readers.iron_dial import PROBE_ERROR_K
from samite.readers.iron_file import read_iron
from samite.tables.irons import Iron, household_iron

HEAD = 'format = "samite.iron.v1"\n'
GOOD = "[dial.silk]\ndots = 1\nreadings_c = [96, 104, 99]\n"


def taken(text: str) -> Iron:
    iron, problems = read_iron(HEAD + text)
    assert problems == []
    assert iron is not None
    return iron


def refused(text: str) -> tuple[str, str, str, int]:
    """Return what, where, mend and line of the only problem."""
    iron, problems = read_iron(text)
    assert iron is None
    assert len(problems) == 1, problems
    (one,) = problems
    assert one.what
    assert one.mend
    return one.what, one.where, one.mend, one.line


def test_a_file_that_says_nothing_is_the_household_iron_by_another_name():
    iron = taken("")
    usual = household_iron()
    assert (iron.key, iron.name) == ("own", "my iron")
    for field in ("settings", "swing_c", "steams_from", "mass_kg", "has_clapper", "board"):
        assert getattr(iron, field) == getattr(usual, field)


def test_three_readings_give_mean_spread_and_swing():
    iron = taken(GOOD)
    low, medium, _ = iron.settings
    sole = low.sole_c
    # mean of n readings to 1.645 s / sqrt(n), in quadrature with the probe: arithmetic
    deviation = statistics.stdev([96, 104, 99])
    half = math.hypot(PROBE_ERROR_K, 1.6448536 * deviation / math.sqrt(3))
    assert sole.value == pytest.approx((96 + 104 + 99) / 3)
    assert sole.high - sole.value == pytest.approx(half)
    assert (low.word, low.measured, medium.measured) == ("silk", True, False)
    assert iron.swing_c.value == 4.0


def test_equal_readings_still_leave_the_probe_and_a_small_swing():
    iron = taken(GOOD.replace("96, 104, 99", "100, 100, 100"))
    sole = iron.settings[0].sole_c
    assert sole.high - sole.low == pytest.approx(2 * PROBE_ERROR_K)
    assert iron.swing_c.value == PROBE_ERROR_K


@pytest.mark.parametrize("readings", ["100", "100, 100"])
def test_too_few_readings_leave_the_usual_swing_in_doubt(readings: str):
    iron = taken(GOOD.replace("96, 104, 99", readings))
    sole = iron.settings[0].sole_c
    assert sole.high - sole.low > 4 * PROBE_ERROR_K
    assert iron.swing_c == household_iron().swing_c


def test_the_largest_swing_of_any_position_counts():
    more = "[dial.wool]\ndots = 2\nreadings_c = [130, 150, 141]\n"
    assert taken(GOOD + more).swing_c.value == 10.0
    assert taken(GOOD + more + "swing_c = 4\n").swing_c.value == 4.0


def test_units_are_read_as_written():
    iron = taken(
        'mass_kg = "2 lb"\nsole_area_cm2 = "33 in2"\nsteam_g_min = "20 g/min"\n'
        '[dial.wool]\ndots = 2\nsole_c = "302 F"\nswing_c = "9 F"\n'
    )
    assert iron.mass_kg.value == pytest.approx(0.90718474)  # 1 lb = 0.45359237 kg: definition
    assert iron.sole_area_cm2.value == pytest.approx(33 * 2.54**2)
    assert iron.dial_c("medium").value == pytest.approx(150.0)
    assert iron.swing_c.value == pytest.approx(5.0)
    assert iron.steam_light_g_min.value == iron.steam_full_g_min.value == 20.0


def test_dots_alone_name_a_position_and_leave_the_tolerance():
    iron = taken('steams_from = "Linen"\n[dial.linen]\ndots = 3\n')
    high = iron.setting("high")
    assert (high.word, high.measured, iron.steams_from) == ("linen", False, "high")
    assert high.sole_c == household_iron().dial_c("high")


def test_what_was_not_measured_lies_between_its_neighbours():
    iron = taken("[dial.a]\ndots = 1\nsole_c = 118\n[dial.c]\ndots = 3\nsole_c = 150\n")
    medium = iron.dial_c("medium")
    assert (medium.low, medium.high) == (118.0, 150.0)
    assert 118.0 <= medium.value <= 150.0


@pytest.mark.parametrize(("kind", "steams"), [("hand steamer", "low"), ("heat press", None)])
def test_steamers_steam_and_presses_do_not(kind: str, steams: str | None):
    iron = taken(f'kind = "{kind}"\n')
    assert iron.steams_from == steams
    assert (iron.stated_pressure_kpa is None) == (kind == "hand steamer")


def test_a_heat_press_states_its_pressure_and_may_be_large():
    iron = taken('kind = "heat press"\npressure_kpa = "0.4 bar"\nsole_area_cm2 = 1500\n')
    assert iron.pressure_kpa.value == pytest.approx(40.0)
    assert iron.sole_area_cm2.value == 1500.0


def test_light_steam_said_alone_is_never_more_than_full():
    iron = taken("steam_light_g_min = 55\n")
    assert iron.steam_light_g_min.value == 55.0
    assert iron.steam_full_g_min.value >= 55.0


def test_hold_and_board_are_taken():
    iron = taken(
        '[hold]\nclapper = false\n[board]\nsupport = "towel"\nthickness_mm = 9\ncover = "linen"\n'
    )
    assert not iron.has_clapper
    assert iron.board is not None
    assert (iron.board.key, iron.board.thickness_mm.value) == ("towel", 9.0)
    assert "linen" in iron.board.name


def test_the_example_of_the_documentation_is_taken_whole():
    page = (ROOT / "docs" / "faces" / "iron.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"```toml\n(.*?)```", page, re.DOTALL)
    iron, problems = read_iron(example)
    assert problems == []
    assert iron is not None
    assert all(item.measured for item in iron.settings)
    assert (iron.name, iron.steams_from, iron.has_clapper) == ("green iron", "high", False)


@pytest.mark.parametrize(
    ("text", "what", "where", "mend", "line"),
    [
        ("", "empty", "the file", "iron.md", 1),
        ("  \n\n", "empty", "the file", "iron.md", 1),
        ("dots = = 1", "no TOML", "the file", "key = value", 1),
        (HEAD + "mass_kg 1", "no TOML", "the file", "key = value", 2),
        ("x = " + "[" * 9000, "nested", "the file", "flat", 1),
        ("x = " + "9" * 5000, "no TOML", "the file", "key = value", 1),
        ("#" * 20_001, "too many", "the file", "keep only", 1),
        ("name = 'x'", "does not say its format", "format", "samite.iron.v1", 1),
        ('format = "samite.iron.v9"', "not known", "format", "samite.iron.v1", 1),
        (HEAD + "\nmas_kg = 1", "means nothing", "mas_kg", "mass_kg", 3),
        (HEAD + 'kind = "toaster"', "toaster", "kind", "heat press", 2),
        (HEAD + "kind = 3", "no text", "kind", "quotes", 2),
        (HEAD + f'name = "{"x" * 81}"', "too many", "name", "80", 2),
        (HEAD + "mass_kg = -1.2", "impossible", "mass_kg", "unit", 2),
        (HEAD + "mass_kg = 1200", "impossible", "mass_kg", "unit", 2),
        (HEAD + "mass_kg = true", "no number", "mass_kg", "kg", 2),
        (HEAD + "mass_kg = nan", "no finite", "mass_kg", "kg", 2),
        (HEAD + "mass_kg = " + "9" * 400, "no finite", "mass_kg", "kg", 2),
        (HEAD + 'mass_kg = "2 m"', "no unit of mass", "mass_kg", "kg", 2),
        (HEAD + "mass_kg = 2031-02-03", "no number", "mass_kg", "kg", 2),
        (HEAD + "recovery_s = 0", "impossible", "recovery_s", "unit", 2),
        (HEAD + "sole_area_cm2 = 1500", "impossible", "sole_area_cm2", "unit", 2),
        (HEAD + "hand_force_n = -3", "impossible", "hand_force_n", "unit", 2),
        (HEAD + "steam_g_min = 0", "impossible", "steam_g_min", "unit", 2),
        (HEAD + 'steam_g_min = "lots"', "no number", "steam_g_min", "g/min", 2),
        (HEAD + 'steam_g_min = "nan"', "no finite", "steam_g_min", "g/min", 2),
        (
            HEAD + "steam_g_min = 9\nsteam_full_g_min = 9",
            "one output and two",
            "steam_full_g_min",
            "alone",
            3,
        ),
        (
            HEAD + "steam_light_g_min = 30\nsteam_full_g_min = 20",
            "more than full",
            "steam_light_g_min",
            "swap",
            2,
        ),
        (HEAD + 'steams_from = "never"\nsteam_g_min = 9', "never steams", "steam_g_min", "one", 3),
        (HEAD + 'steams_from = "wol"\n[dial.wool]\ndots = 2', "no position", "steams_from", "wool", 2),
        (HEAD + 'steams_from = "linen"', "no position", "steams_from", '[dial."linen"]', 2),
        (HEAD + "pressure_kpa = 3", "follows from weight", "pressure_kpa", "leave it out", 2),
        (HEAD + 'kind = "heat press"\npressure_kpa = 900', "impossible", "pressure_kpa", "unit", 3),
        (HEAD + "dial = 3", "a section", "dial", "[dial.", 2),
        (HEAD + "[dial]\ndots = 1", "position of the dial", "dial.dots", "[dial.", 3),
        (HEAD + "[dial.wool]\nsole_c = 140", "dots are missing", "dial.wool", "1, 2 or 3", 2),
        (HEAD + "[dial.wool]\ndots = 4", "on no symbol", "dial.wool.dots", "1, 2 or 3", 3),
        (HEAD + "[dial.wool]\ndots = true", "on no symbol", "dial.wool.dots", "1, 2 or 3", 3),
        (HEAD + "[dial.wool]\ndot = 2\ndots = 2", "means nothing", "dial.wool.dot", "dots", 3),
        (HEAD + GOOD + "sole_c = 99", "twice", "dial.silk.sole_c", "readings", 5),
        (HEAD + GOOD + "[dial.b]\ndots = 1", "already at 'silk'", "dial.b", "keep", 5),
        (HEAD + "[dial.b]\ndots = 2\nreadings_c = []", "list", "dial.b.readings_c", "[141", 4),
        (HEAD + "[dial.b]\ndots = 2\nreadings_c = 140", "list", "dial.b.readings_c", "[141", 4),
        (
            HEAD + "[dial.b]\ndots = 2\nreadings_c = [110, 171]",
            "61 K apart",
            "dial.b.readings_c",
            "twice",
            4,
        ),
        (HEAD + "[dial.b]\ndots = 3\nsole_c = 390", "hotter than any iron", "dial.b.sole_c", '"390 F"', 4),
        (HEAD + '[dial.b]\ndots = 3\nsole_c = "900 C"', "hotter than any", "dial.b.sole_c", "again", 4),
        (HEAD + "[dial.b]\ndots = 1\nsole_c = 230", "too hot for one dot", "dial.b.sole_c", '"230 F"', 4),
        (HEAD + "[dial.b]\ndots = 1\nsole_c = -20", "is not hot", "dial.b.sole_c", "twice", 4),
        (HEAD + "[dial.b]\ndots = 1\nsole_c = 21", "is not hot", "dial.b.sole_c", "twice", 4),
        (HEAD + "[dial.b]\ndots = 1\nsole_c = inf", "no finite", "dial.b.sole_c", "number", 4),
        (HEAD + "[dial.b]\ndots = 1\nswing_c = 90", "impossible", "dial.b.swing_c", "unit", 4),
        (HEAD + "[dial.b]\ndots = 1\nswing_c = -1", "impossible", "dial.b.swing_c", "unit", 4),
        (
            HEAD + "[dial.a]\ndots = 1\nsole_c = 140\n[dial.b]\ndots = 2\nsole_c = 120",
            "not cooler",
            "dial.a",
            "swapped",
            2,
        ),
        (HEAD + '[hold]\nclapper = "no"', "neither true nor false", "hold.clapper", "true", 3),
        (HEAD + "[hold]\nclaper = true", "means nothing", "hold.claper", "clapper", 3),
        (HEAD + "hold = true", "a section", "hold", "[hold]", 2),
        (HEAD + '[board]\nsupport = "bord"', "no support", "board.support", "board", 3),
        (HEAD + '[board]\nsupport = "clapper"', "no support", "board.support", "", 3),
        (HEAD + "[board]\nthickness_mm = 0", "impossible", "board.thickness_mm", "unit", 3),
        (HEAD + 'kind = "hand steamer"\nsteams_from = "a"', "no dial", "steams_from", "leave", 3),
        (HEAD + 'kind = "heat press"\nsteams_from = "b"\n[dial.b]\ndots = 2', "never", "steams_from", "leave", 3),
    ],
)  # fmt: skip
def test_it_refuses(text: str, what: str, where: str, mend: str, line: int):
    said = refused(text)
    assert what in said[0]
    assert where == said[1]
    assert mend in said[2]
    assert line == said[3]


def test_everything_wrong_is_told_at_once_in_the_order_of_the_file():
    iron, problems = read_iron(
        'kind = "toaster"\nmass_kg = -1\nnmae = "x"\n[dial.b]\nsole_c = 900\n[hold]\nclapper = 1\n'
    )
    assert iron is None
    assert [item.line for item in problems] == sorted(item.line for item in problems)
    places = {item.where for item in problems}
    assert places >= {"format", "kind", "mass_kg", "nmae", "dial.b", "hold.clapper"}


def test_a_byte_order_mark_and_other_line_ends_are_passed_over():
    iron, problems = read_iron("\ufeff" + HEAD.replace("\n", "\r\n") + GOOD.replace("\n", "\r\n"))
    assert problems == []
    assert iron is not None
