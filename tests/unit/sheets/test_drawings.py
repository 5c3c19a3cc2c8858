"""The drawings are well formed, say what they show, and write nothing over anything else."""

from __future__ import annotations

import itertools
import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit.sheets.hand_made import HOSTILE, LONG, a_curve, a_hold, a_panel, a_stack, a_strip

from samite.sheets.hold_curve import draw_hold_curve
from samite.sheets.layers_picture import draw_layers
from samite.sheets.press_curve import draw_press_curve
from samite.sheets.recipe_strip import draw_recipe_strip
from samite.sheets.recipe_views import RecipeStrip
from samite.sheets.svg import escape, spread, text_width

SVG = "{http://www.w3.org/2000/svg}"
DRAWN = {
    "curve": draw_press_curve(a_curve()),
    "curve, not safe": draw_press_curve(a_curve(safe=False)),
    "small curve": draw_press_curve(a_curve(), small=True),
    "layers": draw_layers(a_stack()),
    "small layers": draw_layers(a_stack(), small=True),
    "hold": draw_hold_curve(a_hold()),
    "hold, to the end": draw_hold_curve(a_hold(30.0)),
    "hold, at once": draw_hold_curve(a_hold(1.0)),
    "strip in a row": draw_recipe_strip(a_strip()),
    "strip in two rows": draw_recipe_strip(a_strip("to one side"), columns=2),
    "strip of a French seam": draw_recipe_strip(a_strip("french", tool="hand"), columns=2),
    "strip of an edge": draw_recipe_strip(a_strip("edge", tool="weight")),
}
HOSTILE_DRAWN = {
    "curve": draw_press_curve(a_curve(technique=HOSTILE)),
    "layers": draw_layers(a_stack(HOSTILE)),
    "long curve": draw_press_curve(a_curve(technique=LONG)),
    "long layers": draw_layers(a_stack(LONG), small=True),
    "strip": draw_recipe_strip(a_strip(words=HOSTILE)),
    "long strip": draw_recipe_strip(a_strip(words=LONG), columns=2),
}
ALL = DRAWN | {f"hostile {name}": svg for name, svg in HOSTILE_DRAWN.items()}


def parse(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314


def boxes(svg: str) -> list[tuple[str, float, float, float, float]]:
    """Return each text with the box that it takes; the tallest letters reach 0.75 of the size."""
    found = []
    for text in parse(svg).iter(f"{SVG}text"):
        x, y, size = (float(text.attrib[key]) for key in ("x", "y", "font-size"))
        # The width that the font shipped takes on average, so that near misses are no hits.
        wide = text_width(text.text or "", size) * 0.5 / 0.58
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.attrib["text-anchor"]]
        found.append((text.text or "", left, y - 0.72 * size, left + wide, y + 0.2 * size))
    return found


@pytest.mark.parametrize("name", ALL)
def test_it_is_well_formed_and_named_for_screen_readers(name: str) -> None:
    root = parse(ALL[name])
    assert root.tag == f"{SVG}svg"
    assert root.attrib["role"] == "img"
    named = [root.find(f"{SVG}{tag}") for tag in ("title", "desc")]
    assert all(item is not None and item.text for item in named)
    ids = [item.attrib["id"] for item in named if item is not None]
    assert root.attrib["aria-labelledby"].split() == ids


@pytest.mark.parametrize("name", ALL)
def test_texts_do_not_cover_each_other_nor_leave_the_paper(name: str) -> None:
    root = parse(ALL[name])
    width, height = (float(root.attrib[key]) for key in ("width", "height"))
    placed = boxes(ALL[name])
    assert len(placed) >= 6
    for text, left, top, right, bottom in placed:
        assert left >= 0, text
        assert top >= 0, text
        assert right <= width, text
        assert bottom <= height, text
    for one, other in itertools.combinations(placed, 2):
        apart = one[3] <= other[1] or other[3] <= one[1] or one[4] <= other[2] or other[4] <= one[2]
        assert apart, f"{one[0]!r} covers {other[0]!r}"


@pytest.mark.parametrize("name", ALL)
def test_paints_are_grey_so_that_nothing_is_said_by_colour(name: str) -> None:
    for paint in re.findall(r"#[0-9a-f]{6}", ALL[name]):
        red, green, blue = (int(paint[at : at + 2], 16) for at in (1, 3, 5))
        assert max(red, green, blue) - min(red, green, blue) <= 12, paint


@pytest.mark.parametrize("name", HOSTILE_DRAWN)
def test_a_hostile_text_stays_text(name: str) -> None:
    assert "<script" not in HOSTILE_DRAWN[name]
    assert "\x00" not in HOSTILE_DRAWN[name]
    tags = {item.tag.removeprefix(SVG) for item in parse(HOSTILE_DRAWN[name]).iter()}
    assert tags <= {"svg", "title", "desc", "defs", "pattern", "rect", "path", "text", "circle"}


def test_lines_differ_by_their_dashes() -> None:
    root = parse(DRAWN["curve"])
    heavy = [p for p in root.iter(f"{SVG}path") if float(p.attrib.get("stroke-width", 0)) >= 2.6]
    dashes = {
        p.attrib.get("stroke-dasharray", "") for p in heavy if p.attrib["stroke"] != "#ffffff"
    }
    assert {"", "9 5", "2 4"} <= dashes


def test_zones_and_the_seconds_are_hatched_and_not_proved_is_not_solid() -> None:
    for name in ("softens", "harm", "over"):
        assert f"url(#curve-{name})" in DRAWN["curve"]
    assert "url(#curve-maybe)" not in DRAWN["curve"]
    assert "url(#curve-maybe)" in DRAWN["curve, not safe"]


