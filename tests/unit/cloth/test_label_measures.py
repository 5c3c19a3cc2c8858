"""Masses, widths, thicknesses, repeats and prices as labels print them (all invented)."""

from __future__ import annotations

import pytest

from samite.cloth.label import read_label
from samite.kernel.errors import InputError, OutOfRangeError

MASSES: tuple[tuple[str, float], ...] = (
    ("velvet 260 g/m2", 260.0),
    ("velvet 260g/m²", 260.0),
    ("velvet 260 gsm", 260.0),
    ("velvet 260GSM", 260.0),
    ("velvet 260 g / sqm", 260.0),
    ("velvet 260 g/sq m", 260.0),
    ("velvet 260 ㎡ 260 g/㎡", 260.0),
    ("velvet 260 grams per square metre", 260.0),
    ("velvet 260 gr/m2", 260.0),
    ("velvet 260 g/qm", 260.0),
    ("raso 130 g/mq", 130.0),
    ("velvet GSM: 260", 260.0),
    ("velvet, weight (g/m2): 260", 260.0),
    ("velvet, Gewicht: 260 g", 260.0),
    ("velvet 0.26 kg/m2", 260.0),
    ("faux fur 1,200 g/m2", 1200.0),
    ("velvet 260 g/m2 +/- 5%", 260.0),
    ("400 g per running metre, 150 cm wide velvet", 400 / 1.5),
    ("400 g/lm velvet 150 cm", 400 / 1.5),
    ("400 g/ml velours laize 150 cm", 400 / 1.5),
    ("400 g/lfm Samt 150 cm breit", 400 / 1.5),
    ("250 g/m at 150 cm viscose jersey", 250 / 1.5),
)


@pytest.mark.parametrize(("label", "gsm"), MASSES, ids=[label for label, _ in MASSES])
def test_masses(label: str, gsm: float) -> None:
    mass = read_label(label).mass_per_area_gsm
    assert mass is not None
    assert mass.value == pytest.approx(gsm, rel=1e-6)
    assert mass.given
    assert mass.low < mass.value < mass.high


def test_a_range_of_masses_keeps_its_ends() -> None:
    mass = read_label("taffeta 120–150 g/m²").mass_per_area_gsm
    assert mass is not None
    assert (mass.low, mass.high) == (120.0, 150.0)


def test_two_masses_within_five_per_cent_are_one() -> None:
    mass = read_label("satin 260 g/m2 (7.7 oz/yd2)").mass_per_area_gsm
    assert mass is not None
    assert mass.value == 260.0


def test_two_masses_that_differ_are_refused_and_both_named() -> None:
    with pytest.raises(InputError) as caught:
        read_label("satin 260 gsm 9 oz/yd2")
    assert "260 gsm" in caught.value.message
    assert "9 oz/yd2" in caught.value.message


def test_a_running_mass_without_a_width_is_noted_and_not_used() -> None:
    reading = read_label("velvet 400 g/lm")
    assert reading.mass_per_area_gsm is None
    assert any("width" in note for note in reading.notes)


def test_millimetres_of_silk_are_momme() -> None:
    mass = read_label("19mm silk charmeuse").mass_per_area_gsm
    assert mass is not None
    assert mass.value == pytest.approx(82.5, abs=0.1)


def test_millimetres_of_anything_else_are_thickness() -> None:
    reading = read_label("3 mm neoprene")
    assert reading.mass_per_area_gsm is None
    assert reading.thickness_mm is not None
    assert reading.thickness_mm.value == 3.0


def test_millimetres_of_silk_pile_are_no_momme() -> None:
    reading = read_label("silk velvet, 4 mm pile")
    assert reading.mass_per_area_gsm is None
    assert reading.pile_height_mm == 4.0


WIDTHS: tuple[tuple[str, float, float], ...] = (
    ("velvet, 150 cm", 150 / 1.04, 150 * 1.04),
    ("velvet, 150cm wide", 150 / 1.04, 150 * 1.04),
    ("velvet, 1.5 m wide", 150 / 1.04, 150 * 1.04),
    ("velours, laize 1m50", 150 / 1.04, 150 * 1.04),
    ("velvet, 1500 mm wide", 150 / 1.04, 150 * 1.04),
    ("velvet, width: 150", 150 / 1.04, 150 * 1.04),
    ("Samt 150 cm breit", 150 / 1.04, 150 * 1.04),
    ("raso, altezza 150 cm", 150 / 1.04, 150 * 1.04),
    ("velvet 60in", 152.4 / 1.04, 152.4 * 1.04),
    ('velvet 60" wide', 152.4 / 1.04, 152.4 * 1.04),
    ("velvet 60 inches", 152.4 / 1.04, 152.4 * 1.04),
    ("velvet 60''", 152.4 / 1.04, 152.4 * 1.04),
    ('jersey 58/60"', 58 * 2.54, 60 * 2.54),
    ("jersey 58–60″", 58 * 2.54, 60 * 2.54),
    ("lawn 44-45 in", 44 * 2.54, 45 * 2.54),
    ('lawn 44"/45"', 44 * 2.54, 45 * 2.54),
    ("tulle 300 cm wide", 300 / 1.04, 300 * 1.04),
    ("velvet 150cm wide x 3m", 150 / 1.04, 150 * 1.04),
    ("velvet, 3 m of 140 cm", 140 / 1.04, 140 * 1.04),
    ("velvet, width 150 cm, usable width 145 cm", 145 / 1.04, 145 * 1.04),
    ("jersey, sold by the 10 cm, 150 cm", 150 / 1.04, 150 * 1.04),
    ("satin ribbon 25mm", 2.5 / 1.04, 2.5 * 1.04),
)


