"""Woven, knit, net or something else: from the label, the structure, or what the cloth does."""

from __future__ import annotations

from samite.cloth.make_up import ELASTIC
from samite.cloth.reading import FibreShare, LabelReading
from samite.kernel.evidence import GIVEN, Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.tables.fibres import fibre
from samite.tables.structures import Structure

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
GUESS = Evidence("guess", Grade.GUESS)

KNIT_STRETCH_PERCENT = 15.0
"""Above this stretch across, a cloth without a name is taken for a knit [%]."""

NET_PACKING = 0.13
"""Below this share of solid matter a thin light cloth is an open net."""

PICTURE_QUESTION = "whether it is woven or knitted"


def find_construction(
    reading: LabelReading,
    structure: Structure | None,
    fibres: tuple[FibreShare, ...],
    *,
    has_pile: bool,
) -> Advice[str]:
    """Decide how the cloth is constructed.

    Parameters
    ----------
    reading : LabelReading
        What the label said.
    structure : Structure or None
        The structure it names.
    fibres : tuple of FibreShare
        What the base is made of.
    has_pile : bool
        Whether the cloth has a pile.

    Returns
    -------
    Advice of str
        ``woven``, ``knit``, ``net``, ``lace``, ``nonwoven``, ``film``, ``leather`` or ``foam``.
    """
    if reading.construction:
        return _answer(reading.construction, f"the label says {reading.construction}", GIVEN)
    net = _open_net(reading, fibres, has_pile=has_pile) if structure is None else None
    if net:
        return net
    elastic = sum(item.percent for item in fibres if item.fibre in ELASTIC)
    said = _by_behaviour(reading, elastic, has_pile=has_pile)
    if structure and structure.construction:
        return _answer(
            structure.construction,
            f"{structure.name} is {_article(structure.construction)}",
            PRACTICE,
        )
    if said:
        return said
    return _by_make_up(reading, fibres, has_pile=has_pile)


def _by_behaviour(
    reading: LabelReading, elastic_percent: float, *, has_pile: bool
) -> Advice[str] | None:
    stretch = reading.stretch_cross_percent
    if stretch and stretch.value >= KNIT_STRETCH_PERCENT:
        claim = f"it stretches {stretch.value:.0f} % across, which few woven cloths do"
        return _answer("knit", claim, PRACTICE)
    if reading.ravels:
        return _answer("woven", "a cut edge ravels, so it is woven", PRACTICE)
    if stretch and stretch.value < 0.7 * KNIT_STRETCH_PERCENT:
        return None
    if reading.stretches:
        return _answer("knit", "it stretches and nothing says that it ravels: a knit", PRACTICE)
    if elastic_percent >= (2.0 if has_pile else 4.5):
        claim = f"{elastic_percent:g} % elastane in the base: mostly a knit"
        return _answer("knit", claim, PRACTICE)
    if reading.ravels is False and has_pile:
        return _answer("knit", "a pile cloth whose cut edge does not ravel is a knit", PRACTICE)
    return None


def _by_make_up(
    reading: LabelReading, fibres: tuple[FibreShare, ...], *, has_pile: bool
) -> Advice[str]:
    groups = {fibre(item.fibre).group for item in fibres}
    plastic = {item.fibre for item in fibres if item.fibre == "chlorofibre"}
    if fibres and (groups <= {"coating"} or len(plastic) == len(fibres)):
        return _answer("film", "nothing but plastic: a film", PRACTICE)
    if has_pile and (reading.pile_height_mm or 0.0) > 3.0:
        return _answer("knit", "a pile over 3 mm mostly stands on a knitted back", PRACTICE)
    raised = _raised(reading, fibres) if not has_pile else None
    if raised:
        return raised
    return _answer("woven", "no name, no stretch: taken for woven, which needs more care", GUESS)


def _open_net(
    reading: LabelReading, fibres: tuple[FibreShare, ...], *, has_pile: bool
) -> Advice[str] | None:
    packing = _rough_packing(reading, fibres)
    if packing is None or has_pile or reading.mass_per_area_gsm is None:
        return None
    thick = reading.thickness_mm.value if reading.thickness_mm else 0.0
    elastic = any(item.fibre in ELASTIC for item in fibres)
    if (
        packing < NET_PACKING
        and thick < 0.8
        and reading.mass_per_area_gsm.value < 75
        and not elastic
    ):
        return _answer("net", f"only {100 * packing:.0f} % of its volume is fibre: a net", GUESS)
    return None


def _raised(reading: LabelReading, fibres: tuple[FibreShare, ...]) -> Advice[str] | None:
    packing = _rough_packing(reading, fibres)
    thick = reading.thickness_mm.value if reading.thickness_mm else 0.0
    if packing is None or packing >= 0.14 or thick <= 1.2:
        return None
    spun = {"protein", "cellulose"} & {fibre(item.fibre).group for item in fibres}
    felted = spun or any(item.fibre == "acrylic" for item in fibres)
    claim = f"{thick:g} mm thick and only {100 * packing:.0f} % fibre: raised or felted"
    return _answer("nonwoven" if felted else "knit", claim, GUESS)


def _rough_packing(reading: LabelReading, fibres: tuple[FibreShare, ...]) -> float | None:
    if reading.mass_per_area_gsm is None or reading.thickness_mm is None or not fibres:
        return None
    dense = sum(
        item.percent / 100.0 * fibre(item.fibre).quantity("density_g_cm3").value for item in fibres
    )
    return reading.mass_per_area_gsm.value / (1000.0 * reading.thickness_mm.value * dense)


def _answer(kind: str, claim: str, evidence: Evidence) -> Advice[str]:
    return Advice(kind, Reason(claim, evidence=evidence))


def _article(construction: str) -> str:
    return construction if construction in ("woven", "nonwoven") else f"a {construction}"