def test_one_box_a_second_and_the_right_ones_dark() -> None:
    root = parse(DRAWN["curve"])
    strip = [
        rect.attrib["fill"]
        for rect in root.iter(f"{SVG}rect")
        if rect.attrib.get("stroke-width") == "1.2"
    ]
    assert len(strip) == 20
    assert strip[:4] == ["none"] * 4
    assert len(set(strip[4:9])) == 1
    assert strip[4] not in ("none", strip[9])
    assert set(strip[9:]) == {strip[9]}


def test_the_curve_says_the_numbers_at_the_seconds_to_count() -> None:
    words = " ".join(text for text, *_ in boxes(DRAWN["curve"]))
    assert "Count 4, stop by 9" in words
    assert "45 °C at 4 s (36 to 54)" in words
    assert "96 % at 4 s" in words


def test_the_same_views_give_the_same_drawing() -> None:
    assert draw_press_curve(a_curve()) == DRAWN["curve"]
    assert draw_layers(a_stack()) == DRAWN["layers"]


@given(st.text())
def test_any_text_can_be_escaped(text: str) -> None:
    root = parse(f'<a b="{escape(text)}">{escape(text)}</a>')
    assert len(root.text or "") == len(text)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(1, 12)), max_size=8))
def test_labels_moved_apart_do_not_overlap_and_keep_their_order(
    labels: list[tuple[float, float]],
) -> None:
    wanted, gaps = [at for at, _ in labels], [gap for _, gap in labels]
    placed = spread(wanted, gaps, 0.0, 100.0)
    spans = sorted(zip(placed, gaps, wanted, strict=True))
    for (one, gap, first), (other, following, second) in itertools.pairwise(spans):
        assert one + gap / 2 <= other - following / 2 + 1e-9
        assert first <= second
    assert all(gap / 2 - 1e-9 <= at <= 100.0 - gap / 2 + 1e-9 for at, gap, _ in spans)


def panels(svg: str) -> list[ET.Element]:
    """Return the frames of a strip's panels."""
    return [
        rect for rect in parse(svg).iter(f"{SVG}rect") if rect.attrib.get("stroke-width") == "1.6"
    ]


@pytest.mark.parametrize("many", [1, 2, 3])
def test_the_strip_has_a_panel_a_pass_and_one_for_the_hold(many: int) -> None:
    whole = a_strip()
    strip = RecipeStrip(whole.order, whole.heading, whole.passes[:many], whole.hold)
    assert len(panels(draw_recipe_strip(strip))) == many + 1
    bare = RecipeStrip(whole.order, whole.heading, whole.passes[:many], None)
    assert len(panels(draw_recipe_strip(bare))) == many


def test_a_strip_for_a_phone_stands_in_rows_of_two() -> None:
    frames = panels(draw_recipe_strip(a_strip(), columns=2))
    assert len({frame.attrib["x"] for frame in frames}) == 2
    assert len({frame.attrib["y"] for frame in frames}) == 2


def test_seconds_are_the_largest_thing_in_the_strip() -> None:
    texts = list(parse(DRAWN["strip in a row"]).iter(f"{SVG}text"))
    largest = max(float(text.attrib["font-size"]) for text in texts)
    big = [text.text for text in texts if float(text.attrib["font-size"]) == largest]
    assert big == ["4", "9", "4", "9", "12", "15", "8"]


def test_the_strip_says_in_words_what_it_draws() -> None:
    words = [text for text, *_ in boxes(DRAWN["strip in a row"])]
    for said in (
        "wrong side up",
        "right side up",
        "steam only, 2 cm off",
        "no press cloth",
        "press cloth, damp",
        "press cloth, dry",
        "keep it moving",
        "lift and lower",
        "turn it over",
        "from 96 to 45 °C",
    ):
        assert said in words, said
    told = parse(DRAWN["strip in a row"]).find(f"{SVG}desc")
    assert told is not None
    assert "3: turn it over; right side up, two dots, wool/silk" in str(told.text)
    assert "count 12, stop by 15 seconds" in str(told.text)
    assert "Then hold under a wood clapper for 8 seconds, from 96 to 45 °C" in str(told.text)


@pytest.mark.parametrize("dots", [0, 1, 2, 3])
def test_the_iron_shows_the_dots_of_its_dial_twice(dots: int) -> None:
    """ISO 3758 marks an iron by one to three dots: on the iron, and beside the word of the dial."""
    strip = RecipeStrip("open", "open", (a_panel(dots=dots),), None)
    assert len(list(parse(draw_recipe_strip(strip)).iter(f"{SVG}circle"))) == 2 * dots


def test_dry_and_damp_press_cloths_are_hatched_apart() -> None:
    for kind, other in (("dry", "damp"), ("damp", "dry")):
        svg = draw_recipe_strip(RecipeStrip("open", "open", (a_panel(press_cloth=kind),), None))
        assert f'fill="url(#strip-{kind})"' in svg
        assert f'fill="url(#strip-{other})"' not in svg
    bare = draw_recipe_strip(RecipeStrip("open", "open", (a_panel(press_cloth="none"),), None))
    assert 'fill="url(#strip-d' not in bare


def test_holding_longer_than_enough_is_hatched_and_said() -> None:
    svg = DRAWN["hold"]
    assert 'fill="url(#hold-idle)"' in svg
    words = " ".join(text for text, *_ in boxes(svg))
    assert "94 % at 8 s" in words
    assert "holding on adds nothing" in words


def test_layers_say_their_water() -> None:
    for name in ("layers", "small layers"):
        words = [text for text, *_ in boxes(DRAWN[name])]
        assert "12 g/m² of water" in words
        assert "0.4 g/m² of water" in words
