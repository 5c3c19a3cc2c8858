"""Names, surfaces and words of labels (all invented), and what they settle."""

from __future__ import annotations

import pytest

from samite.cloth.label import read_label
from samite.cloth.reading import PartKind
from samite.kernel.errors import InputError
from samite.tables.loader import read_toml
from samite.tables.structures import structures

STRUCTURES: tuple[tuple[str, str | None, str | None], ...] = (
    ("100 % polyester velvet", "velvet", None),
    ("100% polyester stretch velvet", "stretch-velvet", "knit"),
    ("90% polyester 10% elastane velvet", "stretch-velvet", "knit"),
    ("98% polyester 2% elastane velvet", "stretch-velvet", "knit"),
    ("99% polyester 1% elastane velvet", "velvet", None),
    ("velveteen 98% cotton 2% elastane", "velveteen", "woven"),
    ("velvet, 82% viscose 18% silk", "rayon-silk-velvet", "woven"),
    ("100% cotton velvet", "cotton-velvet", "woven"),
    ("woven polyester velvet", "woven-velvet", "woven"),
    ("non-stretch velvet", "woven-velvet", "woven"),
    ("crushed velvet", "crushed-velvet", None),
    ("crushed velvet 95% polyester 5% spandex", "crushed-stretch-velvet", "knit"),
    ("woven crushed velvet", "crushed-velvet-woven", "woven"),
    ("88% polyester 12% elastane stretch panne velvet", "panne-velvet", "knit"),
    ("burnout velvet 82% rayon 18% silk", "devore-velvet", "woven"),
    ("Velours dévoré", "devore-velvet", "woven"),
    ("Samt 100% Polyester", "velvet", None),
    ("velluto", "velvet", None),
    ("terciopelo", "velvet", None),
    ("silk organza", "silk-organza", "woven"),
    ("organza 100% nylon", "poly-organza", "woven"),
    ("organza", "organza", "woven"),
    ("organza with nylon flock", "flocked-organza", "woven"),
    ("Tüll 100% Polyamid", "tulle", "net"),
    ("tul de novia", "tulle", "net"),
    ("glitter tulle", "glitter-tulle", "net"),
    ("tulle with sequins", "sequin-mesh", "net"),
    ("stretch mesh 92% nylon 8% spandex", "illusion-mesh", "knit"),
    ("power mesh", "power-mesh", "knit"),
    ("lamé", "woven-lame", "woven"),
    ("crushed lamé", "crushed-lame", "woven"),
    ("knit lame", "tricot-lame", "knit"),
    ("lame 90% nylon 10% elastane", "tricot-lame", "knit"),
    ("brocade with metallic thread", "brocade", "woven"),
    ("lame brocade", "lame-brocade", "woven"),
    ("raso 100% poliestere", "satin", "woven"),
    ("satén", "satin", "woven"),
    ("duchesse satin", "duchesse-satin", "woven"),
    ("satin, duchesse", "duchesse-satin", "woven"),
    ("silk satin", "silk-satin", "woven"),
    ("faux silk satin", "satin", "woven"),
    ("satin 97% polyester 3% elastane", "stretch-satin", "woven"),
    ("crepe back satin", "crepe-back-satin", "woven"),
    ("foil print jersey", "foil-knit", "knit"),
    ("metallic jersey with stuck-on dots", "dot-knit", "knit"),
    ("96% nylon 4% metallic with stuck-on plastic dots", "dot-knit", "knit"),
    ("woven cloth with stuck-on dots", "woven", "woven"),
    ("holographic spandex", "holographic-spandex", "knit"),
    ("lace 90% nylon 10% spandex", "stretch-lace", "lace"),
    ("chantilly lace", "chantilly", "lace"),
    ("lace with beads", "beaded-lace", "lace"),
    ("sequins on black satin", "sequin-satin", "woven"),
    ("sequins on stretch velvet", "sequin-stretch", "knit"),
    ("sequin fabric", "sequin-fabric", None),
    ("long pile faux fur 60 mm", "faux-fur-long", "knit"),
    ("faux fur, 8 mm", "faux-fur-short", "knit"),
    ("fur, 100% polyester", "faux-fur", "knit"),
    ("leather", "leather", "leather"),
    ("leather 60% PU 40% polyester", "faux-leather", "knit"),
    ("clear PVC 0.5mm", "clear-vinyl", "film"),
    ("2mm EVA foam", "eva-foam", "foam"),
    ("3 mm neoprene", "neoprene", "foam"),
    ("wool felt", "felt", "nonwoven"),
    ("polyester lining", "poly-lining", "woven"),
    ("viscose lining", "acetate-lining", "woven"),
    ("stretch denim 98% cotton 2% elastane", "stretch-denim", "woven"),
    ("satin ribbon", "ribbon", "woven"),
    ("nylon horsehair braid", "horsehair-braid", "net"),
    ("100% linen", "linen", "woven"),
    ("33% cotton 33% linen 33% viscose", None, None),
    ("wool blend coating", "coating", "woven"),
    ("PU coating, knit", "knit", "knit"),
    ("wool 80% nylon 20% melton", "melton", "woven"),
    ("knitted jacquard", "jacquard-knit", "knit"),
    ("94/6 polyester/spandex", None, None),
)


