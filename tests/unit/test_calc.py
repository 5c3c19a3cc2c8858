"""The calc service and its command: inputs as people write them, refusals that name the way out."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from samite.cli.calc import command as calc
from samite.kernel.errors import InputError, OutOfRangeError, SamiteError, UnknownNameError
from samite.kernel.evidence import Grade
from samite.kernel.units import parse_quantity
from samite.services.calc import calc_names, calculate, reading_unit
from samite.services.calc_describe import describe
from samite.tables.loader import read_toml

NUMBERS = ["0", "1", "-1", "0.5", "301", "20", "100", "1e-12", "1e6", "1e300", "inf", "cotton"]
SEAM = {"stitch_type": "301", "thickness": "1 mm", "stitch_length": "2.5 mm"}


@pytest.mark.parametrize("name", calc_names())
def test_every_function_is_described_with_units_source_and_grade(name: str) -> None:
    described = describe(name)
    assert described.summary
    assert described.source in read_toml("sources.toml")
    assert described.grade in set(Grade)
    for argument in described.arguments:
        assert argument.says, f"{name} does not say what {argument.name} is"
        if argument.kind in {"number", "count", "numbers"}:
            assert argument.unit, f"{name} gives {argument.name} no unit"
            parse_quantity("1", reading_unit(argument.unit))


@pytest.mark.parametrize("key", ["stitch_length_mm", "stitch_length", "stitch-length"])
@pytest.mark.parametrize("text", ["2.5 mm", "2.5", "0.25 cm", "10.16 spi", "4 st/cm"])
def test_an_argument_is_read_by_either_name_and_in_any_unit(key: str, text: str) -> None:
    inputs = {"stitch_type": "301", "thickness": "1 mm", key: text}
    answer = calculate("thread-ratio", inputs)
    assert answer.value == pytest.approx(2.8)
    assert answer.inputs["stitch_length_mm"] == pytest.approx(2.5)


def test_the_answer_is_given_in_the_unit_wanted() -> None:
    inputs = {"stitch_length": "12 spi", "thread_strength": "2.6 lbf", "loop_factor": "1.5"}
    assert calculate("seam-strength", inputs, "lbf/in").value == pytest.approx(46.8)
    assert calculate("iron-limit", {"dots": "3"}, "F").value == pytest.approx(392.0)


def test_a_value_from_a_table_comes_with_the_spread_and_source_of_its_row() -> None:
    answer = calculate("fibre-value", {"fibre": "cotton", "property": "specific_heat_dry_j_gk"})
    assert answer.low < answer.value < answer.high
    assert answer.source == "morton-hearle-2008-t6.1"
    assert set(answer.as_dict()) >= {"low", "high"}
    assert "low" not in calculate("thread-ratio", SEAM).as_dict()


def test_an_unknown_function_is_refused_with_close_names() -> None:
    with pytest.raises(UnknownNameError) as caught:
        calculate("thread-rato", SEAM)
    assert "thread-ratio" in caught.value.hint


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"stitch_lenght": "2 mm"}, "takes no 'stitch_lenght'"),
        ({"stitch_length_mm": "2 mm"}, "given twice"),
        ({"thickness": "thick"}, "no quantity"),
        ({"thickness": "1 g"}, "no unit of length"),
    ],
)
def test_a_wrong_argument_is_refused_with_what_the_function_takes(
    change: dict[str, str], message: str
) -> None:
    with pytest.raises(InputError, match=message) as caught:
        calculate("thread-ratio", {**SEAM, **change})
    assert caught.value.hint


def test_an_answer_beyond_all_numbers_is_refused() -> None:
    huge = {"stitch_type": "602", "thickness": "1e300 mm", "stitch_length": "1e-300 mm"}
    with pytest.raises(OutOfRangeError, match="so large or small"):
        calculate("thread-ratio", huge)


@settings(max_examples=500)
@given(
    name=st.sampled_from(calc_names()),
    texts=st.lists(st.sampled_from(NUMBERS) | st.text(max_size=8), min_size=8, max_size=8),
)
def test_any_input_is_answered_or_refused_with_a_hint(name: str, texts: list[str]) -> None:
    arguments = describe(name).arguments
    inputs = {one.name: text for one, text in zip(arguments, texts, strict=False)}
    refusal = SamiteError("", hint="answered")
    try:
        json.dumps(calculate(name, inputs).as_dict(), allow_nan=False)
    except SamiteError as error:
        refusal = error
    assert refusal.hint


def test_a_missing_argument_is_named() -> None:
    with pytest.raises(InputError, match="lacks thickness_mm") as caught:
        calculate("thread-ratio", {"stitch_type": "301", "stitch_length": "2 mm"})
    assert "width_mm [mm] (optional)" in caught.value.hint


def test_a_count_must_be_whole_and_a_yes_or_no_must_be_said() -> None:
    with pytest.raises(InputError, match="whole number"):
        calculate("iron-limit", {"dots": "1.5"})
    with pytest.raises(InputError, match="yes or no"):
        calculate("needle-minimum-size", {"thread_diameter": "0.2 mm", "large_eye": "perhaps"})
    large = calculate("needle-minimum-size", {"thread_diameter": "0.2 mm", "large_eye": "yes"})
    usual = calculate("needle-minimum-size", {"thread_diameter": "0.2 mm", "large_eye": "no"})
    assert large.value < usual.value


def test_lists_are_read_with_semicolons_or_spaced_slashes_and_must_match() -> None:
    inputs = {"shares": "65; 35", "specific_heats": "1.03 / 1.30 J/gK"}
    assert calculate("blend-specific-heat", inputs).value == pytest.approx(1.1245)
    with pytest.raises(InputError, match="do not match"):
        calculate("blend-specific-heat", {"shares": "65; 35", "specific_heats": "1.03"})


def test_a_word_has_no_unit_to_convert_to() -> None:
    with pytest.raises(InputError, match="word"):
        calculate("steam-at-dots", {"dots": "1"}, "C")


def run(*arguments: str) -> str:
    return CliRunner().invoke(calc, arguments, catch_exceptions=False).output


def test_the_command_prints_one_json_document() -> None:
    printed = run("thread-ratio", *(f"{k}={v}" for k, v in SEAM.items()), "--json")
    document = json.loads(printed)
    assert document["format"] == "samite.calc.v1"
    assert list(document)[1:] == ["name", "inputs", "value", "unit", "source", "grade"]
    assert document["value"] == pytest.approx(2.8)


def test_the_command_prints_value_unit_source_and_grade() -> None:
    assert run("iron-limit", "dots=2") == "150 C  [care-symbol-page, publication]\n"


def test_the_command_lists_names_arguments_and_units() -> None:
    document = json.loads(run("--list", "--json"))
    assert [one["name"] for one in document["functions"]] == list(calc_names())
    listed = run("--list", "thread-ratio")
    assert "stitch_length_mm [mm]" in listed
    assert "width_mm [mm, optional]" in listed


@pytest.mark.parametrize(
    "arguments", [[], ["iron-limit", "dots"], ["iron-limit", "dots=1", "dots=2"]]
)
def test_the_command_refuses_what_is_no_question(arguments: list[str]) -> None:
    with pytest.raises(InputError) as caught:
        run(*arguments)
    assert caught.value.hint


def test_the_command_does_not_load_the_array_libraries() -> None:
    code = (
        "import sys; from samite.cli.calc import command as calc;"
        "calc.main(['--list'], standalone_mode=False);"
        "sys.exit(bool({'numpy', 'numba', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert done.returncode == 0, done.stderr
