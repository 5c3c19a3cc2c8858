"""What any workroom would warn of. Common practice, no source, unless a test names one."""

from __future__ import annotations

import pytest
from tests.practice.cloths import cloth, part

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use, read_use
from samite.labels.flammability import exempt_mass_gsm
from samite.labels.rescue import find_trouble, rescue, troubles
from samite.labels.rules.child import child_cautions
from samite.labels.rules.flame import flame_cautions, listed_fibres
from samite.labels.rules.hands import fume_cautions, heat_cautions, needle_cautions
from samite.labels.rules.wear import wear_cautions
from samite.labels.safety import find_cautions
from samite.labels.traits import forbidden_acts

PLAIN = Use()
KEEP_AWAY = "candles"


def texts(found: object) -> str:
    return " | ".join(item.text for item in found)


def not_exempt(of: Cloth) -> bool:
    return "test is asked of it" in texts(flame_cautions(of, PLAIN)[:1])


@pytest.mark.parametrize(
    ("of", "expected"),
    [
        (cloth("chiffon", 35, {"silk": 100}), True),
        (cloth("organza", 30, {"polyester": 100}), False),
        (cloth("velvet", 200, {"viscose": 82, "silk": 18}), True),
        (cloth("velvet", 260, {"polyester": 88, "elastane": 12}), True),
        (cloth("velvet", 260, {"polyester": 100}), False),
        (cloth("flannelette", 150, {"cotton": 100}), True),
        (cloth("denim", 400, {"cotton": 100}), False),
        (cloth("soft-tulle", 20, {"polyamide": 100}), False),
        (cloth("soft-tulle", 20, {"silk": 100}), True),
        (cloth("melton", 500, {"wool": 100}), False),
        (cloth("tissue-lame", 60, {"polyester": 70, "metallised_film": 30}), True),
    ],
    ids=lambda value: f"{value.structure_name}" if isinstance(value, Cloth) else "",
)
def test_the_exemption_follows_mass_surface_and_fibre(of: Cloth, expected: bool) -> None:
    """16 CFR 1610.1(d), read in quotations: elastane and metal are not in the list of fibres."""
    assert not_exempt(of) is expected


def test_the_flame_text_names_this_cloth_and_why() -> None:
    said = texts(flame_cautions(cloth("chiffon", 35, {"silk": 100}), PLAIN))
    for word in ("silk", "35 g/m2", "88.2", KEEP_AWAY):
        assert word in said
    other = texts(flame_cautions(cloth("denim", 400, {"cotton": 100}), PLAIN))
    assert "cotton" in other
    assert "400 g/m2" in other
    assert "not asked of it" in other


def test_glue_and_film_are_no_exempt_fibres() -> None:
    glitter = part(PartKind.GLITTER, polyester=100)
    glue = part(PartKind.ADHESIVE, adhesive_hotmelt=100)
    glittered = cloth("soft-tulle", 40, {"polyamide": 100}, glitter, glue)
    assert {"adhesive-hotmelt"} <= listed_fibres(glittered)
    assert not_exempt(glittered)


def test_a_velvet_with_cellulose_may_flash_and_a_polyester_one_melts() -> None:
    viscose = cloth("velvet", 200, {"viscose": 100}, part(PartKind.PILE, viscose=100))
    polyester = cloth("velvet", 200, {"polyester": 100}, part(PartKind.PILE, polyester=100))
    assert "flash" in texts(flame_cautions(viscose, PLAIN))
    assert "flash" not in texts(flame_cautions(polyester, PLAIN))
    assert "flash" in texts(flame_cautions(cloth("velvet", 200), PLAIN)), "unnamed: the worst case"
    assert "melts" in texts(flame_cautions(polyester, read_use("on skin")))


def test_light_open_cloth_is_kept_from_candles() -> None:
    for fibre in ("silk", "cotton", "polyester"):
        assert KEEP_AWAY in texts(flame_cautions(cloth("voile", 45, {fibre: 100}), PLAIN))
    assert KEEP_AWAY not in texts(flame_cautions(cloth("melton", 500, {"wool": 100}), PLAIN))


@pytest.mark.parametrize("key", ["denim", "chiffon", "satin", "jersey", "poplin", "tulle"])
@pytest.mark.parametrize("fibre", ["cotton", "silk", "polyester", "viscose", "acetate"])
def test_a_heavier_plain_cloth_never_gains_a_flame_caution(key: str, fibre: str) -> None:
    """Follows from 16 CFR 1610.1(d)(1): mass only ever exempts a plain surface."""
    weighed = [cloth(key, mass, {fibre: 100}) for mass in (30, 60, 87, 88.0, 89, 150, 400)]
    counts = [len(flame_cautions(item, PLAIN)) for item in weighed]
    asked = [not_exempt(item) for item in weighed]
    assert counts == sorted(counts, reverse=True)
    assert asked == sorted(asked, reverse=True)


def test_an_assumed_mass_across_the_limit_asks_for_the_scales() -> None:
    unweighed = cloth("batiste", None, {"cotton": 100})
    low, high = unweighed.mass_per_area_gsm.low, unweighed.mass_per_area_gsm.high
    assert low < exempt_mass_gsm() <= high
    assert "weigh a piece" in texts(flame_cautions(unweighed, PLAIN))


