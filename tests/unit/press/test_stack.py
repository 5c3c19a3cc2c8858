"""Reading a question to the bare solver: what is taken, warned about and refused."""

from __future__ import annotations

import copy
import json
import math

import pytest

from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError
from samite.press.layers import Conductance, Held, Insulated, ReadingPlace
from samite.press.stack import answer_stack, read_stack

QUESTION = {
    "format": "samite.stack.v1",
    "start_c": 20,
    "top": {"sole_c": 150, "conductance_w_m2k": 500},
    "bottom": {"air_c": 20, "conductance_w_m2k": 5},
    "layers": [
        {
            "name": "press cloth",
            "thickness_mm": 0.35,
            "conductivity_w_mk": 0.05,
            "density_kg_m3": 450,
            "specific_heat_j_kgk": 1340,
            "water_kg_kg": 0.0,
            "start_c": 20,
        },
        {
            "name": "pad",
            "thickness_mm": 3,
            "conductivity_w_mk": 0.04,
            "density_kg_m3": 150,
            "specific_heat_j_kgk": 1300,
        },
    ],
    "contact_w_m2k": None,
    "times_s": [1, 3, 10],
    "read_at": [{"layer": "press cloth", "depth": 0.5}, {"layer": "pad", "depth": 0}],
}
GONE = object()


def changed(path: str, value: object) -> dict:
    """Return the question with one value replaced, or taken out."""
    document = copy.deepcopy(QUESTION)
    *way, last = [int(key) if key.isdigit() else key for key in path.split("/")]
    place = document
    for key in way:
        place = place[key]
    if value is GONE:
        del place[last]
    else:
        place[last] = value
    return document


def test_a_question_is_read() -> None:
    stack, times, places, warnings = read_stack(QUESTION)
    assert stack.top == Conductance(150.0, 500.0)
    assert stack.bottom == Conductance(20.0, 5.0)
    assert [layer.name for layer in stack.layers] == ["press cloth", "pad"]
    assert stack.starts_c == (20.0, 20.0)
    assert stack.contacts == (None,)
    assert times == (1.0, 3.0, 10.0)
    assert places == (ReadingPlace(0, 0.5), ReadingPlace(1, 0.0))
    assert warnings == ()


def test_the_answer_has_one_row_a_time_and_one_column_a_place() -> None:
    answer = answer_stack(QUESTION)
    assert answer["format"] == "samite.stack-answer.v1"
    assert [len(row) for row in answer["temperature_c"]] == [2, 2, 2]
    assert answer["error_estimate_c"] < 0.001
    assert answer["warnings"] == []
    json.dumps(answer, allow_nan=False)


def test_columns_follow_the_order_of_the_reading_places() -> None:
    swapped = changed("read_at", QUESTION["read_at"][::-1])
    rows = answer_stack(QUESTION)["temperature_c"]
    assert [row[::-1] for row in answer_stack(swapped)["temperature_c"]] == rows


def test_times_may_come_in_any_order_twice_and_at_zero() -> None:
    rows = answer_stack(changed("times_s", [10, 0, 1, 1]))["temperature_c"]
    plain = answer_stack(QUESTION)["temperature_c"]
    assert rows[1] == [20.0, 20.0]
    assert rows[0] == pytest.approx(plain[2])
    assert rows[2] == rows[3] == pytest.approx(plain[0])


def test_every_kind_of_boundary_is_read() -> None:
    assert read_stack(changed("top", {"held_c": 150}))[0].top == Held(150.0)
    assert read_stack(changed("bottom", {"insulated": True}))[0].bottom == Insulated()
    air = {"air_c": 22, "conductance_w_m2k": 9}
    assert read_stack(changed("top", air))[0].top == Conductance(22.0, 9.0)


def test_contacts_are_read_one_for_all_or_one_an_interface() -> None:
    assert read_stack(changed("contact_w_m2k", 800))[0].contacts == (800.0,)
    assert read_stack(changed("contact_w_m2k", [800]))[0].contacts == (800.0,)
    assert read_stack(changed("contact_w_m2k", [None]))[0].contacts == (None,)
    assert read_stack(changed("contact_w_m2k", GONE))[0].contacts == (None,)


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        ("start_c", GONE, "start_c"),
        ("top", GONE, "top"),
        ("bottom", None, "bottom"),
        ("layers", [], "layers"),
        ("layers", {}, "layers"),
        ("layers/0", 3, "layers[0]"),
        ("layers/1/name", GONE, "layers[1].name"),
        ("layers/1/name", 7, "layers[1].name"),
        ("layers/0/thickness_mm", GONE, "layers[0].thickness_mm"),
        ("layers/0/thickness_mm", "0.35", "layers[0].thickness_mm"),
        ("layers/0/thickness_mm", True, "layers[0].thickness_mm"),
        ("layers/0/thickness_mm", 0, "layers[0].thickness_mm"),
        ("layers/0/thickness_mm", 10**400, "layers[0].thickness_mm"),
        ("layers/1/conductivity_w_mk", -0.04, "layers[1].conductivity_w_mk"),
        ("layers/1/density_kg_m3", math.nan, "layers[1].density_kg_m3"),
        ("layers/1/specific_heat_j_kgk", math.inf, "layers[1].specific_heat_j_kgk"),
        ("layers/0/water_kg_kg", -0.1, "layers[0].water_kg_kg"),
        ("layers/0/start_c", math.nan, "layers[0].start_c"),
        ("top/sole_c", None, "top.sole_c"),
        ("top/conductance_w_m2k", 0, "top.conductance_w_m2k"),
        ("top/conductance_w_m2k", GONE, "top.conductance_w_m2k"),
        ("top/held_c", 150, "top"),
        ("top", {}, "top"),
        ("top", {"held_c": 150, "conductance_w_m2k": 5}, "top.conductance_w_m2k"),
        ("bottom", {"insulated": False}, "bottom.insulated"),
        ("contact_w_m2k", 0, "contact_w_m2k"),
        ("contact_w_m2k", "good", "contact_w_m2k"),
        ("contact_w_m2k", [1, 2], "contact_w_m2k"),
        ("contact_w_m2k", [-1], "contact_w_m2k[0]"),
        ("times_s", [], "times_s"),
        ("times_s", 3, "times_s"),
        ("times_s/1", -1, "times_s[1]"),
        ("times_s/1", math.inf, "times_s[1]"),
        ("read_at", [], "read_at"),
        ("read_at/1/layer", "pat", "read_at[1].layer"),
        ("read_at/1/layer", ["pad"], "read_at[1].layer"),
        ("read_at/0/depth", 1.01, "read_at[0].depth"),
        ("read_at/0/depth", GONE, "read_at[0].depth"),
        ("layers/1/name", "press cloth", "read_at[0].layer"),
        ("format", "samite.stack.v2", "format"),
    ],
)
def test_bad_input_is_refused_with_its_path_and_a_hint(
    path: str, value: object, where: str
) -> None:
    with pytest.raises(InputError) as caught:
        read_stack(changed(path, value))
    assert caught.value.where == where
    assert caught.value.message
    assert caught.value.hint
    assert "NaN" not in caught.value.message