@pytest.mark.parametrize(
    ("label", "structure", "construction"), STRUCTURES, ids=[row[0] for row in STRUCTURES]
)
def test_structures(label: str, structure: str | None, construction: str | None) -> None:
    reading = read_label(label)
    assert reading.structure == structure
    assert reading.construction == construction


@pytest.mark.parametrize(
    ("label", "surfaces"),
    [
        ("jersey, glued foil print", {"foil-print"}),
        ("tulle with glued glitter and rhinestones", {"glitter-glued", "rhinestones"}),
        ("crushed pleated satin", {"crushed", "pleated"}),
        ("embroidered printed lawn", {"embroidered", "printed"}),
        ("holographic vinyl, quilted", {"holographic", "quilted"}),
        ("waxed cotton", {"waxed"}),
        ("unprinted lawn, no glitter", set()),
        ("PU coated nylon, waterproof", {"coated"}),
        ("devoré satin", {"burnt-out"}),
        ("iridescent organza", {"iridescent"}),
    ],
)
def test_surfaces(label: str, surfaces: set[str]) -> None:
    assert read_label(label).surfaces == surfaces


def test_glued_surfaces_bring_an_adhesive() -> None:
    kinds = {one.part for one in read_label("jersey, glued foil print").components}
    assert {PartKind.FILM, PartKind.ADHESIVE} <= kinds


def test_sewn_sequins_bring_none() -> None:
    kinds = {one.part for one in read_label("mesh, 100% nylon, sequins").components}
    assert PartKind.SEQUINS in kinds
    assert PartKind.ADHESIVE not in kinds


@pytest.mark.parametrize(
    ("label", "stretches", "ways"),
    [
        ("stretches", True, None),
        ("stretch satin", True, None),
        ("4-way stretch", True, 2),
        ("four way stretch mesh", True, 2),
        ("2-way stretch", True, 1),
        ("bi-stretch gabardine", True, 2),
        ("one-way stretch denim", True, 1),
        ("non-stretch satin", False, None),
        ("does not stretch", False, None),
        ("rigid denim", False, None),
        ("no stretch", False, None),
        ("nicht dehnbar", False, None),
        ("95% cotton 5% elastane", True, None),
        ("99% cotton 1% elastane", None, None),
        ("100% cotton", None, None),
    ],
)
def test_does_it_stretch(label: str, stretches: bool | None, ways: int | None) -> None:
    reading = read_label(label)
    assert reading.stretches is stretches
    assert reading.stretch_ways == ways
    assert reading.one_way is None


@pytest.mark.parametrize(
    ("label", "ravels"),
    [
        ("frays easily", True),
        ("ravels", True),
        ("does not fray", False),
        ("doesn't ravel", False),
        ("non-fraying", False),
        ("fray-free edge", False),
        ("no fray", False),
        ("velvet", None),
    ],
)
def test_does_it_ravel(label: str, ravels: bool | None) -> None:
    assert read_label(label).ravels is ravels


@pytest.mark.parametrize(
    ("label", "one_way"),
    [
        ("one-way design", True),
        ("with nap", True),
        ("directional print", True),
        ("one way print", True),
        ("non-directional", False),
        ("without nap", False),
        ("two-way design", False),
        ("velvet", None),
    ],
)
def test_one_way(label: str, one_way: bool | None) -> None:
    assert read_label(label).one_way is one_way


