"""What is minded on children's costumes: cords, small parts, fire, sleepwear, masks."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.labels.cords import eu_hood_cords
from samite.labels.rules.book import rule
from samite.labels.rules.caution import Caution, caution
from samite.labels.rules.materials import make_up, part_names

SHED = (PartKind.SEQUINS, PartKind.BEADS, PartKind.DOTS, PartKind.GLITTER)
LONG_HAIR_MM = 10.0
YOUNGEST_WORST_CASE_YEARS = 2
"""Age that is answered for where none is said [years]."""


def child_cautions(cloth: Cloth, use: Use) -> list[Caution]:
    """Return what to mind on a child's costume.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What it is wanted for; without an age the youngest child is answered for.

    Returns
    -------
    list of Caution
        Empty if no child wears it.
    """
    if not use.child:
        return []
    fire = _sleepwear(cloth) if use.sleepwear else _play_costume(cloth, use)
    return [*fire, *_cords(use), *_small_parts(cloth, use), *_hair(cloth, use), *_mask(cloth, use)]


def _play_costume(cloth: Cloth, use: Use) -> list[Caution]:
    toy, retail = rule("play-costume"), rule("retail-code")
    stage = " (for a stage costume local codes say whether this binds)" if use.performance else ""
    text = (
        f"{rule('toy-age').text}{stage}; {toy.text}"
        f" (UK shops hold to {retail.limits['most_mm_s']:g} mm/s); nothing here measures"
        f" it: have {make_up(cloth)} tested, with its seams and trims, before"
        " you sell it"
    )
    return [caution("child", text, toy.evidence)]


def _sleepwear(cloth: Cloth) -> list[Caution]:
    us, eu, uk = rule("sleepwear"), rule("nightwear-eu"), rule("nightwear-uk")
    text = (
        "children's sleepwear is tested far more strictly than other clothing, and"
        f" {make_up(cloth)} must pass in each of its layers: {us.text}"
    )
    return [
        caution("child", text, us.evidence),
        caution("child", f"Europe: {eu.text}; United Kingdom: {uk.text}", eu.evidence),
    ]


def _cords(use: Use) -> list[Caution]:
    age = YOUNGEST_WORST_CASE_YEARS if use.age_years is None else use.age_years
    assumed = " (no age said: the youngest is answered for)" if use.age_years is None else ""
    eu, us = eu_hood_cords(age_years=age), rule("cords-us-neck")
    stage = (
        "; a stage costume is outside that rule, keep to it all the same" if use.performance else ""
    )
    found = [
        caution("child", f"cords{assumed}: {eu.because}{stage}", eu.evidence),
        caution("child", f"US: {us.text}; {rule('cords-us-waist').text}", us.evidence),
    ]
    if use.cords:
        lengths = rule("cords-eu-lengths")
        found.append(caution("child", f"its cords: {lengths.text}", lengths.evidence))
    return found


def _small_parts(cloth: Cloth, use: Use) -> list[Caution]:
    loose = tuple(part for part in cloth.parts if part.kind in SHED)
    if not loose:
        return []
    ruled = rule("small-parts")
    if use.age_years is not None and use.age_years >= ruled.limits["age_years"]:
        text = f"its {part_names(loose)} come off: pull at them before each wearing"
    else:
        advice = f"{ruled.text}: choose another cloth"
        text = f"its {part_names(loose)} come off and get swallowed; {advice}"
    return [caution("child", text, ruled.evidence)]


def _hair(cloth: Cloth, use: Use) -> list[Caution]:
    if not use.head or cloth.pile_height_mm < LONG_HAIR_MM:
        return []
    ruled = rule("play-costume-hair")
    text = f"a pile of {cloth.pile_height_mm:.0f} mm on the head counts as hair: {ruled.text}"
    return [caution("child", text, ruled.evidence)]


def _mask(cloth: Cloth, use: Use) -> list[Caution]:
    if not use.mask:
        return []
    ruled = rule("closed-mask")
    text = f"mask of {cloth.structure_name}: {ruled.text}; it comes off at one pull and has no ties"
    return [caution("child", text, ruled.evidence)]