def test_a_document_that_is_no_object_is_refused() -> None:
    with pytest.raises(InputError):
        read_stack([QUESTION])


def test_an_unknown_layer_gets_close_names() -> None:
    with pytest.raises(UnknownNameError) as caught:
        read_stack(changed("read_at/1/layer", "pat"))
    assert "pad" in caught.value.hint


def test_layers_of_one_name_are_fine_while_nobody_reads_them() -> None:
    document = changed("layers", [*QUESTION["layers"], QUESTION["layers"][1]])
    document["read_at"] = [{"layer": "press cloth", "depth": 0}]
    assert len(read_stack(document)[0].layers) == 3


@pytest.mark.parametrize(
    ("path", "value", "word"),
    [
        ("layers/0/water_kg_kg", 0.6, "boils off"),
        ("top/sole_c", 1200, "chars"),
        ("start_c", -300, "absolute zero"),
        ("layers/0/thickness_mm", 350, "layers[0].thickness_mm"),
        ("layers/0/conductivity_w_mk", 5000, "layers[0].conductivity_w_mk"),
        ("layers/0/density_kg_m3", 0.45, "layers[0].density_kg_m3"),
        ("layers/0/specific_heat_j_kgk", 1.34, "layers[0].specific_heat_j_kgk"),
        ("layers/0/colour", "red", "layers[0].colour"),
        ("seconds", [1], "seconds"),
    ],
)
def test_the_unlikely_is_computed_and_warned_about(path: str, value: object, word: str) -> None:
    answer = answer_stack(changed(path, value))
    assert any(word in warning for warning in answer["warnings"])
    assert all(math.isfinite(t) for row in answer["temperature_c"] for t in row)


def test_water_below_freezing_is_warned_about() -> None:
    document = changed("layers/0/water_kg_kg", 0.3)
    document["start_c"] = -10
    assert any("freeze" in warning for warning in read_stack(document)[3])


@pytest.mark.parametrize("thickness", [1e-9, 1e-3, 1e3, 1e9])
@pytest.mark.parametrize("conductivity", [1e-6, 1e6])
@pytest.mark.parametrize("conductance", [1e-9, 1e12])
def test_any_positive_value_is_answered_within_the_given_temperatures(
    thickness: float, conductivity: float, conductance: float
) -> None:
    document = changed("layers/0/thickness_mm", thickness)
    document["layers"][0]["conductivity_w_mk"] = conductivity
    document["top"]["conductance_w_m2k"] = conductance
    document["times_s"] = [1e-9, 1e-3, 1, 1e6, 1e12]
    for row in answer_stack(document)["temperature_c"]:
        assert all(20 - 1e-5 <= t <= 150 + 1e-5 for t in row)


def test_numbers_beyond_the_arithmetic_are_refused_not_answered_by_nan() -> None:
    document = changed("layers/0/density_kg_m3", 1e300)
    document["layers"][0]["specific_heat_j_kgk"] = 1e300
    with pytest.raises(OutOfRangeError):
        answer_stack(document)


def test_the_bare_solver_starts_without_the_compiler() -> None:
    import subprocess
    import sys

    code = "import sys, samite.press.solver, samite.press.stack; sys.exit('numba' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_water_may_stay_as_heat_capacity() -> None:
    document = changed("layers/0/water_kg_kg", 0.6)
    document["water"] = "stays"
    answer = answer_stack(document)
    assert "exact" in answer["method"]["space"]
    assert any("does not evaporate" in warning for warning in answer["warnings"])


def test_what_water_does_is_one_of_two_words() -> None:
    document = changed("layers/0/water_kg_kg", 0.6)
    document["water"] = "freezes"
    with pytest.raises(InputError, match="neither 'boils' nor 'stays'"):
        answer_stack(document)
