"""Labels of a finished garment against the worked examples in the rules themselves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.labels.garment_care import CarePart, care_label
from samite.labels.garment_content import content_label
from samite.labels.section import FibrePercent, Section, fibre_percents, whole_percents
from samite.tables.care import PROCESSES, care_levels
from samite.tables.fibre_names import label_name


def cloth(label: str) -> Cloth:
    return build_cloth(read_label(label))


def of_shares(label: str, **shares: float) -> Cloth:
    """Return a cloth whose parts weigh what an example says."""
    made = cloth(label)
    parts = tuple(
        replace(part, mass_share=shares[part.kind.value]) if part.kind.value in shares else part
        for part in made.parts
    )
    return replace(made, parts=parts)


def test_spandex_of_four_per_cent_is_named_for_its_function() -> None:
    # 16 CFR 303.3, example as quoted: "96 percent acetate, 4 percent spandex".
    label = content_label(
        "us", [Section("shell", "shell", cloth("96% acetate 4% elastane"), 500.0)]
    )
    assert label.lines == ("96% acetate, 4% spandex",)


def test_a_minor_fibre_without_function_is_other_fiber() -> None:
    # 16 CFR 303.3: below 5 % "other fiber".
    shell = Section("shell", "shell", cloth("97% cotton 3% silk"), 500.0)
    assert content_label("us", [shell]).lines == ("97% cotton, 3% other fibers",)
    # Regulation 1007/2011 lets it be named.
    assert content_label("eu", [shell]).lines == ("97% cotton, 3% silk",)


def test_pile_and_back_are_told_apart_with_their_shares() -> None:
    # 16 CFR 303.24, example as quoted: "100% nylon pile, 100% cotton back (back 60%, pile 40%)".
    velvet = of_shares("velvet, pile 100% nylon, back 100% cotton", pile=0.4, base=0.6)
    label = content_label("us", [Section("shell", "shell", velvet, 500.0)])
    assert label.lines == ("100% nylon pile, 100% cotton back (back 60%, pile 40%)",)


def test_sequins_on_a_small_part_of_the_surface_are_left_out() -> None:
    # 16 CFR 303.12(a): decoration on at most 15 % of the surface.
    few = of_shares("100% polyester satin with sequins, 150 g/m2", sequins=0.10)
    many = of_shares("100% polyester satin with sequins, 150 g/m2", sequins=0.60)
    assert any(part.kind is PartKind.SEQUINS for part in few.parts)
    assert (
        "exclusive of decoration" in content_label("us", [Section("s", "shell", few, 1)]).lines[0]
    )
    assert "exclusive" not in content_label("us", [Section("s", "shell", many, 1)]).lines[0]


def test_a_small_component_is_left_out_in_the_union_but_never_the_main_lining() -> None:
    # Regulation (EU) 1007/2011, art. 11 (from memory): up to 30 % of the mass, not main linings.
    shell = Section("shell", "shell", cloth("100% wool flannel"), 800.0)
    collar = Section("collar", "shell", cloth("100% silk satin"), 100.0)
    lining = Section("lining", "lining", cloth("100% acetate taffeta"), 200.0)
    assert content_label("eu", [shell, collar, lining]).lines == (
        "shell: 100% wool",
        "lining: 100% acetate",
    )


def test_leather_is_told_as_of_animal_origin() -> None:
    # Regulation (EU) 1007/2011, art. 12 (from memory).
    shell = Section("shell", "shell", cloth("100% wool flannel"), 800.0)
    patch = Section("patch", "trim", cloth("sheepskin leather, 1 mm"), 50.0)
    assert (
        "Contains non-textile parts of animal origin" in content_label("eu", [shell, patch]).lines
    )


def test_every_label_defers() -> None:
    shell = Section("shell", "shell", cloth("100% wool flannel"), 800.0)
    for region in ("us", "eu"):
        assert "not legal advice" in content_label(region, [shell]).notes[-1]
    assert "not legal advice" in care_label([CarePart("shell", shell.cloth, 2)]).notes[-1]


def test_shares_are_those_of_the_fibre_mass() -> None:
    # Worked by hand: 40 g of 100 % nylon and 60 g of 50/50 cotton and silk.
    velvet = of_shares("velvet, pile 100% nylon, back 50% cotton 50% silk", pile=0.4, base=0.6)
    assert fibre_percents(velvet.parts) == (
        FibrePercent("polyamide", pytest.approx(40.0)),
        FibrePercent("cotton", pytest.approx(30.0)),
        FibrePercent("silk", pytest.approx(30.0)),
    )


def test_whole_shares_still_make_up_a_hundred() -> None:
    # Largest remainder, worked by hand: thirds become 34, 33, 33.
    assert whole_percents((100 / 3, 100 / 3, 100 / 3)) == (34, 33, 33)
    assert whole_percents((62.5, 37.5)) == (63, 37)


def test_generic_names_are_those_of_each_region() -> None:
    # 16 CFR 303.7 and Regulation 1007/2011, Annex I (from memory).
    assert [label_name("elastane", region) for region in ("us", "eu")] == ["spandex", "elastane"]
    assert [label_name("viscose", region) for region in ("us", "eu")] == ["rayon", "viscose"]


def test_symbols_stand_in_the_order_of_the_standard() -> None:
    # ISO 3758:2012 (from memory): washing, bleaching, drying, ironing, professional care.
    label = care_label([CarePart("shell", cloth("100% cotton lawn"), 3)])
    assert [step.level.process for step in label.steps] == list(PROCESSES)


def test_the_strictest_part_rules_the_whole() -> None:
    # Common practice, no source: one delicate part makes the garment delicate.
    lawn = CarePart("lining", cloth("100% cotton lawn"), 3)
    velvet = CarePart(
        "shell", cloth("stretch velvet with glued glitter, 95% polyester 5% elastane"), 1
    )
    both, alone = care_label([lawn, velvet]), care_label([velvet])
    assert [s.level.rank for s in both.steps] == [s.level.rank for s in alone.steps]
    assert all(
        b.level.rank <= a.level.rank
        for a, b in zip(care_label([lawn]).steps, both.steps, strict=True)
    )


def test_ironing_dots_are_110_150_and_200() -> None:
    # ISO 3758, as on the page opened: 110, 150 and 200 C at the sole.
    words = [level.words for (process, _), level in care_levels().items() if process == "iron"]
    assert [any(str(c) in text for text in words) for c in (110, 150, 200)] == [True] * 3


def test_what_the_bolt_says_goes_before_the_rules() -> None:
    label = care_label(
        [CarePart("shell", cloth("100% cotton lawn, wash at 30 degrees, do not dry clean"), 3)]
    )
    said = {step.level.process: step.level.level for step in label.steps}
    assert said["wash"] == "30-mild"
    assert said["professional"] == "none"