@pytest.mark.parametrize(
    ("label", "sheer"),
    [
        ("sheer", True),
        ("see-through", True),
        ("semi-transparent", True),
        ("opaque", False),
        ("x", None),
    ],
)
def test_sheer(label: str, sheer: bool | None) -> None:
    assert read_label(label).sheer is sheer


@pytest.mark.parametrize(
    ("label", "dots", "no_steam"),
    [
        ("iron 1 dot", 1, False),
        ("iron: two dots, no steam", 2, True),
        ("iron ••", 2, False),
        ("cool iron", 1, False),
        ("iron on low heat", 1, False),
        ("warm iron", 2, False),
        ("hot iron", 3, False),
        ("do not iron", 0, False),
        ("nicht bügeln", 0, False),
        ("ne pas repasser", 0, False),
        ("iron max 110 °C", 1, False),
        ("iron up to 150 C, do not steam", 2, True),
        ("iron at 200°C", 3, False),
        ("ohne Dampf", None, True),
        ("iron-on interfacing", None, False),
        ("non-iron shirting", None, False),
        ("velvet", None, False),
    ],
)
def test_ironing(label: str, dots: int | None, no_steam: bool) -> None:
    reading = read_label(label)
    assert (reading.care_dots, reading.care_no_steam) == (dots, no_steam)


@pytest.mark.parametrize(
    ("label", "dry_clean", "wash"),
    [
        ("dry clean only", True, None),
        ("do not dry clean", False, None),
        ("nur chemische Reinigung", True, None),
        ("machine wash 40", None, 40),
        ("30° wash", None, 30),
        ("hand wash cold", None, 30),
        ("do not wash, dry clean", True, 0),
    ],
)
def test_cleaning(label: str, dry_clean: bool | None, wash: int | None) -> None:
    reading = read_label(label)
    assert (reading.care_dry_clean, reading.care_wash_c) == (dry_clean, wash)


@pytest.mark.parametrize(
    ("label", "one", "two"),
    [
        ("do not iron, warm iron", "do not iron", "warm iron"),
        ("stretches, does not stretch", "does not stretch", "stretches"),
        ("frays, does not fray", "does not fray", "frays"),
        ("opaque but sheer", "opaque", "sheer"),
    ],
)
def test_a_label_that_contradicts_itself_is_refused(label: str, one: str, two: str) -> None:
    with pytest.raises(InputError) as caught:
        read_label(label)
    assert one in caught.value.message
    assert two in caught.value.message


def test_words_that_say_nothing_are_kept_apart() -> None:
    reading = read_label("velvet, 100% polyester, frobnicated")
    assert reading.ignored == ("frobnicated",)


def test_the_example_of_the_faces() -> None:
    reading = read_label(
        "88% polyester 12% elastane stretch panne velvet, 150 cm, 260 g/m2, "
        "glued foil print, 14.90/m"
    )
    assert reading.structure == "panne-velvet"
    assert reading.construction == "knit"
    assert {one.fibre: one.percent for one in reading.components[0].fibres} == {
        "polyester": 88.0,
        "elastane": 12.0,
    }
    assert [one.part.value for one in reading.components] == ["base", "film", "adhesive"]
    assert reading.width_cm is not None
    assert reading.width_cm.value == 150.0
    mass = reading.mass_per_area_gsm
    assert mass is not None
    assert (round(mass.low), mass.value, round(mass.high)) == (250, 260.0, 270)
    assert reading.price is not None
    assert (reading.price.amount, reading.price.per) == (14.90, "m")


def refined(key: str) -> set[str]:
    """Return what the refinement table can make of a structure in any number of steps."""
    found = {key}
    before: set[str] = set()
    while found != before:
        before = set(found)
        for rule in read_toml("refinements.toml")["rule"]:
            if found & set(rule["from"]):
                found.add(rule["to"])
    return found


@pytest.mark.parametrize("key", sorted(structures()))
def test_every_name_leads_to_its_structure_or_to_a_special_kind_of_it(key: str) -> None:
    for name in structures()[key].aliases:
        label = f"{name}, wool, 150 cm" if name == "coating" else f"{name}, 150 cm"
        assert read_label(label).structure in refined(key), name