def test_sequins_and_beads_call_for_safety_glasses_and_lawn_does_not() -> None:
    for key in ("sequin-mesh", "beaded-lace"):
        assert "glasses" in texts(needle_cautions(cloth(key)))
    assert not needle_cautions(cloth("lawn", 80, {"cotton": 100}))


def test_pvc_gives_hydrogen_chloride_and_wool_nothing() -> None:
    assert "hydrogen chloride" in texts(fume_cautions(cloth("vinyl")))
    assert "isocyanates" in texts(fume_cautions(cloth("faux-leather")))
    assert "acetic acid" in texts(fume_cautions(cloth("eva-foam")))
    assert not fume_cautions(cloth("melton", 500, {"wool": 100}))


def test_an_unnamed_coating_is_taken_for_the_worst() -> None:
    coated = cloth("poplin", 150, {"cotton": 100}, part(PartKind.COATING))
    assert "PVC" in texts(fume_cautions(coated))


def test_no_iron_no_burns() -> None:
    lawn = cloth("lawn", 80, {"cotton": 100})
    assert "steam" in texts(heat_cautions(lawn, ironed=True))
    assert not heat_cautions(lawn, ironed=False)


def test_children_are_spared_cords_and_small_parts_by_age() -> None:
    sequins = cloth("sequin-mesh")
    small = child_cautions(sequins, read_use("child of 2"))
    big = child_cautions(sequins, read_use("child of 9"))
    assert "choose another cloth" in texts(small)
    assert "choose another cloth" not in texts(big)
    assert "no cords at hood" in texts(small)
    assert "free ends" in texts(big)
    assert not child_cautions(sequins, read_use("on skin"))


def test_sleepwear_and_stage_costumes_have_rules_of_their_own() -> None:
    cotton = cloth("flannelette", 150, {"cotton": 100})
    assert "sleepwear" in texts(child_cautions(cotton, read_use("child, nightwear")))
    assert "toys" in texts(child_cautions(cotton, read_use("child")))
    assert "stage costume" in texts(child_cautions(cotton, read_use("child, performance")))


def test_masks_hoods_and_trains_are_minded_when_the_use_says_so() -> None:
    foam, silk = cloth("eva-foam"), cloth("charmeuse", 80, {"silk": 100})
    assert "no air" in texts(wear_cautions(foam, read_use("mask")))
    assert "no air" not in texts(wear_cautions(silk, read_use("mask")))
    assert "stairs" in texts(wear_cautions(silk, read_use("train")))
    assert "both sides" in texts(wear_cautions(silk, read_use("hood")))
    assert not wear_cautions(silk, PLAIN)


def test_film_scratches_bare_skin_and_a_lining_helps() -> None:
    foil = cloth("foil-knit")
    assert "scratch" in texts(wear_cautions(foil, read_use("on skin")))
    assert not wear_cautions(foil, read_use("lined"))


def test_law_defers_to_local_codes() -> None:
    found = find_cautions(cloth("sequin-mesh"), read_use("child of 6"), ironed=False)
    for kind in ("flame", "child"):
        last = [item for item in found if item.kind == kind][-1]
        assert last.text.endswith("Local codes and licensed practice go before this.")


def test_steam_keeps_off_film_and_the_iron_off_pvc() -> None:
    assert "steam" in forbidden_acts(cloth("foil-knit"))
    assert {"iron", "steam", "needle"} <= forbidden_acts(cloth("vinyl")).keys()
    assert not forbidden_acts(cloth("lawn", 80, {"cotton": 100})).keys() - {"solvent"}
    assert "steam" in forbidden_acts(cloth("lawn", 80, {"cotton": 100}, care_no_steam=True))


def test_velvet_is_steamed_and_brushed_and_never_ironed_to_take_a_shine_out() -> None:
    found = rescue("shine on velvet", cloth("velvet", 200, {"viscose": 82, "silk": 18}))
    acts = [step.act for step in found.steps]
    assert "steam" in acts
    assert "iron" not in acts
    assert "scrap" in found.steps[1].do


def test_shine_means_another_trouble_on_wool_than_on_velvet() -> None:
    velvet, wool = cloth("velvet", 250, {"polyester": 100}), cloth("worsted", 250, {"wool": 100})
    assert find_trouble("a shine", velvet).key == "pile-shine"
    assert find_trouble("a shine", wool).key == "glaze"


def test_peroxide_is_for_white_cotton_and_linen_alone() -> None:
    for fibre, expected in (("cotton", True), ("linen", True), ("wool", False), ("silk", False)):
        found = rescue("scorched", cloth("twill", 200, {fibre: 100}))
        assert any(step.act == "peroxide" for step in found.steps) is expected, fibre


def test_silk_is_not_wetted_for_its_needle_holes_but_cotton_is() -> None:
    cotton = rescue("needle holes", cloth("poplin", 120, {"cotton": 100}))
    silk = rescue("needle holes", cloth("satin", 120, {"silk": 100}))
    assert any(step.act == "water" for step in cotton.steps)
    assert not any(step.act == "water" for step in silk.steps)


def test_holes_in_vinyl_do_not_close() -> None:
    found = rescue("pin holes", cloth("vinyl"))
    assert not any("diagonals" in step.do for step in found.steps)
    assert any("allowance" in step.do for step in found.steps)


def test_every_rescue_says_when_to_stop_and_recut() -> None:
    assert len(troubles()) >= 11
    for trouble in troubles().values():
        assert trouble.stop
        assert len(trouble.steps) >= 5
