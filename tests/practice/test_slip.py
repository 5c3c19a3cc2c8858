"""The twenty-minute slip holds what the trade tries on a swatch, in the trade's order."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import box

from samite.services.card import make_card
from samite.services.slip import slip_json, slip_of, slip_sheet
from samite.sheets.slip_picture import describe_slip, draw_slip
from samite.swatch.candidates import heat_order, press_candidates
from samite.swatch.slip import MINUTES, SIDE_CM, ZONES, plan_slip

LABELS = (
    "silk velvet, 110 cm",
    "mystery sparkly fabric",
    "100 % cotton gabardine 260 g/m2",
    "polyester satin with glued glitter",
    "sequins on mesh",
    "wool coating 400 g/m2",
    "lycra, 4 way stretch",
    "acetate lining",
    "silk chiffon 8 momme",
)


@pytest.mark.parametrize("label", LABELS)
def test_it_keeps_to_its_time_and_order(label: str) -> None:
    """Common practice, no source: looks, then needle, then iron, coolest first; harm stops it."""
    card = make_card(label)
    trials = press_candidates(card.press.value, card.iron)
    slip = slip_of(card, trials)
    assert slip.minutes <= MINUTES
    kinds = [step.zone.partition("-")[0] if not step.trial else "station" for step in slip.steps]
    assert kinds[0] == "marks"
    for needed in ("finish", "pull"):
        assert needed in kinds
    stations = [step.trial for step in slip.steps if step.trial]
    assert stations == sorted(stations, key=heat_order)
    assert bool(stations) == bool(card.press.value.passes)
    if stations:
        assert kinds.index("station") > kinds.index("pull")
    told = " ".join(slip.cautions)
    for words in ("coolest", "stop at the first", "window"):
        assert words in told
    if not card.press.value.passes:
        assert "no iron comes near" in told


def test_water_is_dropped_on_what_may_spot_and_paper_laid_on_what_may_stick() -> None:
    """Common practice, no source: silk and viscose spot; glue lets go under heat."""
    assert any(step.zone == "drop" for step in slip_of(make_card("silk crepe")).steps)
    assert not any(step.zone == "drop" for step in slip_of(make_card("cotton poplin")).steps)
    flocked = make_card("flocked cotton")
    assert flocked.press.value.passes
    assert any(step.zone == "paper" for step in slip_of(flocked).steps)


def test_places_lie_on_the_square_and_not_on_each_other() -> None:
    shapes = {name: box(x, y, x + w, y + h) for name, (x, y, w, h) in ZONES.items()}
    square = box(0.0, 0.0, SIDE_CM, SIDE_CM)
    assert all(square.covers(shape) for shape in shapes.values())
    for one, other in combinations(shapes, 2):
        assert shapes[one].intersection(shapes[other]).area == pytest.approx(0.0), (one, other)


def test_time_is_kept_from_the_hot_end() -> None:
    """Common practice, no source: the cool stations stay where time is short."""
    card = make_card("cotton gabardine 260 g/m2")
    trials = press_candidates(card.press.value, card.iron)
    slip = plan_slip(card.cloth, card.press.value, "needle", "finish", trials)
    kept = [step.trial for step in slip.steps if step.trial]
    assert len(trials) > len(kept) > 1
    assert kept == list(trials[: len(kept)])


def test_the_drawing_names_every_place_in_words() -> None:
    card = make_card("silk velvet, 110 cm")
    slip = slip_json(slip_of(card, press_candidates(card.press.value, card.iron)))
    sheet = slip_sheet("silk & velvet <x>", slip)
    told = describe_slip(sheet)
    assert all(place.title in told for place in sheet.places)
    drawn = draw_slip(sheet)
    assert drawn.startswith("<svg")
    assert "<x>" not in drawn
