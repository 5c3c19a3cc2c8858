"""The loader refuses what is wrong, by file and line, and reads what is right."""

from __future__ import annotations

import math

import pytest

from samite.kernel.errors import TableError
from samite.kernel.evidence import Evidence, Grade
from samite.tables.loader import (
    Bound,
    bounds,
    data_text,
    did_you_mean,
    parse_table,
    read_list,
    read_table,
    read_toml,
    rows_by_key,
    suggest,
    table_hash,
)

HEADER = "fibre,property,value,unit,low,high,condition,source,locator,grade,note\n"
LIMITS = {
    "conductivity_w_mk": Bound("conductivity_w_mk", "conductivity", "W/(m K)", 0.02, 2.0),
    "role": Bound("role", "role", "", -math.inf, math.inf, ("support", "hold")),
    "name": Bound("name", "name", "", -math.inf, math.inf, ()),
}
SOURCES = frozenset({"a-book", "guess"})


def parse(*lines: str, header: str = HEADER):
    text = header + "\n".join(lines) + "\n"
    return parse_table(text, "fibres.csv", "fibre", LIMITS, SOURCES)


def refusal(*lines: str, header: str = HEADER) -> TableError:
    with pytest.raises(TableError) as caught:
        parse(*lines, header=header)
    return caught.value


def test_a_good_row_becomes_a_quantity_with_its_evidence():
    (row,) = parse("cork,conductivity_w_mk,0.05,W/(m K),0.04,0.07,dry,a-book,p. 3,publication,x")
    assert (row.key, row.property, row.condition, row.note) == (
        "cork",
        "conductivity_w_mk",
        "dry",
        "x",
    )
    quantity = row.number
    assert (quantity.value, quantity.low, quantity.high, quantity.unit) == (
        0.05,
        0.04,
        0.07,
        "W/(m K)",
    )
    assert quantity.evidence == Evidence("a-book", Grade.PUBLICATION, "p. 3")
    assert row.locator == "p. 3"
    assert row.line == 2


def test_a_row_without_value_takes_the_middle_of_its_range():
    (row,) = parse("cork,conductivity_w_mk,,W/(m K),0.04,0.09,,a-book,,publication,")
    assert row.number.value == pytest.approx(0.06)  # geometric, the quantity being positive


def test_a_row_with_only_a_value_has_no_spread():
    (row,) = parse("cork,conductivity_w_mk,0.05,W/(m K),,,,a-book,,publication,")
    assert row.number.low == row.number.high == 0.05


def test_a_word_row_holds_a_word_and_no_number():
    (row,) = parse("clapper,role,hold,,,,,guess,,guess,")
    assert row.word == "hold"
    assert row.quantity is None
    with pytest.raises(TableError, match="not a number"):
        _ = row.number


def test_the_decimal_point_message_names_file_line_bounds_and_mending():
    filler = "pine,conductivity_w_mk,0.1,W/(m K),,,{},a-book,,publication,"
    lines = [filler.format(number) for number in range(10)]
    error = refusal(*lines, "cork,conductivity_w_mk,65,W/(m K),,,,a-book,,publication,")
    assert error.message == (
        "fibres.csv:12: cork conductivity 65 W/(m K) is outside 0.02 to 2. "
        "Check the decimal point against the source."
    )
    assert error.where == "fibres.csv:12"
    assert error.code == "table-error"


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("cork,conductivity_w_mk,0.01,W/(m K),,,,a-book,,guess,", "outside 0.02 to 2"),
        ("cork,conductivity_w_mk,1,W/(m K),0.5,3,,a-book,,guess,", "3 W/(m K) is outside"),
        ("cork,conductivity_w_mk,1,W/(m K),0.001,1,,a-book,,guess,", "0.001 W/(m K) is outside"),
        ("cork,conductivity_w_mk,1,,,,,a-book,,guess,", "has no unit"),
        ("cork,conductivity_w_mk,1,mW/(m K),,,,a-book,,guess,", "has the unit 'mW/(m K)'"),
        ("cork,conductivity_w_mk,1,W/(m K),0.1,0.5,,a-book,,guess,", "does not contain 1"),
        ("cork,conductivity_w_mk,0.1,W/(m K),0.2,0.5,,a-book,,guess,", "does not contain 0.1"),
        ("cork,conductivity_w_mk,,W/(m K),0.5,0.2,,a-book,,guess,", "does not contain a value"),
        ("cork,conductivity_w_mk,0.1,W/(m K),0.05,,,a-book,,guess,", "not complete"),
        ("cork,conductivity_w_mk,,W/(m K),,,,a-book,,guess,", "not complete"),
        ("cork,conductivity_w_mk,,W/(m K),0.1,,,a-book,,guess,", "not complete"),
        ("cork,conductivity_w_mk,o.1,W/(m K),,,,a-book,,guess,", "'o.1' is not a number"),
        ("cork,conductivity_w_mk,nan,W/(m K),,,,a-book,,guess,", "is not a number"),
        ("cork,conductivity_w_mk,inf,W/(m K),,,,a-book,,guess,", "is not a number"),
        ("cork,conductivity_w_mk,0.1,W/(m K),,,,a-bok,,guess,", "unknown source 'a-bok'"),
        ("cork,conductivity_w_mk,0.1,W/(m K),,,,a-book,,hearsay,", "unknown grade 'hearsay'"),
        ("cork,conductivity_w_mk,0.1,W/(m K),,,,,,guess,", "unknown source ''"),
        ("cork,conductivity,0.1,W/(m K),,,,a-book,,guess,", "unknown property 'conductivity'"),
        (",conductivity_w_mk,0.1,W/(m K),,,,a-book,,guess,", "first column is empty"),
        ("cork,conductivity_w_mk,0.1,W/(m K),,,,a-book,,guess", "10 cells where the header has 11"),
        ("cork,role,table,,,,,a-book,,guess,", "'table' is unknown"),
        ("cork,role,hold,kg,,,,a-book,,guess,", "is a word"),
        ("cork,role,hold,,1,2,,a-book,,guess,", "is a word"),
        ("cork,name,,,,,,a-book,,guess,", "is empty"),
    ],
)
def test_it_refuses(line: str, says: str):
    error = refusal(line)
    assert says in error.message
    assert error.where == "fibres.csv:2"
    assert error.message.startswith("fibres.csv:2: ")
    assert error.hint