@pytest.mark.parametrize(("label", "low", "high"), WIDTHS, ids=[row[0] for row in WIDTHS])
def test_widths(label: str, low: float, high: float) -> None:
    width = read_label(label).width_cm
    assert width is not None
    assert (width.low, width.high) == pytest.approx((low, high))


def test_two_widths_within_five_per_cent_are_one() -> None:
    width = read_label("100% cotton, 150 cm (59 in)").width_cm
    assert width is not None
    assert width.value == 150.0


def test_two_widths_that_differ_are_refused() -> None:
    with pytest.raises(InputError, match=r"150 cm.*45 in"):
        read_label("100% cotton, 150 cm, 45 in")


def test_a_small_width_without_a_unit_is_not_guessed() -> None:
    reading = read_label("width 60, cotton")
    assert reading.width_cm is None
    assert any("no unit" in note for note in reading.notes)


@pytest.mark.parametrize(
    ("label", "thickness"),
    [
        ("vinyl 0.5 mm thick", 0.5),
        ("leather, thickness 1.2mm", 1.2),
        ("2mm EVA foam", 2.0),
        ("20 mil clear vinyl", 0.508),
        ("12 thou clear vinyl", 0.3048),
        ('clear vinyl 0.020 in thick, 54" wide', 0.508),
    ],
)
def test_thicknesses(label: str, thickness: float) -> None:
    read = read_label(label).thickness_mm
    assert read is not None
    assert read.value == pytest.approx(thickness)


@pytest.mark.parametrize(
    ("label", "height"),
    [
        ("faux fur, 60 mm pile", 60.0),
        ("faux fur 60 mm", 60.0),
        ("pile height 3 mm velvet", 3.0),
        ("20mm long pile faux fur", 20.0),
        ("faux fur 1 1/2 inch pile", 38.1),
        ('velvet 1/16" pile', 1.5875),
        ("pile: 2-4 mm velvet", 3.0),
    ],
)
def test_pile_heights(label: str, height: float) -> None:
    reading = read_label(label)
    assert reading.pile_height_mm == pytest.approx(height)
    assert reading.thickness_mm is None
    assert reading.width_cm is None


@pytest.mark.parametrize(
    ("label", "along", "across"),
    [
        ("brocade, repeat 32 cm, 140 cm", 320.0, None),
        ("brocade, pattern repeat 64 x 32 cm, 140 cm", 640.0, 320.0),
        ("vertical repeat 64 cm, horizontal repeat 32 cm", 640.0, 320.0),
        ('damask 25" repeat, 54" wide', 635.0, None),
        ("Brokat, Rapport 32 cm", 320.0, None),
    ],
)
def test_repeats(label: str, along: float, across: float | None) -> None:
    reading = read_label(label)
    assert (reading.repeat_along_mm, reading.repeat_across_mm) == (along, across)


def test_the_size_of_sequins_is_no_measure_of_the_cloth() -> None:
    reading = read_label("5mm sequins on polyester mesh, 130 cm")
    assert reading.thickness_mm is None
    assert reading.width_cm is not None
    assert reading.width_cm.value == 130.0


PRICES: tuple[tuple[str, float, str, str], ...] = (
    ("velvet 14.90/m", 14.90, "", "m"),
    ("velvet EUR 14,90/m", 14.90, "EUR", "m"),
    ("velvet 14,90 €/m", 14.90, "€", "m"),
    ("velvet £12.50 per metre", 12.50, "£", "m"),
    ("velvet $9.99 / yd", 9.99, "$", "yd"),
    ("velvet $8.99/yard", 8.99, "$", "yd"),
    ("velvet was £20/m now £15/m", 15.0, "£", "m"),
    ("lawn £5 per half metre", 10.0, "£", "m"),
    ("jersey €2.50 per 10cm", 25.0, "€", "m"),
    ("remnant £6 per piece", 6.0, "£", "piece"),
    ("velvet 14,90 € je Meter", 14.90, "€", "m"),
)


@pytest.mark.parametrize(
    ("label", "amount", "currency", "per"), PRICES, ids=[row[0] for row in PRICES]
)
def test_prices(label: str, amount: float, currency: str, per: str) -> None:
    price = read_label(label).price
    assert price is not None
    assert (price.amount, price.currency, price.per) == (amount, currency, per)


@pytest.mark.parametrize(
    ("label", "cross", "length"),
    [
        ("swim knit, 50% crosswise 20% lengthwise", 50.0, 20.0),
        ("crosswise stretch 50%, lengthwise stretch 20%", 50.0, 20.0),
        ("4-way stretch (75% x 50%), 82/18 nylon/spandex", 75.0, 50.0),
        ("scuba 30% stretch across, 20% along", 30.0, 20.0),
        ("stretch: 50/30%, scuba", 50.0, 30.0),
        ("jersey, stretch 60%", 60.0, None),
        ("jersey with 60% stretch", 60.0, None),
        ("jersey, stretch 0%", 0.0, None),
    ],
)
def test_stretch_in_figures(label: str, cross: float, length: float | None) -> None:
    reading = read_label(label)
    assert reading.stretch_cross_percent is not None
    assert reading.stretch_cross_percent.value == cross
    along = reading.stretch_length_percent
    assert (along.value if along else None) == length
    assert reading.stretches is (cross > 0.0)


@pytest.mark.parametrize(
    "label",
    [
        "0 g/m2 velvet",
        "6000 g/m2 fur",
        "2 gsm chiffon",
        "-260 g/m2 velvet",
        "width 0 cm",
        "velvet 600 cm wide",
        "velvet 5000 cm",
        "vinyl 0 mm thick",
        "faux fur 900 mm pile",
        "jersey, 900% stretch",
    ],
)
def test_impossible_measures_are_refused_with_a_place(label: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        read_label(label)
    assert "character" in caught.value.where
    assert caught.value.hint