def test_hints_carry_close_names():
    assert "a-book" in refusal("x,name,y,,,,,a-bok,,guess,").hint
    assert "conductivity_w_mk" in refusal("x,conductivity_w_k,1,W/(m K),,,,guess,,guess,").hint


def test_it_refuses_a_duplicate_and_names_the_first_line():
    row = "cork,conductivity_w_mk,0.1,W/(m K),,,{},a-book,,guess,"
    assert len(parse(row.format("dry"), row.format("wet"))) == 2
    error = refusal(row.format("dry"), row.format("wet"), row.format("dry"))
    assert error.where == "fibres.csv:4"
    assert "already given in line 2" in error.message


def test_it_refuses_an_unknown_a_missing_and_a_misplaced_column():
    assert "unknown column 'colour'" in refusal(header=HEADER.replace("note", "colour")).message
    assert "column 'note' is missing" in refusal(header=HEADER.replace(",note", "")).message
    swapped = HEADER.replace("low,high", "high,low")
    assert "must stand in the order" in refusal(header=swapped).message


def test_an_empty_file_is_refused():
    with pytest.raises(TableError, match="column 'fibre' is missing"):
        parse_table("", "fibres.csv", "fibre", LIMITS, SOURCES)


def test_a_quoted_comma_and_a_blank_line_are_fine():
    rows = parse('cork,name,"bark, ground",,,,,a-book,,guess,', "", "oak,name,x,,,,,a-book,,guess,")
    assert [row.word for row in rows] == ["bark, ground", "x"]
    assert rows[1].line == 4


def test_a_missing_file_is_a_table_error():
    with pytest.raises(TableError, match="no table nothing"):
        data_text("nothing.csv")


def test_reading_is_cached():
    assert read_table("fibres.csv", "fibre") is read_table("fibres.csv", "fibre")
    assert read_toml("sources.toml") is read_toml("sources.toml")


def test_table_hash_depends_on_the_files_named():
    assert table_hash("fibres.csv") == table_hash("fibres.csv")
    assert table_hash("fibres.csv") != table_hash("irons.csv")
    assert table_hash("fibres.csv", "irons.csv") != table_hash("irons.csv", "fibres.csv")
    assert len(table_hash("fibres.csv")) == 16


def test_suggest_gives_close_names_and_nothing_far():
    assert suggest("polyster", ["polyester", "cotton"]) == ["polyester"]
    assert suggest("POLYSTER", ["Polyester"]) == ["Polyester"]
    assert suggest("xyzzy", ["polyester", "cotton"]) == []
    assert did_you_mean("polyster", ["polyester"]) == "did you mean polyester?"
    assert did_you_mean("xyzzy", ["polyester"]) == "no known name is close to it"


def test_read_list_refuses_another_header():
    with pytest.raises(TableError, match="unknown column 'fibre'"):
        read_list("fibre_list.csv", ("word",))


def test_rows_by_key_keeps_the_order():
    line = "{},name,x,,,,{},a-book,,guess,"
    rows = parse(line.format("b", 1), line.format("a", 1), line.format("b", 2))
    groups = rows_by_key(rows)
    assert list(groups) == ["b", "a"]
    assert [row.condition for row in groups["b"]] == ["1", "2"]


def test_every_bound_is_a_range_or_a_list_of_words():
    for bound in bounds().values():
        if bound.words is None:
            assert bound.minimum < bound.maximum
            assert bound.unit
